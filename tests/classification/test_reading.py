"""The record as it stands in a case: read, or refused in one sentence; the command."""

import argparse
import json
from pathlib import Path
from typing import Any

import pytest

from bodymap.classification.reading import read_record
from bodymap.classification.scores import NonKey, Score
from bodymap.cli.classify import classify
from bodymap.errors import CaseError

GOOD = {
    "light_touch": {"right": {"C2": "2", "C3": 1, "S4-5": "nt"}, "left": {"C2": 2.0}},
    "pinprick": {"right": {"C2": "NT"}, "left": {"C2": "1*", "C3": "NT*"}},
    "motor": {"right": {"C5": "5", "L2": "3"}, "left": {"C5": "4*"}},
    "deep_anal_pressure": "yes",
    "voluntary_anal_contraction": "no",
    "spinal_cord_injury": True,
    "lowest_non_key": {"right": "L2", "left": "NT"},
    "vibration": {"anything": ["else", 7]},
}


def test_values_of_a_record() -> None:
    found = read_record({"record": GOOD}, "x")
    assert found.right.light_touch[:3] == (Score(2), Score(1), Score(None))
    assert found.right.light_touch[-1] == Score(None)
    assert found.left.light_touch[0] == Score(2)
    assert found.left.pinprick[:2] == (Score(1, True), Score(None, True))
    assert found.right.motor[0] == Score(5)
    assert found.right.motor[5] == Score(3)
    assert found.left.motor[0] == Score(4, True)
    assert (found.deep_anal_pressure, found.voluntary_anal_contraction) == (True, False)
    assert found.cord_injury
    assert (found.right.non_key, found.left.non_key) == (NonKey(21), NonKey(tested=False))


def test_an_empty_record_is_wholly_untested() -> None:
    found = read_record({"record": {}}, "x")
    assert not found.cord_injury
    assert found.deep_anal_pressure is None
    assert {s.value for s in found.right.light_touch + found.left.motor} == {None}


BAD: list[tuple[Any, str]] = [
    (None, "$.record:"),
    ([], "$.record:"),
    ({"light_touch": 3}, "$.record.light_touch:"),
    ({"light_touch": {"up": {}}}, "no side 'up'"),
    ({"light_touch": {"right": ["2"]}}, "$.record.light_touch.right:"),
    ({"light_touch": {"right": {"C1": "2"}}}, "no key point 'C1'"),
    ({"light_touch": {"right": {"c3": "2"}}}, "did you mean 'C3'?"),
    ({"light_touch": {"right": {"S4-S5": "2"}}}, "did you mean 'S4-5'?"),
    ({"light_touch": {"right": {"S4-5": "3"}}}, "$.record.light_touch.right['S4-5']:"),
    ({"pinprick": {"left": {"T4": True}}}, "$.record.pinprick.left.T4:"),
    ({"pinprick": {"left": {"T4": None}}}, "'null' is no score"),
    ({"pinprick": {"left": {"T4": -1}}}, "'-1' is no score"),
    ({"pinprick": {"left": {"T4": 1.5}}}, "'1.5' is no score"),
    ({"pinprick": {"left": {"T4": "²"}}}, "'²' is no score"),
    ({"pinprick": {"left": {"T4": "2*"}}}, "a normal value carries no star"),
    ({"motor": {"left": {"C4": "5"}}}, "no key muscle 'C4'"),
    ({"motor": {"left": {"C5": "6"}}}, "'6' is no muscle grade"),
    ({"motor": {"left": {"C5": "5*"}}}, "a normal value carries no star"),
    ({"deep_anal_pressure": True}, "$.record.deep_anal_pressure:"),
    ({"voluntary_anal_contraction": "maybe"}, "write yes, no or NT"),
    ({"spinal_cord_injury": "yes"}, "$.record.spinal_cord_injury:"),
    ({"lowest_non_key": {"right": "T4"}}, "$.record.lowest_non_key.right:"),
]


@pytest.mark.parametrize(("raw", "sentence"), BAD)
def test_a_bad_value_is_told_in_one_sentence(raw: Any, sentence: str) -> None:
    with pytest.raises(CaseError) as told:
        read_record({"record": raw}, "case.json")
    text = str(told.value)
    assert text.startswith("case.json, $.record")
    assert sentence in text
    assert "\n" not in text
    assert text.endswith((".", "?"))


def test_a_case_without_a_record_is_refused() -> None:
    with pytest.raises(CaseError, match="holds no bedside record"):
        read_record({"format": "bodymap-case", "version": 1}, "x")


def _case(tmp_path: Path, raw: object) -> argparse.Namespace:
    path = tmp_path / "case.json"
    path.write_text(json.dumps({"format": "bodymap-case", "version": 1, "record": raw}), "utf-8")
    return argparse.Namespace(case=str(path), format="json")


def test_the_command_prints_json(tmp_path: Path, capfdbinary: Any) -> None:
    assert classify(_case(tmp_path, GOOD)) == 0
    document = json.loads(capfdbinary.readouterr().out)
    assert document["sensory_level"] == {"right": "ND", "left": "ND"}
    assert document["possible"]["sensory_level"]["right"] == ["C1", "C2"]
    assert document["possible"]["settle"]["sensory_level"]["right"] == ["pinprick C2 right"]
    assert document["impairment_scale"] == "ND"


def test_the_command_prints_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    options = _case(tmp_path, GOOD)
    options.format = "text"
    assert classify(options) == 0
    text = capsys.readouterr().out
    assert "C1 or C2" in text
    assert "to test: pinprick C2 right" in text
    assert "(MFSF)" in text
    assert "does not diagnose" in text
    assert max(map(len, text.splitlines())) <= 88


def test_the_command_refuses_what_is_no_file(tmp_path: Path) -> None:
    for path in (tmp_path / "none.json", tmp_path):
        with pytest.raises(CaseError):
            classify(argparse.Namespace(case=str(path), format="json"))
