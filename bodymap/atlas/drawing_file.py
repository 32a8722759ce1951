"""Read an authored view: an SVG with outline, inner lines, borders and labels.

One file holds everything of one view, so that it can be edited in any vector
program. Groups by id: ``outline`` (one closed path), ``shades`` (soft closed
shapes), ``lines`` (inner contours; stroke-width is their weight), ``borders``
(each border curve once, its class naming the maps it belongs to), and one group
of labels for each map. SVG has y downwards; everything returned has y upwards.
"""

import io
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
from shapely import LineString, Polygon

from bodymap.errors import AssetError
from bodymap.geometry import Floats
from bodymap.language import tr
from bodymap.terms import MAP_NAMES, MapName

CHORD = 0.25
"""Longest chord of a flattened curve, view units. On the tightest curves drawn
(fingertips, radius 5) the chord then leaves the curve by less than 0.002 units."""


@dataclass(frozen=True)
class InnerLine:
    """A contour inside the figure: points (n, 2), weight in view units."""

    points: Floats
    weight: float
    once: bool
    """Drawn once (on the midline) rather than on both halves."""


@dataclass(frozen=True)
class Shade:
    """A soft closed shape: ring (n, 2) and what it is (nail, lip, areola, shadow, light)."""

    ring: Floats
    kind: str


@dataclass(frozen=True)
class Label:
    """The name of the face in which a point lies."""

    name: str
    at: tuple[float, float]


@dataclass(frozen=True)
class DrawnView:
    """One authored view, y upwards."""

    name: str
    outline: Polygon
    lines: tuple[InnerLine, ...]
    shades: tuple[Shade, ...]
    borders: dict[MapName, tuple[LineString, ...]]
    labels: dict[MapName, tuple[Label, ...]]


def read_view(path: Path) -> DrawnView:
    """Read an authored view.

    Raises AssetError, naming the file and the place, if the outline is missing
    or crosses itself, or if a border belongs to no known map.
    """
    # Slow to import and needed only to build: a cached start does not pay for it.
    import svgelements

    try:
        root = ElementTree.parse(path).getroot()
        # The viewBox serves editors; coordinates are taken as they are written.
        root.attrib.pop("viewBox", None)
        text = io.BytesIO(ElementTree.tostring(root))
        document = svgelements.SVG.parse(text, reify=True, ppi=96)
    except OSError:
        gone = tr("The drawing {file} is missing: reinstall bodymap.", file=path.name)
        raise AssetError(gone) from None
    except Exception as error:
        raise AssetError(f"{path.name} is not a readable SVG ({error}): mend it.") from None
    outline: Polygon | None = None
    lines: list[InnerLine] = []
    shades: list[Shade] = []
    borders: dict[MapName, list[LineString]] = defaultdict(list)
    labels: dict[MapName, list[Label]] = defaultdict(list)
    for group in document:
        if not isinstance(group, svgelements.Group):
            continue
        role = group.values.get("id")
        for element in group:
            if role in MAP_NAMES and isinstance(element, svgelements.Text):
                at = (float(element.x or 0.0), -float(element.y or 0.0))
                labels[role].append(Label((element.text or "").strip(), at))
                continue
            if not isinstance(element, svgelements.Path):
                continue
            points = flattened(element)
            kind = str(element.values.get("class") or "")
            if role == "outline":
                outline = Polygon(points)
            elif role == "lines":
                weight = float(element.values.get("stroke-width") or 0.8)
                lines.append(InnerLine(points, weight, kind == "centre"))
            elif role == "shades":
                shades.append(Shade(points, kind))
            elif role == "borders":
                _add_border(path, borders, str(element.id), kind, points)
    if outline is None or not outline.is_valid:
        raise AssetError(f"{path.name}: the outline is missing or crosses itself; redraw it.")
    return DrawnView(
        path.stem,
        outline,
        tuple(lines),
        tuple(shades),
        {name: tuple(borders[name]) for name in MAP_NAMES},
        {name: tuple(labels[name]) for name in MAP_NAMES},
    )


def _add_border(
    path: Path, borders: dict[MapName, list[LineString]], name: str, kind: str, points: Floats
) -> None:
    maps = kind.split()
    unknown = [m for m in maps if m not in MAP_NAMES]
    if not maps or unknown:
        raise AssetError(
            f"{path.name}: border '{name}' has class '{kind}'; "
            f"its class must name maps out of {', '.join(MAP_NAMES)}."
        )
    line = LineString(points)
    for known in MAP_NAMES:
        if known in maps:
            borders[known].append(line)


def flattened(path: Any) -> Floats:
    """The points (n, 2) of a path of lines and cubic curves, y upwards.

    Cubics are sampled evenly in their parameter with chords of at most ``CHORD``.
    ``path`` is a svgelements.Path. svgelements can do this itself, but a thousand
    times slower without scipy.
    """
    import svgelements

    pieces: list[Floats] = []
    for segment in path:
        if isinstance(segment, svgelements.CubicBezier):
            knots = np.array(
                [[p.x, -p.y] for p in (segment.start, segment.control1, segment.control2,
                                       segment.end)]
            )  # fmt: skip
            length = float(np.hypot(*np.diff(knots, axis=0).T).sum())
            t = np.linspace(0.0, 1.0, max(2, int(np.ceil(length / CHORD)) + 1))[1:, None]
            pieces.append(
                (1 - t) ** 3 * knots[0]
                + 3 * (1 - t) ** 2 * t * knots[1]
                + 3 * (1 - t) * t**2 * knots[2]
                + t**3 * knots[3]
            )
        elif isinstance(segment, svgelements.Move | svgelements.Line):
            pieces.append(np.array([[segment.end.x, -segment.end.y]]))
        elif isinstance(segment, svgelements.Close):
            pieces.append(pieces[0][:1])
        else:
            raise AssetError(f"A path has a {type(segment).__name__}; use lines and cubic curves.")
    points = np.concatenate(pieces)
    distinct = np.ones(len(points), dtype=bool)
    distinct[1:] = np.any(np.diff(points, axis=0) != 0.0, axis=1)
    return points[distinct]
