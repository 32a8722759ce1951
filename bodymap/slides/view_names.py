"""The names of the views and the marks RIGHT and LEFT on a figure: where they stand, in words
of any language."""

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

from bodymap.language import later, tr
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, CloseUp, SideMark
from bodymap.report.lettering import text_width, wrapped
from bodymap.slides.page import LEAST, WIDTH, Words, write
from bodymap.slides.shapes import INCH, Placing
from bodymap.terms import View

SHEET = 4572.0
"""EMU to a unit of the sheet: the body stands 5 inches high."""

CORNER = (0.22 * INCH, 1.02 * INCH)
"""Where the corner of the sheet stands, EMU."""

TITLES: dict[View, tuple[str, float, float]] = {
    View.FRONT: (later("Front"), 370.0, 36.0),
    View.BACK: (later("Back"), 1150.0, 36.0),
    View.HEAD_RIGHT: (later("Head, both sides"), 760.0, 70.0),
    View.SOLES: (later("Soles"), 645.0, 716.0),
    View.SADDLE: (later("Saddle"), 912.0, 716.0),
}
"""Words, and the middle of their baseline on the sheet: for letters of 14 points, which
are larger here than the titles of the layout."""

MOVED = {
    View.HEAD_RIGHT: (0.0, 15.0),
    View.HEAD_LEFT: (0.0, 15.0),
    View.SADDLE: (-9.0, 8.0),
}
"""And are moved right and down from there, sheet units, to stand clear of the skin."""

SCHEMATIC = (912.0, 1118.0)
"""Where the sheet says that the saddle is schematic."""

SHIFT = {View.FRONT: 1.2, View.BACK: 1.2, View.SADDLE: 0.84}
"""RIGHT and LEFT stand this much further apart than in the layout, for the same reason."""

BESIDE, WIDEST = (View.FRONT, View.BACK), "RIGHT"
"""Views whose marks stand beside the skin, and the widest word that the places are made for."""

GAP = 0.1
"""Between two words that would meet, inches."""

HIGH = 0.25
"""Height of a line of the least size, inches."""


def sheet_names(group: Any) -> None:
    for words, x, y in TITLES.values():
        centred(group, tr(words), _x(x), _y(y), bold=True)
    taken: list[shapely.Polygon] = []
    for view in dict.fromkeys(mark.view for mark in SIDE_MARKS):
        marks = _spread([m for m in SIDE_MARKS if m.view is view])
        _written_below(group, marks, taken)
    _written_below(group, [(tr("(schematic)"), _x(SCHEMATIC[0]), _y(SCHEMATIC[1]))], taken)


def _spread(marks: Sequence[SideMark]) -> list[tuple[str, float, float]]:
    """The marks of a view: words, middle, baseline. Words that are wider than RIGHT stand so
    much further out, and two of a view stand clear of each other."""
    found = []
    for mark in marks:
        x, y = BODY_LAYOUT[mark.view].to_sheet(SHIFT.get(mark.view, 1.0) * mark.x, mark.y)
        right, down = MOVED.get(mark.view, (0.0, 8.0))
        out = max(0.0, _width(mark.text) - _width(WIDEST)) / 2 if mark.view in BESIDE else 0.0
        found.append([mark.text, _x(x + right) + np.copysign(out, mark.x), _y(y + down)])
    if len(found) == 2:
        first, second = sorted(found, key=lambda row: row[1])
        need = (_width(first[0]) + _width(second[0])) / 2
        have = second[1] - first[1]
        apart = (need + GAP - have) / 2 if need > have else 0.0
        first[1], second[1] = first[1] - apart, second[1] + apart
    return [(words, float(x), y) for words, x, y in found]


def _written_below(
    group: Any, marks: Sequence[tuple[str, float, float]], taken: list[shapely.Polygon]
) -> None:
    """Write words on one line, as many lines further down as what is taken demands."""
    down = 0.0
    while any(shapely.intersects(_box(words, x, y + down), taken).any() for words, x, y in marks):
        down += HIGH
    for words, x, y in marks:
        centred(group, words, x, y + down, bold=False)
        taken.append(_box(words, x, y + down))


def _box(words: str, x: float, baseline: float) -> shapely.Polygon:
    half = _width(words) / 2
    return shapely.box(x - half, baseline - 0.19, x + half, baseline - 0.19 + HIGH - 0.01)


def lines_of(words: str, room: float) -> int:
    """How many lines words of the least size take in a width, inches."""
    return len(wrapped(words, LEAST, 72 * (room - 0.02))) or 1


def _width(words: str) -> float:
    return text_width(words, LEAST) / 72 + 0.02


def named(group: Any, close: CloseUp, placing: Placing) -> None:
    x0, y0, x1, y1 = close.box
    corners = placing.on_slide(np.array([[x0, y1], [x1, y0]])) / INCH
    (left, top), (right, bottom) = corners
    centred(group, tr(close.label), (left + right) / 2, top - 0.15, bold=True)
    sides = [m for m in SIDE_MARKS if m.view is close.view]
    if x0 < 0 < x1 and len(sides) == 2:
        for mark in sides:
            middle = left + (right - left) * (0.25 if mark.x < 0 else 0.75)
            centred(group, mark.text, middle, min(bottom + 0.24, 6.85), bold=False)


def _x(sheet: float) -> float:
    return (CORNER[0] + SHEET * sheet) / INCH


def _y(sheet: float) -> float:
    return (CORNER[1] + SHEET * sheet) / INCH


def centred(
    group: Any, words: str, x: float, baseline: float, bold: bool, room: float = WIDTH
) -> None:
    """Words of the least size, centred at a place, in inches; in lines above each other, the
    last at the baseline, where they are wider than the room for them."""
    lines, width = lines_of(words, room), min(_width(words), room)
    place = (x - width / 2, baseline - 0.19 - HIGH * (lines - 1), width, HIGH * lines)
    line = Words(words, LEAST, bold, "TEXT_1" if bold else "TEXT_2", 0.0, centred=True)
    write(group, place, [line], words)
