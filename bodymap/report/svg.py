"""SVG text (1.1, W3C 2011) of plain shapes and words.

Only what every renderer draws alike: filled and stroked paths, circles, text in
one font family; no clipping, masks, filters, patterns or style sheets.
"""

from collections.abc import Iterable
from html import escape

from bodymap.geometry import Floats, Skin
from bodymap.report.appearance import FONT_FAMILY
from bodymap.report.layout import Placed
from bodymap.report.shading import rings_of

DECIMALS = 2
"""Of coordinates in sheet units: 1.5 micrometres on an A4 page."""

Value = str | float | int | None


def number(value: float) -> str:
    """A number as short as its decimals allow."""
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def attributes(values: dict[str, Value]) -> str:
    """Attributes with a space before each; underscores become hyphens, None is left out."""
    parts = []
    for key, value in values.items():
        if value is not None:
            text = value if isinstance(value, str) else number(value)
            name = key.rstrip("_").replace("_", "-")
            parts.append(f' {name}="{escape(text)}"')
    return "".join(parts)


def element(tag: str, content: str | None = None, **values: Value) -> str:
    """An element with its content, or an empty one."""
    if content is None:
        return f"<{tag}{attributes(values)}/>"
    return f"<{tag}{attributes(values)}>{content}</{tag}>"


def group(children: Iterable[str], title: str | None = None, **values: Value) -> str:
    """A group, with a title that readers and screen readers show."""
    head = [element("title", escape(title, quote=False))] if title else []
    return element("g", "\n" + "\n".join([*head, *children]) + "\n", **values)


def path(data: str, **values: Value) -> str:
    """A path of given data."""
    return element("path", None, d=data, **values)


def line_data(lines: Iterable[Floats], placed: Placed, closed: bool = False) -> str:
    """Path data of polylines (n, 2) in view units, placed on the sheet."""
    parts = []
    for points in lines:
        kept = points[:-1] if closed and (points[0] == points[-1]).all() else points
        xs = placed.dx + placed.scale * kept[:, 0]
        ys = placed.dy - placed.scale * kept[:, 1]
        pairs = [f"{number(x)},{number(y)}" for x, y in zip(xs.tolist(), ys.tolist(), strict=True)]
        parts.append("M" + " ".join(pairs) + ("Z" if closed else ""))
    return "".join(parts)


def skin_data(skin: Skin, placed: Placed) -> str:
    """Path data of a piece of skin, to be filled by the even-odd rule."""
    return line_data(rings_of(skin), placed, closed=True)


def text(
    words: str,
    x: float,
    y: float,
    size: float,
    colour: str,
    anchor: str = "start",
    bold: bool = False,
    **values: Value,
) -> str:
    """A line of text with its baseline at y."""
    return element(
        "text",
        escape(words, quote=False),
        x=x,
        y=y,
        font_family=FONT_FAMILY,
        font_size=size,
        font_weight="bold" if bold else None,
        text_anchor=None if anchor == "start" else anchor,
        fill=colour,
        **values,
    )
