"""Two visits held against each other whole: skin, muscles and reflexes, and the record."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask
from bodymap.classification.scores import POINTS
from bodymap.examination.answers import NOT_TESTED, spot_of
from bodymap.examination.answers_moved import Moved, RecordsMoved, records_moved
from bodymap.examination.answers_said import Place
from bodymap.examination.exchange import LADDERS, recorded_change, with_recorded_skin
from bodymap.examination.parts import Part
from bodymap.examination.spots import segments_of
from bodymap.examination.steps import Kind, Step
from bodymap.findings.contradiction import LEAST_CM2
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Progress, progress
from bodymap.findings.record import BedsideRecord
from bodymap.findings.signs import SignChange, Signs
from bodymap.terms import Modality, Side

DRAWN = (Part.LIGHT_TOUCH, Part.PINPRICK, *LADDERS)
"""Parts whose answers are drawn on the skin."""

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
        progress(
            atlas,
            with_every_answer(atlas, then),
            with_every_answer(atlas, now),
            (_untested(atlas, then.record), _untested(atlas, now.record)),
        ),
        tuple(_signs(then.signs, now.signs)),
        records_moved(then.record, now.record),
    )


def with_every_answer(atlas: Atlas, visit: Drawing) -> Drawing:
    """The visit with skin for every answer of its record: where nothing is drawn on the skin
    that an answer stands for, the answer itself is, else what one visit drew would be held
    against what the other only wrote down. What is drawn stays as it is."""
    visit = with_recorded_skin(atlas, visit)
    for part in DRAWN:
        modality = part.modality
        assert modality is not None
        layers = [layer for m, _, layer in visit if m is modality]
        drawn = sum((layer.painted_cm2(atlas) for layer in layers), np.zeros(len(atlas.cells)))
        for side, place, _ in _places(visit.record, part):
            change = recorded_change(visit.record, part, side, place)
            if change is not None and drawn[_cells(atlas, part, side, place)].sum() < LEAST_CM2:
                spot = spot_of(atlas, Step(part, Kind.COMPARE, place, place, ""), side)
                visit = spot.noted(atlas, visit, modality, change)
    return visit


def _untested(atlas: Atlas, record: BedsideRecord) -> dict[Modality, Mask]:
    """The cells of all places that could not be tested: of a key point, its dermatome."""
    found: dict[Modality, Mask] = {}
    for part in DRAWN:
        assert part.modality is not None
        for side, place, word in _places(record, part):
            if word.startswith(NOT_TESTED):
                mine = _cells(atlas, part, side, place)
                for segment in segments_of(place) if place in POINTS else ():
                    mine = mine | atlas.cells_of_dermatome(segment, side)
                found[part.modality] = found.get(part.modality, mine) | mine
    return found


def _places(record: BedsideRecord, part: Part) -> Iterator[tuple[Side, str, str]]:
    """Every place of a part that the record names, with its word."""
    for side in (Side.RIGHT, Side.LEFT):
        for place, value in (record.at(part.field, side.value) or {}).items():
            word = value.get("felt", "") if isinstance(value, Mapping) else value
            yield side, place, str(word).strip().upper()


def _cells(atlas: Atlas, part: Part, side: Side, place: str) -> Mask:
    """The skin that an answer stands for, as cells."""
    spot = spot_of(atlas, Step(part, Kind.COMPARE, place, place, ""), side)
    found = np.zeros(len(atlas.cells), dtype=bool) if spot.cells is None else spot.cells.copy()
    for region in spot.regions:
        found |= atlas.cells_of_region(region, side)
    return found


def _signs(then: Signs, now: Signs) -> Iterator[Moved]:
    for (id_, side), before in sorted(then.found.items()):
        after = now.found.get((id_, side))
        if after is not None and after is not before:
            ranks = [LOSS.get(change) for change in (before, after)]
            better = None if None in ranks else ranks[1] > ranks[0]  # type: ignore[operator]
            yield Moved(Place("sign", side.value, id_), before.value, after.value, better)
