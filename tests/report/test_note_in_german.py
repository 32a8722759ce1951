"""The chart note in German: approved texts, no English, and what it says is what English says.

The approved texts stand in ``tests/report/notes/de``; each was read as a German-speaking
neurologist would read it. They change as the English ones do: see ``test_note.py``.
"""

import os
import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

import pytest

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.language import ENGLISH, tr
from bodymap.localise.ranking import Scales
from bodymap.report.lettering import text_width
from bodymap.report.note import Form, Note
from bodymap.report.note_page import BOTTOM, HEIGHT, MARGIN, WIDTH, pages
from bodymap.report.note_results import SORTING, State
from bodymap.report.note_text import as_markdown, as_text
from tests.english import english_in, english_texts, speaking
from tests.report.german_cases import RECORDS, Pair, drawings, notes
from tests.report.note_cases import NOTES, SAMPLES
from tests.report.test_note_outputs import _words

APPROVED = ("root-c6", "saddle", "scattered", "neuropathy-visits", "stocking-record",
            "thoracic-level")  # fmt: skip

SIDES = {
    "right": r"\b(rechts|rechte[rns]?)\b",
    "left": r"\b(links|linke[rns]?)\b",
    "both": r"\b(beidseits|beide[rn]? (Seiten|Beine[n]?|Arme[n]?|Füße[n]?|Oberschenkeln))\b",
}


@pytest.fixture(scope="module")
def cases(atlas: Atlas) -> dict[str, Drawing]:
    return drawings(atlas)


@pytest.fixture(scope="module")
def pairs(scales: Scales, cases: dict[str, Drawing]) -> dict[str, Pair]:
    return {name: notes(scales, drawing) for name, drawing in cases.items()}


@pytest.fixture(scope="module")
def mirrored(scales: Scales, cases: dict[str, Drawing]) -> dict[str, Pair]:
    samples = {path.stem for path in SAMPLES}
    return {n: notes(scales, d.mirrored()) for n, d in cases.items() if n in samples | {*RECORDS}}


def _lines(made: Note) -> Iterator[str]:
    yield made.title
    yield made.head
    for section in made.sections:
        yield section.heading
        yield from section.lines
    yield made.caution


def _each(pairs: dict[str, Pair]) -> Iterator[tuple[str, str, str]]:
    """Every line of every note in English and in German, with the case it is of."""
    for name, pair in pairs.items():
        for form in Form:
            lines = zip(_lines(pair.english[form]), _lines(pair.german[form]), strict=True)
            for english, german in lines:
                yield f"{name}, {form}", english, german


# The approved texts


@pytest.mark.parametrize("form", list(Form))
@pytest.mark.parametrize("name", APPROVED)
def test_the_german_note_of_a_sample_is_the_approved_one(
    pairs: dict[str, Pair], name: str, form: Form
) -> None:
    made = as_text(pairs[name].german[form])
    approved = NOTES / "de" / f"{name}-{form}.txt"
    if os.environ.get("APPROVE"):
        approved.write_text(made, encoding="utf-8")
    assert made == approved.read_text(encoding="utf-8")


def test_no_approved_text_is_left_over() -> None:
    expected = {f"{name}-{form}.txt" for name in APPROVED for form in Form}
    assert {path.name for path in (NOTES / "de").iterdir()} == expected


# Nothing is English


def test_no_line_of_a_german_note_is_english(pairs: dict[str, Pair]) -> None:
    english = english_texts("de")
    told = {german for _, _, german in _each(pairs)}
    assert len(told) > 400
    faults = {found for line in told if (found := english_in(line, english))}
    assert not faults, "\n".join(sorted(faults))


def test_the_same_look_at_english_notes_finds_nearly_all(pairs: dict[str, Pair]) -> None:
    english = english_texts("de")
    told = {line for _, line, _ in _each(pairs)}
    assert sum(bool(english_in(line, english)) for line in told) > 0.9 * len(told)


def test_numbers_have_a_decimal_comma(pairs: dict[str, Pair]) -> None:
    told = {german for _, _, german in _each(pairs)}
    assert not {line for line in told if re.search(r"\d\.\d", line)}
    assert sum(bool(re.search(r"\d,\d", line)) for line in told) > 10


# It says what English says


def test_a_german_note_has_the_sections_and_lines_of_the_english_one(
    pairs: dict[str, Pair],
) -> None:
    """What is normal, abnormal, not judged and not tested stands under the same word."""
    with speaking("de"):
        words = {word: tr(word) for word in (*SORTING, "Not tested", "Safety net")}
    assert len(set(words.values())) == len(words)
    for name, english, german in _each(pairs):
        for word, said in words.items():
            begins = english == word or english.startswith(f"{word}: ")
            assert begins is (german == said or german.startswith(f"{said}: ")), (name, german)


def _numbers(line: str) -> Counter[str]:
    """Numbers and segments; a number that stands alone may be part of a sentence's words."""
    line = re.sub(r"ISNCSCI( 2019)?|\b10(-g| g)\b", "", line.replace(",", "."))
    return Counter(re.findall(r"\b[CTLSV]\d(?:-\d)?\d?\b|\d+(?:\.\d+)?", line))


def test_numbers_and_segments_of_every_line_are_the_same(pairs: dict[str, Pair]) -> None:
    checked = 0
    for name, english, german in _each(pairs):
        if not re.search(r"\d{4}", english):  # a date is written otherwise
            assert _numbers(english) == _numbers(german), (name, english, german)
            checked += bool(_numbers(english))
    assert checked > 300


def _sides_in_english(line: str) -> Counter[str]:
    line = re.sub(r"moves right|at right angles", "", line)
    return Counter(
        {side: len(re.findall(rf"\b{side}\b", line, re.I)) for side in ("right", "left")}
    )


def _sides_in_german(line: str) -> Counter[str]:
    return Counter({side: len(re.findall(SIDES[side], line, re.I)) for side in ("right", "left")})


@pytest.mark.parametrize("which", ["pairs", "mirrored"])
def test_every_line_names_the_sides_that_the_english_one_names(
    which: str, request: pytest.FixtureRequest
) -> None:
    checked: Counter[str] = Counter()
    for name, english, german in _each(request.getfixturevalue(which)):
        told = _sides_in_english(english)
        assert told == _sides_in_german(german), (name, english, german)
        checked += told
    assert min(checked["right"], checked["left"]) > 250


def test_sides_stand_in_the_order_of_the_english_line(pairs: dict[str, Pair]) -> None:
    """Which is first: the right stands before the left in both."""
    either = "|".join((SIDES["right"], SIDES["left"]))
    for name, english, german in _each(pairs):
        english = re.sub(r"moves right|at right angles", "", english)
        order = [w.lower() for w in re.findall(r"\b(?:right|left)\b", english, re.I)]
        said = [
            "right" if m[0].lower().startswith("recht") else "left"
            for m in re.finditer(either, german, re.I)
        ]
        if "side was not tested" not in english:
            assert order == said, (name, english, german)


def test_what_is_on_both_sides_is_beidseits(pairs: dict[str, Pair]) -> None:
    for name, english, german in _each(pairs):
        told = len(re.findall(r"\bboth sides\b", english))
        assert len(re.findall(r"\bbeidseits\b", german)) >= told, (name, english, german)
        if not re.search(r"\bboth\b", english):
            assert "beidseits" not in german, (name, english, german)


_OTHER = {"rechts": "links", "rechte": "linke", "rechten": "linken", "rechter": "linker",
          "rechtes": "linkes"}  # fmt: skip
_OTHER |= {v: k for k, v in _OTHER.items()}


def _turned(line: str) -> str:
    """A German line with right and left exchanged."""

    def other(match: re.Match[str]) -> str:
        word = _OTHER[match[0].lower()]
        return word.capitalize() if match[0][0].isupper() else word

    return re.sub(rf"\b({'|'.join(_OTHER)})\b", other, line, flags=re.I)


ONE_SIDED = ("carpal-tunnel", "common-fibular", "face-v2", "root-c6", "root-s1", "trunk-band",
             "ulnar-elbow", "upper-trunk")  # fmt: skip


@pytest.mark.parametrize("form", list(Form))
@pytest.mark.parametrize("name", ONE_SIDED)
def test_the_note_of_the_mirrored_case_has_rechts_and_links_exchanged(
    pairs: dict[str, Pair], mirrored: dict[str, Pair], name: str, form: Form
) -> None:
    first, second = (list(_lines(p[name].german[form])) for p in (pairs, mirrored))
    assert any(re.search(SIDES["right"], line) for line in first)
    assert [_turned(line) for line in first] == second


# How it leaves


def test_markdown_has_the_sorting_words_in_bold(pairs: dict[str, Pair]) -> None:
    with speaking("de"):
        made = as_markdown(pairs["stocking-record"].german[Form.FULL])
    assert made.startswith("# Sensibilitätsprüfung\n")
    for word in ("Auffällig", "Normal", "Dafür", "Dagegen", "Offen"):
        assert f"- **{word}:** " in made
    assert "## Nicht geprüft\n" in made


@pytest.mark.parametrize("name", [*APPROVED, "carpal-tunnel", "other tests", "points"])
def test_german_pages_hold_all_words_and_nothing_runs_over_an_edge(
    atlas: Atlas, pairs: dict[str, Pair], name: str
) -> None:
    pair = pairs[name]
    made = pair.german[Form.FULL]
    with speaking("de"):
        sheets = pages(atlas, pair.answer.drawing, made)
        label_words = {tr(word) for word in (*SORTING, "Safety net")}
    english, printed = english_texts("de"), ""
    for number, svg in enumerate(sheets, start=1):
        found = list(_words(svg))
        printed += " ".join(w for w, *_ in found) + " "
        assert f"Seite {number} von {len(sheets)}" in [w for w, *_ in found]
        for words, x, y, size, anchor, bold in found:
            assert not english_in(words, english), words
            wide = text_width(words, size) * (1.13 if bold else 1.0)
            left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            assert left >= MARGIN - 2, words
            assert left + wide <= WIDTH - MARGIN + 2, words
            assert y < HEIGHT - 8, words
        assert all(y <= BOTTOM for _, x, y, size, *_ in found if size == 3.1 and y < BOTTOM + 1)
        # No word that sorts a line runs into the line.
        rows: dict[float, list[tuple[float, float]]] = {}
        for words, x, y, size, anchor, bold in found:
            if anchor == "start" and (bold or size == 3.1):
                wide = text_width(words, size) * (1.13 if bold and words in label_words else 1.0)
                rows.setdefault(y, []).append((x, x + wide))
        for spans in rows.values():
            spans.sort()
            assert all(a[1] < b[0] for a, b in pairwise(spans))
    for line in _lines(made):
        assert line.split()[-1] in printed, line


def test_a_german_remark_on_consent_is_understood(pairs: dict[str, Pair]) -> None:
    asked = "Einwilligung und Begleitperson sind nicht vermerkt"
    told = " ".join(_lines(pairs["thoracic-level"].german[Form.FULL]))
    assert "Begleitperson anwesend" in told
    assert asked not in told
    assert asked in " ".join(_lines(pairs["saddle"].german[Form.FULL]))


def test_states_are_told_apart_in_german() -> None:
    with speaking("de"):
        assert [state.word for state in State] == ["Auffällig", "Normal", "Nicht gewertet"]
        assert tr("Not tested") == "Nicht geprüft"


def test_the_command_speaks_the_language_in_hand(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    from bodymap.cli import main

    monkeypatch.setenv("BODYMAP_LANGUAGE", "de")
    case = str(sample_file("root-c6"))
    try:
        assert main(["note", case]) == 0
        assert capsys.readouterr().out == (NOTES / "de" / "root-c6-full.txt").read_text("utf-8")
        assert main(["note", case, "--short"]) == 0
        assert capsys.readouterr().out == (NOTES / "de" / "root-c6-short.txt").read_text("utf-8")
    finally:
        with speaking(ENGLISH):
            pass
