"""One view of the body as SVG: skin, territories, lines, outline, names.

Order of drawing, from below: skin, soft edge, shapes, territories and the soft edge
again, inner lines, borders, outline, names. Marks (findings, remainders) are put in by the caller
between the territories and the lines. Geometry is placed on the sheet of ``layout``.
"""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.geometry import Floats, Skin
from bodymap.language import tr
from bodymap.report.appearance import BORDER_WIDTH, OUTLINE_WIDTH, Theme
from bodymap.report.borders import names_of_cells, territory_borders
from bodymap.report.call_outs import Label
from bodymap.report.labels import labels
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, SIDE_SIZE, TITLE_SIZE, Placed
from bodymap.report.lettering import CAP_HEIGHT, LINE
from bodymap.report.names import spoken
from bodymap.report.shading import SHADE_OVER, SMOOTH, rings_of, smoothed, soft_edge
from bodymap.report.strokes import inner_lines
from bodymap.report.svg import element, group, line_data, path, text
from bodymap.report.territory_colours import territory_colours
from bodymap.terms import MapName, View

DASHES: tuple[str | None, ...] = (None, "7 3", "1.5 2.5")
"""Borders of the first map, the second and the third."""


def ground(atlas: Atlas, view: View, theme: Theme) -> Iterator[str]:
    """Skin, soft edge and soft shapes."""
    placed = BODY_LAYOUT[view]
    outline = smoothed(atlas.figures[view].outline, view)
    yield path(line_data(rings_of(outline), placed, closed=True), fill=theme.skin)
    yield from _shade(atlas, view, theme, 1.0)
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

    yield from _shade(atlas, view, theme, SHADE_OVER)


def _shade(atlas: Atlas, view: View, theme: Theme, share: float) -> Iterator[str]:
    for band in soft_edge(atlas, view):
        yield path(
            line_data(band.rings, BODY_LAYOUT[view], closed=True),
            fill=theme.skin_shade,
            fill_opacity=band.opacity * share,
            fill_rule="evenodd",
        )


def contours(atlas: Atlas, view: View, theme: Theme, maps: Sequence[MapName]) -> Iterator[str]:
    """Inner lines, the borders of the maps (each further one in its own dashes), and the
    outline."""
    placed = BODY_LAYOUT[view]
    ribbons = [thinned(ribbon, view) for ribbon in inner_lines(atlas, view)]
    lines = line_data(ribbons, placed, closed=True)
    yield path(lines, fill=theme.inner_line)
    for map_name, dashes in zip(maps, DASHES, strict=False):
        yield path(
            line_data(territory_borders(atlas, map_name, view), placed),
            class_=f"borders-{map_name}",
            fill="none",
            stroke=theme.territory_border if dashes is None else theme.text,
            stroke_width=BORDER_WIDTH if dashes is None else 1.5 * BORDER_WIDTH,
            stroke_linejoin="round",
            stroke_dasharray=dashes,
        )
    outline = smoothed(atlas.figures[view].outline, view)
    yield path(
        line_data(rings_of(outline), placed, closed=True),
        fill="none",
        stroke=theme.outline,
        stroke_width=OUTLINE_WIDTH,
        stroke_linejoin="round",
    )


def names(
    atlas: Atlas, map_name: MapName, view: View, theme: Theme, marked: Sequence[Skin]
) -> Iterator[str]:
    """The names of a map on its skin, its numbers, and the lines of call-outs.

    Names that stand on ``marked`` skin (view units) get a light edge.
    """
    placed = BODY_LAYOUT[view]
    for label in labels(atlas, map_name)[view]:
        if label.points_at is not None:
            x, y = label.points_at
            end_x, end_y = label.foot_of_line()
            colour = theme.territory_text
            yield element("line", x1=x, y1=y, x2=end_x, y2=end_y, stroke=colour, stroke_width=0.6)
            yield element("circle", cx=x, cy=y, r=1.1, fill=colour)
            yield from words(label, theme.text)
            continue
        box = label.box.bounds
        corners = [placed.to_view(*corner) for corner in (box[:2], box[2:])]
        ground = shapely.box(*corners[0], *corners[1])
        on_mark = any(skin.intersects(ground) for skin in marked)
        yield from words(label, theme.territory_text, theme.halo if on_mark else None)


def words(label: Label, colour: str, edge: str | None = None) -> Iterator[str]:
    """Lines of text centred at a place of the sheet, with an edge around the letters or not."""
    size = label.size
    top = label.y - LINE * size * (len(label.lines) - 1) / 2 + CAP_HEIGHT * size / 2
    for number, line in enumerate(label.lines):
        row = top + number * LINE * size
        if edge is not None:
            yield text(
                line, label.x, row, size, edge, "middle",
                stroke=edge, stroke_width=0.26 * size, stroke_linejoin="round",
                stroke_opacity=0.85,
            )  # fmt: skip
        yield text(line, label.x, row, size, colour, "middle")


def headings(view: View, theme: Theme) -> Iterator[str]:
    """The title of a view, and RIGHT and LEFT of the patient."""
    placed: Placed = BODY_LAYOUT[view]
    x, y = placed.title_at
    yield text(tr(placed.title), x, y, TITLE_SIZE, theme.text, "middle", bold=True)
    for mark in SIDE_MARKS:
        if mark.view is view:
            yield text(mark.text, *mark.on_sheet, SIDE_SIZE, theme.muted_text, "middle")


def thinned(ring: Floats, view: View) -> Floats:
    """A closed ring (n, 2) with fewer points: no edge moves by more than ``SMOOTH``
    sheet units."""
    line = shapely.simplify(shapely.LineString(ring), SMOOTH / BODY_LAYOUT[view].scale)
    points = shapely.get_coordinates(line)
    return points if len(points) >= 4 else ring
