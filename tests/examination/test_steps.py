"""What is asked: order, ladders, nothing twice. The order (touch, pin, temperature, then
the deep senses from the most distal joint, then Romberg) is common practice, no source."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bodymap.atlas import Atlas
from bodymap.classification.scores import POINTS
from bodymap.examination.answers import compared, with_romberg, with_trials
from bodymap.examination.course import Course
from bodymap.examination.levels import level_in_question, modality_level
from bodymap.examination.parts import Part
from bodymap.examination.steps import Kind, Plan, Step, is_done
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.terms import Change, Side

BOTH = (Side.RIGHT, Side.LEFT)


def _answer(atlas: Atlas, drawing: Drawing, step: Step, changes: list[Change | None]) -> Drawing:
    if step.kind is Kind.TRIALS:
        return with_trials(drawing, "C6", Side.RIGHT, [("sharp", "sharp")])
    if step.kind is Kind.ROMBERG:
        return with_romberg(drawing, "steady", 10.0)
    sides = step.sides or BOTH
    return compared(atlas, drawing, step, dict(zip(sides, changes, strict=False)))


def test_usual_order_and_points() -> None:
    steps = Plan.usual().steps(BedsideRecord())
    assert list(dict.fromkeys(s.part for s in steps)) == [
        Part.LIGHT_TOUCH, Part.PINPRICK, Part.SHARP_DULL, Part.TEMPERATURE, Part.VIBRATION,
        Part.JOINT_POSITION, Part.ROMBERG,
    ]  # fmt: skip
    touched = [s.place for s in steps if s.part is Part.LIGHT_TOUCH]
    # Key points C4 to T1 and L2 to S1 and the trunk by T4 and T10 (common practice).
    assert {"C4", "C5", "C6", "C7", "C8", "T1", "T4", "T10", "L2", "L3", "L4", "L5", "S1"} <= set(
        touched
    )
    trunk = [POINTS.index(p) for p in touched if p.startswith("T") and p != "T1"]
    assert {b - a for a, b in itertools.pairwise(trunk)} == {2}, "equal bands"


def test_every_segment_is_28_points_a_side() -> None:
    """28 key points on each side (ISNCSCI 2019)."""
    steps = Plan((Part.PINPRICK,), every_segment=True).steps(BedsideRecord())
    assert [s.place for s in steps[1:]] == list(POINTS)
    assert len(POINTS) == 28


def test_a_ladder_goes_up_on_the_side_where_it_is_not_felt(atlas: Atlas) -> None:
    """Most distal joint first, next joint up until it is felt (common practice, no source)."""
    plan, drawing = Plan((Part.VIBRATION,)), Drawing()
    asked = []
    answers = {"great-toe": [Change.ABSENT, Change.NORMAL], "medial-malleolus": [Change.REDUCED],
               "tibial-tuberosity": [Change.NORMAL]}  # fmt: skip
    while (step := plan.next_step(drawing.record)) is not None:
        asked.append((step.place, step.sides))
        found: list[Change | None] = list(answers.get(step.place, [Change.NORMAL, Change.NORMAL]))
        drawing = _answer(atlas, drawing, step, found)
    assert asked == [
        ("great-toe", BOTH), ("medial-malleolus", (Side.RIGHT,)),
        ("tibial-tuberosity", (Side.RIGHT,)), ("index-finger", BOTH),
    ]  # fmt: skip


CHANGES = [*Change, None]


@settings(max_examples=30, deadline=None)
@given(data=st.data())
def test_nothing_is_asked_twice_whatever_is_answered(atlas: Atlas, data: st.DataObject) -> None:
    parts = data.draw(st.permutations(list(Part)[:4]))
    course, drawing = Course(Plan(tuple(parts))), Drawing()
    course.refresh(drawing.record)
    asked: list[str] = []
    while course.step is not None:
        step = course.step
        assert step.key not in asked
        asked.append(step.key)
        if data.draw(st.booleans()):
            course.pass_over(drawing.record)
            continue
        found = data.draw(st.lists(st.sampled_from(CHANGES), min_size=2, max_size=2))
        drawing = _answer(atlas, drawing, step, found)
        assert is_done(step, drawing.record)
        course.go_on(drawing.record)
    # What was passed over can be gone to again, and then nothing else is asked.
    for part in parts:
        course.go_to(part, drawing.record)
        assert course.step is not None
        assert course.step.part is part


def test_back_leads_the_way_that_was_come(atlas: Atlas) -> None:
    course, drawing = Course(), Drawing()
    course.refresh(drawing.record)
    keys = []
    for _ in range(4):
        assert course.step is not None
        keys.append(course.step.key)
        drawing = _answer(atlas, drawing, course.step, [Change.NORMAL, Change.NORMAL])
        course.go_on(drawing.record)
    for key in reversed(keys):
        course.go_back(drawing.record)
        assert course.step is not None
        assert course.step.key == key
    assert not course.can_go_back


def _scored(**scores: str) -> BedsideRecord:
    record = BedsideRecord()
    for name, score in scores.items():
        side, point = name.split("_")
        record = record.with_value(("pinprick", side, point), score)
    return record


@pytest.mark.parametrize(
    ("scores", "asked"),
    [({}, False), ({"right_C6": "0"}, False), ({"right_T10": "1"}, True),
     ({"right_L5": "1", "right_S1": "1"}, False), ({"right_S1": "1", "left_S1": "0"}, True),
     ({"right_L5": "1", "right_S1": "1", "left_L5": "1", "left_S1": "0"}, True)],
)  # fmt: skip
def test_when_a_level_is_in_question(scores: dict[str, str], asked: bool) -> None:
    """A trunk point, or both legs, where the sacral points matter (judgement)."""
    assert level_in_question(_scored(**scores).scores) is asked


def test_level_of_one_modality() -> None:
    """The last normal segment from C2 downwards (ISNCSCI 2019, for one modality)."""
    normal_to_t6 = dict.fromkeys(POINTS[: POINTS.index("T7")], "2")
    record = BedsideRecord()
    for point in POINTS:
        value = normal_to_t6.get(point, "1")
        record = record.with_value(("pinprick", "left", point), value)
    half = record.scores.left
    assert modality_level(half, "pinprick") == "T6"
    assert modality_level(half, "light_touch") is None
    record = record.with_value(("pinprick", "left", "C4"), "NT")
    assert modality_level(record.scores.left, "pinprick") == "not determined"
