"""The findings on the figure, for a page of a note: the views that show any, and what is
small on them enlarged. Millimetres of the page, y down.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Skin, common
from bodymap.language import tr
from bodymap.report.appearance import CHANGE_STYLES, LIGHT, MODALITY_LETTERS, MarkStyle
from bodymap.report.figure_svg import contours, ground
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, Placed, close_ups
from bodymap.report.legend import Entry, entries, marked
from bodymap.report.lettering import wrapped
from bodymap.report.svg import element, group, line_data, path, skin_data, text
from bodymap.terms import Change, View

HEIGHT = 92.0
"""Height of a whole body with its heading."""

GRAIN = 0.18
"""Millimetres of a unit of texture, as on a picture that fills an A4 page."""

TITLE, SIDE, KEY, LETTER = 2.9, 2.5, 2.7, 1.9
"""Heights of text."""

TALLEST = 60.0
"""Height of an inset at most."""

WHOLE = (View.FRONT, View.BACK)

NORMAL = CHANGE_STYLES[Change.NORMAL]

SMALL = 0.3
"""A close-up is shown if it holds this share of the marked skin of its view, and all
marked skin of the view takes little of it. Judgement."""

LEAST_ROOM = 1.4
"""A letter stands on skin with at least this much room around it."""

LARGEST = 0.12
"""Share of a view's skin from which on findings are plain without a close-up. Judgement."""

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class _Mark:
    style: MarkStyle
    skin: Skin
    letter: str
    shift: float
    title: str


@dataclass(frozen=True)
class _Panel:
    """A view, or a box of one (view units, y up), with its title."""

    view: View
    title: str
    box: Box
    whole: bool


def figure(atlas: Atlas, drawing: Drawing, left: float, top: float, width: float) -> tuple[
    list[str], float
]:  # fmt: skip
    """The figure from a corner of the page, and where it ends."""
    marks = {view: _marks(atlas, drawing, view) for view in View}
    panels = _panels(atlas, marks)
    bodies = [p for p in panels if p.view in WHOLE and p.whole]
    insets = [p for p in panels if p not in bodies]
    drawn: list[str] = []
    height = HEIGHT if bodies else 0.6 * HEIGHT
    body_width = 0.74 * HEIGHT
    x = left if insets else left + (width - body_width * len(bodies)) / 2
    for panel in bodies:
        drawn.append(
            _drawn(atlas, panel, marks[panel.view], (x, top, x + body_width, top + height))
        )
        x += body_width
    if insets:
        room = left + width - x
        columns = min(len(insets), max(1, round(room / 48.0)))
        rows = -(-len(insets) // columns)
        wide, high = room / columns, min(height / rows, TALLEST)
        for n, panel in enumerate(insets):
            corner = x + wide * (n % columns), top + high * (n // columns)
            room_here = (*corner, corner[0] + wide, corner[1] + high)
            drawn.append(_drawn(atlas, panel, marks[panel.view], room_here))
    told, bottom = _key(atlas, drawing, left, top + height + 2.0, width)
    return [*drawn, *told], bottom


def _marks(atlas: Atlas, drawing: Drawing, view: View) -> list[_Mark]:
    modalities = sorted({m for m, _, _ in drawing})
    found = []
    for modality, change, layer in drawing:
        skin = layer.skin(atlas, view)
        if skin is not None:
            style = CHANGE_STYLES[change]
            letter = MODALITY_LETTERS[modality] if len(modalities) > 1 else ""
            shift = modalities.index(modality) / len(modalities)
            found.append(_Mark(style, skin, letter, shift, f"{tr(style.label)}: {modality.label}"))
    return found


def _panels(atlas: Atlas, marks: dict[View, list[_Mark]]) -> list[_Panel]:
    """Views with findings, front and back first; close-ups of what is small on them."""
    altered = {v for v, found in marks.items() if any(m.style is not NORMAL for m in found)}
    shown = [
        view
        for view in BODY_LAYOUT
        # An inset takes room from the others: it must show more than what is normal.
        if marks[view] and (view in altered or view in WHOLE or not altered)
    ] or list(WHOLE)
    panels = [
        _Panel(v, tr(BODY_LAYOUT[v].title), atlas.figures[v].outline.bounds, True) for v in shown
    ]
    for close_up in close_ups(atlas).values():
        view, box = close_up.view, close_up.box
        if view not in WHOLE or view not in shown:
            continue
        skin = [m.skin for m in marks[view]]
        total = sum(s.area for s in skin)
        inside = sum(c.area for s in skin if (c := common(s, shapely.box(*box))) is not None)
        covered = total / atlas.figures[view].outline.area
        if total and inside >= SMALL * total and covered < LARGEST:
            panels.append(_Panel(view, tr(close_up.label), box, False))
    return panels[:6]


def _drawn(atlas: Atlas, panel: _Panel, marks: Sequence[_Mark], room: Box) -> str:
    left, top, right, bottom = room
    x0, y0, x1, y1 = panel.box
    inner = top + 5.0, bottom - 4.5
    scale = min((right - left - 3.0) / (x1 - x0), (inner[1] - inner[0]) / (y1 - y0))
    middle = (left + right) / 2
    dx = middle - scale * (x0 + x1) / 2
    dy = inner[0] + scale * y1
    children = [text(panel.title, middle, top + 3.0, TITLE, LIGHT.text, "middle", bold=True)]
    children += _body(atlas, panel, scale, dx, dy)
    placed = Placed(panel.view, scale / GRAIN, dx / GRAIN, dy / GRAIN, "", (0.0, 0.0))
    shown = list(_cut(panel, marks))
    children.append(
        group(
            (marked(m.style, m.skin, placed, LIGHT, m.shift, m.title) for m in shown),
            transform=f"scale({GRAIN:g})",
        )
    )
    children += _lines(atlas, panel, scale, dx, dy)
    children += _letters(shown, scale, dx, dy)
    children += _sides(panel, scale, dx, dy, inner[0] + scale * (y1 - y0) + 3.6, middle)
    return group(children, panel.title)


def _cut(panel: _Panel, marks: Sequence[_Mark]) -> Iterator[_Mark]:
    for mark in marks:
        skin = mark.skin if panel.whole else common(mark.skin, shapely.box(*panel.box))
        if skin is not None:
            yield _Mark(mark.style, skin, mark.letter, mark.shift, mark.title)


def _on_sheet(view: View, scale: float, dx: float, dy: float) -> str:
    """The transform from the sheet that the views are laid out on to this place."""
    sheet = BODY_LAYOUT[view]
    k = scale / sheet.scale
    return f"translate({dx - k * sheet.dx:.4f} {dy - k * sheet.dy:.4f}) scale({k:.6f})"


def _body(atlas: Atlas, panel: _Panel, scale: float, dx: float, dy: float) -> list[str]:
    if panel.whole:
        transform = _on_sheet(panel.view, scale, dx, dy)
        return [group(ground(atlas, panel.view, LIGHT), transform=transform)]
    skin = common(atlas.figures[panel.view].outline, shapely.box(*panel.box))
    placed = Placed(panel.view, scale, dx, dy, "", (0.0, 0.0))
    return [] if skin is None else [path(skin_data(skin, placed), fill=LIGHT.skin)]


def _lines(atlas: Atlas, panel: _Panel, scale: float, dx: float, dy: float) -> list[str]:
    if panel.whole:
        transform = _on_sheet(panel.view, scale, dx, dy)
        return [group(contours(atlas, panel.view, LIGHT, ()), transform=transform)]
    frame = shapely.box(*panel.box)
    placed = Placed(panel.view, scale, dx, dy, "", (0.0, 0.0))
    drawn = []
    for stroke in atlas.figures[panel.view].lines:
        piece = shapely.clip_by_rect(shapely.LineString(stroke.points), *panel.box)
        lines = [shapely.get_coordinates(line) for line in shapely.get_parts(piece)]
        data = line_data([line for line in lines if len(line) > 1], placed)
        if data:
            drawn.append(path(data, fill="none", stroke=LIGHT.inner_line, stroke_width=0.18))
    skin = common(atlas.figures[panel.view].outline, frame)
    if skin is not None:
        drawn.append(
            path(skin_data(skin, placed), fill="none", stroke=LIGHT.outline, stroke_width=0.25)
        )
    return drawn


def _letters(marks: Sequence[_Mark], scale: float, dx: float, dy: float) -> Iterator[str]:
    """The modality's letter on the largest pieces of marked skin, beside one another."""
    taken: list[tuple[float, float]] = []
    for mark in marks:
        if not mark.letter:
            continue
        pieces = sorted(shapely.get_parts(mark.skin), key=lambda p: -p.area)[:4]
        for piece in pieces:
            at = _free_place(piece, scale, dx, dy, taken)
            if at is None:
                continue
            taken.append(at)
            colour = mark.style.colour(LIGHT)
            yield element("circle", cx=at[0], cy=at[1], r=1.25, fill=LIGHT.canvas, stroke=colour,
                          stroke_width=0.2)  # fmt: skip
            yield text(mark.letter, at[0], at[1] + 0.7, LETTER, LIGHT.text, "middle", bold=True)


def _free_place(
    piece: shapely.Polygon, scale: float, dx: float, dy: float, taken: Sequence[tuple[float, float]]
) -> tuple[float, float] | None:
    """The middle of a piece, or a place on it beside other letters; None without room."""
    circle = shapely.maximum_inscribed_circle(piece)
    (x, y), _ = shapely.get_coordinates(circle)
    if scale * shapely.length(circle) < LEAST_ROOM:
        return None
    inner = shapely.buffer(piece, -LEAST_ROOM / scale)
    step = 2.8 / scale
    for right, up in ((0, 0), (0, -1), (0, 1), (1, 0), (-1, 0), (0, -2), (0, 2), (2, 0), (-2, 0)):
        here = float(x) + right * step, float(y) + up * step
        at = dx + scale * here[0], dy - scale * here[1]
        free = all(abs(at[0] - a) >= 2.6 or abs(at[1] - b) >= 2.6 for a, b in taken)
        if free and shapely.intersects_xy(inner, *here):
            return at
    return None


def _sides(
    panel: _Panel, scale: float, dx: float, dy: float, under: float, middle: float
) -> Iterator[str]:
    """RIGHT and LEFT of the patient, beside the skin of that side."""
    for mark in SIDE_MARKS:
        if mark.view is not panel.view:
            continue
        if panel.whole:
            x, y = dx + scale * mark.x, dy - scale * mark.y
            if panel.view not in WHOLE:
                y = under
            elif abs(x - middle) < 11:
                x = middle + (11 if x > middle else -11)
            yield text(mark.text, x, y, SIDE, LIGHT.muted_text, "middle")
        elif panel.box[0] < 0 < panel.box[2]:
            x = middle + (12 if mark.x > 0 else -12)
            yield text(mark.text, x, under, SIDE, LIGHT.muted_text, "middle")


def _key(
    atlas: Atlas, drawing: Drawing, left: float, top: float, width: float
) -> tuple[list[str], float]:
    """What the marks mean, in three columns, and where that ends."""
    rows: tuple[Entry, ...] = entries(atlas, drawing, None)
    if not rows:
        words = tr("Nothing is marked on the figure.")
        return [text(words, left, top + KEY, KEY, LIGHT.muted_text)], top + 5
    step, columns = width / 3, 3
    drawn: list[str] = []
    plain = Placed(View.FRONT, 1.0, 0.0, 0.0, "", (0.0, 0.0))
    y = top
    for start in range(0, len(rows), columns):
        deepest = 1
        for n, row in enumerate(rows[start : start + columns]):
            x = left + step * n
            swatch = shapely.box(x / GRAIN, -(y + 4.4) / GRAIN, (x + 6.5) / GRAIN, -y / GRAIN)
            drawn.append(
                group([marked(row.style, swatch, plain, LIGHT, swatch=True)],
                      transform=f"scale({GRAIN:g})")
            )  # fmt: skip
            lines = wrapped(row.words, KEY, step - 9.5)
            deepest = max(deepest, len(lines))
            for k, line in enumerate(lines):
                drawn.append(text(line, x + 7.8, y + 2.0 + 3.2 * k, KEY, LIGHT.text))
            drawn.append(
                text(row.amount, x + 7.8, y + 1.9 + 3.2 * len(lines), 2.3, LIGHT.muted_text)
            )
        y += 3.2 * deepest + 4.0
    drawn.append(text(tr("Sides are the patient's."), left, y + 1.2, 2.3, LIGHT.muted_text))
    return drawn, y + 2.0
