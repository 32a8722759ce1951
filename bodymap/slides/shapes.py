"""Skin as native freeform shapes, in a fill that a slide program can edit.

Lengths on the slide are in EMU (914400 to the inch, 36000 to the millimetre; ECMA-376),
so rounding to whole EMU moves no point by more than 0.00002 mm. A filled shape is one
ring without holes: not every program fills by the even-odd rule, so skin with a hole is
cut through the middle of the hole and its edge is drawn as a shape of its own.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import Polygon

from bodymap.geometry import Floats, Skin, clean, common
from bodymap.language import tr
from bodymap.report.appearance import MarkStyle, Theme
from bodymap.report.colour import over
from bodymap.report.layout import Box

if TYPE_CHECKING:
    from pptx.shapes.autoshape import Shape
    from pptx.shapes.group import GroupShape

INCH = 914400
POINT = 12700
MILLIMETRE = 36000

MAIN = "http://schemas.openxmlformats.org/drawingml/2006/main"
"""Name space of the drawing language (ECMA-376, part 1, section 20.1)."""

EXACT = 0.001
"""How far the edge of marked skin may leave the atlas's, mm on the slide."""

SMOOTH = 0.02
"""The same for the outline and the inner lines of the figure: far below a pixel."""

PATTERNS: dict[str, str] = {
    "slant": "WIDE_UPWARD_DIAGONAL",
    "cross": "DIAGONAL_CROSS",
    "dots": "LARGE_CONFETTI",
    "wave": "WAVE",
    "dash": "DASHED_VERTICAL",
    "upright": "NARROW_VERTICAL",
    "plus": "LARGE_GRID",
    "ring": "DOTTED_DIAMOND",
    "brick": "DIAGONAL_BRICK",
}
"""The preset pattern that stands for each texture (see ``textures``)."""


@dataclass(frozen=True)
class Placing:
    """A view on the slide: x = left + scale·x, y = top - scale·y, in EMU.

    ``window`` is the part of the view that is shown (view units), or all of it.
    """

    scale: float
    left: float
    top: float
    window: Box | None = None

    def on_slide(self, points: Floats) -> Floats:
        """Points (n, 2) of the view as points of the slide."""
        turned = points * np.array([self.scale, -self.scale])
        return np.asarray(turned + np.array([self.left, self.top]), dtype=np.float64)

    def shown(self, skin: Skin | None) -> Skin | None:
        """The part of some skin that is shown."""
        if skin is None or self.window is None:
            return skin
        return common(skin, shapely.box(*self.window))

    def thinned(self, geometry: Any, millimetres: float) -> Any:
        """The geometry with fewer points, no edge moved by more than that on the slide."""
        return shapely.simplify(geometry, millimetres * MILLIMETRE / self.scale)


def pieces(skin: Skin) -> list[Polygon]:
    """The skin as polygons without holes that tile it."""
    found: list[Polygon] = []
    waiting: list[Polygon] = shapely.get_parts(skin).tolist()
    while waiting:
        piece = waiting.pop()
        if not piece.interiors:
            found.append(piece)
            continue
        x0, y0, x1, y1 = piece.bounds
        hole0, _, hole1, _ = piece.interiors[0].bounds
        middle = (hole0 + hole1) / 2
        for box in ((x0 - 1, y0 - 1, middle, y1 + 1), (middle, y0 - 1, x1 + 1, y1 + 1)):
            half = clean(common(piece, shapely.box(*box)))
            waiting += [] if half is None else shapely.get_parts(half).tolist()
    return found


def freeform(group: "GroupShape", lines: Iterable[Floats], name: str, closed: bool) -> Any:
    """One shape of one or several lines (n, 2) on the slide, without fill and line.

    The path is written here and not by the library's own builder, whose time grows with
    the square of the number of points.
    """
    from pptx.oxml import parse_xml

    rounded = [np.round(line).astype(np.int64) for line in lines]
    every = np.concatenate(rounded)
    low, high = every.min(axis=0), every.max(axis=0)
    builder = group.shapes.build_freeform(int(low[0]), int(low[1]), 1.0)
    builder.add_line_segments([(int(high[0]), int(high[1]))], close=closed)
    shape = builder.convert_to_shape()
    shape.name = name
    width, height = (high - low).tolist()
    data = [f'<a:path xmlns:a="{MAIN}" w="{width}" h="{height}">']
    for line in rounded:
        points = [f'<a:pt x="{x}" y="{y}"/>' for x, y in (line - low).tolist()]
        if closed and points[0] == points[-1]:
            points.pop()
        data.append(f"<a:moveTo>{points[0]}</a:moveTo>")
        data += [f"<a:lnTo>{point}</a:lnTo>" for point in points[1:]]
        data.append("<a:close/>" if closed else "")
    element: Any = shape._element
    old = next(element.iter(f"{{{MAIN}}}path"))
    old.getparent().replace(old, parse_xml("".join([*data, "</a:path>"])))
    plain(shape)
    return shape


def plain(shape: "Shape") -> None:
    """Take from a shape the fill, line and shadow that the slide's theme would give it."""
    element: Any = shape._element
    for child in list(element):
        if child.tag.endswith("}style"):
            element.remove(child)
    shape.fill.background()
    shape.line.fill.background()


def filled(shape: "Shape", colour: str, opacity: float = 1.0) -> None:
    """Give a shape a plain fill."""
    from pptx.oxml import parse_xml

    shape.fill.solid()
    shape.fill.fore_color.rgb = rgb(colour)
    if opacity < 1.0:
        element: Any = shape._element
        colours = next(element.spPr.iter(f"{{{MAIN}}}srgbClr"))
        colours.append(parse_xml(f'<a:alpha xmlns:a="{MAIN}" val="{round(1e5 * opacity)}"/>'))


def patterned(shape: "Shape", style: MarkStyle, theme: Theme) -> None:
    """Fill a shape in the colour and the pattern of a style."""
    from pptx.enum.dml import MSO_PATTERN

    shape.fill.patterned()
    shape.fill.pattern = getattr(MSO_PATTERN, PATTERNS[style.texture])
    shape.fill.fore_color.rgb = rgb(style.colour(theme))
    shape.fill.back_color.rgb = rgb(over(style.colour(theme), 0.6 * style.fill, theme.skin))


def lined(shape: "Shape", colour: str, width: float, dashed: bool = False) -> None:
    """Give a shape a line of a width in points."""
    from pptx.enum.dml import MSO_LINE

    shape.line.color.rgb = rgb(colour)
    shape.line.width = round(width * POINT)
    if dashed:
        shape.line.dash_style = MSO_LINE.DASH


def marked(
    group: "GroupShape", skin: Skin, placing: Placing, style: MarkStyle, theme: Theme, name: str
) -> None:
    """Skin of a view in a style: its filled pieces, and their edge."""

    def fill(shape: Any) -> None:
        patterned(shape, style, theme)

    def line(shape: Any) -> None:
        lined(shape, style.colour(theme), 0.75, style.dashed)

    laid(group, skin, placing, name, fill, line)


def laid(
    group: "GroupShape", skin: Skin, placing: Placing, name: str,
    fill: Callable[[Any], None], line: Callable[[Any], None],
) -> None:  # fmt: skip
    """Skin of a view as pieces without holes, each filled, and their edge as it is lined."""
    shown = clean(placing.thinned(skin, EXACT))
    if shown is None:
        return
    whole: list[Polygon] = shapely.get_parts(shown).tolist()
    for piece in whole:
        holed = bool(piece.interiors)
        for part in pieces(piece):
            ring = placing.on_slide(shapely.get_coordinates(part.exterior))
            shape = freeform(group, [ring], name, closed=True)
            fill(shape)
            if not holed:
                line(shape)
        if holed:
            rings = [shapely.get_coordinates(r) for r in (piece.exterior, *piece.interiors)]
            border = tr("{shape}, edge", shape=name)
            edge = freeform(group, [placing.on_slide(r) for r in rings], border, True)
            line(edge)


def described(shape: Any, name: str, words: str) -> None:
    """Name a shape and give it the text that stands for it where it is not seen."""
    shape.name = name
    properties = shape._element.xpath(".//p:cNvPr")[0]
    properties.set("descr", words)


def rgb(colour: str) -> Any:
    """A colour '#rrggbb' as the library wants it."""
    from pptx.dml.color import RGBColor

    made: Any = RGBColor
    return made.from_string(colour.removeprefix("#").upper())


def boxed(box: Box | Sequence[float]) -> tuple[Any, Any, Any, Any]:
    """left, top, width, height in inches, as EMU."""
    left, top, width, height = (round(side * INCH) for side in box)
    return left, top, width, height
