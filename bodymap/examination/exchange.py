"""Between record and drawing: scores from what is painted, and skin from what is scored."""

from collections.abc import Mapping
from pathlib import Path

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.territories import Mask
from bodymap.classification.scores import POINTS
from bodymap.examination.answers import recorded, spot_of
from bodymap.examination.parts import Part
from bodymap.examination.spots import point_place
from bodymap.examination.steps import Kind as StepKind
from bodymap.examination.steps import Step
from bodymap.findings.case_file import Case, open_case
from bodymap.findings.drawing import Drawing, Kind, Layer, NamedRegion
from bodymap.findings.record import BedsideRecord
from bodymap.terms import Change, Modality, Side

LADDERS = (Part.TEMPERATURE, Part.VIBRATION, Part.JOINT_POSITION)


def points_taken(atlas: Atlas, drawing: Drawing) -> Drawing:
    """The record with a score for every key point that painted or named skin covers, in
    light touch and pinprick; points that nothing covers stay as they are."""
    record = drawing.record
    for part in (Part.LIGHT_TOUCH, Part.PINPRICK):
        modality = part.modality
        assert modality is not None
        for point in POINTS:
            for side in (Side.RIGHT, Side.LEFT):
                change = _found_at(atlas, drawing, modality, point, side)
                if change is not None:
                    step = Step(part, StepKind.COMPARE, point, point, "")
                    record = recorded(record, step, side, change, {}, False)
    return drawing.with_record(record)


def _found_at(
    atlas: Atlas, drawing: Drawing, modality: Modality, point: str, side: Side
) -> Change | None:
    """What is drawn at a key point in a modality; the gravest where two findings meet."""
    view, x, y = point_place(atlas, point, side)
    cell = atlas.cell_at(view, x, y)
    order = [Change.ABSENT, Change.REDUCED, Change.INCREASED, Change.TINGLING, Change.NORMAL]
    for change in order:
        layer = drawing.layer(modality, change)
        named = layer.region_cells(atlas)
        if named is not None and cell is not None and named[cell]:
            return change
        skin = layer.drawn.get(view)
        if skin is not None and skin.covers(shapely.Point(x, y)):
            return change
    return None


def opened(path: str | Path, atlas: Atlas) -> Case:
    """The case in a file; one that holds a record but no findings on the skin is drawn
    from its record.

    Raises CaseError, in one sentence, for a file that cannot be read or used.
    """
    case = open_case(path, atlas)
    if case.drawing.layers or not case.drawing.record:
        return case
    return case.with_drawing(drawn_from_record(atlas, case.drawing))


def drawn_from_record(atlas: Atlas, drawing: Drawing) -> Drawing:
    """A drawing without findings on the skin, with those that its record tells."""
    regions: dict[Kind, set[NamedRegion]] = {}
    cells: dict[Kind, Mask] = {}
    for part in (Part.LIGHT_TOUCH, Part.PINPRICK, *LADDERS):
        for side in (Side.RIGHT, Side.LEFT):
            for place in drawing.record.at(part.field, side.value) or {}:
                change = recorded_change(drawing.record, part, side, place)
                if change is None or part.modality is None:
                    continue
                kind = (part.modality, change)
                spot = spot_of(atlas, Step(part, StepKind.COMPARE, place, place, ""), side)
                regions.setdefault(kind, set()).update((r, side) for r in spot.regions)
                if spot.cells is not None:
                    none = np.zeros(len(atlas.cells), dtype=bool)
                    cells[kind] = cells.get(kind, none) | spot.cells
    for kind, named in regions.items():
        layer = Layer(frozenset(named))
        for view in VIEWS if kind in cells else ():
            layer = layer.with_drawn(view, atlas.skin_of(cells[kind], view))
        drawing = drawing.with_layer(*kind, layer)
    return drawing


def recorded_change(record: BedsideRecord, part: Part, side: Side, place: str) -> Change | None:
    """What the record says of a place, or None where it was not tested."""
    value = record.at(part.field, side.value, place)
    if part in (Part.LIGHT_TOUCH, Part.PINPRICK):
        quality = record.at("quality", part.field, side.value, place)
        plain = str(value).strip().upper().rstrip("*").removesuffix(".0")
        if plain == "1":
            return Change(quality) if quality else Change.REDUCED
        return {"2": Change.NORMAL, "0": Change.ABSENT}.get(plain)
    word = value.get("felt") if isinstance(value, Mapping) else value
    return Change(word) if word in list(Change) else None
