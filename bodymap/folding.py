"""Skin that lies beyond an edge, folded inwards over it, as paper is wrapped round an edge."""

import numpy as np
import shapely

from bodymap.geometry import Floats, Skin, clean

DENSE = 3.0
"""Beyond the edge, outlines get a point this often before they are folded, view units."""

COARSE = 0.01
"""The edge itself is straightened by at most this before its nearest points are looked for,
view units."""

STRAIGHT = 0.05
"""Folded outlines are straightened by at most this, view units: a tenth of a millimetre."""


class Edge:
    """The edge of an outline, made ready for finding its nearest point. Several threads may
    use the same one."""

    def __init__(self, outline: Skin) -> None:
        self.coarse: Skin = clean(shapely.simplify(outline, COARSE)) or outline
        """The outline with few points, for what is shown and not kept."""
        rings = shapely.get_parts(shapely.boundary(self.coarse))
        points, ring = shapely.get_coordinates(rings, return_index=True)
        inside = ring[1:] == ring[:-1]
        self._starts: Floats = points[:-1][inside]
        self._along: Floats = points[1:][inside] - self._starts
        ends = np.stack([self._starts, self._starts + self._along], axis=1)
        self._tree = shapely.STRtree(shapely.linestrings(ends))

    def nearest(self, points: Floats) -> Floats:
        """For each point (n, 2) the nearest one on the edge (n, 2), view units."""
        which = self._tree.query_nearest(shapely.points(points), all_matches=False)[1]
        starts, along = self._starts[which], self._along[which]
        share = np.sum((points - starts) * along, axis=1) / np.sum(along * along, axis=1)
        found: Floats = starts + np.clip(share, 0.0, 1.0)[:, None] * along
        return found

    def folded(self, outside: Skin) -> Skin | None:
        """Skin that lies outside the outline, folded inwards over the nearest edge.

        Every point is mirrored at the nearest point of the edge; what cannot be folded
        cleanly is mended or left out.
        """
        dense = shapely.segmentize(outside, DENSE)
        points = shapely.get_coordinates(dense)
        # A copy of its own: setting coordinates writes into the shape.
        copy = shapely.from_wkb(shapely.to_wkb(dense))
        mirrored = shapely.set_coordinates(copy, 2 * self.nearest(points) - points)
        return clean(shapely.simplify(clean(mirrored), STRAIGHT))
