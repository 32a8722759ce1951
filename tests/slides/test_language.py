"""Decks in German: every text, room for it, sides that stay, and the same skin."""

import io
from collections.abc import Iterator
from typing import Any

import pytest
from lxml import etree

from bodymap.atlas import Atlas
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.language import ENGLISH, language, tr
from bodymap.localise.answer import Answer, answered
from bodymap.localise.comparison import compared
from bodymap.localise.ranking import Scales
from bodymap.report.appearance import CHANGE_STYLES
from bodymap.report.cautions import CAUTION, CAUTION_LONG
from bodymap.slides.deck import make_deck
from bodymap.slides.shapes import INCH, MAIN
from bodymap.slides.view_names import CORNER, SHEET
from bodymap.terms import Side, View
from tests.english import english_in, english_texts, speaking

from . import test_deck
from .test_deck import COMPARED, _filled, _group, _on_sheet, _said, _shapes

pptx = pytest.importorskip("pptx")

TITLE = "Fall 1"
CASES = ("root-c6", "saddle", "thoracic-level", "scattered", "stocking-record", "trunk-band",
         "face-v2", "empty", "mirrored root-c6", *COMPARED)  # fmt: skip
"""Urgent ones, one that no single lesion explains, both sides, one side, nothing at all."""

MIDDLE = CORNER[0] + SHEET * 370.0
"""The midline of the figure from the front on the slide, EMU (layout.BODY_LAYOUT)."""

Decks = dict[str, tuple[Answer, Any]]


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


def _drawing(scales: Scales, name: str) -> Drawing:
    if name in ("empty", "compared", "three compared"):
        return Drawing()
    sample = name.removesuffix(" compared").removeprefix("mirrored ")
    drawing = open_case(str(sample_file(sample)), scales.atlas).drawing
    return drawing.mirrored() if name.startswith("mirrored") else drawing


def _deck(scales: Scales, name: str) -> tuple[Answer, Any]:
    lesions = COMPARED.get(name)
    comparison = compared(scales, tuple((i, Side.RIGHT) for i in lesions)) if lesions else None
    answer = answered(scales, _drawing(scales, name))
    return answer, pptx.Presentation(io.BytesIO(make_deck(answer, TITLE, comparison=comparison)))


@pytest.fixture(scope="module")
def decks(scales: Scales) -> Iterator[Decks]:
    with speaking("de"):
        made = {name: _deck(scales, name) for name in CASES}
    yield made
    assert language() == ENGLISH


def _texts(deck: Any) -> Iterator[str]:
    """Everything of a deck that a person reads: on slides, beside them, and in lists of shapes."""
    yield deck.core_properties.title
    for layout in deck.slide_layouts:
        yield layout.name
    for slide in deck.slides:
        yield slide.notes_slide.notes_text_frame.text
        for shape in (*_shapes(slide.shapes), *slide.notes_slide.shapes):
            yield shape.name
            yield shape._element.xpath(".//p:cNvPr")[0].get("descr") or ""
            if shape.has_text_frame:
                yield shape.text_frame.text
            if getattr(shape, "has_table", False):
                yield from (cell.text_frame.text for row in shape.table.rows for cell in row.cells)


@pytest.mark.parametrize("name", CASES)
def test_no_text_of_a_german_deck_is_english(decks: Decks, name: str) -> None:
    english = english_texts("de")
    texts = set(_texts(decks[name][1]))
    assert len(texts) > 40
    faults = {found for text in texts if (found := english_in(text, english))}
    assert not faults, "\n".join(sorted(faults))


def test_the_same_look_at_an_english_deck_finds_nearly_all(scales: Scales) -> None:
    english = english_texts("de")
    texts = {t for t in _texts(_deck(scales, "saddle")[1]) if len(t) > 3}
    found = {t for t in texts if english_in(t, english)}
    assert len(found) > 0.7 * len(texts)


@pytest.mark.parametrize("name", CASES)
def test_a_german_deck_is_native_and_has_room_for_its_words(decks: Decks, name: str) -> None:
    every = test_deck.TestEveryDeck()
    every.test_is_wide_and_native(decks, name)
    every.test_alternative_text(decks, name)
    every.test_identities_are_unique(decks, name)
    every.test_nothing_leaves_the_slide_or_is_small(decks, name)
    every.test_boxes_of_words_do_not_overlap(decks, name)
    every.test_words_fit_their_boxes(decks, name)


def test_every_slide_carries_the_caution_and_notes(decks: Decks) -> None:
    with speaking("de"):
        caution, long, last = tr(CAUTION), tr(CAUTION_LONG), tr("Cautions and sources")
    assert caution != CAUTION
    for _, deck in decks.values():
        assert long in _said(deck.slides[0])
        assert deck.slides[len(deck.slides) - 1].shapes.title.text_frame.text == last
        for slide in deck.slides:
            assert caution in _said(slide)
            assert len(slide.notes_slide.notes_text_frame.text) > 40


def test_every_run_says_that_it_is_german(decks: Decks) -> None:
    _, deck = decks["saddle"]
    assert deck.core_properties.language == "de"
    for slide in deck.slides:
        for page in (slide, slide.notes_slide):
            runs = list(page._element.iter(f"{{{MAIN}}}r"))
            assert runs
            assert {run.get_or_add_rPr().get("lang") for run in runs} == {"de"}


@pytest.mark.parametrize(("name", "here", "there"), [
    ("root-c6", "rechts", "links"), ("mirrored root-c6", "links", "rechts"),
])  # fmt: skip
def test_the_side_that_is_drawn_is_told(
    atlas: Atlas, decks: Decks, name: str, here: str, there: str
) -> None:
    """The cells that are altered say which side it is, the slide says the same."""
    answer, deck = decks[name]
    altered = answer.drawing.altered_cm2(atlas)
    side = Side.RIGHT if here == "rechts" else Side.LEFT
    assert altered[atlas.cells.on_side(side)].sum() == pytest.approx(altered.sum())
    marks = {"RECHTS", "LINKS"}
    told = 0
    for slide in deck.slides:
        for shape in _shapes(slide.shapes):
            if shape.name.startswith(("Befunde: ", "Legende: ")):
                said = shape._element.xpath(".//p:cNvPr")[0].get("descr") or ""
                said += shape.text_frame.text if shape.has_text_frame else ""
                assert there not in said
                told += here in said
    assert told >= 4
    titles = [slide.shapes.title.text_frame.text for slide in deck.slides]
    arm = {"rechts": "rechter Arm", "links": "linker Arm"}[here]
    assert f"Wurzeln und Nerven: {arm}" in titles
    assert any(t.startswith("Erster Kandidat: ") and t.endswith(f", {here}") for t in titles)
    assert not any(there in t.lower() for t in titles)
    slide = next(s for s in deck.slides if s.shapes.title.text_frame.text.startswith("Befund"))
    assert marks <= {s.name for s in _shapes(slide.shapes)}


def test_marks_and_skin_of_a_side_stand_on_the_same_half(decks: Decks) -> None:
    """In front the patient's right stands on the left of the slide, in every language."""
    for name, word in (("root-c6", "RECHTS"), ("mirrored root-c6", "LINKS")):
        group = _group(decks[name][1], "Befunde: Nadelstich, vermindert")
        front = [s for s in group.shapes if s.name.endswith(", vorn")]
        assert front
        right = word == "RECHTS"
        for shape in front:
            assert (shape.left + shape.width < MIDDLE) is right
            assert (shape.left > MIDDLE) is not right
        slide = decks[name][1].slides[1]
        names = next(s for s in slide.shapes if s.name == "Figur: Seiten")
        mine = [s for s in names.shapes if s.name == word]
        first = min(mine, key=lambda s: abs(s.left + s.width / 2 - MIDDLE))
        assert (first.left + first.width / 2 < MIDDLE) is right


def test_findings_have_the_area_of_the_atlas_in_german(atlas: Atlas, decks: Decks) -> None:
    for name in ("root-c6", "scattered", "saddle"):
        answer, deck = decks[name]
        for modality, change, layer in answer.drawing:
            skins = {v: s for v in View if (s := layer.skin(atlas, v)) is not None}
            with speaking("de"):
                style = tr(CHANGE_STYLES[change].label)
                label = f"Befunde: {modality.label}, {style}"
            assert _filled(_group(deck, label)) == pytest.approx(_on_sheet(skins), rel=1e-3)


def _paths(deck: Any) -> list[set[bytes]]:
    """Skin and lines of each slide as they are written; nothing of a slide with maps, where
    lines lead to words."""
    found = []
    for slide in deck.slides:
        shapes = _shapes(slide.shapes)
        if any(s.name.startswith(("Linie zu", "Line to")) for s in shapes):
            shapes = []
        paths = (path for s in shapes for path in s._element.iter(f"{{{MAIN}}}path"))
        found.append({etree.tostring(path) for path in paths})
    return found


@pytest.mark.parametrize("name", ["root-c6", "compared"])
def test_the_skin_is_drawn_exactly_as_in_english(scales: Scales, decks: Decks, name: str) -> None:
    english = _paths(_deck(scales, name)[1])
    assert sum(map(len, english)) > 30
    assert english == _paths(decks[name][1])


def test_marks_of_the_sheet_stand_clear_of_each_other(decks: Decks) -> None:
    """RECHTS is wider than RIGHT: beside the soles the marks of the saddle go a line down."""
    slide = decks["saddle"][1].slides[1]
    names = next(s for s in slide.shapes if s.name == "Figur: Seiten")
    low = [s for s in names.shapes if s.top > 5.8 * INCH]
    assert sorted(s.name for s in low) == ["(schematisch)", "LINKS", "LINKS", "RECHTS", "RECHTS"]
    for order, one in enumerate(low):
        for other in low[:order]:
            apart = one.left >= other.left + other.width or other.left >= one.left + one.width
            below = one.top >= other.top + other.height or other.top >= one.top + one.height
            assert apart or below, (one.name, other.name)
