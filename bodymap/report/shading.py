"""The soft inner edge that gives the figure roundness.

A few bands along the outline, each between the outline and the outline shrunk by
some depth, laid over each other nearly transparent. A band is given as rings to
be filled by the even-odd rule, so it needs no clipping.
"""

from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import Polygon

from bodymap.atlas import Atlas
from bodymap.geometry import Floats, Skin
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View

DEPTHS = (1.2, 2.6, 4.2, 6.2, 8.6, 11.6, 15.2)
"""How far in from the outline the bands reach, sheet units."""

OPACITIES = (0.17, 0.14, 0.12, 0.10, 0.08, 0.07, 0.055)
"""Of each band; they add up towards the edge."""

SHADE_OVER = 0.7
"""The soft edge once more over the territories, share of its own opacity: their
fills would flatten the figure."""

SMOOTH = 0.05
"""How far a drawn outline may leave the atlas's, sheet units."""


@dataclass(frozen=True)
class Band:
    """Rings (n, 2) in view units, filled by the even-odd rule, and an opacity."""

    rings: tuple[Floats, ...]
    opacity: float


def rings_of(skin: Skin) -> tuple[Floats, ...]:
    """All closed rings (n, 2) of a piece of skin, outer and inner."""
    return tuple(shapely.get_coordinates(r) for r in shapely.get_rings(shapely.get_parts(skin)))


def smoothed(skin: Skin, view: View, tolerance: float = SMOOTH) -> Skin:
    """The same skin with fewer points: none moves, and no border by more than ``tolerance``
    sheet units."""
    result = shapely.simplify(skin, tolerance / BODY_LAYOUT[view].scale)
    return result if isinstance(result, Polygon) or not result.is_empty else skin


def smoothed_ring(ring: Floats, view: View, tolerance: float = SMOOTH) -> Floats:
    """A closed line (n, 2) of a view with fewer points, within ``tolerance`` sheet units."""
    line = shapely.simplify(shapely.linestrings(ring), tolerance / BODY_LAYOUT[view].scale)
    points: Floats = shapely.get_coordinates(line)
    return points


@lru_cache(maxsize=16)
def soft_edge(atlas: Atlas, view: View) -> tuple[Band, ...]:
    """The bands of a view, widest first."""
    scale = BODY_LAYOUT[view].scale
    outline = smoothed(atlas.figures[view].outline, view, 2 * SMOOTH)
    bands = []
    for depth, opacity in zip(DEPTHS, OPACITIES, strict=True):
        shrunk = shapely.buffer(outline, -depth / scale, quad_segs=6)
        inner = () if shrunk.is_empty else rings_of(shapely.simplify(shrunk, 2 * SMOOTH / scale))
        bands.append(Band((*rings_of(outline), *inner), opacity))
    return tuple(reversed(bands))
