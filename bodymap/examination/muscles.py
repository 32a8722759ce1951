"""Key muscles of ISNCSCI: a grade goes into the record, and as a muscle that is weak or
normal into the signs that move the ranking. Nothing is asked twice."""

from dataclasses import dataclass
from functools import cache

from bodymap.atlas.assets import assets_folder, table
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.language import tr
from bodymap.terms import Side

NORMAL = "5"


@dataclass(frozen=True)
class KeyMuscle:
    """The muscle group of a segment, and the muscle of the signs that stands for it."""

    segment: str
    english: str
    sign: str

    @property
    def name(self) -> str:
        """The muscles as they are read."""
        return tr(self.english)


@cache
def key_muscles() -> dict[str, KeyMuscle]:
    """The ten key muscles of a side by segment."""
    return {
        row["segment"]: KeyMuscle(row["segment"], row["name"], row["sign_id"])
        for row in table(assets_folder(), "key-muscles", "examination")
    }


def graded(drawing: Drawing, segment: str, side: Side, grade: str | None) -> Drawing:
    """The drawing after a key muscle was graded: 0 to 5, with * for a cause other than a
    cord injury, NT where it cannot be tested, None as if it was not asked."""
    record = drawing.record.with_value(("motor", side.value, segment), grade)
    change = None
    if grade is not None and not grade.startswith("NT"):
        change = SignChange.NORMAL if grade == NORMAL else SignChange.WEAK
    sign = key_muscles()[segment].sign
    return drawing.with_record(record).with_signs(drawing.signs.noted(sign, side, change))
