"""The form of the bedside record in a case file.

The scores, grades and anal findings are read by ``classification.reading``, which is
kinder to hand-written values than the published form; all else is checked by this form.
"""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from bodymap.classification.scores import KEY_MUSCLES

Answer = Literal["normal", "reduced", "absent", "increased", "tingling", "NT"]
"""What was found at a place; NT where it could not be tested."""

Kept = Literal["normal", "reduced", "absent", "NT"]

LONGEST = 2000
"""Characters of a remark."""

_POINT = Annotated[str, Meta(pattern=r"^([01]\*?|2|NT\*?)$")] | Annotated[int, Meta(ge=0, le=2)]
_GRADE = Annotated[str, Meta(pattern=r"^([0-4]\*?|5|NT\*?)$")] | Annotated[int, Meta(ge=0, le=5)]
_ANAL = Literal["yes", "no", "NT"]
_LOWEST = Literal["none", "NT", *KEY_MUSCLES]  # type: ignore[valid-type]
_TEXT = Annotated[str, Meta(max_length=LONGEST)]
_COUNT = Annotated[int, Meta(ge=0, le=1000)]


class PointsForm(Struct):
    """Key-point scores of each side by segment."""

    right: dict[str, _POINT] = {}
    left: dict[str, _POINT] = {}


class GradesForm(Struct):
    """Key-muscle grades of each side by segment."""

    right: dict[str, _GRADE] = {}
    left: dict[str, _GRADE] = {}


class LowestForm(Struct):
    """The lowest muscle function of each side outside the key muscles."""

    right: _LOWEST = "none"
    left: _LOWEST = "none"


class WordsForm(Struct):
    """How the scores of 1 differ, by segment; without a word it is reduced."""

    right: dict[str, Literal["reduced", "increased", "tingling"]] = {}
    left: dict[str, Literal["reduced", "increased", "tingling"]] = {}


class QualityForm(Struct):
    """Words for scores of 1."""

    light_touch: WordsForm | UnsetType = UNSET
    pinprick: WordsForm | UnsetType = UNSET


class PlacesForm(Struct):
    """Temperature at key points (C6) or places of the ladder (foot)."""

    right: dict[str, Answer] = {}
    left: dict[str, Answer] = {}


class RungForm(Struct):
    """One joint or bone of a ladder. ``eighths``: graduated fork, 0 to 8; ``seconds``:
    how long a fork struck hard was felt; ``correct`` of ``trials``: moves told rightly."""

    felt: Kept
    eighths: Annotated[float, Meta(ge=0, le=8)] | UnsetType = UNSET
    seconds: Annotated[float, Meta(ge=0, le=120)] | UnsetType = UNSET
    correct: _COUNT | UnsetType = UNSET
    trials: _COUNT | UnsetType = UNSET


class LadderForm(Struct):
    """A ladder of each side, by place."""

    right: dict[str, RungForm] = {}
    left: dict[str, RungForm] = {}


class RunForm(Struct):
    """A run of sharp or dull at one key point: each trial is what was given and what
    the person said."""

    side: Literal["right", "left"]
    point: str
    trials: Annotated[
        list[tuple[Literal["sharp", "dull"], Literal["sharp", "dull"]]], Meta(max_length=1000)
    ]


class RombergForm(Struct):
    """Romberg. ``seconds`` stood with closed eyes; ``reason`` why it was not done."""

    result: Literal["steady", "sway", "lost balance", "cannot stand with open eyes", "not done"]
    seconds: Annotated[float, Meta(ge=0, le=600)] | UnsetType = UNSET
    reason: _TEXT | UnsetType = UNSET


class FilamentForm(Struct):
    """Touches of a 10 g filament felt rightly at one place."""

    felt: _COUNT
    of: _COUNT


class FilamentsForm(Struct):
    """10 g filament of each side, by place."""

    right: dict[str, FilamentForm] = {}
    left: dict[str, FilamentForm] = {}


_MM = Annotated[float, Meta(ge=0, le=200)]


class DistancesForm(Struct):
    """Least distance of two points told apart, mm, by place."""

    right: dict[str, _MM] = {}
    left: dict[str, _MM] = {}


class OwnForm(Struct):
    """What bodymap records beside the scores. ``reference`` names the skin that a modality
    was compared with; ``reasons`` say why something could not be
    tested and ``remarks`` what else was seen, by step ("pinprick right C6")."""

    quality: QualityForm | UnsetType = UNSET
    reference: dict[str, _TEXT] | UnsetType = UNSET
    temperature: PlacesForm | UnsetType = UNSET
    vibration: LadderForm | UnsetType = UNSET
    joint_position: LadderForm | UnsetType = UNSET
    sharp_dull: Annotated[list[RunForm], Meta(max_length=200)] | UnsetType = UNSET
    romberg: RombergForm | UnsetType = UNSET
    monofilament: FilamentsForm | UnsetType = UNSET
    two_point: DistancesForm | UnsetType = UNSET
    reasons: dict[str, _TEXT] | UnsetType = UNSET
    remarks: dict[str, _TEXT] | UnsetType = UNSET
    age: Annotated[int, Meta(ge=0, le=130)] | UnsetType = UNSET
    examiner: _TEXT | UnsetType = UNSET
    reliability: _TEXT | UnsetType = UNSET


class RecordForm(OwnForm):
    """The bedside record. A missing point is not tested. Further fields are kept."""

    light_touch: PointsForm | UnsetType = UNSET
    pinprick: PointsForm | UnsetType = UNSET
    motor: GradesForm | UnsetType = UNSET
    deep_anal_pressure: _ANAL | UnsetType = UNSET
    voluntary_anal_contraction: _ANAL | UnsetType = UNSET
    spinal_cord_injury: bool | UnsetType = UNSET
    lowest_non_key: LowestForm | UnsetType = UNSET
