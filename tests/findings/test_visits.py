"""Visits of a case: in the file, as values, and after a crash."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from bodymap.atlas import Atlas
from bodymap.errors import CaseError, RequestError
from bodymap.findings.case_file import Case, encode_case, open_case, parse_case, save_case
from bodymap.findings.case_form import schema_text
from bodymap.findings.dates import day, is_date
from bodymap.findings.drawing import Drawing
from bodymap.findings.journal import left_over
from bodymap.findings.samples import sample_file
from bodymap.findings.visits import begun, dated, number_of, removed, visits
from bodymap.terms import Change, Modality, Side


def _entry(region: str, **more: Any) -> dict[str, Any]:
    return {"modality": "pinprick", "change": "reduced", "side": "left", "regions": [region]} | more


def _document(*visits: Any, **changes: Any) -> dict[str, Any]:
    head = {"format": "bodymap-case", "version": 1, "date": "2026-11-25"}
    return head | {"findings": [_entry("thenar")], "visits": list(visits)} | changes


def _visit(date: Any, region: str = "thenar", **more: Any) -> dict[str, Any]:
    return {"date": date, "findings": [_entry(region)]} | more


def _parsed(document: Any, atlas: Atlas) -> Case:
    return parse_case(json.dumps(document).encode(), "case.json", atlas)


def _written(case: Case) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(encode_case(case))
    return found


BAD_VISITS: list[tuple[Any, str, str]] = [
    (_document(date="25.11.2026"), "$.date", "2026-11-25"),
    (_document(date="2026-02-30"), "$.date", "no date"),
    (_document(date=20261125), "$.date", "no date"),
    (_document(_visit("yesterday")), "$.visits[0].date", "no date"),
    (_document({"on": 1}, _visit(None)), "$.visits[1].date", "no date"),
    (_document(_visit("2026-12-01")), "$.visits[0].date", "latest"),
    (_document(_visit("2026-11-25")), "$.visits[0].date", "two visits"),
    (_document(_visit("2026-03-02"), _visit("2026-03-02")), "$.visits[1].date", "two"),
    (_document(_visit("2026-03-02", "tenar")), "$.visits[0].findings[0].regions[0]",
     "did you mean 'thenar'"),
    (_document(_visit("2026-03-02", findings=[_entry("thenar", side="port")])),
     "$.visits[0].findings[0].side", "left"),
    (_document(_visit("2026-03-02", findings=3)), "$.visits[0].findings", "list"),
    (_document(_visit("2026-03-02", signs=[{"sign": "tricep", "side": "left",
                                           "change": "weak"}])),
     "$.visits[0].signs[0].sign", "did you mean 'triceps'"),
    (_document(_visit("2026-03-02", record={"pinprick": {"left": {"C6": 3}}})),
     "$.visits[0].record.pinprick.left.C6", "0 to 2"),
    (_document(_visit("2026-03-02", record={"vibration": {"left": {"toe": {
        "felt": "absent"}}}})), "$.visits[0].record.vibration.left", "no place"),
    (_document(_visit("2026-03-02", findings=[_entry("thenar", areas=[{
        "view": "front", "polygon": {"type": "Polygon", "coordinates": [
            [[60, 300], [90, 330], [90, 300], [60, 330], [60, 300]]]}}])])),
     "$.visits[0].findings[0].areas[0]", "cross"),
]  # fmt: skip


class TestFile:
    def test_visits_are_read_by_date_and_the_top_is_the_latest(self, atlas: Atlas) -> None:
        case = _parsed(
            _document(_visit("2026-03-02", "forehead"), _visit("2025-12-31", "heel-lateral")), atlas
        )
        assert [v.date for v in visits(case.drawing)] == ["2025-12-31", "2026-03-02", "2026-11-25"]
        layers = [v.layer(Modality.PINPRICK, Change.REDUCED).regions for v in visits(case.drawing)]
        assert [{r for r, _ in regions} for regions in layers] == [
            {"heel-lateral"}, {"forehead"}, {"thenar"},
        ]  # fmt: skip

    def test_what_nobody_changed_is_written_as_it_stood(self, atlas: Atlas) -> None:
        visit = _visit(
            "2026-03-02",
            signs=[{"sign": "triceps", "side": "right", "change": "weak", "seen": 2}],
            record={"pinprick": {"left": {"C6": "1"}}, "mood": "fair"},
            tested_normal=[{"modality": "vibration", "side": "both", "regions": ["heel-medial"]}],
            place="ward 3",
            visits=["not ours"],
        )
        visit["findings"][0]["certainty"] = "fair"
        foreign = [{"on": "day 1"}, "a text", 7]
        document = _document(visit, *foreign, notes="kept")
        written = _written(_parsed(document, atlas))
        assert written == document
        assert encode_case(_parsed(written, atlas)) == encode_case(_parsed(document, atlas))

    @pytest.mark.parametrize("value", [{"n": 1}, "three", 3, [{"on": "day 1"}]])
    def test_what_is_no_visit_is_kept_and_ignored(self, atlas: Atlas, value: Any) -> None:
        case = _parsed(_document() | {"visits": value}, atlas)
        assert case.drawing.earlier == ()
        assert _written(case)["visits"] == value
        begun_case = case.with_drawing(begun(case, "2026-12-01"))
        kept = _written(begun_case)["visits"]
        assert kept[0]["date"] == "2026-11-25"
        assert kept[1:] == (value if isinstance(value, list) else [value])

    def test_a_file_without_dates_stays_without(self, atlas: Atlas) -> None:
        document = _document()
        del document["date"], document["visits"]
        assert _written(_parsed(document, atlas)) == document

    @pytest.mark.parametrize(("document", "path", "mend"), BAD_VISITS)
    def test_a_bad_visit_gets_one_sentence_with_its_place(
        self, atlas: Atlas, document: Any, path: str, mend: str
    ) -> None:
        with pytest.raises(CaseError) as error:
            _parsed(document, atlas)
        sentence = str(error.value)
        assert sentence.startswith(f"case.json, {path}")
        assert mend in sentence
        assert "\n" not in sentence

    def test_the_published_schema_knows_visits(self) -> None:
        """Held against jsonschema, an outside implementation of the standard."""
        check = jsonschema.Draft202012Validator(json.loads(schema_text()))
        check.validate(_document(_visit("2026-03-02"), {"on": "day 1"}))
        check.validate(json.loads(sample_file("neuropathy-visits").read_bytes()))
        port = _visit("2026-03-02", findings=[_entry("x", side="port")])
        for wrong in (_document(date="25.11.2026"), _document(_visit("2026-3-2")), _document(port)):
            assert not check.is_valid(wrong)

    def test_dates_are_days_of_the_calendar(self) -> None:
        """2024 was a leap year and 2026 is none (Gregorian calendar)."""
        assert is_date("2024-02-29")
        assert not any(
            map(is_date, ("2026-02-29", "2026-1-1", "20260101", "2026-01-01T10", "٢٠٢٦-٠١-٠١"))
        )
        assert day("2026-03-02") == "2 March 2026"


class TestValue:
    def test_a_new_visit_keeps_the_findings_in_hand_as_an_earlier_one(self, atlas: Atlas) -> None:
        document = _document(
            _visit("2026-03-02"), signs=[{"sign": "triceps", "side": "left", "change": "weak"}],
            record={"pinprick": {"left": {"C6": "1"}}}, notes="of the case",
        )  # fmt: skip
        document["findings"][0]["certainty"] = "fair"
        case = _parsed(document, atlas)
        new = begun(case, "2026-12-01")
        assert [v.date for v in visits(new)] == ["2026-03-02", "2026-11-25", "2026-12-01"]
        assert dict(new.layers) == dict(case.drawing.layers)
        assert new.signs == case.drawing.signs
        assert not new.record  # nobody has asked anything yet
        written = _written(case.with_drawing(new))
        assert written["date"] == "2026-12-01"
        assert written["notes"] == "of the case"
        last = written["visits"][-1]
        assert last["findings"] == document["findings"]
        assert last["record"] == document["record"]
        assert "notes" not in last

        empty = begun(case, "2026-12-01", empty=True)
        assert not empty
        assert [v.date for v in visits(empty)] == ["2026-03-02", "2026-11-25", "2026-12-01"]
        again = _parsed(_written(case.with_drawing(empty)), atlas).drawing
        assert not again
        assert again.earlier[-1].drawing.layers == case.drawing.layers

    def test_findings_in_hand_need_a_date_before_the_new_one(self, atlas: Atlas) -> None:
        undated = Case(Drawing())
        with pytest.raises(RequestError, match="no date yet"):
            begun(undated, "2026-12-01")
        case = Case(dated(Drawing(), 0, "2026-11-25"))
        for date in ("2026-11-25", "2026-11-24"):
            with pytest.raises(RequestError, match="comes after"):
                begun(case, date)
        with pytest.raises(RequestError, match="no date"):
            begun(case, "tomorrow")

    def test_dates_are_corrected_and_stay_in_order(self, atlas: Atlas) -> None:
        drawing = _parsed(_document(_visit("2026-03-02"), _visit("2026-05-01")), atlas).drawing
        moved = dated(drawing, 0, "2026-06-01")
        assert [v.date for v in visits(moved)] == ["2026-05-01", "2026-06-01", "2026-11-25"]
        assert dated(drawing, 0, "2026-03-02") is drawing
        assert dated(drawing, 2, "2026-11-25") is drawing
        for number, date in ((0, "2026-05-01"), (0, "2026-11-26"), (2, "2026-04-01"), (1, "x")):
            with pytest.raises(RequestError):
                dated(drawing, number, date)
        case = _parsed(_document(_visit("2026-03-02")), atlas)
        written = _written(case.with_drawing(dated(case.drawing, 0, "2026-04-01")))
        assert written["visits"][0] == _visit("2026-04-01")

    def test_an_earlier_visit_is_removed_the_one_in_hand_is_not(self, atlas: Atlas) -> None:
        drawing = _parsed(_document(_visit("2026-03-02"), _visit("2026-05-01")), atlas).drawing
        assert [v.date for v in visits(removed(drawing, 0))] == ["2026-05-01", "2026-11-25"]
        with pytest.raises(RequestError, match="in hand"):
            removed(drawing, 2)
        assert number_of(drawing, "latest") == 2
        with pytest.raises(RequestError, match="2026-03-02, 2026-05-01, 2026-11-25"):
            number_of(drawing, "2020-01-01")

    def test_nothing_done_to_the_findings_loses_a_visit(self, atlas: Atlas) -> None:
        drawing = _parsed(_document(_visit("2026-03-02", "forehead")), atlas).drawing
        changed = drawing.with_region(
            atlas, Modality.TEMPERATURE, Change.ABSENT, "forehead", Side.BOTH
        ).mirrored()
        for other in (
            changed,
            changed.without_region(atlas, None, "forehead", Side.LEFT),
            changed.only([Modality.TEMPERATURE]),
            changed.with_findings_of(Drawing()),
        ):
            assert other.date == "2026-11-25"
            assert other.earlier == drawing.earlier
        # Mirroring mends the visit in hand; the earlier one keeps its side.
        assert changed.layer(Modality.PINPRICK, Change.REDUCED).regions == {("thenar", Side.RIGHT)}
        earlier = changed.earlier[0].drawing.layer(Modality.PINPRICK, Change.REDUCED)
        assert earlier.regions == {("forehead", Side.LEFT)}


WINDOW = """
import sys, time
from pathlib import Path
from bodymap.atlas import load_atlas
from bodymap.findings.case_file import encode_case, open_case
from bodymap.findings.journal import Journal
from bodymap.findings.visits import begun

case = open_case(sys.argv[2], load_atlas())
journal = Journal(Path(sys.argv[1]))
journal.rest(Path(sys.argv[2]))
case = case.with_drawing(begun(case, "2027-02-01", empty=True))
journal.note(lambda: encode_case(case))
journal.flush()
print("noted", flush=True)
time.sleep(60)
"""


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is a thing of POSIX")
def test_a_killed_window_gives_back_all_visits(tmp_path: Path, atlas: Atlas) -> None:
    file = tmp_path / "case.json"
    save_case(open_case(sample_file("neuropathy-visits"), atlas), file)
    command = [sys.executable, "-c", WINDOW, str(tmp_path / "journals"), str(file)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as window:
        assert window.stdout is not None
        assert window.stdout.readline() == "noted\n"
        window.send_signal(signal.SIGKILL)
    (left,) = left_over(tmp_path / "journals")
    restored = left.open(atlas)
    dates = [v.date for v in visits(restored.drawing)]
    assert dates == ["2024-03-11", "2024-11-18", "2025-06-02", "2027-02-01"]
    before = open_case(file, atlas).drawing
    assert restored.drawing.earlier[-1].drawing.layers == before.layers
    assert not restored.drawing
