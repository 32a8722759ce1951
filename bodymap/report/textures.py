"""Textures that tell findings apart without colour, as tiles and as clipped shapes.

A texture is data: the marks of one square tile, in sheet units, y down. The
window tiles it; pictures get the marks cut to the skin, as filled shapes that
every renderer draws alike. The kinds are our own and mean nothing outside the
legend that stands beside them.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon
from shapely.affinity import affine_transform

from bodymap.geometry import Floats, Skin, common
from bodymap.report.layout import Placed

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Texture:
    """One tile of ``size`` by ``size``: lines of ``width``, dots and rings (x, y, radius).

    Lines go on from tile to tile; those that cross the whole tile meet their
    neighbours' ends.
    """

    size: float
    width: float
    lines: tuple[Points, ...] = ()
    dots: tuple[tuple[float, float, float], ...] = ()
    rings: tuple[tuple[float, float, float], ...] = ()


def _wave(size: float, height: float, middle: float) -> Points:
    turn = np.linspace(0.0, 1.0, 13)
    return tuple((float(t * size), float(middle + height * np.sin(2 * np.pi * t))) for t in turn)


TEXTURES: dict[str, Texture] = {
    "slant": Texture(7.0, 1.15, lines=(((0.0, 7.0), (7.0, 0.0)),)),
    "cross": Texture(7.5, 1.05, lines=(((0.0, 7.5), (7.5, 0.0)), ((0.0, 0.0), (7.5, 7.5)))),
    "dots": Texture(7.0, 0.0, dots=((1.75, 1.75, 1.25), (5.25, 5.25, 1.25))),
    "wave": Texture(10.0, 1.1, lines=(_wave(10.0, 1.5, 2.5), _wave(10.0, 1.5, 7.5))),
    "dash": Texture(
        13.0, 1.15, lines=(((3.25, 1.2), (3.25, 5.3)), ((9.75, 7.7), (9.75, 11.8)))
    ),
    "upright": Texture(5.5, 1.15, lines=(((2.75, 0.0), (2.75, 5.5)),)),
    "plus": Texture(
        10.0, 1.15,
        lines=(
            ((0.6, 2.5), (4.4, 2.5)), ((2.5, 0.6), (2.5, 4.4)),
            ((5.6, 7.5), (9.4, 7.5)), ((7.5, 5.6), (7.5, 9.4)),
        ),
    ),
    "ring": Texture(11.0, 0.95, rings=((2.75, 2.75, 1.7), (8.25, 8.25, 1.7))),
}  # fmt: skip
"""Every kind by name."""


def marks(texture: str, skin: Skin, placed: Placed, shift: float = 0.0) -> Skin | None:
    """The marks of a texture on a piece of skin, cut to it, in view units.

    ``placed`` gives the scale, so that textures are equally fine in every view.
    ``shift`` (share of a tile) moves the pattern: two findings on the same skin
    then show side by side.
    """
    kind = TEXTURES[texture]
    x0, y0, x1, y1 = skin.bounds
    left, top = placed.to_sheet(x0, y1)
    right, bottom = placed.to_sheet(x1, y0)
    moved = shift * kind.size * 0.5
    columns = _tiles(left - moved, right - moved, kind.size)
    rows = _tiles(top - moved, bottom - moved, kind.size)
    found: list[Polygon] = []
    for layer in _layers(kind, columns, rows):
        a, b, c, d, e, f = placed.matrix
        # From the sheet to the view: every entry of the inverse of a scale and a shift.
        placed_back = [1 / a, b, c, 1 / d, (moved - e) / a, (moved - f) / d]
        cut = common(skin, affine_transform(MultiPolygon(layer.tolist()), placed_back))
        found += list(shapely.get_parts(cut)) if cut is not None else []
    return MultiPolygon(found) if found else None


def _tiles(low: float, high: float, size: float) -> Floats:
    return np.arange(np.floor(low / size) - 1, np.ceil(high / size) + 2) * size


def _layers(kind: Texture, columns: Floats, rows: Floats) -> Iterator[npt.NDArray[np.object_]]:
    """The marks of all tiles as polygons, in layers within which none overlap."""
    for line in kind.lines:
        yield _lines(line, kind, columns, rows)
    corners = np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 1, 2)
    for x, y, radius in kind.dots:
        yield shapely.polygons(corners + _circle(x, y, radius))
    for x, y, radius in kind.rings:
        outer = shapely.linearrings(corners + _circle(x, y, radius + kind.width / 2))
        inner = shapely.linearrings(corners + _circle(x, y, radius - kind.width / 2))
        yield shapely.polygons(outer, inner[:, None])


def _lines(line: Points, kind: Texture, columns: Floats, rows: Floats) -> npt.NDArray[np.object_]:
    """A tile's line over all tiles; one that crosses the tile runs on unbroken."""
    points = np.array(line)
    across, down = np.round((points[-1] - points[0]) / kind.size, 6).tolist()
    tracks: list[Floats]
    if abs(across) == 1.0 or abs(down) == 1.0:
        steps = len(columns) if across else len(rows)
        advance = np.array([across, down]) * kind.size
        run = np.concatenate([points[:-1] + i * advance for i in range(steps)] + [
            points[-1:] + (steps - 1) * advance
        ])  # fmt: skip
        if not across:
            starts = [(c, rows[0]) for c in columns]
        elif not down:
            starts = [(columns[0], r) for r in rows]
        else:
            # A diagonal may enter through the side: start so many tiles higher or lower.
            more = np.arange(1, steps + 1) * kind.size
            extra = rows[-1] + more if down < 0 else rows[0] - more
            starts = [(columns[0], r) for r in [*rows, *extra]]
        tracks = [run + np.array(s) for s in starts]
    else:
        tracks = [points + np.array([c, r]) for c in columns for r in rows]
    return np.asarray(
        shapely.buffer(
            shapely.linestrings(tracks), kind.width / 2, cap_style="flat", join_style="mitre"
        )
    )


def _circle(x: float, y: float, radius: float) -> Floats:
    turn = np.linspace(0.0, 2 * np.pi, 17)
    return np.column_stack([x + radius * np.cos(turn), y + radius * np.sin(turn)])
