"""Slides of a comparison and of the maps: exact skin by name, and every word that tells."""

import io
from collections.abc import Callable
from functools import lru_cache
from typing import Any

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.localise.answer import answered
from bodymap.localise.comparison import Comparison, compared
from bodymap.localise.ranking import Scales
from bodymap.report.layout import close_ups
from bodymap.slides.compared import LEADING
from bodymap.slides.compared_words import compared_title
from bodymap.slides.deck import make_deck
from bodymap.slides.figure import _enlarged, _kept, scene
from bodymap.slides.limbs import limb_close_ups, part_of
from bodymap.slides.shapes import INCH
from bodymap.terms import Change, Modality, Side, View

from .test_deck import _area, _filled, _group, _said, _shapes

pptx = pytest.importorskip("pptx")

C6, MEDIAN = "C6 nerve root", "Median nerve at the carpal tunnel"


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


@pytest.fixture(scope="module")
def thumb(scales: Scales) -> Comparison:
    return compared(scales, (("root-c6", Side.RIGHT), ("median-wrist", Side.RIGHT)))


@pytest.fixture(scope="module")
def alone(scales: Scales, thumb: Comparison) -> Any:
    return _deck(scales, Drawing(), thumb)


def _deck(scales: Scales, drawing: Drawing, comparison: Comparison | None = None) -> Any:
    made = make_deck(answered(scales, drawing), "a case", comparison=comparison)
    return pptx.Presentation(io.BytesIO(made))


@pytest.fixture(scope="module")
def of_case(scales: Scales) -> Callable[[str], Any]:
    """The deck of a sample, made once."""
    return lru_cache(maxsize=8)(lambda name: _deck(scales, _sample(scales, name)))


def _titles(deck: Any) -> list[str]:
    return [slide.shapes.title.text_frame.text for slide in deck.slides]


def _slide(deck: Any, title: str) -> Any:
    return deck.slides[_titles(deck).index(title)]


def _sample(scales: Scales, name: str) -> Drawing:
    return open_case(str(sample_file(name)), scales.atlas).drawing


def test_skin_of_each_alone_and_shared_has_the_area_of_the_atlas(
    atlas: Atlas, alone: Any, thumb: Comparison
) -> None:
    whole = np.logical_or.reduce([t.extent for t in thumb.members])
    shown = scene(atlas, atlas.cells.area_cm2 * whole, limbs=True)
    assert shown.close
    masks = {f"only {C6}": thumb.alone[0], f"only {MEDIAN}": thumb.alone[1],
             "shared by all": thumb.shared}  # fmt: skip
    for name, mask in masks.items():
        expected = 0.0
        for view, placing in shown.views:
            skin = atlas.skin_of(mask, view)
            if skin is not None and placing.window is not None:
                inside = skin.intersection(shapely.box(*placing.window))
                expected += inside.area * placing.scale**2
        assert expected > 0
        group = _group(alone, f"Compared: {name}")
        assert _filled(group) == pytest.approx(expected, rel=1e-3), name


def test_a_deck_of_a_comparison_alone_is_told_in_steps(alone: Any, thumb: Comparison) -> None:
    question = f"{C6} or {MEDIAN}?"
    assert compared_title(thumb) == question
    assert _titles(alone) == ["a case", question, f"{C6}, right", f"{MEDIAN}, right",
                              f"Told apart: {question}", "Cautions and sources"]  # fmt: skip


def test_what_tells_apart_is_on_its_slide_and_in_the_notes(
    atlas: Atlas, alone: Any, thumb: Comparison
) -> None:
    question = f"{C6} or {MEDIAN}?"
    table = next(s for s in _slide(alone, f"Told apart: {question}").shapes if s.has_table).table
    columns = [" ".join(row.cells[n].text_frame.text for row in table.rows) for n in (1, 2)]
    notes = _slide(alone, question).notes_slide.notes_text_frame.text
    (_, _, difference), = thumb.differences  # fmt: skip
    rows = [(atlas.facts.regions[r].label, first) for r, _, first in difference.skin]
    rows += [(atlas.facts.signs[s].label, first) for s, _, first in difference.signs]
    assert {first for _, first in rows} == {True, False}
    for label, first in rows:
        assert label in columns[0 if first else 1]
        assert label not in columns[1 if first else 0]
        assert label in notes


def test_a_case_keeps_its_steps_and_gains_the_comparison(
    of_case: Callable[[str], Any], scales: Scales, thumb: Comparison
) -> None:
    drawing = _sample(scales, "root-c6")
    without, held = _titles(of_case("root-c6")), _titles(_deck(scales, drawing, thumb))
    question = f"{C6} or {MEDIAN}?"
    assert [t for t in held if t not in (question, f"Told apart: {question}")] == without
    assert held.index(question) < held.index("What to test next")


def test_the_leading_candidates_are_compared_on_a_figure(
    of_case: Callable[[str], Any], scales: Scales
) -> None:
    drawing = _sample(scales, "root-c6")
    first, second = answered(scales, drawing).ranking.candidates[:2]
    names = [s.name for s in _slide(of_case("root-c6"), LEADING).shapes]
    for candidate in (first, second):
        assert f"Compared: only {candidate.territory.name}" in names


def test_both_maps_tile_the_part_of_the_body_that_is_altered(
    of_case: Callable[[str], Any], atlas: Atlas, scales: Scales
) -> None:
    """Each map's shapes, read back from their paths, have the area of the right arm."""
    drawing = _sample(scales, "root-c6")
    slide = _slide(of_case("root-c6"), "Roots and nerves of the right arm")
    part, side, shown = part_of(atlas, drawing.altered_cm2(atlas))
    assert (part.name, side) == ("arm", Side.RIGHT)
    for head, inside in (
        ("Dermatomes", "C6, front"),
        ("Skin nerves", "Lateral cutaneous of forearm, front"),
    ):
        group = next(s for s in slide.shapes if s.name == f"Map: {head}, skin")
        assert inside in {s.name for s in group.shapes}
        for view in (View.FRONT, View.BACK):
            mine = [s for s in group.shapes if s.name.endswith(f", {view.label}")]
            drawn = sum(_area(s) for s in mine)
            x0, _, x1, _ = atlas.skin_of(shown, view).bounds  # type: ignore[union-attr]
            wide = max(s.left + s.width for s in mine) - min(s.left for s in mine)
            skin = atlas.skin_of(shown, view)
            assert skin is not None
            assert drawn == pytest.approx(skin.area * (wide / (x1 - x0)) ** 2, rel=2e-3)
    lines = next(s for s in slide.shapes if s.name == "Map: Dermatomes, altered skin")
    assert [s for s in lines.shapes if s.name.startswith("Altered skin")]
    said = _said(slide)
    assert {"C6", "C7", "C8", "T1"} <= set(said.split())


@pytest.mark.parametrize(("name", "where"), [
    ("carpal-tunnel", "right hand"), ("common-fibular", "right leg"), ("face-v2", "head and neck"),
    ("trunk-band", "trunk"), ("saddle", "saddle, buttocks and back of the thighs"),
])  # fmt: skip
def test_the_maps_are_of_the_part_where_the_findings_lie(
    of_case: Callable[[str], Any], name: str, where: str
) -> None:
    assert f"Roots and nerves of the {where}" in _titles(of_case(name))


def test_numbers_stand_in_the_key_and_lines_begin_on_their_skin(
    of_case: Callable[[str], Any],
) -> None:
    """A number on the map stands in the key, and a line begins on the skin it names."""
    slide = _slide(of_case("root-c6"), "Roots and nerves of the right arm")
    key = {s.text_frame.text for s in slide.shapes if s.name.startswith("Key: ")}
    names = next(s for s in slide.shapes if s.name == "Map: Skin nerves, names")
    numbers = [s.text_frame.text for s in names.shapes if s.text_frame.text.isdigit()]
    assert numbers
    assert set(numbers) <= key
    group = next(s for s in slide.shapes if s.name == "Map: Dermatomes, skin")
    lines = next(s for s in slide.shapes if s.name == "Map: Dermatomes, altered skin")
    pointing = [s for s in lines.shapes if s.name.startswith("Line to ")]
    assert pointing
    for line in pointing:
        name = line.name.removeprefix("Line to ")
        skins = [s for s in group.shapes if s.name.startswith(f"{name}, ")]
        ends = _corners(line)
        assert any(_boxed(s, INCH * 0.01).contains(shapely.Point(e)) for s in skins for e in ends)


def _corners(shape: Any) -> list[tuple[int, int]]:
    left, top, right, bottom = (
        shape.left,
        shape.top,
        shape.left + shape.width,
        shape.top + shape.height,
    )
    return [(left, top), (right, top), (left, bottom), (right, bottom)]


def _boxed(shape: Any, room: float) -> shapely.Polygon:
    (left, top), *_, (right, bottom) = _corners(shape)
    return shapely.box(left - room, top - room, right + room, bottom + room)


def test_without_altered_skin_there_are_no_maps(atlas: Atlas, scales: Scales) -> None:
    skin = shapely.Point(30, 650).buffer(25)
    drawing = Drawing().painted(atlas, Modality.PINPRICK, Change.NORMAL, View.FRONT, skin)
    assert not [t for t in _titles(_deck(scales, drawing)) if t.startswith("Roots and nerves")]


def test_three_lesions_have_a_table_for_each_pair(scales: Scales) -> None:
    lesions = (("root-c8", Side.RIGHT), ("ulnar-elbow", Side.RIGHT), ("lower-trunk", Side.RIGHT))
    comparison = compared(scales, lesions)
    deck = _deck(scales, Drawing(), comparison)
    assert sum(t.startswith("Told apart: ") for t in _titles(deck)) == 3
    names = [s.name for s in _shapes(_slide(deck, compared_title(comparison)).shapes)]
    assert "Compared: shared by two" in names


def test_a_limb_is_shown_without_a_strip_of_its_neighbours(atlas: Atlas) -> None:
    """An arm in its window is one piece of skin; two feet stay two."""
    for close in (*limb_close_ups(atlas), *close_ups(atlas).values()):
        pieces = shapely.get_parts(_kept(atlas.figures[close.view], _enlarged(close, (0, 0, 5, 5))))
        areas = sorted(shapely.area(pieces), reverse=True)
        assert areas[-1] >= 0.3 * areas[0], close.id
        if "arm" in close.label:
            assert len(pieces) == 1, close.label
