"""Inner contour lines as tapered ribbons: full weight in the middle, thin at the ends.

A ribbon is a filled polygon, so that every renderer draws it alike.
"""

from functools import lru_cache

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.figure import Stroke
from bodymap.geometry import Floats
from bodymap.terms import View

TAPER = 0.38
"""Share of a line, at each end, over which its width grows."""

THIN = 0.22
"""Width at the very ends, share of the weight."""

STEP = 1.2
"""Longest distance of points along a ribbon, in weights."""

CLOSED = 1e-3
"""A line whose ends are this near, in weights, is closed and does not taper."""


def tapered(points: Floats, weight: float) -> Floats:
    """The outline (m, 2) of a line drawn with a pen that swells and fades.

    ``points`` (n, 2) and ``weight`` (the largest width) in view units.
    """
    line = _even(points, STEP * weight)
    closed = bool(np.hypot(*(points[0] - points[-1])) <= CLOSED * weight) and len(points) > 3
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    share = along / max(float(along[-1]), 1e-12)
    rise = np.clip(np.minimum(share, 1 - share) / TAPER, 0.0, 1.0)
    swell = np.ones_like(rise) if closed else THIN + (1 - THIN) * np.sin(rise * np.pi / 2)
    tangent = np.gradient(line, axis=0)
    if closed:
        tangent[0] = tangent[-1] = line[1] - line[-2]
    tangent /= np.maximum(np.hypot(*tangent.T), 1e-12)[:, None]
    normal = np.column_stack([-tangent[:, 1], tangent[:, 0]])
    offset = normal * (swell * weight / 2)[:, None]
    return np.concatenate([line + offset, (line - offset)[::-1]])


def _even(points: Floats, step: float) -> Floats:
    """The line through points, with points at even distances of at most ``step``."""
    length = np.hypot(*np.diff(points, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(length)])
    count = max(4, int(np.ceil(along[-1] / step)) + 1)
    at = np.linspace(0.0, along[-1], count)
    return np.column_stack([np.interp(at, along, points[:, i]) for i in (0, 1)])


@lru_cache(maxsize=16)
def inner_lines(atlas: Atlas, view: View) -> tuple[Floats, ...]:
    """The ribbons of all inner lines of a view."""
    return tuple(_ribbon(line) for line in atlas.figures[view].lines)


def _ribbon(line: Stroke) -> Floats:
    return tapered(line.points, line.weight)
