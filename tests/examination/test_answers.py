"""An answer is a value in the record and a finding on the skin at once, and back."""

import json
from pathlib import Path

import numpy as np
import pytest

from bodymap.atlas import Atlas
from bodymap.classification.scores import POINTS
from bodymap.examination.answers import cleared, compared, with_trials
from bodymap.examination.exchange import drawn_from_record, opened, points_taken
from bodymap.examination.parts import Part
from bodymap.examination.spots import point_place, point_spot, segments_of
from bodymap.examination.steps import Kind, Plan, Step, key_points
from bodymap.findings.case_file import Case, encode_case, parse_case
from bodymap.findings.drawing import Drawing
from bodymap.localise.answer import answered
from bodymap.localise.ranking import Scales
from bodymap.terms import DERMATOMES, Change, Modality, Side

SIDES = (Side.RIGHT, Side.LEFT)


def _point(part: Part, name: str) -> Step:
    return Step(part, Kind.COMPARE, name, name, "")


@pytest.mark.parametrize("name", POINTS)
def test_a_point_is_drawn_where_it_lies(atlas: Atlas, name: str) -> None:
    """Every spot holds its key point (places checked against ISNCSCI 2019 in the atlas
    tests), and at least nine tenths of it belongs to the segment."""
    for side in SIDES:
        spot = point_spot(atlas, key_points()[name], side)
        mask = np.zeros(len(atlas.cells), dtype=bool)
        for region in spot.regions:
            mask |= atlas.cells_of_region(region, side)
        if spot.cells is not None:
            mask |= spot.cells
        cell = atlas.cell_at(*point_place(atlas, name, side))
        assert cell is not None
        assert mask[cell]
        mine = np.isin(atlas.cells.dermatome, [DERMATOMES.index(s) for s in segments_of(name)])
        area = atlas.cells.area_cm2
        assert area[mask & mine].sum() / area[mask].sum() > 0.9
        assert not mask[~atlas.cells.on_side(side)].any()


SCORES = {Change.NORMAL: "2", Change.REDUCED: "1", Change.ABSENT: "0", Change.INCREASED: "1",
          Change.TINGLING: "1", None: "NT"}  # fmt: skip
"""ISNCSCI 2019: 0 absent, 1 altered (reduced or increased), 2 normal, NT not testable."""


@pytest.mark.parametrize("change", SCORES)
@pytest.mark.parametrize("name", ["C6", "T4", "T12", "S4-5"])
def test_answer_score_and_skin(atlas: Atlas, name: str, change: Change | None) -> None:
    step = _point(Part.PINPRICK, name)
    drawing = compared(atlas, Drawing(), step, {Side.RIGHT: change, Side.LEFT: Change.NORMAL})
    assert drawing.record.at("pinprick", "right", name) == SCORES[change]
    assert drawing.record.at("pinprick", "left", name) == "2"
    place = POINTS.index(name)
    assert str(drawing.record.scores.right.pinprick[place]) == SCORES[change]
    painted = {c for m, c, _ in drawing if m is Modality.PINPRICK}
    assert painted == {Change.NORMAL} | ({change} if change else set())
    assert compared(atlas, drawing, step, {}).layers == drawing.layers
    gone = cleared(atlas, drawing, step)
    assert not gone.record
    assert not gone.altered_cm2(atlas).any()


def test_an_answer_replaces_the_one_before(atlas: Atlas) -> None:
    step = _point(Part.LIGHT_TOUCH, "T6")
    first = compared(atlas, Drawing(), step, {Side.RIGHT: Change.ABSENT})
    second = compared(atlas, first, step, {Side.RIGHT: Change.NORMAL})
    assert second.altered_cm2(atlas).sum() == pytest.approx(0, abs=1e-6)
    assert second.normal_cm2(atlas).sum() == pytest.approx(first.altered_cm2(atlas).sum())


def test_neighbouring_trunk_points_do_not_touch_each_other(atlas: Atlas) -> None:
    """T3 and T4 lie in one named region; each has its own half of it."""
    drawing = Drawing()
    for name, change in (("T3", Change.NORMAL), ("T4", Change.REDUCED)):
        drawing = compared(atlas, drawing, _point(Part.PINPRICK, name), {Side.LEFT: change})
    again = points_taken(atlas, Drawing(drawing.layers))
    assert again.record.at("pinprick", "left") == {"T3": "2", "T4": "1"}


def test_points_from_skin_and_skin_from_points(atlas: Atlas) -> None:
    """Going round both ways gives the same scores."""
    drawing = Drawing()
    answers = {"C6": Change.REDUCED, "C7": Change.NORMAL, "T10": Change.ABSENT,
               "L5": Change.INCREASED, "S2": Change.TINGLING}  # fmt: skip
    for name, change in answers.items():
        drawing = compared(atlas, drawing, _point(Part.PINPRICK, name), {Side.RIGHT: change})
    told = points_taken(atlas, Drawing(drawing.layers)).record
    assert told.fields == drawing.record.fields
    redrawn = drawn_from_record(atlas, Drawing(record=drawing.record))
    for modality, change, layer in drawing:
        other = redrawn.layer(modality, change).painted_cm2(atlas)
        assert other == pytest.approx(layer.painted_cm2(atlas), abs=1e-6)


def test_a_c6_pattern_of_answers_ranks_the_root_first(atlas: Atlas) -> None:
    """C6 altered with C5 and C7 normal speaks for C6 (key points of ISNCSCI 2019)."""
    drawing = Drawing()
    for step in Plan((Part.LIGHT_TOUCH, Part.PINPRICK)).steps(drawing.record):
        right = Change.REDUCED if step.place == "C6" else Change.NORMAL
        drawing = compared(atlas, drawing, step, {Side.RIGHT: right, Side.LEFT: Change.NORMAL})
    first = answered(Scales(atlas), drawing).ranking.candidates[0]
    assert first.territory.side is Side.RIGHT
    assert "c6" in first.territory.id or "radial" in first.territory.id


def test_a_whole_record_survives_the_file(atlas: Atlas) -> None:
    drawing = Drawing()
    for step in Plan.usual().steps(drawing.record):
        if step.kind is Kind.COMPARE:
            drawing = compared(atlas, drawing, step, {Side.RIGHT: Change.REDUCED, Side.LEFT: None})
    again = parse_case(encode_case(Case(drawing)), "x", atlas).drawing
    assert again.record.fields == drawing.record.fields
    assert again.altered_cm2(atlas) == pytest.approx(drawing.altered_cm2(atlas), abs=1e-6)
    there_and_back = drawing.mirrored().mirrored()
    assert there_and_back.record.fields == drawing.record.fields
    assert drawing.mirrored().record.at("pinprick", "left", "C6") == "1"


def test_a_case_with_a_record_alone_is_drawn_from_it(atlas: Atlas, tmp_path: Path) -> None:
    """Written by hand: C6 altered on the right, all else of the limb normal."""
    points = {"C5": "2", "C6": "1", "C7": 2, "C8": "2", "T3": "2", "T4": "0", "T5": "NT"}
    document = {
        "format": "bodymap-case", "version": 1,
        "record": {"pinprick": {"right": points}, "vibration": {"left": {"great-toe": {
            "felt": "absent"}}}},
    }  # fmt: skip
    path = tmp_path / "case.json"
    path.write_text(json.dumps(document), "utf-8")
    drawing = opened(path, atlas).drawing
    assert drawing.layer(Modality.PINPRICK, Change.REDUCED).regions == {
        ("thumb-dorsal", Side.RIGHT)
    }
    assert drawing.layer(Modality.VIBRATION, Change.ABSENT).regions == {
        ("great-toe-dorsal", Side.LEFT)
    }
    told = points_taken(atlas, Drawing(drawing.layers)).record
    assert told.at("pinprick", "right") == {"C5": "2", "C6": "1", "C7": "2", "C8": "2", "T3": "2",
                                            "T4": "0"}  # fmt: skip
    with_findings = document | {
        "findings": [
            {"modality": "pinprick", "change": "absent", "side": "left", "regions": ["thenar"]}
        ]
    }
    path.write_text(json.dumps(with_findings), "utf-8")
    drawn = opened(path, atlas).drawing.layers
    assert set(drawn) == {(Modality.PINPRICK, Change.ABSENT), (Modality.VIBRATION, Change.ABSENT)}


def test_a_score_that_was_answered_stands(atlas: Atlas) -> None:
    """Points from the drawing fill what is empty; a star or NT is never painted over."""
    drawing = Drawing()
    for point in ("C6", "C8"):
        spot = point_spot(atlas, key_points()[point], Side.RIGHT)
        drawing = spot.noted(atlas, drawing, Modality.PINPRICK, Change.REDUCED)
    record = drawing.record.with_value(("pinprick", "right", "C6"), "1*")
    told = points_taken(atlas, drawing.with_record(record)).record
    assert told.at("pinprick", "right") == {"C6": "1*", "C8": "1"}


def test_clearing_a_run_takes_the_last_one_back(atlas: Atlas) -> None:
    drawing = Drawing()
    for point in ("C6", "T4"):
        drawing = with_trials(drawing, point, Side.LEFT, [("sharp", "dull")])
    step = Plan((Part.SHARP_DULL,)).steps(drawing.record)[0]
    left = cleared(atlas, drawing, step).record.at("sharp_dull")
    assert [run["point"] for run in left] == ["C6"]


def test_a_rung_that_is_not_needed_any_more_can_still_be_cleared(atlas: Atlas) -> None:
    plan, drawing = Plan((Part.VIBRATION,)), Drawing()
    for place, change in (("great-toe", Change.ABSENT), ("medial-malleolus", Change.REDUCED)):
        step = next(s for s in plan.steps(drawing.record) if s.place == place)
        drawing = compared(atlas, drawing, step, {Side.RIGHT: change})
    toe = plan.steps(drawing.record)[0]
    drawing = compared(atlas, drawing, toe, dict.fromkeys(SIDES, Change.NORMAL))
    rung = next(s for s in plan.steps(drawing.record) if s.place == "medial-malleolus")
    gone = cleared(atlas, drawing, rung)
    assert gone.record.at("vibration", "right") == {"great-toe": {"felt": "normal"}}
    assert not gone.altered_cm2(atlas).any()
