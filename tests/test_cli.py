"""The command line: output, faults in one sentence with exit code 2, nothing half done."""

import json
import os
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from bodymap import __version__
from bodymap.cli import main
from bodymap.findings.samples import sample_file

C6 = str(sample_file("root-c6"))


def test_version_and_help(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["--version"], ["--help"], ["rank", "--help"], ["draw", "--help"]):
        with pytest.raises(SystemExit) as end:
            main(words)
        assert end.value.code == 0
    said = capsys.readouterr().out
    assert __version__ in said
    assert "samples" in said or "sample" in said
    assert "--candidate" in said


def test_rank_as_text_has_reasons_and_caution(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["rank", C6]) == 0
    said = capfd.readouterr().out
    assert "C6 nerve root" in said
    assert "explained" in said
    assert "against" in said
    assert "does not diagnose" in " ".join(said.split())


def test_rank_as_json_has_the_agreed_shape(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["rank", C6, "--format", "json"]) == 0
    said = json.loads(capfdbinary.readouterr().out)
    assert {"verdict", "candidates", "next_spots", "cautions"} <= set(said)
    first = said["candidates"][0]
    assert {"id", "name", "kind", "side", "support", "explained_fraction", "involved_fraction",
            "for", "against", "missing"} <= set(first)  # fmt: skip
    assert first["id"] == "root-c6"
    total = sum(c["support"] for c in said["candidates"]) + said["something_else"]
    assert 0.9 < total <= 1 + 1e-9
    for spot in said["next_spots"]:
        assert {"modality", "side", "region", "gain_bits"} <= set(spot)


def _ranked(capfdbinary: pytest.CaptureFixture[bytes], *options: str) -> list[str]:
    assert main(["rank", C6, "--format", "json", *options]) == 0
    return [c["id"] for c in json.loads(capfdbinary.readouterr().out)["candidates"]]


def test_signs_move_the_ranking(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """Brachioradialis speaks for C6 and triceps for C7 (MRC, Aids to the Examination of
    the Peripheral Nervous System, 2010, from memory)."""
    plain = _ranked(capfdbinary)
    assert plain.index("root-c6") < plain.index("root-c7")
    signs = [f"--sign={sign}" for sign in (
        "triceps:right=weak", "triceps-reflex:right=absent", "flexor-carpi-radialis:right=weak",
        "extensor-digitorum:right=weak", "brachioradialis:right=normal", "biceps:right=normal",
        "brachioradialis-reflex:right=normal", "biceps-reflex:right=normal",
    )]  # fmt: skip
    moved = _ranked(capfdbinary, *signs)
    assert moved.index("root-c7") < moved.index("root-c6")


@pytest.mark.parametrize(
    "words",
    ["tricep:right=weak", "triceps:middle=weak", "triceps:right=absent", "triceps", "=", "a:b=c",
     "ankle-reflex:left=weak"],
)  # fmt: skip
def test_a_wrong_sign_is_told_in_one_sentence(
    words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rank", C6, "--sign", words]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.count("\n") == 1
    assert "did you mean 'triceps'?" in told.err or words != "tricep:right=weak"


def test_signs_are_searchable(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["signs", "C7"]) == 0
    assert "triceps" in capfd.readouterr().out
    assert main(["signs", "reflex", "--format", "json"]) == 0
    assert {s["kind"] for s in json.loads(capfd.readouterr().out)} == {"reflex"}
    assert main(["signs", "nowhere"]) == 2


def test_a_simulated_patient_is_a_case(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    first, again = tmp_path / "a.json", tmp_path / "b.json"
    for path in (first, again):
        options = ["--lesion", "ulnar-elbow:left", "--seed", "5"]
        assert main(["patient", str(path), *options]) == 0
    assert first.read_bytes() == again.read_bytes()
    assert b"ulnar-elbow" not in first.read_bytes()
    assert main(["rank", str(first), "--format", "json"]) == 0
    assert main(["patient", "--lesion", "ulnar-elbow:left", "--seed", "5", "--reveal"]) == 0
    shown = capfdbinary.readouterr().out
    assert b'"id": "ulnar-elbow"' in shown


@pytest.mark.parametrize(
    "options",
    [["--lesion", "ulnar-elbo"], ["--lesion", "ulnar-elbow:up"], ["--lesion", "conus:left"],
     ["--lesion", "anterior-interosseous"], ["--seed", "-1"], ["--seed", "x"]],
)  # fmt: skip
def test_a_wrong_patient_is_told_in_one_sentence(
    options: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    expected = 0 if options == ["--lesion", "conus:left"] else 2
    assert main(["patient", *options]) == expected
    if expected:
        assert capsys.readouterr().err.count("\n") == 1


def test_rank_of_one_modality(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["rank", C6, "--format", "json", "--modality", "vibration"]) == 0
    assert json.loads(capfdbinary.readouterr().out)["verdict"] == "insufficient"


def test_regions_are_searchable(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["regions", "thumb", "palmar"]) == 0
    said = capfd.readouterr().out
    assert "thumb-palmar" in said
    assert "C6" in said
    assert "little-toe-dorsal" not in said


@pytest.mark.parametrize("form", ["svg", "png", "pdf"])
def test_draw(form: str, tmp_path: Path, qapp: object) -> None:
    out = tmp_path / f"picture.{form}"
    words = ["draw", C6, str(out), "--maps", "dermatomes", "--height", "700"]
    assert main(words) == 0
    data = out.read_bytes()
    if form == "svg":
        assert ElementTree.fromstring(data).tag.endswith("svg")
        assert b"does not diagnose" in data
    elif form == "png":
        assert data.startswith(b"\x89PNG")
        assert int.from_bytes(data[20:24], "big") == 700
    else:
        text = PdfReader(out).pages[0].extract_text()
        assert "does not diagnose" in " ".join(text.split())
        assert "LEFT" in text


FAULTS = [
    (["rank", "none.json"], "none.json"),
    (["rank", C6, "--format", "xml"], "xml"),
    (["rank", C6, "--modality", "smell"], "smell"),
    (["draw", C6, "out.bmp"], "out.bmp"),
    (["draw", C6, "out.svg", "--candidate", "root-c99"], "root-c99"),
    (["draw", C6, "out.svg", "--candidate", "root-c6:up"], "up"),
    (["draw", C6, "out.svg", "--view", "above"], "above"),
    (["draw", C6, "out.svg", "--maps", "nerves,veins"], "veins"),
    (["draw", C6, "nowhere/at/all/out.svg"], "nowhere"),
    (["draw", C6, "out.png", "--height", "4"], "height"),
    (["rnak", C6], "rank"),
    (["--colour"], "--colour"),
    (["regions", "zzz"], "zzz"),
    (["slides", C6, "out.pptx", "--compare", "root-c6"], "two or three"),
    (["slides", C6, "out.pptx", "--compare", "root-c6:up", "--compare", "root-c7"], "'up'"),
    (["compare", "root-c6", "median-wrist", "--slides", "out.pdf"], ".pptx"),
    (["compare", "--slides", "out.pptx"], "two or three"),
]


@pytest.mark.parametrize(("words", "named"), FAULTS, ids=lambda v: " ".join(v)[-30:])
def test_a_fault_is_one_sentence_and_exit_code_2(
    words: list[str],
    named: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    said = capfd.readouterr()
    assert said.out == ""
    assert said.err.startswith("bodymap: ")
    assert said.err.count("\n") == 1
    assert named in said.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("words", [
    ["compare", "root-c6", "median-wrist:left", "--slides", "out.pptx"],
    ["slides", C6, "out.pptx", "--compare", "root-c6", "--compare", "median-wrist:left"],
], ids=["alone", "with a case"])  # fmt: skip
def test_a_comparison_goes_to_slides(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pptx import Presentation

    monkeypatch.chdir(tmp_path)
    assert main(words) == 0
    slides = Presentation("out.pptx").slides
    question = "C6 nerve root or Median nerve at the carpal tunnel?"
    # The title slide of a deck without a case asks the same.
    slide = [s for s in slides if s.shapes.title.text_frame.text == question][-1]
    marks = {s.name: s._element.xpath(".//p:cNvPr")[0].get("descr") for s in slide.shapes}
    assert "right" in marks["Compared: only C6 nerve root"]
    assert "left" in marks["Compared: only Median nerve at the carpal tunnel"]
    assert ("What to test next" in [s.shapes.title.text_frame.text for s in slides]) == (
        words[0] == "slides"
    )


def test_a_broken_case_in_a_real_process(tmp_path: Path) -> None:
    path = tmp_path / "broken.json"
    path.write_bytes(b'{"format": "bodymap-case", "version": 1, "findings": [')
    result = subprocess.run(
        [sys.executable, "-m", "bodymap", "rank", str(path)], capture_output=True, text=True
    )
    assert result.returncode == 2
    assert "Traceback" not in result.stderr
    assert "broken.json" in result.stderr


def test_without_a_screen_the_case_is_ranked_instead() -> None:
    bare = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY",
                                                             "QT_QPA_PLATFORM")}  # fmt: skip
    words = [sys.executable, "-m", "bodymap"]
    result = subprocess.run([*words, C6], capture_output=True, text=True, env=bare)
    if sys.platform.startswith("linux"):
        assert result.returncode == 0
        assert "C6 nerve root" in result.stdout
        assert "No window can be opened" in result.stderr
        result = subprocess.run(words, capture_output=True, text=True, env=bare)
        assert result.returncode == 2


def test_samples_are_listed_and_found(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["sample"]) == 0
    assert "root-c6" in capfd.readouterr().out
    assert main(["sample", "root-c6"]) == 0
    assert capfd.readouterr().out.strip().endswith("root-c6.json")


def test_a_drawing_is_described_and_read_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    phrase = "Reduced pinprick over the palmar thumb and index finger, right."
    out = tmp_path / "case.json"
    assert main(["dictate", phrase, "--out", str(out)]) == 0
    assert phrase in capsys.readouterr().out
    assert main(["describe", str(out)]) == 0
    assert capsys.readouterr().out.strip() == phrase
    # A second finding is added to the case, which keeps the first.
    more = "tingling in the sole"
    assert main(["dictate", more, "--side", "left", "--case", str(out), "--out", str(out)]) == 0
    capsys.readouterr()
    assert main(["describe", str(out)]) == 0
    said = capsys.readouterr().out
    assert phrase in said
    assert "Tingling to light touch over the sole, left." in said


def test_what_is_not_understood_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["dictate", "numb thumb since Tuesday"]) == 0
    said = capsys.readouterr().out
    assert "No side was said" in said
    assert "tuesday" in said.split("Not understood:")[1]


@pytest.mark.parametrize(
    ("phrase", "fault"), [("numb thumb", "has no side"), ("a lovely day", "gives no finding")]
)
def test_a_phrase_that_cannot_be_drawn_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], phrase: str, fault: str
) -> None:
    out = tmp_path / "case.json"
    assert main(["dictate", phrase, "--out", str(out)]) == 2
    assert fault in capsys.readouterr().err
    assert not out.exists()
