"""Cut an outline into the named faces of one map.

Because borders cut the outline, gaps and overlaps cannot exist; what can be wrong
is a name, and that is refused with its place.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Point, Polygon

from bodymap.atlas.drawing_file import DrawnView
from bodymap.errors import AssetError
from bodymap.geometry import faces_of
from bodymap.terms import MapName


@dataclass(frozen=True)
class Face:
    """A connected piece of one territory in one view."""

    name: str
    polygon: Polygon


def named_faces(
    view: DrawnView, map_name: MapName, edges: Sequence[LineString], known: Collection[str]
) -> list[Face]:
    """The faces of a map from its noded edges, each with the name written in it.

    Raises AssetError for a face without a label, two labels in a face, a label
    outside the outline and a name that the tables do not know.
    """
    polygons = faces_of(view.outline, edges)
    tree = shapely.STRtree(polygons)
    names: dict[int, str] = {}
    for label in view.labels[map_name]:
        place = f"{view.name}.svg, map {map_name}, label '{label.name}' at {_where(*label.at)}"
        if label.name not in known:
            raise AssetError(f"{place}: unknown name; use one of the fact tables.")
        hits = tree.query(Point(label.at), predicate="within").tolist()
        if not hits:
            raise AssetError(f"{place}: lies outside the outline or on a border; move it.")
        if hits[0] in names:
            raise AssetError(f"{place}: its face is already '{names[hits[0]]}'; draw a border.")
        names[hits[0]] = label.name
    for index, polygon in enumerate(polygons):
        if index not in names:
            at = polygon.representative_point()
            raise AssetError(
                f"{view.name}.svg, map {map_name}: the face at {_where(at.x, at.y)} "
                f"(area {polygon.area:.2f}) has no label; add one or remove a border."
            )
    return [Face(names[i], polygon) for i, polygon in enumerate(polygons)]


def _where(x: float, y: float) -> str:
    return f"x {x:.1f}, y {y:.1f}"
