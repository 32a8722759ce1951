"""Between record and drawing: scores from what is painted, and skin from what is scored."""

from collections.abc import Mapping

import shapely

from bodymap.atlas import Atlas
from bodymap.classification.scores import POINTS
from bodymap.examination.answers import recorded, spot_of
from bodymap.examination.parts import Part
from bodymap.examination.spots import point_place
from bodymap.examination.steps import Kind, Step
from bodymap.findings.drawing import Drawing
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
                    step = Step(part, Kind.COMPARE, point, point, "")
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


def drawn_from_record(atlas: Atlas, drawing: Drawing) -> Drawing:
    """A drawing without findings on the skin, with those that its record tells."""
    for part in (Part.LIGHT_TOUCH, Part.PINPRICK, *LADDERS):
        for side in (Side.RIGHT, Side.LEFT):
            for place in drawing.record.at(part.field, side.value) or {}:
                change = recorded_change(drawing.record, part, side, place)
                step = Step(part, Kind.COMPARE, place, place, "")
                if change is not None and part.modality is not None:
                    spot = spot_of(atlas, step, side)
                    drawing = spot.noted(atlas, drawing, part.modality, change)
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
