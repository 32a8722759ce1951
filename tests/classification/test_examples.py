"""The examples: what a classification must be, worked out by hand.

[M] from memory, with its publication; [S] stands in an abstract or summary that was
read; [C] constructed from the stated rules of the booklet (Rupp et al., Top Spinal Cord
Inj Rehabil 2021;27(2):1-22), each row worked through on paper.
"""

from dataclasses import dataclass, replace

import pytest

from bodymap.classification.classify import Classification, as_json, classify
from bodymap.classification.scores import NOT_TESTED, HalfRecord, Record
from tests.classification.grids import half, record

YES_NO, YES_YES, NO_YES = (True, False), (True, True), (False, True)


def _motor_level(side: HalfRecord) -> str:
    return classify(record(side)).result("motor_level", "right")


MOTOR_LEVELS = {
    "(a) sensation to C4, C5 below 3": ([half("2:C4 0", motor="20000 00000")], "C4"),
    "(b) sensation to C4, C5 at 3 or more": (
        [half("2:C4 0", motor=f"{grade}0000 00000") for grade in (3, 4, 5)],
        "C5",
    ),
    "(c) sensation to C3, C5 at 3 or more": (
        [half("2:C3 0", motor=f"{grade}0000 00000") for grade in (3, 4, 5)],
        "C3",
    ),
    "(d) arms 5, sensation to T6": ([half("2:T6 0", motor="55555 00000")], "T6"),
    "(e) as (d), T1 at 3 or 4": (
        [half("2:T6 0", motor=f"5555{grade} 00000") for grade in (3, 4)],
        "T1",
    ),
}


@pytest.mark.parametrize("name", MOTOR_LEVELS)
def test_motor_levels_of_the_booklet(name: str) -> None:
    """[M] Rupp et al. 2021, examples of the motor level, paraphrased."""
    sides, level = MOTOR_LEVELS[name]
    assert {_motor_level(side) for side in sides} == {level}


def test_three_of_sixteen_below_c6_is_c() -> None:
    """[S] rehabilitation teaching answers: neurological level C6, 3 of 16 reach 3."""
    right = half("2:C6 1", motor="55311 11111")
    left = half("2:C6 1", motor="55331 11111")
    found = classify(record(right, left, YES_YES))
    assert found.result("neurological_level") == "C6"
    assert found.muscles == (3, 16)
    assert found.result("impairment_scale") == "C"


def test_seven_of_ten_below_t10_is_d() -> None:
    """[S] rehabilitation teaching answers: neurological level T10, 7 of 10 reach 3."""
    right = half("2:T10 1", motor="55555 33332")
    left = half("2:T10 1", motor="55555 33322")
    found = classify(record(right, left, YES_YES))
    assert found.result("neurological_level") == "T10"
    assert found.muscles == (7, 10)
    assert found.result("impairment_scale") == "D"


@dataclass(frozen=True)
class Row:
    """A row of examples: right and left with a slash, one value for both without."""

    record: Record
    sensory: str
    motor: str
    level: str
    scale: str
    zone_sensory: str
    zone_motor: str
    touch: str
    pin: str


_E5 = "2:C5 1"
_T6 = half("2:T6 0", motor="55555 00000")
_T7 = half("2:T7 0", motor="55555 00000")
_STARRED_MUSCLE = half("2:L1 1", motor="55555 32211", M_C6="3*")
_AMPUTATION = half(
    "2:T8 0",
    motor="55555 00000",
    **{f"{kind}_{segment}": "NT*" for kind in ("LT", "PP") for segment in ("C6", "C7", "C8")},
    **{f"M_{segment}": "NT*" for segment in ("C6", "C8", "T1")},
)
_HIP = half("2:T7 1", "2:T7 1:T10 0", "55555 00000", "L2")

ROWS = {
    "E1": Row(record(half("2:T4 0", motor="55555 00000")),
        "T4/T4", "T4/T4", "T4", "A", "T4/T4", "T4/T4", "44", "44"),
    "E2": Row(
        record(
            half("2:C5 1:C8 0", "2:C5 1:C7 0", "53100 00000"),
            half("2:C6 1:T1 0", "2:C6 0", "54200 00000"),
        ),
        "C5/C6", "C6/C6", "C5", "A", "C8/T1", "C7/C7", "24", "20"),
    "E3": Row(record(half("2:C5 1", "2:C5 0", "53000 00000"), anal=YES_NO),
        "C5/C5", "C6/C6", "C5", "B", "NA/NA", "C6/C6", "64", "16"),
    "E4": Row(record(half("2:C5 1", motor="52110 11000"), anal=YES_NO),
        "C5/C5", "C5/C5", "C5", "C", "NA/NA", "L3/L3", "64", "64"),
    "E5": Row(record(half("2:C5 1", motor="54332 44333"), anal=YES_YES),
        "C5/C5", "C6/C6", "C5", "D", "NA/NA", "NA/NA", "64", "64"),
    "E6": Row(
        record(
            half("2:T10 0", motor="55555 21000"),
            half("2:T12 1", "2:T12 0", "55555 22000"),
        ),
        "T10/T12", "T10/T12", "T10", "C", "T10/NA", "L3/L3", "81", "72"),
    "E7": Row(record(half("2:C3 0", motor="30000 00000")),
        "C3/C3", "C3/C3", "C3", "A", "C3/C3", "C5/C5", "8", "8"),
    "E8": Row(record(half("1", motor="22222 22222"), anal=YES_YES),
        "C1/C1", "C1/C1", "C1", "C", "NA/NA", "NA/NA", "56", "56"),
    "E9": Row(record(half("2"), anal=YES_YES),
        "INT/INT", "INT/INT", "INT", "E", "NA/NA", "NA/NA", "112", "112"),
    "E10": Row(record(replace(_T6, light_touch=half("2:T6 0", LT_T2="NT").light_touch), _T6),
        "ND/T6", "ND/T6", "ND", "A", "T6/T6", "ND/T6", "ND", "52"),
    "E11": Row(record(replace(_T6, light_touch=half("2:T6 0", LT_T2="NT*").light_touch), _T6),
        "T6*/T6", "T6*/T6", "T6*", "A", "T6*/T6", "T6*/T6", "ND", "52"),
    "E12": Row(record(_STARRED_MUSCLE, half("2:L1 1", motor="55555 33221"), YES_YES),
        "L1/L1", "L2*/L2", "L1", "C", "NA/NA", "NA/NA", "96", "96"),
    "E13": Row(record(half("2:S2 0")),
        "S2/S2", "S2/S2", "S2", "A", "S2/S2", "S2/S2", "104", "104"),
    "E14": Row(record(half("2:S2 1"), anal=YES_YES),
        "S2/S2", "S2/S2", "S2", "D", "NA/NA", "NA/NA", "108", "108"),
    "E15": Row(record(half("2:C6 1:T1 2"), anal=YES_YES),
        "C6/C6", "INT/INT", "C6", "D", "NA/NA", "NA/NA", "106", "106"),
    "E16": Row(
        record(
            half("2:C7 1", "2:C7 1:C8 2", "55421 22211"),
            half("2", "2:C8 0"),
            YES_YES,
        ),
        "C7/C8", "C7/T1", "C7", "D", "NA/NA", "NA/NA", "90", "69"),
    "E17": Row(record(_HIP, half("2:T7 1", "2:T7 1:T10 0", "55555 00000"), YES_NO),
        "T7/T7", "T7/T7", "T7", "C", "NA/NA", "T7/T7", "84", "62"),
    "E18": Row(record(half("2:T7 0", motor="55555 00000", LT_S45="NT", PP_S45="NT")),
        "T7/T7", "T7/T7", "T7", "ND", "ND/ND", "T7/T7", "ND", "ND"),
    "E19": Row(record(half("2:T6 0", motor="55555 00000", LT_T7="NT", PP_T7="1")),
        "T6/T6", "T6/T6", "T6", "A", "T7/T7", "T6/T6", "ND", "54"),
    "E20": Row(record(_AMPUTATION, half("2:T8 0", motor="55555 00000")),
        "T8*/T8", "T8*/T8", "T8*", "A", "T8*/T8", "T8*/T8", "ND", "ND"),
}  # fmt: skip
"""[C] All twenty."""


def _pair(found: Classification, *field: str) -> str:
    return "/".join(found.result(*field, side) for side in ("right", "left"))


@pytest.mark.parametrize("name", ROWS)
def test_constructed_example(name: str) -> None:
    row = ROWS[name]
    found = classify(row.record)
    assert (
        Row(
            row.record,
            _pair(found, "sensory_level"),
            _pair(found, "motor_level"),
            found.result("neurological_level"),
            found.result("impairment_scale"),
            _pair(found, "partial_preservation", "sensory"),
            _pair(found, "partial_preservation", "motor"),
            found.result("light_touch", "total"),
            found.result("pinprick", "total"),
        )
        == row
    )


@pytest.mark.parametrize(
    ("name", "count"),
    [("E4", (0, 18)), ("E5", (16, 18)), ("E6", (0, 10)), ("E8", (0, 20)), ("E12", (3, 10)),
     ("E14", (0, 0)), ("E15", (16, 16)), ("E16", (7, 14)), ("E10", None)],
)  # fmt: skip
def test_muscles_counted_in_the_examples(name: str, count: tuple[int, int] | None) -> None:
    assert classify(ROWS[name].record).muscles == count


def test_e9_without_a_documented_injury_has_no_grade() -> None:
    """[M] booklet: E belongs to a documented earlier deficit."""
    found = classify(replace(ROWS["E9"].record, cord_injury=False))
    assert found.result("impairment_scale") == "NA"
    assert "does not apply" in found.notes[0]


def test_e17_without_the_hip_is_b() -> None:
    row = ROWS["E17"].record
    assert classify(replace(row, right=row.left)).result("impairment_scale") == "B"


def test_undetermined_examples_say_what_they_could_be_and_what_would_settle_them() -> None:
    e10 = as_json(classify(ROWS["E10"].record))["possible"]
    assert e10["sensory_level"] == {"right": ["T1", "T6"]}
    assert e10["neurological_level"] == ["T1", "T6"]
    assert e10["light_touch"] == {"right": [24, 25, 26], "total": [50, 51, 52]}
    assert e10["settle"]["neurological_level"] == ["light touch T2 right"]
    e18 = as_json(classify(ROWS["E18"].record))["possible"]
    assert e18["impairment_scale"] == ["A", "B"]
    assert e18["partial_preservation"]["sensory"] == {"right": ["NA", "T7"], "left": ["NA", "T7"]}
    assert e18["settle"]["partial_preservation"]["sensory"]["left"] == [
        "light touch S4-5 left",
        "pinprick S4-5 left",
    ]


def test_json_of_the_first_example_whole() -> None:
    """[C] the example of the case file's description."""
    sides = {"right": "T4", "left": "T4"}
    sensation = {"right": 22, "left": 22, "total": 44}
    assert as_json(classify(ROWS["E1"].record)) == {
        "sensory_level": sides,
        "motor_level": sides,
        "neurological_level": "T4",
        "light_touch": sensation,
        "pinprick": sensation,
        "upper_extremity": {"right": 25, "left": 25, "total": 50},
        "lower_extremity": {"right": 0, "left": 0, "total": 0},
        "sacral_sensory_sparing": "no",
        "completeness": "complete",
        "impairment_scale": "A",
        "partial_preservation": {"sensory": sides, "motor": sides},
        "possible": {},
    }


def test_without_key_muscles_motor_fields_are_undetermined() -> None:
    bare = replace(half("2:T4 0"), motor=(NOT_TESTED,) * 10)
    document = as_json(classify(record(bare)))
    assert document["motor_level"] == {"right": "ND", "left": "ND"}
    assert document["upper_extremity"]["total"] == document["lower_extremity"]["total"] == "ND"
    assert document["partial_preservation"]["motor"] == {"right": "ND", "left": "ND"}
    assert document["sensory_level"] == {"right": "T4", "left": "T4"}
    assert document["impairment_scale"] == "A"


@pytest.mark.parametrize(("segment", "far"), [("C8", "B"), ("T1", "C")])
def test_more_than_three_levels_is_four(segment: str, far: str) -> None:
    """[S] booklet: motor level C5, C8 is three below, T1 four."""
    side = half("2:C5 1", motor="50000 00000", non_key=segment)
    assert classify(record(side, anal=YES_NO)).result("impairment_scale") == far


def test_a_star_below_the_level_counts_as_examined() -> None:
    """[S] preface of the booklet: at or below the level, as examined."""
    plain = classify(record(half("2:C4 0", motor="21000 00000")))
    starred = classify(record(half("2:C4 0", motor="21000 00000", M_C5="2*")))
    assert starred.results == plain.results
