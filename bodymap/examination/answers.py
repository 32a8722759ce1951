"""What an answer becomes: a value in the record and a finding on the skin, in one step."""

from collections.abc import Mapping, Sequence
from typing import Any

from bodymap.atlas import Atlas
from bodymap.examination.parts import Part
from bodymap.examination.spots import Spot, point_spot, site_spot
from bodymap.examination.steps import CHEEK, Kind, Step, key_points
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.terms import Change, Side

NOT_TESTED = "NT"

NO_REFERENCE = "none"
"""In place of the cheek where that is not normal or cannot be tested."""

SCORES = {
    Change.NORMAL: "2", Change.REDUCED: "1", Change.INCREASED: "1", Change.TINGLING: "1",
    Change.ABSENT: "0",
}  # fmt: skip
"""Changes as key-point scores (ISNCSCI 2019): 1 is altered, less as well as more."""

Answers = Mapping[Side, Change | None]
"""What was found on each side; None where it could not be tested."""


def compared(
    atlas: Atlas,
    drawing: Drawing,
    step: Step,
    answers: Answers,
    values: Mapping[Side, Mapping[str, float]] | None = None,
    starred: bool = False,
) -> Drawing:
    """The drawing and record after a step was answered side against side.

    ``values`` are readings beside the answer: eighths or seconds of a fork, correct and
    trials of moves. ``starred`` says that an abnormal score has another cause than the cord.
    """
    record = drawing.record
    for side, change in answers.items():
        beside = (values or {}).get(side, {})
        record = recorded(record, step, side, change, beside, starred)
    drawing = drawing.with_record(record)
    if step.kind is Kind.REFERENCE:
        # Skin that is not normal itself is nothing to compare with.
        sound = all(change is Change.NORMAL for change in answers.values())
        told = CHEEK if sound else NO_REFERENCE
        drawing = drawing.with_record(record.with_value(step.path(Side.RIGHT), told))
    modality = step.part.modality
    if modality is None:
        return drawing
    for side, change in answers.items():
        drawing = spot_of(atlas, step, side).noted(atlas, drawing, modality, change)
    return drawing


def spot_of(atlas: Atlas, step: Step, side: Side) -> Spot:
    """The skin that an answer of a step stands for."""
    if step.kind is Kind.REFERENCE:
        return Spot(side, (CHEEK,))
    if step.site is not None:
        return site_spot(step.site, side)
    return point_spot(atlas, key_points()[step.place], side)


def recorded(
    record: BedsideRecord,
    step: Step,
    side: Side,
    change: Change | None,
    beside: Mapping[str, float],
    starred: bool,
) -> BedsideRecord:
    """The record with the answer of one side."""
    if step.kind is Kind.REFERENCE:
        return record
    path = step.path(side)
    if step.part in (Part.LIGHT_TOUCH, Part.PINPRICK):
        score = NOT_TESTED if change is None else SCORES[change]
        star = "*" if starred and score != "2" else ""
        quality = change.value if change in (Change.INCREASED, Change.TINGLING) else None
        record = record.with_value(("quality", *path), quality)
        return record.with_value(path, score + star)
    word = NOT_TESTED if change is None else change.value
    if step.part is Part.TEMPERATURE:
        return record.with_value(path, word)
    kept = word if change in (None, Change.NORMAL, Change.ABSENT) else Change.REDUCED.value
    return record.with_value(path, {"felt": kept, **beside})


def with_trials(
    drawing: Drawing, point: str, side: Side, trials: Sequence[tuple[str, str]]
) -> Drawing:
    """The record with a run of sharp or dull at a key point: (given, said) of each poke."""
    runs = list(drawing.record.at("sharp_dull") or ())
    run = {"side": side.value, "point": point, "trials": [list(t) for t in trials]}
    return drawing.with_record(drawing.record.with_value(("sharp_dull",), [*runs, run]))


def with_romberg(
    drawing: Drawing, result: str, seconds: float | None = None, reason: str = ""
) -> Drawing:
    """The record with the result of Romberg: ``seconds`` stood with closed eyes."""
    value: dict[str, Any] = {"result": result}
    if seconds is not None:
        value["seconds"] = round(seconds, 1)
    if reason:
        value["reason"] = reason
    return drawing.with_record(drawing.record.with_value(("romberg",), value))


def with_touches(drawing: Drawing, step: Step, felt: Mapping[Side, int], of: int = 3) -> Drawing:
    """The record with touches of the 10 g filament that were felt rightly.
    They are not drawn: pressure of 10 g is no modality of the figure."""
    record = drawing.record
    for side, count in felt.items():
        record = record.with_value(step.path(side), {"felt": count, "of": of})
    return drawing.with_record(record)


def with_distances(drawing: Drawing, step: Step, mm: Mapping[Side, float]) -> Drawing:
    """The record with the least distance of two points that were told apart, mm."""
    record = drawing.record
    for side, distance in mm.items():
        record = record.with_value(step.path(side), distance)
    return drawing.with_record(record)


def with_note(drawing: Drawing, key: str, words: str, kind: str = "remarks") -> Drawing:
    """The record with a remark on a step, or the reason why it was not tested
    (``kind`` "reasons")."""
    return drawing.with_record(drawing.record.with_value((kind, key), words.strip() or None))


def cleared(atlas: Atlas, drawing: Drawing, step: Step) -> Drawing:
    """The drawing and record as if a step had not been asked. Of several runs of sharp or
    dull the last is taken back."""
    record = drawing.record
    runs = record.at("sharp_dull")
    if step.part is Part.SHARP_DULL and runs:
        return drawing.with_record(record.with_value(("sharp_dull",), list(runs[:-1]) or None))
    record = record.with_value(("remarks", step.key), None)
    for side in step.sides or (Side.RIGHT,):
        record = record.with_value(("reasons", step.key_of(side)), None)
        record = record.with_value(step.path(side), None)
        record = record.with_value(("quality", *step.path(side)), None)
    drawing = drawing.with_record(record)
    modality = step.part.modality
    if modality is not None:
        for side in step.sides or (Side.RIGHT, Side.LEFT):
            drawing = spot_of(atlas, step, side).noted(atlas, drawing, modality, None)
    return drawing
