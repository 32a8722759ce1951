"""Skin over the edge, against plain reflections, and a brush that goes over it."""

import numpy as np
import pytest
import shapely
from shapely.affinity import scale

from bodymap.atlas import Atlas
from bodymap.findings.brush import BrushStroke
from bodymap.findings.seam import SEAM_FROM, over_the_seam
from bodymap.folding import Edge
from bodymap.geometry import stroke
from bodymap.terms import View

OUTER_THIGH = [(-106.0, 440.0), (-105.0, 420.0), (-103.0, 400.0)]
"""Along the outer edge of the right thigh, front view."""


def test_over_a_straight_edge_folding_is_reflection() -> None:
    """Euclidean geometry: the nearest point of a line is the foot of the perpendicular, so
    folding is the reflection in that line, which shapely.affinity does on its own."""
    edge = Edge(shapely.box(-50, -50, 0, 50))
    outside = shapely.Polygon([(0, -10), (8, -4), (3, 12), (0, 6)])
    folded = edge.folded(outside)
    assert folded is not None
    reflected = scale(outside, xfact=-1, origin=(0, 0))
    assert shapely.symmetric_difference(folded, reflected).area < 1e-9


def test_over_a_round_edge_a_ring_becomes_the_ring_inside() -> None:
    """A circle of radius 20: skin at 20 to 23 comes to lie at 17 to 20."""
    circle = shapely.Point(0, 0).buffer(20, quad_segs=256)
    ring = shapely.Point(0, 0).buffer(23, quad_segs=256).difference(circle)
    folded = Edge(circle).folded(ring.intersection(shapely.box(0, 0, 30, 30)))
    assert folded is not None
    wanted = circle.difference(shapely.Point(0, 0).buffer(17, quad_segs=256))
    wanted = wanted.intersection(shapely.box(0, 0, 30, 30))
    # The outline gets a point every 3 units and is straightened by 0.05 afterwards.
    assert shapely.symmetric_difference(folded, wanted).area < 0.04 * wanted.area


def test_only_front_and_back_meet_and_not_at_the_soles(atlas: Atlas) -> None:
    line = stroke(np.array(OUTER_THIGH), 14.0)
    assert line is not None
    assert set(over_the_seam(atlas, View.FRONT, line)) == {View.BACK}
    assert over_the_seam(atlas, View.SOLES, line) == {}
    inner = stroke(np.array([(-60.0, 420.0)]), 5.0)
    assert inner is not None
    assert over_the_seam(atlas, View.FRONT, inner) == {}
    low = atlas.figures[View.FRONT].outline.bounds[1]
    toes = shapely.box(-65, low - 3, -55, SEAM_FROM - 10)
    assert over_the_seam(atlas, View.FRONT, toes) == {}


def test_what_a_brush_shows_beyond_the_edge_is_what_it_leaves(atlas: Atlas) -> None:
    """While it moves, movements are folded one by one; at the end the stroke as a whole."""
    brush = BrushStroke(atlas, View.FRONT, 14.0, over_the_edge=True)
    shown = []
    for number, y in enumerate(np.arange(440.0, 400.0, -2.0)):
        assert set(brush.move_to(-105.0, y)) == {View.FRONT}
        if number % 3 == 2:
            shown += brush.go_beyond().values()
    shown += brush.go_beyond().values()
    assert brush.go_beyond() == {}
    pieces = brush.pieces()
    left = shapely.intersection(pieces[View.BACK], atlas.figures[View.BACK].outline)
    seen = shapely.union_all(shown)
    assert shapely.difference(left, seen).area < 0.03 * left.area
    assert shapely.difference(seen, left).area < 0.03 * left.area
    exact = atlas.painted_cm2(pieces)
    assert brush.covered_cm2.sum() == pytest.approx(exact.sum(), rel=0.03)
    back = atlas.cells.in_view(View.BACK)
    assert brush.covered_cm2[back].sum() > 0


def test_a_brush_that_stays_leaves_the_other_side_alone(atlas: Atlas) -> None:
    brush = BrushStroke(atlas, View.FRONT, 14.0)
    for place in OUTER_THIGH:
        assert set(brush.move_to(*place)) == {View.FRONT}
    assert set(brush.pieces()) == {View.FRONT}
    assert brush.covered_cm2[atlas.cells.in_view(View.BACK)].sum() == 0


@pytest.mark.parametrize("y", [420.0, 300.0, 150.0])
def test_what_hangs_into_a_gap_never_reaches_the_limb_beyond_it(atlas: Atlas, y: float) -> None:
    """The brush hangs over the right leg's inner edge, past the middle of the gap, and does not
    touch the left leg: nor does what goes on behind. From behind the patient's left is at
    x < 0."""
    line = shapely.LineString([(-60.0, y), (0.0, y)])
    edge = shapely.intersection(line, atlas.figures[View.FRONT].outline).bounds[2]
    radius = -1.5 * edge
    brush = BrushStroke(atlas, View.FRONT, radius, over_the_edge=True)
    brush.move_to(edge, y)
    brush.move_to(edge, y - 2.0)
    for skin in (brush.go_beyond()[View.BACK], brush.pieces()[View.BACK]):
        assert skin.bounds[0] > 0
        assert skin.area > 100
    left = np.asarray(atlas.cells.left, dtype=bool)
    assert brush.covered_cm2[left].sum() == 0
    assert atlas.painted_cm2(brush.pieces())[left].sum() == 0
    # A brush that does touch both goes on behind both.
    both = BrushStroke(atlas, View.FRONT, -1.5 * edge, over_the_edge=True)
    both.move_to(0.0, y)
    x0, _, x1, _ = both.pieces()[View.BACK].bounds
    assert x0 < 0 < x1


def test_where_the_quick_cut_fails_the_whole_shape_is_taken(
    atlas: Atlas, monkeypatch: pytest.MonkeyPatch
) -> None:
    """GEOS refuses, rarely, to cut a ring by a box; nothing may depend on where."""
    line = stroke(np.array(OUTER_THIGH), 14.0)
    assert line is not None
    usual = over_the_seam(atlas, View.FRONT, line)[View.BACK]

    def refuse(*_: object) -> None:
        raise shapely.GEOSException("Invalid number of points in LinearRing found 3")

    monkeypatch.setattr(shapely, "clip_by_rect", refuse)
    whole = over_the_seam(atlas, View.FRONT, line)[View.BACK]
    assert shapely.symmetric_difference(usual, whole).area < 1e-6
    # And where even folding fails, the stroke itself is kept.
    monkeypatch.setattr(shapely, "segmentize", refuse)
    assert over_the_seam(atlas, View.FRONT, line) == {}


def test_random_strokes_along_the_edges_give_clean_skin(atlas: Atlas) -> None:
    """Scribbles round random places of the outline, front and back: always valid skin, inside
    the outline of the other side, and never more than hangs over."""
    rng = np.random.default_rng(11)
    for number in range(120):
        view, other = ((View.FRONT, View.BACK), (View.BACK, View.FRONT))[number % 2]
        outline = atlas.figures[view].outline
        start = shapely.line_interpolate_point(
            shapely.boundary(outline), rng.uniform(), normalized=True
        )
        brush = BrushStroke(atlas, view, float(rng.uniform(2, 30)), over_the_edge=True)
        where = np.array([start.x, start.y])
        for _ in range(8):
            brush.move_to(*where)
            where = where + rng.normal(0, 7, 2)
        brush.go_beyond()
        beyond = brush.pieces().get(other)
        if beyond is not None:
            assert beyond.is_valid
            assert shapely.difference(beyond, atlas.figures[other].outline).area < 1e-6
        assert np.isfinite(brush.covered_cm2).all()
        assert (brush.covered_cm2 <= atlas.cells.area_cm2 + 1e-9).all()
