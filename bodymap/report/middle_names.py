"""Names that stand once, across the midline, where a band of the trunk is too narrow beside it.

A dermatome of the trunk is a band that bends; it is flat, and so has most room for words, in
the middle.
"""

from functools import lru_cache

import numpy as np
import shapely
from shapely import Polygon

from bodymap.atlas import Atlas
from bodymap.geometry import prepared, union_of_cells
from bodymap.report.borders import names_of_cells
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.lettering import CAP_HEIGHT, text_width
from bodymap.report.names import COARSE, NUMBER_PADDING, Fit
from bodymap.terms import View

SIZES = np.linspace(1.0, 40.0, 79)
"""Sizes of text that are tried, sheet units."""

HEIGHTS = 60
"""So many places along the midline are tried."""


@lru_cache(maxsize=8)
def middle_names(atlas: Atlas, view: View) -> dict[str, Fit]:
    """For each dermatome whose skin crosses the midline of a view, its name centred there, as
    large as its skin allows. View units."""
    if view not in (View.FRONT, View.BACK):
        return {}
    names = np.array(names_of_cells(atlas, "dermatomes"))
    indices = atlas.cells.in_view(view)
    found = {}
    for name in dict.fromkeys(names[indices].tolist()):
        skin = union_of_cells(atlas.cells.polygons[indices[names[indices] == name]])
        fits = [_fit(piece, name, view) for piece in shapely.get_parts(skin).tolist()]
        best = max(fits, key=lambda fit: fit.size)
        if best.size > 0:
            found[name] = best
    return found


def _fit(piece: Polygon, name: str, view: View) -> Fit:
    scale = BODY_LAYOUT[view].scale
    shape = prepared(shapely.simplify(piece, COARSE / scale))
    left, low, right, high = shape.bounds
    if left >= 0 or right <= 0:
        return Fit((name,), 0.0, 0.0, 0.0)
    ys, sizes = np.meshgrid(np.linspace(low, high, HEIGHTS), SIZES / scale)
    half_w = sizes * (text_width(name, 1.0) + 2 * NUMBER_PADDING) / 2
    half_h = sizes * (CAP_HEIGHT + NUMBER_PADDING) / 2
    inside = shapely.contains(shape, shapely.box(-half_w, ys - half_h, half_w, ys + half_h))
    if not inside.any():
        return Fit((name,), 0.0, 0.0, 0.0)
    # Of all places that hold the largest size, the middle one.
    row = int(np.flatnonzero(inside.any(axis=1)).max())
    columns = np.flatnonzero(inside[row])
    column = int(columns[len(columns) // 2])
    return Fit((name,), 0.0, float(ys[row, column]), float(sizes[row, column]))
