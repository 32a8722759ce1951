"""The drawing: laws, and ten thousand random operations."""

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.brush import BrushStroke
from bodymap.findings.drawing import Drawing
from bodymap.geometry import stroke
from bodymap.terms import Change, Modality, Side, View

PIN, TOUCH = Modality.PINPRICK, Modality.LIGHT_TOUCH
THUMB = shapely.Point(320, 490).buffer(12)


def test_painting_twice_is_painting_once(atlas: Atlas) -> None:
    once = Drawing().painted(atlas, PIN, Change.REDUCED, View.FRONT, THUMB)
    twice = once.painted(atlas, PIN, Change.REDUCED, View.FRONT, THUMB)
    assert twice.altered_cm2(atlas) == pytest.approx(once.altered_cm2(atlas), abs=1e-9)


def test_a_new_answer_replaces_the_old_one_in_the_same_modality_only(atlas: Atlas) -> None:
    drawing = (
        Drawing()
        .painted(atlas, PIN, Change.REDUCED, View.FRONT, THUMB)
        .painted(atlas, TOUCH, Change.REDUCED, View.FRONT, THUMB)
        .painted(atlas, PIN, Change.NORMAL, View.FRONT, THUMB)
    )
    assert [(m, c) for m, c, _ in drawing] == [(TOUCH, Change.REDUCED), (PIN, Change.NORMAL)]


def test_skin_outside_the_outline_is_dropped(atlas: Atlas) -> None:
    far = shapely.Point(0, 0).buffer(3)
    assert not Drawing().painted(atlas, PIN, Change.REDUCED, View.FRONT, far)


def test_skin_altered_in_two_modalities_counts_once(atlas: Atlas) -> None:
    one = Drawing().painted(atlas, PIN, Change.REDUCED, View.FRONT, THUMB)
    two = one.painted(atlas, TOUCH, Change.ABSENT, View.FRONT, THUMB)
    assert two.altered_cm2(atlas).sum() == pytest.approx(one.altered_cm2(atlas).sum())


def test_erasing_part_of_a_named_region_keeps_the_rest(atlas: Atlas) -> None:
    whole = Drawing().with_region(atlas, PIN, Change.REDUCED, "scalp-back", Side.LEFT)
    bite = shapely.Point(-20, 950).buffer(6)
    part = whole.erased(atlas, PIN, View.BACK, bite)
    layer = part.layer(PIN, Change.REDUCED)
    assert not layer.regions
    before, after = whole.altered_cm2(atlas), part.altered_cm2(atlas)
    lost = atlas.painted_cm2({View.BACK: bite})
    assert after == pytest.approx(before - np.minimum(before, lost), abs=1e-7)
    # The region is also seen from the side, and that face is still drawn.
    assert View.HEAD_LEFT in layer.drawn


def test_filling_a_region_replaces_brush_work_inside_it(atlas: Atlas) -> None:
    drawing = (
        Drawing()
        .painted(atlas, PIN, Change.ABSENT, View.FRONT, THUMB)
        .with_region(atlas, PIN, Change.REDUCED, "thumb-palmar", Side.LEFT)
    )
    assert ("thumb-palmar", Side.LEFT) in drawing.layer(PIN, Change.REDUCED).regions
    absent = drawing.layer(PIN, Change.ABSENT).painted_cm2(atlas)
    assert absent[atlas.cells_of_region("thumb-palmar", Side.LEFT)].max() < 1e-9


def test_mirroring_twice_is_identity(atlas: Atlas) -> None:
    drawing = (
        Drawing()
        .painted(atlas, PIN, Change.REDUCED, View.FRONT, THUMB)
        .painted(atlas, PIN, Change.REDUCED, View.HEAD_LEFT, shapely.Point(0, 60).buffer(9))
        .with_region(atlas, TOUCH, Change.TINGLING, "heel-lateral", Side.RIGHT)
    )
    again = drawing.mirrored().mirrored()
    assert again.altered_cm2(atlas) == pytest.approx(drawing.altered_cm2(atlas), abs=1e-9)
    twin = atlas.cells.twin
    assert drawing.mirrored().altered_cm2(atlas)[twin] == pytest.approx(
        drawing.altered_cm2(atlas), abs=1e-9
    )


def test_brush_stroke_adds_up_to_the_whole_stroke(atlas: Atlas) -> None:
    path = [(300.0 + i * 2.5, 480 + 6 * np.sin(i)) for i in range(14)]
    brush = BrushStroke(atlas, View.FRONT, 5.0)
    added = [brush.move_to(x, y).get(View.FRONT) for x, y in path]
    swept = brush.pieces()[View.FRONT]
    whole = stroke(np.array(path), 5.0)
    # Round joins are polygons of 32 sides, turned differently in pieces and whole.
    assert shapely.symmetric_difference(swept, whole).area < 0.005 * whole.area
    inside = shapely.intersection(swept, atlas.figures[View.FRONT].outline)
    # What is shown is cut off at an outline that was straightened by 0.01 units.
    assert sum(p.area for p in added if p is not None) == pytest.approx(inside.area, rel=1e-3)
    exact = atlas.painted_cm2({View.FRONT: swept})
    assert brush.covered_cm2 == pytest.approx(exact, abs=1e-6)


def test_ten_thousand_random_operations_keep_geometry_and_areas(atlas: Atlas) -> None:
    """Paint, erase and undo at random on a hand. After each: no exception, valid
    geometry, and areas that add up within 1e-6 mm² on a body 1,714 mm tall."""
    rng = np.random.default_rng(7)
    mm2 = 1.71441**2  # one square unit of stature/1000 at ANSUR II's mean stature
    hand = atlas.figures[View.FRONT].outline.intersection(shapely.box(235, 380, 330, 530))
    skin, history = None, []
    drawing = Drawing()
    for step in range(10_000):
        kind = rng.choice(["paint", "erase", "undo"], p=[0.5, 0.35, 0.15])
        if kind == "undo" and history:
            drawing = history.pop()
            skin = drawing.layer(PIN, Change.REDUCED).drawn.get(View.FRONT)
            continue
        start = rng.uniform([240, 390], [325, 520])
        track = start + np.cumsum(rng.normal(0, 4, size=(rng.integers(1, 6), 2)), axis=0)
        brush = stroke(track, float(rng.uniform(0.5, 6)))
        inside = shapely.intersection(brush, hand)
        before = 0.0 if skin is None else skin.area
        overlap = 0.0 if skin is None else shapely.intersection(skin, inside).area
        history.append(drawing)
        history = history[-30:]
        if kind == "paint":
            drawing = drawing.painted(atlas, PIN, Change.REDUCED, View.FRONT, brush)
            on_figure = shapely.intersection(brush, atlas.figures[View.FRONT].outline)
            overlap = 0.0 if skin is None else shapely.intersection(skin, on_figure).area
            expected = before + on_figure.area - overlap
        else:
            drawing = drawing.erased(atlas, PIN, View.FRONT, brush)
            overlap = 0.0 if skin is None else shapely.intersection(skin, brush).area
            expected = before - overlap
        skin = drawing.layer(PIN, Change.REDUCED).drawn.get(View.FRONT)
        area = 0.0 if skin is None else skin.area
        assert skin is None or skin.is_valid, step
        assert abs(area - expected) * mm2 < 1e-6, step
