"""The column beside the figure of a picture: what the marks mean, how large they are,
and the key of the numbers on the skin.

Areas are of skin, in cm² by side of the patient.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask, Territory
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Progress
from bodymap.geometry import Floats, Skin
from bodymap.language import tr
from bodymap.localise.comparison import Comparison
from bodymap.report.appearance import (
    ALONE_STYLES,
    BY_TWO_STYLE,
    CHANGE_STYLES,
    MARK_WIDTH,
    MODALITY_LETTERS,
    REMAINDER_STYLES,
    SHARED_STYLE,
    MarkStyle,
    Remainder,
    Theme,
)
from bodymap.report.course_marks import BORDERS, PERCENT, by_side, course_heading, course_pieces
from bodymap.report.layout import Placed
from bodymap.report.lettering import wrapped
from bodymap.report.svg import element, group, path, skin_data, text
from bodymap.report.textures import marks
from bodymap.terms import Change, Modality, Side, View

COLUMN = 330.0
"""Width of the column, sheet units."""

SWATCH = (38.0, 24.0)
HEADING, WORDS, SMALL = 17.0, 14.5, 12.0
"""Sizes of text, sheet units."""

PLAIN = Placed(View.FRONT, 1.0, 0.0, 0.0, "", (0.0, 0.0))
"""A sheet that is its own view, for swatches."""


@dataclass(frozen=True)
class Entry:
    """One row of the legend: a style, its words, and a line on how much skin."""

    style: MarkStyle
    words: str
    amount: str


def entries(atlas: Atlas, drawing: Drawing, candidate: Territory | None) -> tuple[Entry, ...]:
    """The rows for what is drawn: findings by modality and change, or the remainders."""
    if candidate is not None:
        return tuple(_remainders(atlas, drawing, candidate))
    several = len({m for m, _, _ in drawing}) > 1
    found = []
    order = [*Modality], [*Change]
    for modality, change, layer in sorted(
        drawing, key=lambda row: (order[0].index(row[0]), order[1].index(row[1]))
    ):
        letter = f" ({MODALITY_LETTERS[modality]})" if several else ""
        words = f"{tr(CHANGE_STYLES[change].label)}: {modality.label}{letter}"
        found.append(Entry(CHANGE_STYLES[change], words, amount(atlas, layer.painted_cm2(atlas))))
    return tuple(found)


def _remainders(atlas: Atlas, drawing: Drawing, candidate: Territory) -> Iterator[Entry]:
    drawn = drawing.altered_cm2(atlas)
    explained = drawn * candidate.extent
    areas = {
        Remainder.EXPLAINED: explained,
        Remainder.UNEXPLAINED: drawn - explained,
        Remainder.SPARED: atlas.cells.area_cm2 * candidate.extent - explained,
    }
    for kind, covered in areas.items():
        yield Entry(
            REMAINDER_STYLES[kind], tr(REMAINDER_STYLES[kind].label), amount(atlas, covered)
        )


def comparison_entries(atlas: Atlas, comparison: Comparison) -> tuple[Entry, ...]:
    """The rows for compared lesions: skin of each alone, and what they share."""
    area = atlas.cells.area_cm2
    return tuple(
        Entry(style, tr(style.label), amount(atlas, area * mask))
        for style, mask in compared_masks(comparison)
    )


def course_entries(atlas: Atlas, course: Progress) -> tuple[Entry, ...]:
    """The rows for two visits laid over each other."""
    return tuple(
        Entry(style, tr(style.label), by_side(atlas, piece))
        for style, piece in course_pieces(course)
    )


def compared_masks(comparison: Comparison) -> Iterator[tuple[MarkStyle, Mask]]:
    """Every kind of skin of a comparison, its style with the names filled in."""
    for style, member, mask in zip(
        ALONE_STYLES, comparison.members, comparison.alone, strict=False
    ):
        yield replace(style, label=tr(style.label, name=member.name)), mask
    if len(comparison.members) > 2:
        yield BY_TWO_STYLE, comparison.by_two
    yield SHARED_STYLE, comparison.shared


def amount(atlas: Atlas, covered_cm2: Floats) -> str:
    """Skin by side of the patient in words, from the area of each cell in cm²."""
    parts = []
    for side in (Side.RIGHT, Side.LEFT):
        area = float(covered_cm2[atlas.cells.on_side(side)].sum())
        if area >= 0.05:
            said = (
                tr("{area:.0f} cm²", area=area) if area >= 10 else tr("{area:.1f} cm²", area=area)
            )
            parts.append(f"{side.word} {said}")
    return ", ".join(parts) or tr("none")


def legend(
    atlas: Atlas,
    drawing: Drawing,
    candidate: Territory | None,
    x: float,
    y: float,
    theme: Theme,
    comparison: Comparison | None = None,
    course: Progress | None = None,
) -> tuple[list[str], float]:
    """The legend from x, y (top left) down, and where it ends."""
    drawn: list[str] = []
    heading = tr("Findings")
    if candidate is not None:
        side = tr("both sides") if candidate.side is Side.BOTH else candidate.side.word
        heading = tr("Held against: {candidate}, {side}", candidate=candidate.name, side=side)
    if comparison is not None:
        names = ", ".join(t.name for t in comparison.members)
        heading = tr("Compared: {names}", names=names)
    if course is not None:
        heading = course_heading(course)
    for line in wrapped(heading, HEADING, 0.84 * COLUMN):
        drawn.append(text(line, x, y + HEADING, HEADING, theme.text, bold=True))
        y += HEADING * 1.3
    y += 10
    rows = entries(atlas, drawing, candidate)
    if comparison is not None:
        rows = comparison_entries(atlas, comparison)
    if course is not None:
        rows = course_entries(atlas, course)
    for entry in rows:
        wide, high = SWATCH
        swatch = shapely.box(x, -y - high, x + wide, -y)
        drawn.append(marked(entry.style, swatch, PLAIN, theme, swatch=True))
        for line in wrapped(entry.words, WORDS, COLUMN - wide - 30):
            drawn.append(text(line, x + wide + 10, y + 10.5, WORDS, theme.text))
            y += WORDS * 1.2
        y -= WORDS * 1.2
        drawn.append(text(entry.amount, x + wide + 10, y + 25, SMALL, theme.muted_text))
        y += high + 12
    if not rows:
        drawn.append(text(tr("None drawn"), x, y + WORDS, WORDS, theme.muted_text))
        y += 26
    y += 6
    note = tr("Sides are the patient's.")
    if course is not None:
        note = f"{note} {tr(PERCENT)} {tr(BORDERS)}"
    for line in wrapped(note, SMALL, COLUMN - 30):
        drawn.append(text(line, x, y + SMALL, SMALL, theme.muted_text))
        y += SMALL * 1.3
    return drawn, y + 18.4


def marked(
    style: MarkStyle, skin: Skin, placed: Placed, theme: Theme, shift: float = 0.0,
    title: str = "", swatch: bool = False,
) -> str:  # fmt: skip
    """Skin in a style: its ground, its texture and its edge."""
    colour = style.colour(theme)
    data = skin_data(skin, placed)
    texture = marks(style.texture, skin, placed, shift)
    children = [
        path(data, class_="swatch" if swatch else "ground", fill=colour,
             fill_opacity=style.fill, fill_rule="evenodd"),
    ]  # fmt: skip
    if texture is not None:
        children.append(path(skin_data(texture, placed), fill=colour, fill_rule="evenodd"))
    children.append(
        path(data, fill="none", stroke=colour, stroke_width=MARK_WIDTH,
             stroke_linejoin="round", stroke_dasharray="4 3" if style.dashed else None)
    )  # fmt: skip
    return group(children, title=title or tr(style.label))


@dataclass(frozen=True)
class Room:
    """A place for part of the key: left, top, width, height in sheet units."""

    left: float
    top: float
    width: float
    height: float


KEY_SIZE = 11.0
KEY_STEP = 13.6


def key(rows: list[tuple[int, str]], rooms: list[Room], theme: Theme) -> Iterator[str]:
    """The numbers and their names, filling one room after another.

    Where the rooms are too small for all, everything is written smaller.
    """
    for scale in (1.0, 0.94, 0.88, 0.82, 0.76, 0.7):
        placed = list(_rows(rows, rooms, scale))
        if len({order for order, *_ in placed}) == len(rows):
            break
    size = KEY_SIZE * scale
    for order, first, line, x, y in placed:
        if first:
            yield text(str(rows[order][0]), x + 22 * scale, y, size, theme.muted_text, "end")
        yield text(line, x + 28 * scale, y, size, theme.text)


def _rows(
    rows: list[tuple[int, str]], rooms: list[Room], scale: float
) -> Iterator[tuple[int, bool, str, float, float]]:
    """(index of the row, whether its first line, line, x, baseline) as far as there is room."""
    step = KEY_STEP * scale
    waiting = list(rooms)
    here, y = waiting.pop(0), 0.0
    for order, (_, name) in enumerate(rows):
        lines = wrapped(name, KEY_SIZE * scale, here.width - 28 * scale)
        while y + step * len(lines) > here.height:
            if not waiting:
                return
            here, y = waiting.pop(0), 0.0
            lines = wrapped(name, KEY_SIZE * scale, here.width - 28 * scale)
        for number, line in enumerate(lines):
            y += step
            yield order, number == 0, line, here.left, here.top + y
        y += 0.12 * step


def rule(x: float, y: float, width: float, theme: Theme) -> str:
    """A thin line across."""
    return element("line", x1=x, y1=y, x2=x + width, y2=y, stroke=theme.panel_border)
