"""The three maps against the fact tables, the standard and bedside landmarks."""

from collections import defaultdict

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.assets import table
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.facts import MAIN_NERVE_ROLES, MAIN_SEGMENT_ROLES
from bodymap.atlas.figure import STATURE_UNITS
from bodymap.terms import DERMATOMES, Side, View


def _majority(atlas: Atlas, region: str, column: np.ndarray) -> int:
    """The value that covers most of a region, by cm² over all views, left side."""
    mask = atlas.cells_of_region(region, Side.LEFT)
    area: dict[int, float] = defaultdict(float)
    for value, cm2 in zip(column[mask], atlas.cells.area_cm2[mask], strict=True):
        area[int(value)] += float(cm2)
    return max(area, key=lambda v: area[v])


def test_all_115_regions_agree_with_the_tables(atlas: Atlas) -> None:
    """Sources: those of dermatomes.csv and nerve-territories.csv, row by row (Lee 2008,
    Foerster 1933, Gray 1918, MRC 2010 ...). Majority by area must be a main supply."""
    facts, cells = atlas.facts, atlas.cells
    assert len(facts.regions) == 115
    wrong = []
    for region in facts.regions:
        dermatome = DERMATOMES[_majority(atlas, region, cells.dermatome)]
        nerve = cells.nerve_names[_majority(atlas, region, cells.nerve)]
        if facts.segment_roles.get((region, dermatome)) not in MAIN_SEGMENT_ROLES:
            wrong.append((region, dermatome))
        if facts.nerve_roles.get((region, nerve)) not in MAIN_NERVE_ROLES:
            wrong.append((region, nerve))
    assert wrong == []


def test_every_dermatome_branch_and_part_has_skin_on_both_sides(atlas: Atlas) -> None:
    cells, facts = atlas.cells, atlas.facts
    for left in (True, False):
        here = cells.left == left
        assert {DERMATOMES[d] for d in cells.dermatome[here]} == set(DERMATOMES)
        assert {cells.region_names[r] for r in cells.region[here]} == set(facts.parts)
        drawn = {cells.nerve_names[n] for n in cells.nerve[here]}
        assert drawn == set(facts.cutaneous) - set(facts.without_own_skin)


def test_branches_without_own_skin_are_the_first_thoracic_ones(atlas: Atlas) -> None:
    """The tables call the three skin branches of T1 a fringe only: the first intercostal
    nerve and dorsal ramus seldom reach skin (Standring 2020, from memory)."""
    assert set(atlas.facts.without_own_skin) == {
        "dorsal-ramus-t1",
        "intercostal-t1-lateral",
        "intercostal-t1-anterior",
    }


def test_key_points_lie_in_their_dermatome_and_region(atlas: Atlas) -> None:
    """The 28 key sensory points of the ISNCSCI, revised 2019."""
    places = {row["dermatome"]: row for row in table(atlas.facts.folder, "key-point-places")}
    assert len(places) == 28
    for point in atlas.facts.key_points:
        row = places[point.dermatome]
        view, x, y = View(row["view"]), float(row["x"]), float(row["y"])
        place = atlas.place(view, x, y)
        assert place is not None, point.dermatome
        wanted = ("S4", "S5") if point.dermatome == "S4-5" else (point.dermatome,)
        assert place.dermatome in wanted, point.dermatome
        assert place.region.whole in (point.region, *point.alternative_regions), point.dermatome
        # Not on a border by luck: a fingertip's breadth around still is the dermatome.
        for angle in np.linspace(0, 2 * np.pi, 12, endpoint=False):
            near = atlas.place(view, x + 1.5 * np.cos(angle), y + 1.5 * np.sin(angle))
            assert near is None or near.dermatome in wanted, point.dermatome


LANDMARKS = {
    # Bedside landmarks, common practice, no source.
    "C4": ("shoulder-top",),
    "C5": ("deltoid-lateral", "elbow-crease-lateral"),
    "C6": ("thumb-palmar", "thumb-dorsal"),
    "C7": ("middle-palmar", "middle-dorsal-proximal"),
    "C8": ("little-palmar", "little-dorsal"),
    "T1": ("elbow-crease-medial",),
    "L2": ("thigh-front-middle",),
    "L3": ("knee-medial",),
    "L4": ("malleolus-medial",),
    "S1": ("heel-lateral",),
}


@pytest.mark.parametrize("dermatome", LANDMARKS)
def test_bedside_landmarks(atlas: Atlas, dermatome: str) -> None:
    for region in LANDMARKS[dermatome]:
        assert DERMATOMES[_majority(atlas, region, atlas.cells.dermatome)] == dermatome


@pytest.mark.parametrize(
    ("dermatome", "x", "y"),
    [
        # Heights as shares of stature: ANSUR II 2012 pooled means (chestheight .7303,
        # waistheightomphalion .6017); nipple .052 from the midline, figure.
        ("T4", 52, 730.3),
        ("T10", 6, 601.7),
        ("T10", 52, 601.7),
        # Top of the foot at the base of the middle toes.
        ("L5", 92, -36),
    ],
)
def test_bedside_landmark_points(atlas: Atlas, dermatome: str, x: float, y: float) -> None:
    """T4 nipple line, T10 umbilicus, L5 base of the toes. Common practice, no source."""
    place = atlas.place(View.FRONT, x, y)
    assert place is not None
    assert place.dermatome == dermatome


def test_cells_tile_the_outline(atlas: Atlas) -> None:
    for view in View:
        cells = atlas.cells.in_view(view)
        whole = atlas.figures[view].outline.area
        assert atlas.cells.area_units[cells].sum() == pytest.approx(whole, rel=1e-9)


def test_no_slivers(atlas: Atlas) -> None:
    """No cell is thinner than half a unit: area at least a quarter unit (stature/1000)
    times the perimeter."""
    thin = []
    for cell, polygon in enumerate(atlas.cells.polygons):
        view = VIEWS[atlas.cells.view[cell]]
        quarter = 0.25 / STATURE_UNITS[view]
        if polygon.area < quarter * polygon.length:
            at = polygon.representative_point()
            thin.append((view.value, round(at.x, 1), round(at.y, 1), round(polygon.area, 3)))
    assert thin == []


def _runs_of_disagreement(atlas: Atlas, column: np.ndarray, low: float, high: float) -> list:
    """Stretches along the body's edge where front and back disagree: (length, place)."""
    edge = shapely.boundary(atlas.figures[View.FRONT].outline)
    inner = atlas.figures[View.FRONT].outline.buffer(-0.6)
    back = atlas.figures[View.BACK].outline.buffer(-0.6)
    step, runs, run = 0.5, [], 0.0
    at = (0.0, 0.0)
    for distance in np.arange(0, edge.length, step):
        point = edge.interpolate(distance)
        if point.x <= 1 or not low <= point.y <= high or (point.x > 225 and point.y < 560):
            continue
        front_point = shapely.ops.nearest_points(inner, point)[0]
        mirrored = shapely.Point(-point.x, point.y)
        back_point = shapely.ops.nearest_points(back, mirrored)[0]
        one = atlas.cell_at(View.FRONT, front_point.x, front_point.y)
        other = atlas.cell_at(View.BACK, back_point.x, back_point.y)
        assert one is not None
        assert other is not None
        if column[one] != column[other]:
            run, at = run + step, (round(point.x, 1), round(point.y, 1))
        elif run:
            runs.append((run, at))
            run = 0.0
    return runs


def test_front_and_back_meet_at_the_edge(atlas: Atlas) -> None:
    """What crosses the edge of arm, trunk or leg continues on the other view: borders
    meet within 3 units (5 mm of a person 1.71 m tall; a slanting border adds to it)."""
    for column in (atlas.cells.dermatome, atlas.cells.nerve):
        runs = _runs_of_disagreement(atlas, column, 75, 745)
        assert [r for r in runs if r[0] > 3.0] == []
