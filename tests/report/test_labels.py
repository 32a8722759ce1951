"""What is written on the figure: every territory is named, nothing overlaps."""

from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely.affinity import affine_transform

from bodymap.atlas import Atlas
from bodymap.report.appearance import THEMES, Theme
from bodymap.report.borders import names_of_cells, neighbours, territory_borders
from bodymap.report.colour import difference
from bodymap.report.labels import NUMBER_LEAST, labels
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.lettering import CAP_HEIGHT, WIDTHS, broken, text_width, wrapped
from bodymap.report.middle_names import middle_names
from bodymap.report.names import numbers
from bodymap.report.territory_colours import territory_colours
from bodymap.terms import MAP_NAMES, MapName, View

MAPS = pytest.mark.parametrize("map_name", MAP_NAMES)


@MAPS
def test_every_territory_is_named_or_numbered(atlas: Atlas, map_name: MapName) -> None:
    written = {label.name for row in labels(atlas, map_name).values() for label in row}
    assert written == set(names_of_cells(atlas, map_name)) == set(numbers(atlas, map_name))


@MAPS
def test_names_are_legible_and_do_not_overlap(atlas: Atlas, map_name: MapName) -> None:
    every = [label for row in labels(atlas, map_name).values() for label in row]
    assert min(label.size for label in every) >= NUMBER_LEAST
    tree = shapely.STRtree([label.box for label in every])
    for one, other in tree.query([label.box for label in every], "intersects").T.tolist():
        assert one == other, (every[one], every[other])


@MAPS
def test_names_stand_on_their_own_skin_and_call_outs_beside_it(
    atlas: Atlas, map_name: MapName
) -> None:
    names = np.array(names_of_cells(atlas, map_name))
    outlines = []
    for view, placed in BODY_LAYOUT.items():
        a, b, c, d, e, f = placed.matrix
        outlines.append(affine_transform(atlas.figures[view].outline, [a, b, c, d, e, f]))
    calls = []
    for view, row in labels(atlas, map_name).items():
        placed = BODY_LAYOUT[view]
        for label in row:
            at = label.points_at or (label.x, label.y)
            cell = atlas.cell_at(view, *placed.to_view(*at))
            assert cell is not None
            assert names[cell] == label.name
            if label.points_at is None:
                x0, y0, x1, y1 = label.box.bounds
                corners = [(x0, y0), (x1, y0), (x0, y1), (x1, y1)]
                for corner in corners:
                    inside = atlas.cell_at(view, *placed.to_view(*corner))
                    assert inside is not None
                    assert names[inside] == label.name, label
            else:
                assert all(o.disjoint(label.box) for o in outlines)
                calls.append(shapely.LineString([label.points_at, label.foot_of_line()]))
    for one, other in combinations(calls, 2):
        assert not one.crosses(other)


@MAPS
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
def test_neighbours_have_different_fills(atlas: Atlas, map_name: MapName, theme: Theme) -> None:
    """5 (OKLab times 100) is more than twice what is just seen (judgement)."""
    fills = territory_colours(atlas, map_name, theme)
    for name, others in neighbours(atlas, map_name).items():
        for other, length in others.items():
            if length > 4.0:
                assert difference(fills[name], fills[other]) > 5.0, (name, other)


@MAPS
def test_borders_are_drawn_once(atlas: Atlas, map_name: MapName) -> None:
    """By shapely: two territories share a border, so all their perimeters together are
    twice the borders and once the outline."""
    names = np.array(names_of_cells(atlas, map_name))
    for view in View:
        indices = atlas.cells.in_view(view)
        perimeters = sum(
            shapely.union_all(atlas.cells.polygons[indices[names[indices] == n]]).length
            for n in set(names[indices].tolist())
        )
        drawn = sum(shapely.LineString(p).length for p in territory_borders(atlas, map_name, view))
        expected = (perimeters - shapely.length(atlas.figures[view].outline)) / 2
        # Drawn lines are thinned out by a fraction of a unit.
        assert drawn == pytest.approx(expected, rel=2e-3)


def test_words_break_evenly_and_fit() -> None:
    assert broken("Front of the knee")[1] == ("Front of", "the knee")
    assert broken("C6") == (("C6",),)
    lines = wrapped("Palmar digital nerve of the ring finger, radial half", 11.0, 150.0)
    assert " ".join(lines) == "Palmar digital nerve of the ring finger, radial half"
    assert all(text_width(line, 11.0) <= 150.0 for line in lines)


def test_widths_are_those_of_the_bundled_font() -> None:
    """Against the font itself, measured by Qt at 1000 pixels per em."""
    from PySide6.QtGui import QFont, QFontMetricsF

    from bodymap.rendering import _application

    _application()
    font = QFont("DejaVu Sans")
    font.setPixelSize(1000)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    metrics = QFontMetricsF(font)
    for character, width in WIDTHS.items():
        assert metrics.horizontalAdvance(character) == pytest.approx(width, abs=1.5), character


@pytest.mark.parametrize("view", [View.FRONT, View.BACK])
def test_names_across_the_midline_stand_on_their_own_dermatome(atlas: Atlas, view: View) -> None:
    """The corners of the words, a little inside, as the atlas itself places them."""
    found = middle_names(atlas, view)
    # From C4 to L1 every segment reaches the midline (ISNCSCI key points of the trunk lie
    # at the midclavicular line, so they say nothing of it; anatomy, from memory).
    assert {"C4", *(f"T{n}" for n in range(2, 13)), "L1"} <= set(found)
    for name, fit in found.items():
        half_w, half_h = text_width(name, fit.size) / 2, fit.size * CAP_HEIGHT / 2
        for dx, dy in [(-1, -1), (-1, 1), (1, -1), (1, 1)]:
            place = atlas.place(view, fit.x + 0.9 * dx * half_w, fit.y + 0.9 * dy * half_h)
            assert place is not None
            assert place.dermatome == name
