"""Laws that hold whatever was recorded, on records drawn at random.

The invariants are those constructed from the booklet's rules [C]; the reference of the
first is ``plain_rules``, which fills in every admissible value.
"""

from dataclasses import replace
from random import Random

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bodymap.classification.classify import RESULTS, Field, as_json, classify
from bodymap.classification.levels import Possible
from bodymap.classification.scores import (
    KEY_MUSCLES,
    LEVELS,
    NORMALS,
    PLACE,
    Record,
    Score,
    settled,
    untested,
)
from bodymap.classification.sums import FIELDS as SUMS
from tests.classification.grids import half, random_record, record
from tests.classification.plain_rules import by_substitution

NAMED = set(LEVELS) - {"S4-5"}
"""What a level can be: with S4-5 intact nothing is left to be abnormal, so INT."""

SEEDS = st.integers(0, 2**40)
MANY = settings(
    max_examples=5000, deadline=None, suppress_health_check=list(HealthCheck), database=None
)
SOME = settings(
    max_examples=300, deadline=None, suppress_health_check=list(HealthCheck), database=None
)


def _drawn(seed: int, most_untested: int = 3) -> Record:
    chance = Random(seed)
    starred = chance.choice((0, 0, 0.1, 0.5))
    return random_record(chance, chance.randrange(most_untested + 1), starred)


def _mirrored(field: Field) -> Field:
    return tuple({"right": "left", "left": "right"}.get(name, name) for name in field)


@MANY
@given(SEEDS)
def test_results_are_those_of_every_way_to_fill_in_what_is_missing(seed: int) -> None:
    drawn = _drawn(seed)
    results = classify(drawn).results
    for field, found in by_substitution(drawn).items():
        assert dict(results[field]) == found, field


@SOME
@given(SEEDS)
def test_a_point_settles_if_a_value_changes_what_every_way_to_fill_in_gives(seed: int) -> None:
    drawn = _drawn(seed, 2)
    found = classify(drawn)
    whole = by_substitution(drawn)
    for field in found.undetermined:
        if field[0] not in SUMS:
            bearing = tuple(
                str(point)
                for point in untested(drawn)
                if any(
                    set(by_substitution(other)[field]) != set(whole[field])
                    for other in settled(drawn, point)
                )
            )
            if bearing:
                assert found.settle(field) == bearing, field
            else:
                # No point alone: the muscles named decide together.
                assert len(found.settle(field)) > 1, field


@SOME
@given(SEEDS)
def test_a_value_for_what_was_not_tested_gives_only_what_was_possible(seed: int) -> None:
    drawn = _drawn(seed, 8)
    before = classify(drawn).results
    for point in untested(drawn):
        together: dict[Field, set[str]] = {}
        for other in settled(drawn, point):
            for field, found in classify(other).results.items():
                assert set(found) <= set(before[field])
                together.setdefault(field, set()).update(found)
        assert together == {field: set(found) for field, found in before.items()}


@SOME
@given(SEEDS)
def test_mirrored_record_gives_mirrored_results(seed: int) -> None:
    drawn = _drawn(seed, 8)
    found = classify(drawn).results
    mirrored = classify(replace(drawn, right=drawn.left, left=drawn.right)).results
    assert {_mirrored(f): dict(v) for f, v in mirrored.items()} == {
        f: dict(v) for f, v in found.items()
    }


@SOME
@given(SEEDS)
def test_neurological_level_is_never_caudal_to_any_level(seed: int) -> None:
    results = classify(_drawn(seed)).results
    lowest = max(PLACE[name] for name in results["neurological_level",])
    for field in RESULTS:
        if field[0] in ("sensory_level", "motor_level"):
            assert lowest <= max(PLACE[name] for name in results[field])


@SOME
@given(SEEDS, st.sampled_from(["right", "left"]), st.sampled_from(list(NORMALS)), SEEDS)
def test_a_raised_score_never_moves_the_sensory_level_up(
    seed: int, name: str, part: str, where: int
) -> None:
    drawn = _drawn(seed)
    side = drawn.sides[name]
    place = where % len(getattr(side, part))
    score: Score = getattr(side, part)[place]
    if score.value is None or score.value == NORMALS[part]:
        return
    higher = score.value + 1
    star = score.starred and higher < NORMALS[part]
    changed = {name: side.with_score(part, place, Score(higher, star))}
    before = _places(classify(drawn).results["sensory_level", name])
    after = _places(classify(replace(drawn, **changed)).results["sensory_level", name])  # type: ignore[arg-type]
    assert min(after) >= min(before)
    assert max(after) >= max(before)


@SOME
@given(SEEDS)
def test_grade_a_if_and_only_if_nothing_sacral_is_spared(seed: int) -> None:
    results = classify(_drawn(seed)).results
    assert ("A" in results["impairment_scale",]) == ("complete" in results["completeness",])
    only_a = set(results["impairment_scale",]) == {"A"}
    assert only_a == (set(results["completeness",]) == {"complete"})


@SOME
@given(SEEDS, SEEDS)
def test_a_star_below_the_level_alters_no_result(seed: int, where: int) -> None:
    drawn = _drawn(seed)
    marked = []
    for name, side in drawn.sides.items():
        for part, normal in NORMALS.items():
            for place, score in enumerate(getattr(side, part)):
                if not score.starred and score.value != normal:
                    marked.append((name, part, place))
    if not marked:
        return
    name, part, place = marked[where % len(marked)]
    side = drawn.sides[name]
    score = getattr(side, part)[place]
    changed = {name: side.with_score(part, place, Score(score.value, True))}
    starred = classify(replace(drawn, **changed)).results  # type: ignore[arg-type]
    segment = place + 1 if part != "motor" else PLACE[_muscle(place)]
    levels = {**starred["sensory_level", name], **starred["motor_level", name]}
    if segment >= max(PLACE[level] for level in levels):
        plain = classify(drawn).results
        assert {f: dict(v) for f, v in starred.items()} == {f: dict(v) for f, v in plain.items()}


@SOME
@given(SEEDS)
def test_document_tells_exactly_what_is_undetermined(seed: int) -> None:
    found = classify(_drawn(seed, 5))
    document = as_json(found)
    settle = document["possible"].get("settle", {})
    for field in RESULTS:
        value, could_be, points = document, document["possible"], settle
        for name in field:
            value = value[name]
            could_be = could_be.get(name, {})
            points = points.get(name, {})
        assert (value == "ND") == (field in found.undetermined)
        assert bool(could_be) == bool(points) == (value == "ND"), field


def test_an_empty_record_could_be_anything() -> None:
    results = classify(Record(cord_injury=True)).results
    assert set(results["impairment_scale",]) == set("ABCDE")
    assert set(results["neurological_level",]) == NAMED
    zone = set(results["partial_preservation", "motor", "right"])
    assert zone == {*NAMED, "NA"}


def test_sacral_sensation_that_only_a_star_denies_agrees_with_every_filling_in() -> None:
    """[C] everything above is intact, so S4-5 counts as normal: spared, with a star."""
    for values in ("0*", "NT*"):
        side = half("2", motor="55555 21000", LT_S45=values, PP_S45="0*")
        drawn = record(side, half("2:S3 0"), anal=(False, None))
        results = classify(drawn).results
        for field, found in by_substitution(drawn).items():
            assert dict(results[field]) == found, field
        assert results["sacral_sensory_sparing",] == {"yes": True}


def test_many_untested_muscles_leave_d_where_enough_are_strong() -> None:
    """[C] 6 of 10 below T6 reach 3 whatever the four others are."""
    side = half("2:T6 1", motor="55555 33300", M_L5="NT", M_S1="NT")
    assert classify(record(side, anal=(True, True))).result("impairment_scale") == "D"


def test_muscles_that_decide_only_together_are_named_together() -> None:
    """[C] 4 of 10 below T6 reach 3, two untested: one more makes 5, so any of the two
    decides; with 3 of 10 both must reach 3."""
    one = half("2:T6 1", motor="55555 30000", M_S1="NT")
    found = classify(record(half("2:T6 1", motor="55555 33300"), one, anal=(True, True)))
    assert found.settle(("impairment_scale",)) == ("motor S1 left",)
    two = half("2:T6 1", motor="55555 30000", M_S1="NT", M_L5="NT", LT_S2="NT")
    found = classify(record(half("2:T6 1", motor="55555 33000"), two, anal=(True, True)))
    assert found.settle(("impairment_scale",)) == ("motor L5 left", "motor S1 left")


def _muscle(place: int) -> str:
    return KEY_MUSCLES[place]


def _places(found: Possible) -> list[int]:
    return [PLACE[name] for name in found]
