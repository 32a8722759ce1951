"""The ranking: numbers on a toy skin, laws, and exactness against outside means."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.path import Path as OutsidePath

from bodymap.atlas import Atlas, load_atlas
from bodymap.atlas.cells import VIEWS
from bodymap.findings.drawing import Drawing
from bodymap.localise.explanation import reasons, remainders
from bodymap.localise.ranking import Scales, Verdict
from bodymap.terms import Change, Modality, Side, View
from tests.atlas.toy import make_toy

PIN = Modality.PINPRICK


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


@pytest.fixture(scope="module")
def toy(tmp_path_factory: pytest.TempPathFactory) -> Atlas:
    folder = tmp_path_factory.mktemp("toy")
    return load_atlas(make_toy(folder / "assets"), folder / "cache")


def _places(drawing: Drawing, atlas: Atlas, scales: Scales) -> list[tuple[str, Side, float]]:
    ranking = scales.rank(drawing.altered_cm2(atlas))
    return [(c.territory.id, c.territory.side, c.agreement) for c in ranking.candidates]


class TestToy:
    """Four squares of 400 units: C5 above, C6 below; index skin left, little finger right."""

    def test_half_of_a_root_by_hand(self, toy: Atlas) -> None:
        drawing = Drawing().painted(toy, PIN, Change.REDUCED, View.FRONT, shapely.box(0, 0, 20, 20))
        found = {
            (c.territory.id, c.territory.side): c
            for c in Scales(toy).rank(drawing.altered_cm2(toy)).candidates
        }
        c6 = found["root-c6", Side.LEFT]
        # The square is all in C6 and half of it: 2 * 1 * .5 / 1.5.
        assert c6.explained_fraction == pytest.approx(1.0)
        assert c6.involved_fraction == pytest.approx(0.5)
        assert c6.agreement == pytest.approx(2 / 3)
        assert c6.unexplained_cm2 == pytest.approx(0.0, abs=1e-9)
        assert ("root-c5", Side.LEFT) not in found
        assert ("root-c6", Side.RIGHT) not in found

    def test_remainders_by_hand(self, toy: Atlas) -> None:
        # Two thirds of the lower row and as much of the upper row.
        drawing = Drawing().painted(
            toy, PIN, Change.REDUCED, View.FRONT, shapely.box(0, 10, 40, 30)
        )
        parts = remainders(toy, drawing, toy.territory("root-c6", Side.LEFT))[View.FRONT]
        assert parts.explained.equals(shapely.box(0, 10, 40, 20))
        assert parts.unexplained.equals(shapely.box(0, 20, 40, 30))
        assert parts.spared.equals(shapely.box(0, 0, 40, 10))

    def test_reasons_name_what_is_left_over(self, toy: Atlas) -> None:
        drawing = (
            Drawing()
            .with_region(toy, PIN, Change.REDUCED, "thenar", Side.LEFT)
            .with_region(toy, PIN, Change.REDUCED, "index-palmar", Side.LEFT)
            .with_region(toy, PIN, Change.NORMAL, "palm-ulnar", Side.LEFT)
        )
        drawn, normal = drawing.altered_cm2(toy), drawing.normal_cm2(toy)
        ranking = Scales(toy).rank(drawn)
        c6 = next(c for c in ranking.candidates if c.territory.id == "root-c6")
        said = reasons(toy, drawn, normal, c6)
        assert "50" in said.in_favour[0]
        assert "index finger, palmar" in said.against[0]
        assert "found normal" in said.against[1]
        assert "palm, ulnar part" in said.missing[0]


def test_nothing_drawn_is_insufficient(atlas: Atlas, scales: Scales) -> None:
    ranking = scales.rank(Drawing().altered_cm2(atlas))
    assert ranking.verdict is Verdict.INSUFFICIENT
    assert ranking.candidates == ()


def test_whole_territory_ranks_first_for_every_lesion_with_skin(
    atlas: Atlas, scales: Scales
) -> None:
    """Sites with identical skin share first place; there is no other exception."""
    for territory in atlas.territories:
        if not territory.has_skin:
            continue
        ranking = scales.rank(np.where(territory.extent, atlas.cells.area_cm2, 0.0))
        first = [c.territory for c in ranking.candidates if c.place == 1]
        assert territory in first, territory.id
        assert all(np.array_equal(t.extent, territory.extent) for t in first)
        assert ranking.candidates[0].agreement == pytest.approx(1.0)
        assert ranking.verdict is Verdict.RANKED


def test_lesions_that_share_skin(atlas: Atlas) -> None:
    """The honest exceptions: these pairs cannot be told apart by skin at all."""
    groups: dict[bytes, list[str]] = {}
    for t in atlas.territories:
        if t.has_skin and t.side in (Side.LEFT, Side.BOTH):
            groups.setdefault(t.extent.tobytes(), []).append(t.id)
    assert sorted(sorted(g) for g in groups.values() if len(g) > 1) == IDENTICAL_SKIN


# From branches_affected in lesion-sites.csv: these rows name the same branches, or the
# plexus part carries every fibre of one nerve.
IDENTICAL_SKIN = [
    ["cavernous-sinus", "ophthalmic-v1"],
    ["common-fibular-neck", "lumbosacral-trunk"],
    ["deep-fibular-ankle", "deep-fibular-leg"],
    ["digital-ring-radial", "median-medial-root"],
    ["femoral-inguinal", "femoral-retroperitoneal"],
    ["lateral-cutaneous-forearm-elbow", "musculocutaneous-arm"],
    ["lower-trunk", "medial-cord"],
    ["lumbar-anterior-division", "obturator"],
    ["medial-cutaneous-forearm-elbow", "thoracic-outlet"],
    ["median-arm", "median-elbow"],
    ["pudendal", "pudendal-plexus"],
    ["radial-spiral-groove", "superficial-radial-wrist"],
    ["sacral-posterior-division", "sciatic-fibular-part"],
    ["sciatic-gluteal", "sciatic-thigh"],
    ["ulnar-superficial-palm", "ulnar-wrist"],
]


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
    ranking = scales.rank(drawing.altered_cm2(atlas))
    cells = atlas.cells
    regions = [atlas.facts.parts[r].whole for r in cells.region_names]
    part = np.array([atlas.facts.body_parts[r] for r in regions])[cells.region]
    for candidate in ranking.candidates:
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


region_sets = st.lists(
    st.tuples(st.integers(0, 114), st.sampled_from([Side.LEFT, Side.RIGHT])),
    min_size=1,
    max_size=6,
    unique=True,
)


def _drawn(atlas: Atlas, chosen: list[tuple[int, Side]]) -> Drawing:
    names = list(atlas.facts.regions)
    drawing = Drawing()
    for number, side in chosen:
        drawing = drawing.with_region(atlas, PIN, Change.REDUCED, names[number], side)
    return drawing


class TestLaws:
    @settings(max_examples=40, deadline=None)
    @given(chosen=region_sets)
    def test_mirroring_mirrors(
        self, atlas: Atlas, scales: Scales, chosen: list[tuple[int, Side]]
    ) -> None:
        drawing = _drawn(atlas, chosen)
        here = {(i, s): a for i, s, a in _places(drawing, atlas, scales)}
        there = {(i, s): a for i, s, a in _places(drawing.mirrored(), atlas, scales)}
        assert {(i, s.opposite) for i, s in here} == set(there)
        for (id_, side), agreement in here.items():
            assert there[id_, side.opposite] == pytest.approx(agreement, abs=1e-9)

    @settings(max_examples=40, deadline=None)
    @given(chosen=region_sets)
    def test_order_of_findings_does_not_matter(
        self, atlas: Atlas, scales: Scales, chosen: list[tuple[int, Side]]
    ) -> None:
        one = _places(_drawn(atlas, chosen), atlas, scales)
        assert one == _places(_drawn(atlas, chosen[::-1]), atlas, scales)

    @settings(max_examples=40, deadline=None)
    @given(chosen=region_sets)
    def test_fractions_stay_in_bounds_and_order_falls(
        self, atlas: Atlas, scales: Scales, chosen: list[tuple[int, Side]]
    ) -> None:
        ranking = scales.rank(_drawn(atlas, chosen).altered_cm2(atlas))
        agreements = [c.agreement for c in ranking.candidates]
        assert agreements == sorted(agreements, reverse=True)
        for c in ranking.candidates:
            assert 0 <= c.explained_fraction <= 1
            assert 0 <= c.involved_fraction <= 1
            assert c.explained_cm2 + c.unexplained_cm2 == pytest.approx(ranking.drawn_cm2)
