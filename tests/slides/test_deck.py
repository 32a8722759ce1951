"""Decks: native and editable, exact skin, words and caution on every slide."""

import io
from typing import Any

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.geometry import Skin
from bodymap.localise.answer import Answer, answered
from bodymap.localise.comparison import compared
from bodymap.localise.ranking import Scales
from bodymap.localise.remainders import remainders
from bodymap.report.appearance import CHANGE_STYLES, DARK, REMAINDER_STYLES
from bodymap.report.cautions import CAUTION
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.lettering import text_width
from bodymap.slides import words
from bodymap.slides.deck import ALTERED, make_deck
from bodymap.slides.figure import scene
from bodymap.slides.page import SLIM, SLIM_BOLD, Words
from bodymap.slides.shapes import INCH, MAIN, PATTERNS, pieces
from bodymap.slides.view_names import SHEET
from bodymap.terms import Change, Modality, Side, View

pptx = pytest.importorskip("pptx")

CASES = ("empty", "root-c6", "carpal-tunnel", "scattered", "saddle", "stocking", "trunk-band",
         "face-v2", "thoracic-level", "root-c6 compared", "compared", "three compared")  # fmt: skip

COMPARED = {
    "root-c6 compared": ("root-c6", "median-wrist"),
    "compared": ("root-c6", "median-wrist"),
    "three compared": ("root-c8", "ulnar-elbow", "lower-trunk"),
}
"""Lesions, right side, that a deck of a case or of nothing compares."""


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


@pytest.fixture(scope="module")
def decks(scales: Scales) -> dict[str, tuple[Answer, Any]]:
    found = {}
    for name in CASES:
        drawing = Drawing()
        if name not in ("empty", "compared", "three compared"):
            sample = name.removesuffix(" compared")
            drawing = open_case(str(sample_file(sample)), scales.atlas).drawing
        lesions = COMPARED.get(name)
        comparison = compared(scales, tuple((i, Side.RIGHT) for i in lesions)) if lesions else None
        answer = answered(scales, drawing)
        made = make_deck(answer, name, comparison=comparison)
        found[name] = answer, pptx.Presentation(io.BytesIO(made))
    return found


def _shapes(shapes: Any) -> list[Any]:
    """All shapes, also those in groups."""
    found = []
    for shape in shapes:
        found.append(shape)
        if shape.shape_type == pptx.enum.shapes.MSO_SHAPE_TYPE.GROUP:
            found += _shapes(shape.shapes)
    return found


def _said(slide: Any) -> str:
    return "\n".join(s.text_frame.text for s in _shapes(slide.shapes) if s.has_text_frame)


def _area(shape: Any) -> float:
    """Area of a freeform, square EMU, read back from its path alone."""
    total = 0.0
    path = next(shape._element.iter(f"{{{MAIN}}}path"))
    scale = np.array([shape.width / int(path.get("w")), shape.height / int(path.get("h"))])
    rings: list[list[tuple[int, int]]] = []
    for step in path:
        if step.tag.endswith("}moveTo"):
            rings.append([])
        for point in step:
            rings[-1].append((int(point.get("x")), int(point.get("y"))))
    for ring in rings:
        total += shapely.Polygon(np.array(ring) * scale).area
    return total


def _filled(group: Any) -> float:
    return sum(_area(s) for s in group.shapes if not s.name.endswith(", edge"))


def _on_sheet(skins: dict[View, Skin]) -> float:
    """Area of skin on the slide by the layout of the sheet alone, square EMU."""
    return sum(s.area * (SHEET * BODY_LAYOUT[v].scale) ** 2 for v, s in skins.items())


def _group(deck: Any, name: str) -> Any:
    return next(s for slide in deck.slides for s in slide.shapes if s.name == name)


PLACED = {"TITLE": 28.0, "CENTER_TITLE": 40.0, "SUBTITLE": 22.0}
"""Sizes of text in placeholders, unless a paragraph has its own (page)."""


def _placed_as(shape: Any) -> str:
    return shape.placeholder_format.type.name if shape.is_placeholder else ""


def _fits(frame: Any, size: float, width: float, height: float | None) -> None:
    """That a text fits in a width and a height (inches), by the widths of its letters."""
    total, after = 0.0, 0.0
    for line in frame.paragraphs:
        fonts = [line.font, *(run.font for run in line.runs)]
        own = next((f.size.pt for f in fonts if f.size is not None), size)
        bold = own >= 20 or any(f.bold for f in fonts)
        for word in line.text.split():
            slim = SLIM_BOLD if bold else SLIM
            assert text_width(word, own) * slim / 72 <= width + 0.02, word
        after = line.space_after.pt if line.space_after is not None else 0.0
        total += Words(line.text, own, bold, after=after).height(width)
    if height is not None:
        assert total - after / 72 <= height, frame.text


@pytest.mark.parametrize("name", CASES)
class TestEveryDeck:
    def test_is_wide_and_native(self, decks: dict[str, tuple[Answer, Any]], name: str) -> None:
        _, deck = decks[name]
        assert deck.slide_width * 9 == deck.slide_height * 16
        for slide in deck.slides:
            assert "pic" not in {e.tag.rpartition("}")[2] for e in slide._element.iter()}
        parts = deck.part.package.iter_parts()
        assert not [p.partname for p in parts if "image" in p.content_type]

    def test_titles_notes_and_caution(
        self, decks: dict[str, tuple[Answer, Any]], name: str
    ) -> None:
        titles = []
        for slide in decks[name][1].slides:
            titles.append(slide.shapes.title.text_frame.text)
            assert titles[-1]
            assert len(slide.notes_slide.notes_text_frame.text) > 40
            assert CAUTION in _said(slide)
        assert titles[0] == name
        assert titles[-1] == "Cautions and sources"

    def test_alternative_text(self, decks: dict[str, tuple[Answer, Any]], name: str) -> None:
        for slide in decks[name][1].slides:
            for shape in slide.shapes:
                if shape.shape_type in (
                    pptx.enum.shapes.MSO_SHAPE_TYPE.GROUP,
                    pptx.enum.shapes.MSO_SHAPE_TYPE.TABLE,
                ):
                    assert shape._element.xpath(".//p:cNvPr")[0].get("descr"), shape.name

    def test_identities_are_unique(self, decks: dict[str, tuple[Answer, Any]], name: str) -> None:
        for slide in decks[name][1].slides:
            known = [s.shape_id for s in _shapes(slide.shapes)]
            assert len(set(known)) == len(known)

    def test_nothing_leaves_the_slide_or_is_small(
        self, decks: dict[str, tuple[Answer, Any]], name: str
    ) -> None:
        _, deck = decks[name]
        for slide in deck.slides:
            for shape in _shapes(slide.shapes):
                assert shape.left >= 0, shape.name
                assert shape.top >= 0, shape.name
                assert shape.left + shape.width <= deck.slide_width, shape.name
                assert shape.top + shape.height <= deck.slide_height, shape.name
                if shape.has_text_frame:
                    for line in shape.text_frame.paragraphs:
                        for run in line.runs:
                            assert run.font.size is None or run.font.size.pt >= 14, run.text

    def test_boxes_of_words_do_not_overlap(
        self, decks: dict[str, tuple[Answer, Any]], name: str
    ) -> None:
        for slide in decks[name][1].slides:
            boxes = [
                (s.name, shapely.box(s.left, s.top, s.left + s.width, s.top + s.height))
                for s in _shapes(slide.shapes)
                if (s.has_text_frame and s.text_frame.text) or getattr(s, "has_table", False)
            ]
            for order, (one, box) in enumerate(boxes):
                for other, second in boxes[:order]:
                    assert box.intersection(second).area < 1e6, (one, other)

    def test_words_fit_their_boxes(self, decks: dict[str, tuple[Answer, Any]], name: str) -> None:
        """No word is wider than its box or its cell, and the lines are as high as it at most."""
        for number, slide in enumerate(decks[name][1].slides):
            for shape in _shapes(slide.shapes):
                if getattr(shape, "has_table", False):
                    for row in shape.table.rows:
                        for cell, column in zip(row.cells, shape.table.columns, strict=True):
                            _fits(cell.text_frame, 16.0, column.width / INCH - 0.2, None)
                elif shape.has_text_frame and shape.text_frame.text:
                    height = (shape.height / INCH) + 0.02
                    first = number == 0 and shape == slide.shapes.title
                    size = 40.0 if first else PLACED.get(_placed_as(shape), 14.0)
                    _fits(shape.text_frame, size, shape.width / INCH, height)

    def test_sides_are_named(self, decks: dict[str, tuple[Answer, Any]], name: str) -> None:
        with_figure = [
            slide
            for slide in decks[name][1].slides
            if any(s.name == "Figure: skin" for s in slide.shapes)
        ]
        assert with_figure
        for slide in with_figure:
            said = _said(slide)
            # The whole sheet shows both sides; a close-up may be of one.
            if "Head, both sides" in said:
                assert {"RIGHT", "LEFT"} <= set(said.split())
            assert "right" in said.lower() or "left" in said.lower()


def test_findings_have_the_area_of_the_atlas(
    atlas: Atlas, decks: dict[str, tuple[Answer, Any]]
) -> None:
    for name in ("root-c6", "scattered", "saddle"):
        answer, deck = decks[name]
        for modality, change, layer in answer.drawing:
            skins = {v: s for v in View if (s := layer.skin(atlas, v)) is not None}
            label = f"Findings: {CHANGE_STYLES[change].label} {modality.label}"
            assert _filled(_group(deck, label)) == pytest.approx(_on_sheet(skins), rel=1e-3)


def test_remainders_have_the_area_of_the_atlas(
    atlas: Atlas, decks: dict[str, tuple[Answer, Any]]
) -> None:
    for name in ("root-c6", "scattered", "saddle"):
        answer, deck = decks[name]
        for candidate in answer.ranking.candidates[:2]:
            held = remainders(atlas, answer.drawing, candidate.territory)
            for kind in ("explained", "unexplained", "spared"):
                skins = {v: s for v, r in held.items() if (s := getattr(r, kind)) is not None}
                if skins:
                    group = _group(deck, f"{words.sided(candidate)}: {kind}")
                    assert _filled(group) == pytest.approx(_on_sheet(skins), rel=1e-3), kind


def test_close_ups_show_the_skin_of_their_window_exactly(
    atlas: Atlas, decks: dict[str, tuple[Answer, Any]]
) -> None:
    answer, deck = decks["carpal-tunnel"]
    shown = scene(atlas, answer.drawing.altered_cm2(atlas))
    assert shown.close
    for modality, change, layer in answer.drawing:
        expected = 0.0
        for view, placing in shown.views:
            skin = layer.skin(atlas, view)
            if skin is not None and placing.window is not None:
                inside = skin.intersection(shapely.box(*placing.window))
                expected += inside.area * placing.scale**2
        label = f"Findings: {CHANGE_STYLES[change].label} {modality.label}"
        assert _filled(_group(deck, label)) == pytest.approx(expected, rel=1e-3)


def test_the_skin_has_the_area_of_the_outline(
    atlas: Atlas, decks: dict[str, tuple[Answer, Any]]
) -> None:
    group = _group(decks["root-c6"][1], "Figure: skin")
    drawn = sum(_area(s) for s in group.shapes if s.name.startswith("Skin, "))
    whole = {v: atlas.figures[v].outline for v in View}
    assert drawn == pytest.approx(_on_sheet(whole), rel=1e-3)


def test_skin_with_holes_is_cut_into_pieces_that_tile_it() -> None:
    """Against shapely: pieces without holes, their union the skin, their areas its area."""
    ring = shapely.Point(0, 0).buffer(10).difference(shapely.Point(2, 1).buffer(3))
    two = ring.difference(shapely.Point(-6, 0).buffer(1))
    for skin in (ring, two):
        found = pieces(skin)
        assert not [p for p in found if p.interiors]
        assert sum(p.area for p in found) == pytest.approx(skin.area, rel=1e-9)
        assert shapely.union_all(found).symmetric_difference(skin).area < 1e-6


def test_a_ring_of_skin_is_drawn_with_its_hole(atlas: Atlas, scales: Scales) -> None:
    hole = shapely.Point(30, 650).buffer(8)
    skin = shapely.Point(30, 650).buffer(25).difference(hole)
    drawing = Drawing().painted(atlas, Modality.PINPRICK, Change.ABSENT, View.FRONT, skin)
    deck = pptx.Presentation(io.BytesIO(make_deck(answered(scales, drawing), "ring", DARK)))
    group = _group(deck, "Findings: absent pinprick")
    kept = drawing.layer(Modality.PINPRICK, Change.ABSENT).skin(atlas, View.FRONT)
    assert kept is not None
    assert _filled(group) == pytest.approx(_on_sheet({View.FRONT: kept}), rel=1e-3)
    assert [s for s in group.shapes if s.name.endswith(", edge")]


def test_small_findings_are_shown_enlarged(decks: dict[str, tuple[Answer, Any]]) -> None:
    said = "\n".join(_said(slide) for slide in decks["carpal-tunnel"][1].slides)
    assert "Right hand, palm" in said
    assert "Right hand, palm" not in "\n".join(_said(s) for s in decks["saddle"][1].slides)


def test_the_case_is_told_in_steps(decks: dict[str, tuple[Answer, Any]]) -> None:
    titles = [s.shapes.title.text_frame.text for s in decks["root-c6"][1].slides]
    steps = ["What was found", words.QUESTION, "First candidate: C6", "Second candidate",
             "The leading candidates compared", "What to test next"]  # fmt: skip
    at = [next(i for i, title in enumerate(titles) if title.startswith(s)) for s in steps]
    assert at == sorted(at)
    before = decks["root-c6"][1].slides[at[1]]
    assert "C6" not in _said(before)


def test_where_no_single_lesion_fits_none_is_put_forward(
    decks: dict[str, tuple[Answer, Any]],
) -> None:
    answer, deck = decks["scattered"]
    titles = [s.shapes.title.text_frame.text for s in deck.slides]
    assert not [t for t in titles if "candidate: " in t]
    assert [t for t in titles if t.startswith("Closest, not put forward")]
    assert sum(answer.ranking.sentence in _said(s) for s in deck.slides) >= 2


def test_urgency_comes_before_the_candidates(decks: dict[str, tuple[Answer, Any]]) -> None:
    titles = [s.shapes.title.text_frame.text for s in decks["saddle"][1].slides]
    assert titles.index("Before any ranking: is it urgent?") < next(
        i for i, t in enumerate(titles) if t.startswith("First candidate")
    )


def test_patterns_differ_and_are_on_the_slide(decks: dict[str, tuple[Answer, Any]]) -> None:
    """Colour is never the only signal."""
    for styles in ((*CHANGE_STYLES.values(), ALTERED), REMAINDER_STYLES.values()):
        used = [PATTERNS[style.texture] for style in styles]
        assert len(set(used)) == len(used)
    for shape in _group(decks["root-c6"][1], "Findings: reduced pinprick").shapes:
        assert shape.fill.type == pptx.enum.dml.MSO_FILL.PATTERNED


def test_table_holds_the_leading_five(decks: dict[str, tuple[Answer, Any]]) -> None:
    answer, deck = decks["root-c6"]
    table = _group(deck, "Comparison").table
    names = [table.cell(row, 1).text_frame.text for row in range(1, 6)]
    assert names == [c.territory.name for c in answer.ranking.candidates[:5]]
    assert Side.RIGHT.value in table.cell(1, 2).text_frame.text
