"""Between record and drawing: scores from what is painted, and skin from what is scored."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

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
                # What was answered at the point itself, its star with it, stands.
                scored = record.at(part.field, side.value, point) is not None
                if change is not None and not scored:
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
    """The case in a file, with skin in every modality that its record tells and nobody drew.

    Raises CaseError, in one sentence, for a file that cannot be read or used.
    """
    case = open_case(path, atlas)
    return case.with_drawing(with_recorded_skin(atlas, case.drawing))


def with_recorded_skin(atlas: Atlas, drawing: Drawing) -> Drawing:
    """The drawing with skin in every modality that was asked: where nothing is drawn in
    one, its answers are drawn from the record."""
    drawn = {modality for modality, _ in drawing.layers}
    missing = [
        part.modality
        for part in (Part.LIGHT_TOUCH, Part.PINPRICK, *LADDERS)
        if part.modality is not None
        and part.modality not in drawn
        and drawing.record.at(part.field)
    ]
    if not missing:
        return drawing
    told = drawn_from_record(atlas, replace(drawing, layers=MappingProxyType({})))
    for modality, change, layer in told.only(missing):
        drawing = drawing.with_layer(modality, change, layer)
    return drawing


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
