"""The partition: all borders of all maps laid over each other cut the skin into cells.

A cell has one dermatome, one nerve branch and one named region, and an area.
Territories are unions of cells, so every question about areas is arithmetic on
one vector of painted cell areas.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from bodymap.atlas.body_surface import BODY_SURFACE_CM2, cm2_per_unit, read_shares
from bodymap.atlas.drawing_file import DrawnView
from bodymap.atlas.faces import Face, named_faces
from bodymap.atlas.facts import Facts
from bodymap.atlas.figure import PLACEMENTS
from bodymap.errors import AssetError
from bodymap.geometry import Floats, areas, noded, overlay
from bodymap.terms import DERMATOMES, MAP_NAMES, MapName, Side, View

VIEWS = tuple(View)
Indices = npt.NDArray[np.int16]


@dataclass(frozen=True, eq=False)
class Cells:
    """All cells of both sides. Every array has one entry for each cell.

    ``view`` indexes tuple(View); ``dermatome`` indexes ``terms.DERMATOMES``;
    ``nerve`` and ``region`` index ``nerve_names`` and ``region_names`` (parts of
    divided regions). ``cm2_per_unit`` turns square view units into cm² of skin.
    ``twin`` is the index of the mirrored cell on the other side.
    """

    polygons: npt.NDArray[np.object_]
    view: Indices
    left: npt.NDArray[np.bool_]
    dermatome: Indices
    nerve: Indices
    region: Indices
    cm2_per_unit: Floats
    twin: npt.NDArray[np.int64]
    nerve_names: tuple[str, ...]
    region_names: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.polygons)

    @cached_property
    def area_units(self) -> Floats:
        """Drawn area, square view units."""
        return areas(self.polygons)

    @cached_property
    def area_cm2(self) -> Floats:
        """Area of skin, cm²."""
        return self.area_units * self.cm2_per_unit

    @cached_property
    def percent_of_body(self) -> Floats:
        """Area of skin, percent of body surface."""
        return self.area_cm2 / BODY_SURFACE_CM2 * 100

    def in_view(self, view: View) -> npt.NDArray[np.int64]:
        """Indices of the cells of a view."""
        return np.flatnonzero(self.view == VIEWS.index(view))

    def on_side(self, side: Side) -> npt.NDArray[np.bool_]:
        """Which cells lie on a side of the patient."""
        if side is Side.BOTH:
            return np.ones(len(self), dtype=bool)
        return self.left if side is Side.LEFT else ~self.left


def build_cells(drawn: dict[str, DrawnView], facts: Facts) -> Cells:
    """Overlay the three maps of every authored view and place both sides.

    Raises AssetError where a map is wrong (see ``faces``).
    """
    nerve_names, region_names = facts.cutaneous, tuple(facts.parts)
    halves = {name: _half_cells(view, facts) for name, view in drawn.items()}
    part_of = {i: facts.body_parts[facts.parts[r].whole] for i, r in enumerate(region_names)}
    polygons: list[object] = []
    columns: list[tuple[int, bool, int, int, int]] = []
    start: dict[tuple[str, Side], int] = {}
    for place in PLACEMENTS:
        start[place.authored, place.side] = len(polygons)
        for polygon, dermatome, nerve, region in halves[place.authored]:
            polygons.append(place.skin(polygon))
            columns.append(
                (VIEWS.index(place.view), place.side is Side.LEFT, dermatome, nerve, region)
            )
    array = np.empty(len(polygons), dtype=object)
    array[:] = polygons
    view, left, dermatomes, nerves, regions = (np.array(c) for c in zip(*columns, strict=True))
    area = areas(array)
    totals: dict[tuple[str, View], float] = {}
    keys = [(part_of[int(r)], VIEWS[int(v)]) for r, v in zip(regions, view, strict=True)]
    for key, value in zip(keys, area, strict=True):
        totals[key] = totals.get(key, 0.0) + float(value)
    factor = cm2_per_unit(read_shares(facts.folder), totals)
    twin = np.empty(len(array), dtype=np.int64)
    for (name, side), first in start.items():
        span = np.arange(len(halves[name]))
        twin[first + span] = start[name, side.opposite] + span
    return Cells(
        array,
        view.astype(np.int16),
        left.astype(bool),
        dermatomes.astype(np.int16),
        nerves.astype(np.int16),
        regions.astype(np.int16),
        np.array([factor[k] for k in keys]),
        twin,
        nerve_names,
        region_names,
    )


def _half_cells(view: DrawnView, facts: Facts) -> list[tuple[shapely.Polygon, int, int, int]]:
    order: dict[MapName, tuple[str, ...]] = {
        "dermatomes": DERMATOMES,
        "nerves": facts.cutaneous,
        "regions": tuple(facts.parts),
    }
    edges = noded(view.outline, view.borders)
    faces = {m: named_faces(view, m, edges[m], order[m]) for m in MAP_NAMES}
    polygons = overlay([[f.polygon for f in faces[m]] for m in MAP_NAMES])
    points = [p.representative_point() for p in polygons]
    names = [_names_at(points, faces[m], order[m], view.name) for m in MAP_NAMES]
    return list(zip(polygons, *names, strict=True))


def _names_at(
    points: list[shapely.Point], faces: list[Face], order: tuple[str, ...], view: str
) -> list[int]:
    tree = shapely.STRtree([f.polygon for f in faces])
    which, hits = tree.query(points, predicate="within")
    if len(which) != len(points):
        raise AssetError(f"{view}.svg: a cell lies in no face or in two; redraw the borders there.")
    found = dict(zip(which.tolist(), hits.tolist(), strict=True))
    return [order.index(faces[found[i]].name) for i in range(len(points))]
