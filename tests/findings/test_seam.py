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
