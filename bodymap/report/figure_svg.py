"""One view of the body as SVG: skin, territories, lines, outline, names.

Order of drawing, from below: skin, soft edge, shapes, territories, inner lines,
borders, outline, names. Marks (findings, remainders) are put in by the caller
between the territories and the lines. Geometry is placed on the sheet of ``layout``.
"""

from collections.abc import Iterator

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.geometry import Floats
from bodymap.report.appearance import BORDER_WIDTH, OUTLINE_WIDTH, Theme
from bodymap.report.borders import names_of_cells, territory_borders
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, SIDE_SIZE, TITLE_SIZE, Placed
from bodymap.report.lettering import CAP_HEIGHT, LINE
from bodymap.report.names import name_places, spoken
from bodymap.report.shading import SMOOTH, rings_of, smoothed, soft_edge
from bodymap.report.strokes import inner_lines
from bodymap.report.svg import group, line_data, path, text
from bodymap.report.territory_colours import territory_colours
from bodymap.terms import MapName, View

NAME_SIZES = (6.0, 13.0)
"""Least and most height of a name on the skin, sheet units; smaller ones get a number."""

NUMBER_LEAST = 3.4
"""A number smaller than this, sheet units, is left out: nobody could read it."""


def ground(atlas: Atlas, view: View, theme: Theme) -> Iterator[str]:
    """Skin, soft edge and soft shapes."""
    placed = BODY_LAYOUT[view]
    outline = smoothed(atlas.figures[view].outline, view)
    yield path(line_data(rings_of(outline), placed, closed=True), fill=theme.skin)
    for band in soft_edge(atlas, view):
        data = line_data(band.rings, placed, closed=True)
        yield path(data, fill=theme.skin_shade, fill_opacity=band.opacity, fill_rule="evenodd")
    for shape in atlas.figures[view].shapes:
        yield path(
            line_data([thinned(shape.ring, view)], placed, closed=True),
            fill=theme.shape_colour(shape.kind),
            fill_opacity=0.35 if shape.kind in ("shadow", "light") else 0.8,
        )


def territories(atlas: Atlas, map_name: MapName, view: View, theme: Theme) -> Iterator[str]:
    """The fills of a map, one titled path for each territory."""
    placed = BODY_LAYOUT[view]
    names = np.array(names_of_cells(atlas, map_name))
    colours = territory_colours(atlas, map_name, theme)
    indices = atlas.cells.in_view(view)
    for name in dict.fromkeys(names[indices].tolist()):
        skin = atlas.skin_of(names == name, view)
        if skin is not None:
            data = line_data(rings_of(smoothed(skin, view)), placed, closed=True)
            yield group(
                [path(data, fill=colours[name], fill_opacity=theme.territory_opacity,
                      fill_rule="evenodd")],
                title=spoken(atlas, map_name, name),
            )  # fmt: skip


def contours(atlas: Atlas, view: View, theme: Theme, map_name: MapName | None) -> Iterator[str]:
    """Inner lines, the borders of a map, and the outline."""
    placed = BODY_LAYOUT[view]
    ribbons = [thinned(ribbon, view) for ribbon in inner_lines(atlas, view)]
    lines = line_data(ribbons, placed, closed=True)
    yield path(lines, fill=theme.inner_line)
    if map_name is not None:
        yield path(
            line_data(territory_borders(atlas, map_name, view), placed),
            fill="none",
            stroke=theme.territory_border,
            stroke_width=BORDER_WIDTH,
            stroke_linejoin="round",
        )
    outline = smoothed(atlas.figures[view].outline, view)
    yield path(
        line_data(rings_of(outline), placed, closed=True),
        fill="none",
        stroke=theme.outline,
        stroke_width=OUTLINE_WIDTH,
        stroke_linejoin="round",
    )


def names(atlas: Atlas, map_name: MapName, view: View, theme: Theme) -> Iterator[str]:
    """The names of a map on its skin; its number in the key where the name does not fit."""
    placed = BODY_LAYOUT[view]
    least, most = NAME_SIZES
    for place in name_places(atlas, map_name, view):
        # A dermatome's name is short and has no key: it is written small rather than numbered.
        whole = map_name == "dermatomes" or place.words.size * placed.scale >= least
        fit = place.words if whole else place.number
        size = min(fit.size * placed.scale, most)
        if size >= NUMBER_LEAST and (place.main or whole):
            yield from words(fit.lines, *placed.to_sheet(fit.x, fit.y), size, theme)


def words(lines: tuple[str, ...], x: float, y: float, size: float, theme: Theme) -> Iterator[str]:
    """Lines of text centred at a place of the sheet."""
    top = y - LINE * size * (len(lines) - 1) / 2 + CAP_HEIGHT * size / 2
    for number, line in enumerate(lines):
        yield text(line, x, top + number * LINE * size, size, theme.territory_text, "middle")


def headings(view: View, theme: Theme) -> Iterator[str]:
    """The title of a view, and RIGHT and LEFT of the patient."""
    placed: Placed = BODY_LAYOUT[view]
    x, y = placed.title_at
    yield text(placed.title, x, y, TITLE_SIZE, theme.text, "middle", bold=True)
    for mark in SIDE_MARKS:
        if mark.view is view:
            yield text(mark.text, *mark.on_sheet, SIDE_SIZE, theme.muted_text, "middle")


def thinned(ring: Floats, view: View) -> Floats:
    """A closed ring (n, 2) with fewer points: no edge moves by more than ``SMOOTH``
    sheet units."""
    line = shapely.simplify(shapely.LineString(ring), SMOOTH / BODY_LAYOUT[view].scale)
    points = shapely.get_coordinates(line)
    return points if len(points) >= 4 else ring
