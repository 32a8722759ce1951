"""Two visits held against each other whole: skin, muscles and reflexes, and the record."""

from collections.abc import Iterator
from dataclasses import dataclass

from bodymap.atlas import Atlas
from bodymap.examination.answers_moved import Moved, Place, RecordsMoved, records_moved
from bodymap.examination.exchange import with_recorded_skin
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Progress, progress
from bodymap.findings.signs import SignChange, Signs
from bodymap.terms import Modality

LOSS = {SignChange.ABSENT: 0, SignChange.REDUCED: 1, SignChange.WEAK: 1, SignChange.NORMAL: 2}
"""Findings on muscles and reflexes, the worst first; brisk has no place here."""


@dataclass(frozen=True, eq=False)
class VisitsCompared:
    """What changed from one visit to a later one. ``skin`` ends with all modalities
    together; the others are those that were examined at one of the visits or both."""

    then: Drawing
    now: Drawing
    skin: tuple[Progress, ...]
    signs: tuple[Moved, ...]
    record: RecordsMoved

    def of(self, modality: Modality | None) -> Progress | None:
        """The skin of one modality (None if it was examined at neither visit), or, without
        one, of all together."""
        return next((p for p in self.skin if p.modality is modality), None)


def visits_compared(atlas: Atlas, then: Drawing, now: Drawing) -> VisitsCompared:
    """Hold a later visit against an earlier one."""
    return VisitsCompared(
        then,
        now,
        progress(atlas, with_recorded_skin(atlas, then), with_recorded_skin(atlas, now)),
        tuple(_signs(then.signs, now.signs)),
        records_moved(then.record, now.record),
    )


def _signs(then: Signs, now: Signs) -> Iterator[Moved]:
    for (id_, side), before in sorted(then.found.items()):
        after = now.found.get((id_, side))
        if after is not None and after is not before:
            ranks = [LOSS.get(change) for change in (before, after)]
            better = None if None in ranks else ranks[1] > ranks[0]  # type: ignore[operator]
            yield Moved(Place("sign", side.value, id_), before.value, after.value, better)
