"""The note as Markdown, as pages and from the command line."""

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bodymap.atlas import Atlas
from bodymap.cli import main
from bodymap.findings.case_file import open_case
from bodymap.findings.samples import sample_file
from bodymap.localise.answer import Answer
from bodymap.localise.ranking import Scales
from bodymap.rendering import to_pdf
from bodymap.report.lettering import text_width
from bodymap.report.note import note
from bodymap.report.note_page import BOTTOM, HEIGHT, MARGIN, WIDTH, broken_lines, pages
from bodymap.report.note_text import as_markdown, as_text, escaped
from bodymap.terms import Change, Modality, Side
from tests.report.note_cases import NOTES, SAMPLES, SVG, answer_to

# Markdown


def test_markdown_shows_remarks_as_they_were_written(scales: Scales) -> None:
    """Backslash escapes of ASCII punctuation (CommonMark 0.31, section 2.4)."""
    remark = "*not* a [link](x) <b>or</b> `code` # 1 | 2_3_4 ~~x~~ & \\"
    made = as_markdown(note(answer_to(scales, {"remarks": {"pinprick C6": remark}})))
    line = next(x for x in made.splitlines() if "link" in x)
    bare = re.sub(r"\\(.)", r"\1", line)
    assert remark in bare
    assert not re.search(r"(?<!\\)[*_`\[<|~&]", line)
    assert escaped("1. first") == "1\\. first"
    assert escaped("- item") == "\\- item"


@given(st.text(max_size=200))
def test_any_remark_gives_text_and_pages(scales: Scales, remark: str) -> None:
    answer = answer_to(scales, {"remarks": {"pinprick C6": remark}, "examiner": remark})
    made = note(answer)
    as_text(made).encode("utf-8")
    as_markdown(made).encode("utf-8")
    for line in broken_lines(remark, 3.0, 40.0):
        assert text_width(line, 3.0) <= 40.0


# Pages


def _words(svg: str) -> Iterator[tuple[str, float, float, float, str, bool]]:
    for t in ElementTree.fromstring(svg.split("\n", 1)[1]).iter(f"{SVG}text"):
        yield (t.text or "", float(t.get("x", "0")), float(t.get("y", "0")),
               float(t.get("font-size", "0")), t.get("text-anchor", "start"),
               t.get("font-weight") == "bold")  # fmt: skip


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_pages_hold_all_words_and_nothing_runs_over_the_edge(
    path: Path, atlas: Atlas, sample_answers: dict[str, Answer]
) -> None:
    answer = sample_answers[path.stem]
    made = note(answer, answer.drawing.date)
    sheets = pages(atlas, answer.drawing, made)
    printed = ""
    for number, svg in enumerate(sheets, start=1):
        found = list(_words(svg))
        printed += " ".join(w for w, *_ in found) + " "
        assert any(f"Page {number} of {len(sheets)}" == w for w, *_ in found)
        assert any("does not diagnose" in w for w, *_ in found)
        for words, x, y, size, anchor, bold in found:
            wide = text_width(words, size) * (1.13 if bold else 1.0)
            left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            assert left >= MARGIN - 2, words
            assert left + wide <= WIDTH - MARGIN + 2, words
            assert y < HEIGHT - 8, words
        body = sorted(y for _, x, y, s, *_ in found if s == 3.1 and y < BOTTOM + 1)
        assert all(y <= BOTTOM for y in body)
    for section in made.sections:
        for line in section.lines:
            end = " ".join(line.split()[-3:])
            assert end in printed, end


def test_pdf_has_text_picture_and_numbered_pages(
    tmp_path: Path, sample_answers: dict[str, Answer], capsys: pytest.CaptureFixture[str]
) -> None:
    """ISO 216: A4 portrait is 210 by 297 mm, 595 by 842 points."""
    out = tmp_path / "note.pdf"
    assert main(["note", str(sample_file("thoracic-level")), "--out", str(out)]) == 0
    assert capsys.readouterr().out == ""
    reader = pypdf.PdfReader(io.BytesIO(out.read_bytes()))
    assert len(reader.pages) >= 2
    for number, page in enumerate(reader.pages, start=1):
        assert float(page.mediabox.width) == pytest.approx(595, abs=1)
        assert float(page.mediabox.height) == pytest.approx(842, abs=1)
        words = " ".join(page.extract_text().replace("ﬁ", "fi").split())
        assert f"Page {number} of {len(reader.pages)}" in words
        assert "does not diagnose" in words
    first = " ".join(reader.pages[0].extract_text().replace("ﬁ", "fi").split())
    for expected in ("2026-03-02", "Front", "RIGHT", "LEFT", "absent: pinprick", "T11 to S4-5"):
        assert expected in first, expected
    # The picture: the same page without the findings is much less drawing.
    drawn = len(reader.pages[0].get_contents().get_data())  # type: ignore[union-attr]
    other = len(reader.pages[1].get_contents().get_data())  # type: ignore[union-attr]
    assert drawn > 4 * other


def test_the_picture_marks_the_findings(atlas: Atlas, sample_answers: dict[str, Answer]) -> None:
    answer = sample_answers["carpal-tunnel"]
    svg = pages(atlas, answer.drawing, note(answer))[0]
    titles = {t.text for t in ElementTree.fromstring(svg.split("\n", 1)[1]).iter(f"{SVG}title")}
    assert {"tingling: light touch", "reduced: pinprick", "normal: pinprick", "Front",
            "Right hand, palm"} <= titles  # fmt: skip
    assert "Left hand, palm" not in titles
    assert to_pdf([svg]).startswith(b"%PDF")


def test_a_long_record_breaks_into_pages(atlas: Atlas, scales: Scales) -> None:
    remarks = {f"pinprick T{n}": "word " * 300 + "x" * 300 for n in range(1, 13)}
    answer = answer_to(scales, {"pinprick": {"right": {"T1": "1"}}, "remarks": remarks})
    sheets = pages(atlas, answer.drawing, note(answer))
    assert len(sheets) > 4
    for svg in sheets:
        for words, x, y, size, anchor, _ in _words(svg):
            assert anchor != "start" or x + text_width(words, size) <= WIDTH - MARGIN + 2
            assert y < HEIGHT - 8


# The command


def test_note_on_the_command_line(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    case = str(sample_file("stocking-record"))
    assert main(["note", case]) == 0
    full = capsys.readouterr().out
    assert full == (NOTES / "stocking-record-full.txt").read_text(encoding="utf-8")
    assert main(["note", case, "--short"]) == 0
    assert capsys.readouterr().out == (NOTES / "stocking-record-short.txt").read_text("utf-8")
    assert main(["note", case, "--format", "md"]) == 0
    assert capsys.readouterr().out.startswith("# Sensory examination\n")
    out = tmp_path / "note.md"
    assert main(["note", case, "--out", str(out)]) == 0
    assert out.read_text(encoding="utf-8").startswith("# Sensory examination\n")


@pytest.mark.parametrize(
    ("options", "named"),
    [(["--format", "pdf"], "--out"), (["--out", "note.doc"], "note.doc"),
     (["--format", "rtf"], "rtf"),
     (["--format", "md", "--out", "note.pdf"], "note.pdf"),
     (["--out", "nowhere/at/all/note.pdf"], "nowhere")],
)  # fmt: skip
def test_a_note_that_cannot_be_written_is_one_sentence(
    options: list[str], named: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    assert main(["note", str(sample_file("root-c6")), *options]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert named in said.err
    assert list(tmp_path.iterdir()) == []


def test_samples_with_a_record_draw_every_answer(atlas: Atlas) -> None:
    """What stands in the record stands on the skin: the region of each key point (ISNCSCI
    2019, as in key-points.csv) carries the change of its score."""
    points = {p.dermatome: p.region for p in atlas.facts.key_points}
    for name in ("thoracic-level", "stocking-record"):
        case = json.loads(sample_file(name).read_bytes())
        drawing = open_case(sample_file(name), atlas).drawing
        for part, modality in (("light_touch", Modality.LIGHT_TOUCH),
                               ("pinprick", Modality.PINPRICK)):  # fmt: skip
            for side, scores in case["record"][part].items():
                for point, score in scores.items():
                    change = {"2": Change.NORMAL, "1": Change.REDUCED, "0": Change.ABSENT}[score]
                    layer = drawing.layer(modality, change)
                    assert (points[point], Side(side)) in layer.regions, (name, part, point)
