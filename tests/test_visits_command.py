"""'bodymap visits': what changed, as text, JSON and picture, and its faults."""

import json
from pathlib import Path

import pytest

from bodymap.cli import main
from bodymap.findings.samples import sample_file

CASE = str(sample_file("neuropathy-visits"))
ONE = str(sample_file("root-c6"))


def test_the_last_two_visits_as_text(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["visits", CASE]) == 0
    said = capfd.readouterr().out
    assert "From 18 November 2024 to 2 June 2025" in said
    assert "not examined again" in said
    assert "does not diagnose" in " ".join(said.split())


def test_one_visit_is_told_in_one_sentence(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["visits", ONE]) == 0
    out, err = capfd.readouterr()
    assert out.count("\n") == 1
    assert "holds one visit" in out
    assert err == ""


def _json(capfd: pytest.CaptureFixture[bytes], *options: str) -> dict:  # type: ignore[type-arg]
    assert main(["visits", CASE, "--format", "json", *options]) == 0
    found: dict = json.loads(capfd.readouterr().out)  # type: ignore[type-arg]
    return found


def test_any_two_visits_by_date(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    last = _json(capfdbinary)
    assert last == _json(capfdbinary, "--between", "2024-11-18", "latest")
    first = _json(capfdbinary, "--between", "2024-03-11", "2024-11-18")
    assert first["between"] == ["2024-03-11", "2024-11-18"]
    # The sample climbs at first and recedes then.
    pin = [next(r for r in v["skin"] if r["modality"] == "pinprick") for v in (first, last)]
    assert pin[0]["new"]["cm2"] > 100 > pin[0]["gone"]["cm2"] == 0
    assert pin[1]["gone"]["cm2"] > 100 > pin[1]["new"]["cm2"] == 0


def test_a_picture_is_written(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "change.svg"
    assert main(["visits", CASE, "--picture", str(out), "--modality", "pinprick"]) == 0
    svg = out.read_text(encoding="utf-8")
    assert "gone: altered then, not now" in svg
    assert "Pinprick: 18 November 2024" in svg


@pytest.mark.parametrize(
    "words",
    [
        ["visits", CASE, "--between", "2024-11-18", "2024-03-11"],
        ["visits", CASE, "--between", "2024-11-18", "2024-11-18"],
        ["visits", CASE, "--between", "2024-11-18", "yesterday"],
        ["visits", CASE, "--between", "2024-11-18"],
        ["visits", CASE, "--picture", "change.txt"],
        ["visits", ONE, "--picture", "change.svg"],
        ["visits", CASE, "--modality", "tickle"],
        ["visits", "no-such-case.json"],
        ["visits"],
    ],
)
def test_a_wrong_request_gets_one_sentence(
    words: list[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    out, err = capfd.readouterr()
    assert out == ""
    assert err.startswith("bodymap: ")
    assert err.count("\n") == 1
    assert not list(tmp_path.iterdir())


def test_a_modality_of_neither_visit_has_no_picture(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    case = json.loads(Path(CASE).read_bytes())
    for visit in (case, *case["visits"]):
        visit.pop("record")
        for field in ("findings", "tested_normal"):
            visit[field] = [e for e in visit[field] if e["modality"] == "pinprick"]
    path = tmp_path / "pin.json"
    path.write_text(json.dumps(case))
    words = ["visits", str(path), "--modality", "vibration", "--picture", str(tmp_path / "v.svg")]
    assert main(words) == 2
    assert "vibration" in capfd.readouterr().err
    assert not (tmp_path / "v.svg").exists()


@pytest.mark.parametrize("form", [[], ["--short"]], ids=["full", "short"])
def test_the_chart_note_says_what_changed(
    form: list[str], capfd: pytest.CaptureFixture[str]
) -> None:
    assert main(["note", CASE, *form]) == 0
    said = " ".join(capfd.readouterr().out.split())
    assert "Since the last visit" in said
    assert "Since 18 November 2024, light touch:" in said
    if not form:
        assert "Temperature was not examined again" in said
    assert main(["note", ONE, *form]) == 0
    assert "Since" not in capfd.readouterr().out


def test_help(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(["visits", "--help"])
    assert end.value.code == 0
    assert "--between" in capsys.readouterr().out
