"""Two bedside records held against each other, worked out by hand."""

from typing import Any

import pytest

from bodymap.classification.scores import KEY_MUSCLES, POINTS
from bodymap.examination.answers_moved import NOWHERE, records_moved
from bodymap.examination.answers_said import Place
from bodymap.findings.record import BedsideRecord


def _record(**fields: Any) -> BedsideRecord:
    return BedsideRecord(fields)


def _points(level: str, below: str) -> dict[str, dict[str, str]]:
    """2 down to a segment and another score below it, on both sides."""
    last = POINTS.index(level)
    scores = {p: "2" if n <= last else below for n, p in enumerate(POINTS)}
    return {"right": scores, "left": dict(scores)}


def _muscles(level: str, below: str) -> dict[str, dict[str, str]]:
    """5 in the key muscles down to a segment and another grade below it, on both sides."""
    order = list(POINTS)
    grades = {
        m: "5" if order.index(m) <= order.index(level) else below for m in KEY_MUSCLES
    }  # fmt: skip
    return {"right": grades, "left": dict(grades)}


def test_only_what_was_answered_twice_is_compared() -> None:
    then = _record(pinprick={"right": {"C6": "1", "C7": "0", "C8": "NT", "T1": "2"}})
    now = _record(pinprick={"right": {"C6": "2", "C7": "NT", "C8": "1"}})
    found = records_moved(then, now)
    assert (found.both, found.not_again) == (1, 1)
    assert found.untestable == (Place("pinprick", "right", "C7"),)
    (moved,) = found.answers
    assert moved.where == Place("pinprick", "right", "C6")
    assert (moved.then, moved.now, moved.better) == ("1", "2", True)
    assert records_moved(now, then).answers[0].better is False
    assert not records_moved(then, then).answers


@pytest.mark.parametrize(
    ("part", "then", "now", "words", "better"),
    [
        ("motor", {"right": {"C7": 3}}, {"right": {"C7": 4}}, ("3", "4"), True),
        ("temperature", {"left": {"foot": "absent"}}, {"left": {"foot": "reduced"}},
         ("absent", "reduced"), True),
        ("temperature", {"left": {"foot": "reduced"}}, {"left": {"foot": "tingling"}},
         ("reduced", "tingling"), None),
        ("vibration", {"left": {"great-toe": {"felt": "reduced", "eighths": 3}}},
         {"left": {"great-toe": {"felt": "reduced", "eighths": 5}}},
         ("reduced (3/8)", "reduced (5/8)"), True),
        ("joint_position", {"left": {"great-toe": {"felt": "normal", "correct": 10, "trials": 10}}},
         {"left": {"great-toe": {"felt": "reduced", "correct": 6, "trials": 10}}},
         ("normal (10 of 10 right)", "reduced (6 of 10 right)"), False),
        ("monofilament", {"left": {"hallux": {"felt": 3, "of": 3}}},
         {"left": {"hallux": {"felt": 1, "of": 3}}}, ("3 of 3", "1 of 3"), False),
        ("two_point", {"left": {"thumb": 12}}, {"left": {"thumb": 5}}, ("12 mm", "5 mm"), True),
        ("romberg", {"result": "steady"}, {"result": "lost balance"},
         ("steady", "lost balance"), False),
        ("deep_anal_pressure", "no", "yes", ("no", "yes"), True),
        ("vibration", {"left": {"great-toe": {"felt": "reduced", "seconds": 20}}},
         {"left": {"great-toe": {"felt": "reduced", "seconds": 2}}},
         ("reduced (felt for 20 s)", "reduced (felt for 2 s)"), False),
        ("vibration", {"left": {"great-toe": {"felt": "reduced", "eighths": 3, "seconds": 9}}},
         {"left": {"great-toe": {"felt": "reduced", "eighths": 4, "seconds": 5}}},
         ("reduced (3/8, felt for 9 s)", "reduced (4/8, felt for 5 s)"), None),
        ("romberg", {"result": "lost balance", "seconds": 9},
         {"result": "lost balance", "seconds": 1},
         ("lost balance after 9 s", "lost balance after 1 s"), False),
        ("romberg", {"result": "steady", "seconds": 10}, {"result": "sway", "seconds": 20},
         ("steady for 10 s", "sway for 20 s"), False),
    ],
)  # fmt: skip
def test_every_part_says_what_changed_and_which_way(
    part: str, then: Any, now: Any, words: tuple[str, str], better: bool | None
) -> None:
    """Directions are common practice, no source: more felt is better, two points told
    apart at less distance is better."""
    (moved,) = records_moved(_record(**{part: then}), _record(**{part: now})).answers
    assert (moved.then, moved.now) == words
    assert moved.better is better


@pytest.mark.parametrize(
    ("part", "then", "now"),
    [
        # A reading that one visit lacks is no change, nor one that is written otherwise.
        ("vibration", {"left": {"great-toe": {"felt": "reduced", "eighths": 3}}},
         {"left": {"great-toe": {"felt": "reduced"}}}),
        ("vibration", {"left": {"great-toe": {"felt": "reduced", "eighths": 3}}},
         {"left": {"great-toe": {"felt": "reduced", "seconds": 6}}}),
        ("monofilament", {"left": {"hallux": {"felt": 2, "of": 2}}},
         {"left": {"hallux": {"felt": 3, "of": 3}}}),
        # How long somebody who stands is watched is the examiner's choice.
        ("romberg", {"result": "steady", "seconds": 10}, {"result": "steady", "seconds": 30}),
        ("pinprick", {"left": {"C6": "1"}}, {"left": {"C6": 1}}),
    ],
)  # fmt: skip
def test_the_same_answer_is_no_change(part: str, then: Any, now: Any) -> None:
    found = records_moved(_record(**{part: then}), _record(**{part: now}))
    assert found.both == 1
    assert not found.answers


@pytest.mark.parametrize(
    ("then", "now", "words"),
    [
        (None, "increased", ("1 (reduced)", "1 (increased)")),
        ("reduced", "tingling", ("1 (reduced)", "1 (tingling)")),
        ("tingling", "increased", ("1 (tingling)", "1 (increased)")),
        (None, "reduced", None),
    ],
)
def test_another_quality_of_the_same_score_is_a_change(
    then: str | None, now: str | None, words: tuple[str, str] | None
) -> None:
    """A score of 1 is altered, less as well as more (ISNCSCI 2019); a score without a word
    is reduced (form of the record)."""
    one, other = (
        _record(pinprick={"right": {"C6": "1"}}, quality={"pinprick": {"right": {"C6": q}}})
        if q else _record(pinprick={"right": {"C6": "1"}})
        for q in (then, now)
    )  # fmt: skip
    moved = records_moved(one, other).answers
    assert [(m.then, m.now, m.better) for m in moved] == ([(*words, None)] if words else [])


@pytest.mark.parametrize(
    ("part", "then", "now", "place"),
    [
        ("romberg", {"result": "steady"}, {"result": "not done"}, Place("romberg")),
        ("motor", {"left": {"C7": "4"}}, {"left": {"C7": "NT"}}, Place("motor", "left", "C7")),
        ("temperature", {"left": {"foot": "absent"}}, {"left": {"foot": "NT"}},
         Place("temperature", "left", "foot")),
        ("vibration", {"left": {"great-toe": {"felt": "normal"}}},
         {"left": {"great-toe": {"felt": "NT"}}}, Place("vibration", "left", "great-toe")),
        ("deep_anal_pressure", "yes", "NT", Place("deep_anal_pressure")),
    ],
)  # fmt: skip
def test_what_could_not_be_had_now_is_named(part: str, then: Any, now: Any, place: Place) -> None:
    found = records_moved(_record(**{part: then}), _record(**{part: now}))
    assert (found.both, found.not_again, found.untestable) == (0, 0, (place,))
    assert not records_moved(_record(**{part: now}), _record(**{part: then})).untestable


def _ladder(*felt: str) -> dict[str, Any]:
    places = ("great-toe", "medial-malleolus", "tibial-tuberosity", "iliac-spine")
    return {"right": {p: {"felt": f} for p, f in zip(places, felt, strict=False)}}


@pytest.mark.parametrize(
    ("then", "now", "expected"),
    [
        (("reduced",), ("absent", "absent", "normal"), ("great-toe", "tibial-tuberosity", 2)),
        (("absent", "absent", "normal"), ("absent", "reduced"),
         ("tibial-tuberosity", "medial-malleolus", -1)),
        (("absent", "normal"), ("absent",) * 4, ("medial-malleolus", NOWHERE, 3)),
        (("normal",), ("normal",), ("great-toe", "great-toe", 0)),
    ],
)  # fmt: skip
def test_the_first_place_felt_climbs_the_ladder(
    then: tuple[str, ...], now: tuple[str, ...], expected: tuple[str, str, int]
) -> None:
    """The ladder of vibration runs toe, malleolus, tuberosity, spine (INCAT sensory sum
    score, Merkies 2000, from memory); steps counted on paper."""
    found = records_moved(_record(vibration=_ladder(*then)), _record(vibration=_ladder(*now)))
    (felt,) = found.first_felt
    assert (felt.part, felt.limb, felt.side) == ("vibration", "leg", "right")
    assert (felt.then, felt.now, felt.places) == expected


@pytest.mark.parametrize("felt", [("NT", "normal"), ("absent",)])
def test_a_ladder_with_a_gap_has_no_first_place(felt: tuple[str, ...]) -> None:
    whole, gap = (_record(vibration=_ladder(*f)) for f in (("normal",), felt))
    assert not records_moved(whole, gap).first_felt


def test_levels_move_by_segments_and_the_scale_follows() -> None:
    """Worked on paper after the ISNCSCI booklet (2019): sensation and muscles normal down
    to T10, then to T8, with no sacral sparing, is A at T10, then A at T8; with pin felt at
    S4-5 and no muscle below, B."""
    injury: dict[str, Any] = {
        "spinal_cord_injury": True, "deep_anal_pressure": "no", "voluntary_anal_contraction": "no",
    }  # fmt: skip
    grades = _muscles("T10", "0")
    touch = _points("T10", "0")
    then = _record(light_touch=touch, pinprick=touch, motor=grades, **injury)
    touch = _points("T8", "0")
    pin = _points("T8", "0")
    pin["right"]["S4-5"] = "1"
    now = _record(light_touch=touch, pinprick=pin, motor=grades, **injury)
    found = records_moved(then, now)
    levels = {(m.what, m.side): (m.then, m.now, m.down) for m in found.levels}
    assert levels["pinprick", "right"] == ("T10", "T8", -2)
    assert levels["light_touch", "left"] == ("T10", "T8", -2)
    assert levels["neurological_level", ""] == ("T10", "T8", -2)
    assert found.scale == ("A", "B")
    assert all(m.counted for m in found.levels)
    without = BedsideRecord({k: v for k, v in now.fields.items() if k != "spinal_cord_injury"})
    found = records_moved(then, without)
    assert found.scale is None
    assert {m.what for m in found.levels} == {"light_touch", "pinprick"}


def test_a_level_that_is_intact_now_is_down_but_not_counted_in_segments() -> None:
    found = records_moved(
        _record(pinprick=_points("L4", "1")), _record(pinprick=_points("S4-5", "2"))
    )
    level = next(m for m in found.levels if m.side == "right")
    assert (level.then, level.now) == ("L4", "intact")
    assert level.down > 0
    assert not level.counted


def test_a_level_is_not_told_where_a_point_before_it_is_untested() -> None:
    gap = _points("T10", "0")
    gap["right"]["C5"] = "NT"
    found = records_moved(_record(pinprick=_points("T8", "0")), _record(pinprick=gap))
    assert [(m.side, m.down) for m in found.levels] == [("left", 2)]
