"""What an eye can check: shares, areas and remainders, against outside means."""

import numpy as np
import pytest
import shapely
from matplotlib.path import Path as OutsidePath

from bodymap.atlas import Atlas, load_atlas
from bodymap.atlas.cells import VIEWS
from bodymap.findings.drawing import Drawing
from bodymap.geometry import stroke
from bodymap.localise.ranking import Candidate, Scales, held
from bodymap.localise.remainders import remainders
from bodymap.terms import Change, Modality, Side, View
from tests.atlas.toy import make_toy

PIN = Modality.PINPRICK


@pytest.fixture(scope="module")
def toy(tmp_path_factory: pytest.TempPathFactory) -> Atlas:
    folder = tmp_path_factory.mktemp("toy")
    return load_atlas(make_toy(folder / "assets"), folder / "cache")


class TestToy:
    """Four squares of 400 units: C5 above, C6 below; index skin left, little finger right."""

    def test_half_of_a_root_by_hand(self, toy: Atlas) -> None:
        drawing = Drawing().painted(toy, PIN, Change.REDUCED, View.FRONT, shapely.box(0, 0, 20, 20))
        territory = toy.territory("root-c6", Side.LEFT)
        c6 = Candidate(
            *held(territory, 1, 1.0, drawing.altered_cm2(toy), toy.cells.area_cm2), parts=()
        )
        # The square is all in C6 and half of it.
        assert c6.explained_fraction == pytest.approx(1.0)
        assert c6.involved_fraction == pytest.approx(0.5)
        assert c6.unexplained_cm2 == pytest.approx(0.0, abs=1e-9)
        assert c6.spared_cm2 == pytest.approx(c6.explained_cm2)

    def test_remainders_by_hand(self, toy: Atlas) -> None:
        # Two thirds of the lower row and as much of the upper row.
        drawing = Drawing().painted(
            toy, PIN, Change.REDUCED, View.FRONT, shapely.box(0, 10, 40, 30)
        )
        parts = remainders(toy, drawing, toy.territory("root-c6", Side.LEFT))[View.FRONT]
        assert parts.explained.equals(shapely.box(0, 10, 40, 20))
        assert parts.unexplained.equals(shapely.box(0, 20, 40, 30))
        assert parts.spared.equals(shapely.box(0, 0, 40, 10))


def test_areas_agree_with_plain_shapely(atlas: Atlas, scales: Scales) -> None:
    """Explained and involved from cells against whole-shape intersections, within 1e-9.

    The outside means: shapely's intersection of the drawing with each whole territory,
    weighed by the factor of each body part.
    """
    spots = [(View.FRONT, 290, 470, 40), (View.FRONT, -80, 330, 60), (View.BACK, 60, 480, 45)]
    drawing = Drawing()
    for view, x, y, r in spots:
        disc = shapely.Point(x, y).buffer(r)
        drawing = drawing.painted(atlas, PIN, Change.REDUCED, view, disc)
    ranking = scales.rank_drawing(drawing)
    cells = atlas.cells
    regions = [atlas.facts.parts[r].whole for r in cells.region_names]
    part = np.array([atlas.facts.body_parts[r] for r in regions])[cells.region]
    assert len(ranking.candidates) >= 10
    for candidate in ranking.candidates[:20]:
        shared = whole = drawn = 0.0
        for view in VIEWS:
            painted = drawing.altered_skin(atlas, view)
            for name in set(part):
                here = (part == name) & (cells.view == VIEWS.index(view))
                if not here.any():
                    continue
                factor = cells.cm2_per_unit[here][0]
                area = atlas.skin_of(here, view)
                taken = atlas.skin_of(here & candidate.territory.extent, view)
                whole += 0.0 if taken is None else taken.area * factor
                if painted is not None:
                    drawn += shapely.intersection(painted, area).area * factor
                    if taken is not None:
                        shared += shapely.intersection(painted, taken).area * factor
        assert candidate.explained_fraction == pytest.approx(shared / drawn, abs=1e-9)
        assert candidate.involved_fraction == pytest.approx(shared / whole, abs=1e-9)


def test_area_agrees_with_monte_carlo(atlas: Atlas) -> None:
    """An independent library and method: random points counted with matplotlib's
    point-in-polygon test. 200,000 points give a standard error below 0.3 %."""
    disc = shapely.Point(95, 320).buffer(70, quad_segs=64)
    territory = atlas.territory("root-l3", Side.LEFT)
    skin = atlas.skin_of(territory.extent, View.FRONT)
    exact = shapely.intersection(disc, skin).area
    rng = np.random.default_rng(20261125)
    points = rng.uniform([25, 250], [165, 390], size=(200_000, 2))
    inside = OutsidePath(np.asarray(disc.exterior.coords)).contains_points(points)
    in_skin = np.zeros(len(points), dtype=bool)
    for polygon in shapely.get_parts(skin):
        assert len(polygon.interiors) == 0
        in_skin |= OutsidePath(np.asarray(polygon.exterior.coords)).contains_points(points)
    estimate = (inside & in_skin).mean() * 140 * 140
    assert exact > 1000
    assert estimate == pytest.approx(exact, rel=0.015)


@pytest.mark.parametrize("territory", ["root-c6", "median-wrist", "brachial-plexus-whole"])
def test_remainders_are_what_shapely_cuts_from_the_whole_shapes(
    atlas: Atlas, territory: str
) -> None:
    """Named regions whole, named regions that lost skin, and strokes over their borders: cut
    cell by cell here, all at once by shapely."""
    drawing = Drawing()
    for region in ("thumb-palmar", "index-palmar", "forearm-front-radial", "forearm-back-ulnar"):
        drawing = drawing.with_region(atlas, PIN, Change.REDUCED, region, Side.RIGHT)
    line = stroke(np.array([(-330.0, 480.0), (-250.0, 560.0), (-200.0, 700.0)]), 11.0)
    other = stroke(np.array([(-290.0, 500.0), (-240.0, 600.0)]), 6.0)
    assert line is not None
    assert other is not None
    drawing = drawing.painted(atlas, Modality.LIGHT_TOUCH, Change.ABSENT, View.FRONT, line)
    drawing = drawing.erased(atlas, PIN, View.FRONT, other)
    extent = atlas.territory(territory, Side.RIGHT).extent
    found = remainders(atlas, drawing, atlas.territory(territory, Side.RIGHT))
    for view in (View.FRONT, View.BACK):
        drawn, taken = drawing.altered_skin(atlas, view), atlas.skin_of(extent, view)
        assert drawn is not None
        assert taken is not None
        parts = found[view]
        for got, wanted in (
            (parts.explained, shapely.intersection(drawn, taken)),
            (parts.unexplained, shapely.difference(drawn, taken)),
            (parts.spared, shapely.difference(taken, drawn)),
        ):
            area = 0.0 if got is None else got.area
            assert area == pytest.approx(wanted.area, abs=1e-6)
            if got is not None:
                assert shapely.symmetric_difference(got, wanted).area < 1e-6
