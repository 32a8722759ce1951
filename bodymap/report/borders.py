"""Borders of the territories of a map as lines, each drawn once, and who touches whom.

Cells share their edges to the last bit, so a border needs no geometry: an edge
whose two cells have different names is border, an edge with one cell is outline.
Left and right skin of one name has no border between (the midline).
"""

from collections import defaultdict
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import shapely

from bodymap.atlas import Atlas
from bodymap.geometry import Floats
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import DERMATOMES, MapName, View

SMOOTH = 0.03
"""How far a drawn line may leave the atlas's curve, sheet units: a fraction of a hair."""


def names_of_cells(atlas: Atlas, map_name: MapName) -> tuple[str, ...]:
    """The name that each cell has in a map: dermatome, nerve branch or (whole) region."""
    cells = atlas.cells
    if map_name == "dermatomes":
        return tuple(DERMATOMES[i] for i in cells.dermatome.tolist())
    if map_name == "nerves":
        return tuple(cells.nerve_names[i] for i in cells.nerve.tolist())
    wholes = [atlas.facts.parts[r].whole for r in cells.region_names]
    return tuple(wholes[i] for i in cells.region.tolist())


@lru_cache(maxsize=24)
def territory_borders(atlas: Atlas, map_name: MapName, view: View) -> tuple[Floats, ...]:
    """The borders of a map in a view: polylines (n, 2) in view units."""
    ends, first, second = _edges(atlas, view)
    names = np.array(names_of_cells(atlas, map_name))
    border = (second >= 0) & (names[first] != names[second])
    if not border.any():
        return ()
    lines = shapely.multilinestrings(shapely.linestrings(ends[border].reshape(-1, 2, 2)))
    merged = shapely.get_parts(shapely.line_merge(lines))
    smooth = SMOOTH / _unit(view)
    return tuple(shapely.get_coordinates(line) for line in shapely.simplify(merged, smooth))


@lru_cache(maxsize=8)
def neighbours(atlas: Atlas, map_name: MapName) -> dict[str, dict[str, float]]:
    """The names that share a border with each name, and its length in sheet units."""
    names = names_of_cells(atlas, map_name)
    found: dict[str, dict[str, float]] = {n: defaultdict(float) for n in dict.fromkeys(names)}
    for view in View:
        ends, first, second = _edges(atlas, view)
        length = np.hypot(*(ends[:, 1] - ends[:, 0]).T) * _unit(view)
        pairs: dict[tuple[int, int], float] = defaultdict(float)
        keep = second >= 0
        for a, b, long in zip(
            first[keep].tolist(), second[keep].tolist(), length[keep].tolist(), strict=True
        ):
            pairs[a, b] += long
        for (a, b), long in pairs.items():
            if names[a] != names[b]:
                found[names[a]][names[b]] += long
                found[names[b]][names[a]] += long
    return {name: dict(sorted(others.items())) for name, others in found.items()}


@lru_cache(maxsize=8)
def _edges(atlas: Atlas, view: View) -> tuple[Floats, npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Every edge of a view once: ends (n, 2, 2), its cell, and the cell beyond or -1."""
    indices = atlas.cells.in_view(view)
    points, owner = shapely.get_coordinates(
        shapely.get_rings(atlas.cells.polygons[indices]), return_index=True
    )
    ring_cell = shapely.get_rings(atlas.cells.polygons[indices], return_index=True)[1]
    joined = owner[1:] == owner[:-1]
    start, end = points[:-1][joined], points[1:][joined]
    cell = indices[ring_cell[owner[:-1][joined]]]
    swap = (start[:, 0] > end[:, 0]) | ((start[:, 0] == end[:, 0]) & (start[:, 1] > end[:, 1]))
    low = np.where(swap[:, None], end, start)
    high = np.where(swap[:, None], start, end)
    keys = np.hstack([low, high]) + 0.0  # makes -0.0 and 0.0 one
    order = np.lexsort(keys.T)
    keys, cell = keys[order], cell[order]
    new = np.ones(len(keys), dtype=bool)
    new[1:] = np.any(keys[1:] != keys[:-1], axis=1)
    at = np.flatnonzero(new)
    count = np.diff(np.append(at, len(keys)))
    second = np.where(count > 1, cell[np.minimum(at + 1, len(cell) - 1)], -1)
    return keys[at].reshape(-1, 2, 2), cell[at], second


def _unit(view: View) -> float:
    return BODY_LAYOUT[view].scale
