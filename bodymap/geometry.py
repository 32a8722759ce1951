"""The only module that performs set operations on skin.

Everything here takes and returns clean areal geometry: a shapely Polygon or
MultiPolygon that is valid, or None where nothing is left. Lines and points that
fall out of an operation (two boxes that share an edge) are dropped, a
self-crossing outline is mended by the even-odd rule before it is used, and each
operation is held against the area it must have, because floating-point overlay
has, rarely, returned a plausible but wrong shape.

Coordinates are those of a view (see ``terms.View``); areas are square view units.
"""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import Any, TypeAlias, TypeVar

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, MultiPolygon, Point, Polygon
from shapely.affinity import affine_transform
from shapely.ops import polygonize

Skin: TypeAlias = Polygon | MultiPolygon
"""A piece of skin: valid, not empty."""

K = TypeVar("K", bound=Hashable)

Floats = npt.NDArray[np.float64]

AREA_TOLERANCE = 1e-7
"""Largest accepted contradiction between areas before and after an operation,
square view units (relative above 1). Rounding gives about 1e-11."""

LATTICE = 1e-4
"""Spacing of the lattice an operation falls back to, view units: 0.2 micrometres
of real skin, far below any border."""

_ON_CURVE = 1e-6
"""An edge whose middle is this near a curve is part of it, view units."""

_DUST = 1e-9
"""Pieces smaller than this, square units, are rounding and not skin."""


def clean(geometry: Any) -> Skin | None:
    """The areal part of any geometry, valid; None if no skin is left."""
    if geometry is None or geometry.is_empty:
        return None
    if not geometry.is_valid:
        geometry = shapely.make_valid(geometry)
    if geometry.geom_type not in ("Polygon", "MultiPolygon"):
        parts = [g for g in shapely.get_parts(geometry) if g.geom_type.endswith("Polygon")]
        geometry = shapely.union_all(parts) if parts else Polygon()
    if geometry.geom_type == "MultiPolygon":
        kept = [g for g in geometry.geoms if g.area > _DUST]
        geometry = kept[0] if len(kept) == 1 else MultiPolygon(kept)
    if geometry.area <= _DUST:
        return None
    return geometry


def united(a: Skin | None, b: Skin | None) -> Skin | None:
    """Skin in a or in b."""
    if a is None or b is None:
        return a if b is None else b
    result = clean(shapely.union(a, b))
    low, high = max(a.area, b.area), a.area + b.area
    if not _between(low, _area(result), high):
        result = clean(shapely.union(a, b, grid_size=LATTICE))
    return result


def common(a: Skin | None, b: Skin | None) -> Skin | None:
    """Skin in both a and b."""
    if a is None or b is None:
        return None
    result = clean(shapely.intersection(a, b))
    if not _between(0.0, _area(result), min(a.area, b.area)):
        result = clean(shapely.intersection(a, b, grid_size=LATTICE))
    return result


def without(a: Skin | None, b: Skin | None) -> Skin | None:
    """Skin in a that is not in b."""
    if a is None or b is None:
        return a
    result = clean(shapely.difference(a, b))
    if not _between(a.area - b.area, _area(result), a.area):
        result = clean(shapely.difference(a, b, grid_size=LATTICE))
    return result


def union_of(pieces: Iterable[Skin | None]) -> Skin | None:
    """Skin in any of the pieces."""
    present = [p for p in pieces if p is not None]
    if len(present) == 1:
        return present[0]
    return clean(shapely.union_all(present)) if present else None


def union_of_cells(cells: Sequence[Skin] | npt.NDArray[np.object_]) -> Skin | None:
    """Union of pieces that share borders exactly and never overlap (fast)."""
    if len(cells) == 0:
        return None
    try:
        return clean(shapely.coverage_union_all(cells))
    except shapely.GEOSException:
        return clean(shapely.union_all(cells))


def outline_of(ring: Sequence[tuple[float, float]] | Floats) -> Skin | None:
    """The area inside a closed line drawn by hand; crossings follow the even-odd rule."""
    points = np.asarray(ring, dtype=np.float64)
    if len(points) < 3:
        return None
    return clean(Polygon(points))


def stroke(points: Sequence[tuple[float, float]] | Floats, radius: float) -> Skin | None:
    """What a round brush of ``radius`` covers along ``points``.

    Points are first put on the lattice so that equal gestures give equal skin.
    """
    track = np.round(np.asarray(points, dtype=np.float64) / LATTICE) * LATTICE
    if len(track) == 0 or radius <= 0:
        return None
    path = Point(track[0]) if len(track) == 1 else LineString(track)
    return clean(path.buffer(radius, quad_segs=8))


def mirrored(skin: Skin) -> Skin:
    """The same skin reflected at x = 0."""
    return affine_transform(skin, [-1, 0, 0, 1, 0, 0])


def moved(skin: Skin, dx: float, dy: float) -> Skin:
    """The same skin shifted by dx, dy."""
    return affine_transform(skin, [1, 0, 0, 1, dx, dy])


def half(skin: Skin | None, positive: bool) -> Skin | None:
    """The part of the skin at x > 0 (or x < 0)."""
    if skin is None:
        return None
    x0, y0, x1, y1 = skin.bounds
    if (x0 >= 0) if positive else (x1 <= 0):
        return skin
    if (x1 <= 0) if positive else (x0 >= 0):
        return None
    box = shapely.box(0, y0 - 1, x1 + 1, y1 + 1) if positive else shapely.box(
        x0 - 1, y0 - 1, 0, y1 + 1
    )  # fmt: skip
    return common(skin, box)


def enclosed(points: Sequence[tuple[float, float]]) -> Skin | None:
    """What a closed line around some points encloses; loops and crossings count as inside.

    None for fewer than three points, or points on one line.
    """
    if len(points) < 3:
        return None
    ring = shapely.LinearRing(points) if len(set(points)) >= 3 else None
    if ring is None:
        return None
    faces = list(polygonize(shapely.get_parts(shapely.union_all([ring]))))
    return union_of(clean(f) for f in faces)


def smoothed(skin: Skin, radius: float) -> Skin | None:
    """Skin without notches and spikes narrower than about twice a radius (view units)."""
    filled = shapely.buffer(shapely.buffer(skin, radius), -radius)
    return clean(shapely.buffer(shapely.buffer(filled, -radius), radius))


def frame(low: float, high: float) -> Skin:
    """All of a view between two heights, view units."""
    return shapely.box(-1e4, low, 1e4, high)


def framed(shape: Skin, skin: Skin) -> Skin | None:
    """The part of a large shape in a frame around some skin, for quick set operations."""
    return clean(_near(shape, skin.bounds, 1.0))


def _near(shapes: Any, bounds: tuple[float, float, float, float], reach: float) -> Any:
    """What of some shapes lies in a box, widened by a reach; the shapes themselves where the
    quick cut fails, as it does, rarely, on a ring that it cuts down to a point."""
    x0, y0, x1, y1 = bounds
    try:
        return shapely.clip_by_rect(shapes, x0 - reach, y0 - reach, x1 + reach, y1 + reach)
    except shapely.GEOSException:
        return shapes


def piece_at(skin: Skin | None, x: float, y: float) -> Skin | None:
    """The connected piece of some skin at a place, or None."""
    if skin is None:
        return None
    point = shapely.Point(x, y)
    return next((p for p in shapely.get_parts(skin) if p.covers(point)), None)


def pieces_beside(skin: Skin | None, others: Iterable[Skin], reach: float) -> Skin | None:
    """The connected pieces of some skin that come within a reach of any of the others."""
    if skin is None:
        return None
    # Only what lies near is looked at, which is little of a long stroke.
    near = _near(np.array(list(others)), skin.bounds, reach)
    near = near[~shapely.is_empty(near)]
    pieces = shapely.get_parts(skin)
    beside = shapely.dwithin(pieces[:, None], near[None, :], reach).any(axis=1)
    return skin if beside.all() else union_of(pieces[beside])


def noded(outline: Skin, maps: Mapping[K, Sequence[LineString]]) -> dict[K, list[LineString]]:
    """The edges of several maps of one outline, cut at every crossing of any of them.

    Cutting all maps together gives a curve that two maps share the same points in
    both, to the last bit; cut one by one they would differ by rounding. The edges
    of the outline belong to every map.
    """
    rings = list(shapely.get_parts(shapely.boundary(outline)))
    curves = rings + [line for lines in maps.values() for line in lines]
    owners: list[K | None] = [None] * len(rings)
    owners += [name for name, lines in maps.items() for _ in lines]
    edges = shapely.get_parts(shapely.union_all(curves))
    middles = shapely.line_interpolate_point(edges, 0.5, normalized=True)
    # Straight pieces, not whole curves: distances to two points are quick to tell.
    points, of_curve = shapely.get_coordinates(np.array(curves), return_index=True)
    inside = of_curve[1:] == of_curve[:-1]
    pieces = shapely.linestrings(np.stack([points[:-1], points[1:]], axis=1)[inside])
    which, hits = shapely.STRtree(pieces).query(middles, "dwithin", distance=_ON_CURVE)
    found: dict[K, dict[int, LineString]] = {name: {} for name in maps}
    for edge, curve in zip(which.tolist(), of_curve[1:][inside][hits].tolist(), strict=True):
        owner = owners[curve]
        for name in maps if owner is None else (owner,):
            found[name][edge] = edges[edge]
    return {name: list(lines.values()) for name, lines in found.items()}


def prepared(shape: Any) -> Any:
    """A copy made ready for many tests of containment, for the caller alone.

    Preparing writes into a shape, and a prepared one serves one thread only: two threads
    that test against the same one crash. Shapes are shared everywhere, so none but such
    a copy is ever prepared.
    """
    copy = shapely.force_2d(shape)
    shapely.prepare(copy)
    return copy


def faces_of(outline: Skin, edges: Sequence[LineString]) -> list[Polygon]:
    """The faces into which noded edges cut an outline.

    Dangling ends fall away. The faces tile the outline without gap or overlap.
    """
    within = prepared(outline)
    return [f for f in polygonize(edges) if within.contains(f.representative_point())]


def overlay(tilings: Sequence[Sequence[Polygon]]) -> list[Polygon]:
    """The common refinement of several tilings of one outline."""
    lines = shapely.union_all([shapely.boundary(f) for tiling in tilings for f in tiling])
    cells = list(polygonize(shapely.get_parts(lines)))
    faces = shapely.STRtree(list(tilings[0]))
    points = [c.representative_point() for c in cells]
    covered = set(faces.query(points, predicate="intersects")[0].tolist())
    return [c for i, c in enumerate(cells) if i in covered]


def areas(shapes: Any) -> Floats:
    """Areas of an array of geometries, square units."""
    return np.asarray(shapely.area(shapes), dtype=np.float64)


def shared_areas(skin: Skin, others: npt.NDArray[np.object_]) -> Floats:
    """Area that ``skin`` shares with each of ``others``, square units.

    The others are first cut to a frame around the skin, which changes no shared area
    but spares the overlay thousands of far vertices when the skin is small.
    """
    try:
        return areas(shapely.intersection(_near(others, skin.bounds, 1.0), skin))
    except shapely.GEOSException:  # the quick cut may leave a shape that is not valid
        return areas(shapely.intersection(others, skin))


def _area(skin: Skin | None) -> float:
    return 0.0 if skin is None else float(skin.area)


def _between(low: float, value: float, high: float) -> bool:
    slack = AREA_TOLERANCE * max(1.0, high) + _DUST
    return low - slack <= value <= high + slack
