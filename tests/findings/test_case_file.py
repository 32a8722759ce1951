"""The case file: what is kept, what is refused, and that nothing is ever lost."""

import json
import os
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bodymap.atlas import Atlas
from bodymap.atlas.assets import assets_folder
from bodymap.errors import CaseError
from bodymap.findings.case_file import Case, encode_case, open_case, parse_case, save_case
from bodymap.findings.case_form import schema_text
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_files
from bodymap.terms import Change, Modality, Side, View

SQUARE = [[60, 300], [90, 300], [90, 330], [60, 330], [60, 300]]


def _document(**changes: Any) -> dict[str, Any]:
    finding = {"modality": "pinprick", "change": "reduced", "side": "left",
               "regions": ["thenar"]}  # fmt: skip
    return {"format": "bodymap-case", "version": 1, "findings": [finding], **changes}


def _area(ring: list[Any], side: str = "left", view: str = "front") -> dict[str, Any]:
    polygon = {"type": "Polygon", "coordinates": [ring]}
    entry = {"modality": "pinprick", "change": "reduced", "side": side,
             "areas": [{"view": view, "polygon": polygon}]}  # fmt: skip
    return _document(findings=[entry])


def _parsed(document: Any, atlas: Atlas) -> Case:
    return parse_case(json.dumps(document).encode(), "case.json", atlas)


def _refusal(data: bytes, atlas: Atlas) -> str:
    with pytest.raises(CaseError) as error:
        parse_case(data, "case.json", atlas)
    sentence = str(error.value)
    assert sentence.startswith("case.json")
    assert "\n" not in sentence
    assert len(sentence) < 400
    return sentence


def test_the_case_of_the_specification_opens(atlas: Atlas) -> None:
    """The example that other programs are given, word for word."""
    text = """{
      "format": "bodymap-case", "version": 1,
      "findings": [
        {"modality": "pinprick", "change": "reduced", "side": "right",
         "regions": ["thumb-palmar", "index-palmar"]},
        {"modality": "light-touch", "change": "absent", "side": "left",
         "areas": [{"view": "front", "polygon": {"type": "Polygon",
                    "coordinates": [[[0, 0], [1, 0], [1, 1], [0, 0]]]}}]}
      ],
      "tested_normal": [
        {"modality": "pinprick", "side": "right", "regions": ["thenar"]}
      ]
    }"""
    drawing = parse_case(text.encode(), "case.json", atlas).drawing
    pin = drawing.layer(Modality.PINPRICK, Change.REDUCED)
    assert pin.regions == {("thumb-palmar", Side.RIGHT), ("index-palmar", Side.RIGHT)}
    normal = drawing.layer(Modality.PINPRICK, Change.NORMAL)
    assert normal.regions == {("thenar", Side.RIGHT)}


class TestSides:
    def test_a_polygon_is_cut_to_its_side(self, atlas: Atlas) -> None:
        ring = [[-40, 640], [40, 640], [40, 660], [-40, 660], [-40, 640]]
        skin = _parsed(_area(ring, "right"), atlas).drawing.altered_skin(atlas, View.FRONT)
        assert skin.equals(shapely.box(-40, 640, 0, 660))

    def test_a_polygon_on_the_other_side_is_refused(self, atlas: Atlas) -> None:
        sentence = _refusal(json.dumps(_area(SQUARE, "right")).encode(), atlas)
        assert "$.findings[0].areas[0]" in sentence

    def test_behind_the_left_is_at_negative_x(self, atlas: Atlas) -> None:
        ring = [[-x, y] for x, y in SQUARE]
        assert _parsed(_area(ring, "left", "back"), atlas).drawing
        _refusal(json.dumps(_area(SQUARE, "left", "back")).encode(), atlas)

    def test_both_sides_mirror_a_polygon_of_one_side(self, atlas: Atlas) -> None:
        drawing = _parsed(_area(SQUARE, "both"), atlas).drawing
        skin = drawing.altered_skin(atlas, View.FRONT)
        assert skin.area == pytest.approx(2 * 900)

    def test_both_sides_take_a_polygon_across_the_midline_as_drawn(self, atlas: Atlas) -> None:
        ring = [[-20, 640], [60, 640], [60, 660], [-20, 660], [-20, 640]]
        drawing = _parsed(_area(ring, "both"), atlas).drawing
        assert drawing.altered_skin(atlas, View.FRONT).area == pytest.approx(80 * 20)


REFUSED = {
    "empty file": b"",
    "not JSON": b"numb thumb",
    "truncated": json.dumps(_document()).encode()[:-9],
    "invalid UTF-8": b'{"format": "bodymap-case\xff"}',
    "a list": b"[]",
    "wrong format": json.dumps(_document(format="other")).encode(),
    "newer version": json.dumps(_document(version=2)).encode(),
    "no version": b'{"format": "bodymap-case"}',
    "unknown region": json.dumps(_document()).replace("thenar", "tenar").encode(),
    "unknown modality": json.dumps(_document()).replace("pinprick", "tickle").encode(),
    "unknown change": json.dumps(_document()).replace("reduced", "odd").encode(),
    "unknown side": json.dumps(_document()).replace("left", "port").encode(),
    "unknown view": json.dumps(_area(SQUARE, view="top")).encode(),
    "NaN": json.dumps(_area([*SQUARE[:2], [float("nan"), 3], SQUARE[0]])).encode(),
    "infinity": json.dumps(_area([*SQUARE[:2], [float("inf"), 3], SQUARE[0]])).encode(),
    "huge number": json.dumps(_area(SQUARE)).replace("300", "1e400").encode(),
    "text for a number": json.dumps(_area([["a", 2], *SQUARE])).encode(),
    "two points": json.dumps(_area(SQUARE[:2])).encode(),
    "self-crossing": json.dumps(
        _area([[60, 300], [90, 330], [90, 300], [60, 330], [60, 300]])
    ).encode(),
    "nested beyond measure": b'{"format": "bodymap-case", "x": ' + b"[" * 100_000,
    "doubled key": b'{"format": "bodymap-case", "version": 1, "version": 1, "findings": []}',
    "too large": b'{"format": "bodymap-case", "version": 1, "x": "' + b"a" * 80_000_000 + b'"}',
}


@pytest.mark.parametrize("what", REFUSED)
def test_a_bad_file_gets_one_sentence(atlas: Atlas, what: str) -> None:
    _refusal(REFUSED[what], atlas)


def test_the_sentence_names_the_place_and_the_mend(atlas: Atlas) -> None:
    sentence = _refusal(REFUSED["unknown region"], atlas)
    assert "$.findings[0].regions[0]" in sentence
    assert "did you mean 'thenar'" in sentence


def test_missing_file_folder_and_unreadable_file(atlas: Atlas, tmp_path: Path) -> None:
    for path in (tmp_path / "none.json", tmp_path):
        with pytest.raises(CaseError, match=str(path)):
            open_case(path, atlas)


class TestKept:
    def test_unknown_fields_are_kept_everywhere(self, atlas: Atlas, tmp_path: Path) -> None:
        document = _document(visits=[{"on": "day 1"}], notes="a note", x={"deep": [1, None]})
        document["findings"][0]["certainty"] = "fair"
        path = tmp_path / "case.json"
        path.write_text(json.dumps(document))
        case = open_case(path, atlas)
        moved = case.drawing.with_region(
            atlas, Modality.LIGHT_TOUCH, Change.ABSENT, "forehead", Side.LEFT
        )
        save_case(case.with_drawing(moved), path)
        saved = json.loads(path.read_text())
        assert saved["visits"] == [{"on": "day 1"}]
        assert saved["notes"] == "a note"
        assert saved["x"] == {"deep": [1, None]}
        assert any(entry.get("certainty") == "fair" for entry in saved["findings"])

    def test_save_then_open_is_identity(self, atlas: Atlas, tmp_path: Path) -> None:
        drawing = Drawing()
        spots = [
            (Modality.PINPRICK, Change.REDUCED, View.FRONT, (0, 640, 60)),
            (Modality.VIBRATION, Change.NORMAL, View.BACK, (60, 300, 20)),
            (Modality.TEMPERATURE, Change.TINGLING, View.HEAD_LEFT, (0, 60, 15)),
            (Modality.JOINT_POSITION, Change.INCREASED, View.SADDLE, (10, -20, 30)),
            (Modality.LIGHT_TOUCH, Change.ABSENT, View.SOLES, (26, 40, 9)),
        ]
        for modality, change, view, (x, y, r) in spots:
            disc = shapely.Point(x, y).buffer(r)
            drawing = drawing.painted(atlas, modality, change, view, disc)
        drawing = drawing.with_region(
            atlas, Modality.PINPRICK, Change.ABSENT, "heel-lateral", Side.BOTH
        )
        path = tmp_path / "case.json"
        save_case(Case(drawing), path)
        again = open_case(path, atlas).drawing
        assert set(again.layers) == set(drawing.layers)
        for modality, change, layer in drawing:
            other = again.layer(modality, change)
            assert other.regions == layer.regions
            assert other.painted_cm2(atlas) == pytest.approx(layer.painted_cm2(atlas), abs=1e-9)
        save_case(open_case(path, atlas), tmp_path / "again.json")
        assert (tmp_path / "again.json").read_bytes() == path.read_bytes()

    def test_a_failing_save_leaves_the_old_file(
        self, atlas: Atlas, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        path = tmp_path / "case.json"
        save_case(_parsed(_document(), atlas), path)
        before = path.read_bytes()

        def broken(*_: object) -> None:
            raise OSError(28, "No space left on device")

        for step in ("fsync", "replace"):
            with monkeypatch.context() as patch:
                patch.setattr(os, step, broken)
                with pytest.raises(CaseError, match="cannot be saved"):
                    save_case(Case(Drawing()), path)
            assert path.read_bytes() == before
            assert [p.name for p in tmp_path.iterdir()] == ["case.json"]

    def test_a_file_of_a_newer_version_is_never_replaced(
        self, atlas: Atlas, tmp_path: Path
    ) -> None:
        path = tmp_path / "case.json"
        path.write_text(json.dumps(_document(version=7)))
        with pytest.raises(CaseError, match="newer"):
            save_case(Case(Drawing()), path)
        assert json.loads(path.read_text())["version"] == 7

    def test_a_number_that_is_not_finite_is_never_written(self, atlas: Atlas) -> None:
        case = Case(Drawing(), {"x": float("nan")})
        with pytest.raises(CaseError):
            encode_case(case)


class TestSchema:
    def test_the_published_schema_is_the_generated_one(self) -> None:
        published = (assets_folder() / "case-schema.json").read_text(encoding="utf-8")
        assert published == schema_text()

    def test_samples_follow_the_schema_and_faults_do_not(self) -> None:
        """Held against jsonschema, an outside implementation of the standard."""
        schema = json.loads(schema_text())
        check = jsonschema.Draft202012Validator(schema)
        for path in sample_files():
            check.validate(json.loads(path.read_bytes()))
        for what in ("wrong format", "newer version", "unknown modality", "unknown side"):
            assert not check.is_valid(json.loads(REFUSED[what])), what


# Fuzzing: whatever becomes of a file, it opens or gets one sentence.

SEEDS = [path.read_bytes() for path in sample_files()] + [
    json.dumps(_area(SQUARE, "both")).encode(),
    json.dumps(_document()).encode(),
]

byte_edits = st.lists(
    st.tuples(st.floats(0, 1), st.sampled_from(["cut", "flip", "insert", "double"]),
              st.integers(0, 255)),
    min_size=1, max_size=6,
)  # fmt: skip

values = st.one_of(
    st.none(), st.booleans(), st.integers(-(10**12), 10**12), st.floats(), st.text(max_size=8),
    st.lists(st.integers(-9, 9), max_size=3), st.dictionaries(st.text(max_size=4), st.integers(),
                                                              max_size=2),
)  # fmt: skip


def _opens_or_says_one_sentence(data: bytes, atlas: Atlas) -> None:
    case, sentence = None, ""
    try:
        case = parse_case(data, "case.json", atlas)
    except CaseError as error:
        sentence = str(error)
    if case is None:
        assert sentence.startswith("case.json")
        assert "\n" not in sentence
        return
    # What opens can be drawn, ranked and saved again.
    assert case.drawing.altered_cm2(atlas).min() >= 0
    parse_case(encode_case(case), "case.json", atlas)


quick = settings(
    max_examples=700, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)


@quick
@given(seed=st.sampled_from(SEEDS), edits=byte_edits)
def test_bytes_changed_at_random(
    atlas: Atlas, seed: bytes, edits: list[tuple[float, str, int]]
) -> None:
    data = bytearray(seed)
    for where, kind, value in edits:
        at = int(where * max(len(data) - 1, 0))
        if kind == "cut":
            del data[at : at + 1 + value]
        elif kind == "flip" and data:
            data[at] = value
        elif kind == "insert":
            data.insert(at, value)
        else:
            data[at:at] = data[at : at + value]
    _opens_or_says_one_sentence(bytes(data), atlas)


@quick
@given(seed=st.sampled_from(SEEDS), steps=st.lists(st.integers(0, 9), max_size=12), value=values)
def test_values_replaced_at_random(atlas: Atlas, seed: bytes, steps: list[int], value: Any) -> None:
    document = json.loads(seed)
    node = document
    for step in steps:
        keys = list(node) if isinstance(node, dict) else list(range(len(node)))
        if not keys:
            break
        key = keys[step % len(keys)]
        if not isinstance(node[key], dict | list) or step == 9:
            node[key] = value
            break
        node = node[key]
    _opens_or_says_one_sentence(json.dumps(document).encode(), atlas)


BAD_RECORDS: list[tuple[dict[str, Any], str, str]] = [
    ({"vibration": {"Right": {}}}, "$.record.vibration", "write right or left"),
    ({"vibration": {"left": {"toe": {"felt": "normal"}}}}, "$.record.vibration.left",
     "great-toe"),
    ({"vibration": {"left": {"great-toe": {"felt": "fine"}}}}, "great-toe",
     "write one of normal"),
    ({"vibration": {"left": {"great-toe": {"felt": "normal", "eighths": 9}}}}, "eighths",
     "at most 8"),
    ({"joint_position": {"left": {"ankle": {"felt": "normal", "correct": 9,
                                            "trials": 5}}}}, "ankle", "cannot be right"),
    ({"monofilament": {"left": {"hallux": {"felt": 9, "of": 3}}}}, "hallux",
     "cannot be right"),
    ({"romberg": {"result": "fell"}}, "$.record.romberg.result", "write one of steady"),
    ({"sharp_dull": [{"side": "left", "point": "C9", "trials": []}]}, "point", "C"),
    ({"sharp_dull": [{"side": "left", "point": "C6", "trials": [["sharp"]]}]},
     "trials", "two words"),
    ({"age": 200}, "$.record.age", "at most 130"),
    ({"quality": {"pinprick": {"left": {"C6": "odd"}}}}, "C6", "write one of reduced"),
    ({"pinprick": {"left": {"C6": 3}}}, "$.record.pinprick.left.C6", "write 0 to 2"),
]  # fmt: skip


class TestRecord:
    """The bedside record in a case: kept as it stands, or refused in one sentence."""

    @pytest.mark.parametrize(("record", "place", "mend"), BAD_RECORDS)
    def test_a_fault_is_one_sentence(
        self, atlas: Atlas, record: dict[str, Any], place: str, mend: str
    ) -> None:
        with pytest.raises(CaseError) as fault:
            _parsed(_document(record=record), atlas)
        assert place in str(fault.value)
        assert mend in str(fault.value)
        assert "\n" not in str(fault.value)

    def test_unknown_fields_of_a_record_are_kept(self, atlas: Atlas) -> None:
        record = {"pinprick": {"left": {"C6": 1}}, "gait": {"x": [1]}, "age": 50}
        case = _parsed(_document(record=record), atlas)
        assert json.loads(encode_case(case))["record"] == record
