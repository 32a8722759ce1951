"""Free-hand skin in a case file: GeoJSON geometry to skin on a side, and back.

Areas are in the units of their view. Sides are the patient's: in a view that shows
both, the midline x = 0 divides them (see ``atlas.figure``). Skin outside the
outline of the body is dropped without a word, because a brush runs over the edge.
"""

from collections.abc import Iterator
from typing import Any

import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.polygon import orient

from bodymap.atlas.figure import positive_side, sides_of
from bodymap.faults import fault
from bodymap.findings.case_form import AreaForm, MultiPolygonForm
from bodymap.findings.drawing import mirrored_view
from bodymap.geometry import Skin, clean, common, half, mirrored, union_of, united
from bodymap.language import later, tr
from bodymap.terms import Side, View

NO_SHARE = 1e-6
"""An area lies on a side if a larger share of it does than rounding would leave there."""

NO_AREA = 1e-9
"""Square view units: less is a line or a point."""

ROUNDING = 1e-12
"""A cut at the midline may miss it by this much, view units."""

INVALID = {
    "Self-intersection": later("the ring crosses or touches itself"),
    "Ring Self-intersection": later("the ring crosses or touches itself"),
    "Hole lies outside shell": later("a hole lies outside its ring"),
    "Holes are nested": later("a hole lies inside another hole"),
    "Interior is disconnected": later("the holes cut the area in two"),
    "Duplicate Rings": later("a ring stands twice"),
}
"""What shapely says of an area that is none, and the words for it."""

UNCLEAR = later("the rings enclose no clear area")
NO_SKIN = later("the area encloses no skin; draw it larger")


def skin_of_area(
    area: AreaForm, side: Side, outline: dict[View, Skin], name: str, path: str
) -> dict[View, Skin]:
    """The skin that an area names, by view; empty if it lies outside the outline.

    | side | the area lies | skin |
    | --- | --- | --- |
    | left or right | on that side | the area |
    | left or right | on both sides | its part on that side |
    | left or right | wholly on the other side | CaseError |
    | both | on one side | the area and its mirror image on the other side |
    | both | on both sides | the area as drawn |

    ``name`` and ``path`` say where the area stands, for the sentence of a CaseError.
    """
    view = area.view
    whole = shape_of(area, name, f"{path}.polygon")
    inside = common(whole, outline[view])
    if side is Side.BOTH:
        return {} if inside is None else _on_both(inside, view)
    kept = on_side(inside, view, side)
    if not _real(on_side(whole, view, side), whole) or (
        inside is not None and not _real(kept, inside)
    ):
        fault(name, f"{path}.polygon", _other_side(side))
    return {} if kept is None else {view: kept}


def shape_of(area: AreaForm, name: str, path: str) -> Skin:
    """The area as it is drawn, checked.

    Raises CaseError for a ring that is not closed, crosses itself or encloses nothing.
    """
    polygon = area.polygon
    if isinstance(polygon, MultiPolygonForm):
        parts = [(p, f"{path}.coordinates[{n}]") for n, p in enumerate(polygon.coordinates)]
    else:
        parts = [(polygon.coordinates, f"{path}.coordinates")]
    skin = union_of(_polygon(rings, name, place) for rings, place in parts)
    if skin is None:
        fault(name, path, tr(NO_SKIN))
    return skin


def geojson(skin: Skin) -> dict[str, Any]:
    """Skin as GeoJSON geometry: outer rings anticlockwise (RFC 7946, section 3.1.6)."""
    parts = [_exact(part) for part in shapely.get_parts(skin).tolist()]
    if len(parts) == 1:
        return {"type": "Polygon", "coordinates": parts[0]}
    return {"type": "MultiPolygon", "coordinates": parts}


def on_side(skin: Skin | None, view: View, side: Side) -> Skin | None:
    """The part of the skin of a view that lies on a side of the patient."""
    shows = sides_of(view)
    if len(shows) == 1:
        return skin if side in shows else None
    return half(skin, positive_side(view) is side)


def halves(skin: Skin, view: View) -> Iterator[tuple[Side, Skin]]:
    """The skin of a view on each side, cut at the midline, without rounding dust."""
    for side in (Side.LEFT, Side.RIGHT):
        part = _settled(on_side(skin, view, side))
        if part is not None:
            yield side, part


def _on_both(inside: Skin, view: View) -> dict[View, Skin]:
    if len(sides_of(view)) == 1:
        return {view: inside, mirrored_view(view): mirrored(inside)}
    if all(_real(on_side(inside, view, s), inside) for s in (Side.LEFT, Side.RIGHT)):
        return {view: inside}
    both = united(inside, mirrored(inside))
    assert both is not None
    return {view: both}


def _real(part: Skin | None, whole: Skin) -> bool:
    return part is not None and part.area > NO_SHARE * whole.area


def _polygon(rings: list[list[tuple[float, float]]], name: str, path: str) -> Skin | None:
    for number, ring in enumerate(rings):
        if ring[0] != ring[-1]:
            mend = tr("the ring is not closed; repeat its first position last")
            fault(name, f"{path}[{number}]", mend)
    polygon = Polygon(rings[0], rings[1:])
    if shapely.convex_hull(polygon).area <= NO_AREA:
        fault(name, path, tr(NO_SKIN))
    if not shapely.is_valid(polygon):
        fault(name, path, _invalid(polygon))
    return clean(polygon)


def _invalid(polygon: Polygon) -> str:
    """Why rings are no area, and where."""
    reason, _, place = shapely.is_valid_reason(polygon).partition("[")
    what = tr(INVALID.get(reason.strip(), UNCLEAR))
    at = place.rstrip("]").split()
    if len(at) < 2:
        return tr("{what}; draw it anew there", what=what)
    x, y = float(at[0]), float(at[1])
    return tr("{what} near x {x:.6g}, y {y:.6g}; draw it anew there", what=what, x=x, y=y)


def _other_side(side: Side) -> str:
    if side is Side.LEFT:
        return tr(
            "the area lies wholly on the patient's right side, the finding is left; correct the "
            "side or move the area"
        )
    return tr(
        "the area lies wholly on the patient's left side, the finding is right; correct the "
        "side or move the area"
    )


def _exact(polygon: Polygon) -> list[list[list[float]]]:
    turned = orient(polygon)
    rings = [turned.exterior, *turned.interiors]
    # Adding zero turns a negative zero into a plain one.
    return [[[x + 0.0, y + 0.0] for x, y in ring.coords] for ring in rings]


def _settled(skin: Skin | None) -> Skin | None:
    """Skin whose cut at the midline lies on it to the last bit."""
    if skin is None:
        return None

    def settle(points: Any) -> Any:
        points = points.copy()
        points[abs(points[:, 0]) < ROUNDING, 0] = 0.0
        return points

    settled = shapely.transform(skin, settle)
    if not shapely.is_valid(settled):
        return clean(skin)
    assert isinstance(settled, Polygon | MultiPolygon)
    return settled
