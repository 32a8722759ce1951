"""The figure on a slide: the whole sheet, or close-ups where all is small.

The sheet is that of ``report.layout``. Order from below: skin, marks, lines, words; each a
group with a name and a text that stands for it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.figure import Figure
from bodymap.geometry import Floats, Skin, clean, union_of
from bodymap.language import later, tr
from bodymap.report.appearance import OUTLINE_WIDTH, MarkStyle, Theme
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, CloseUp, close_ups
from bodymap.report.lettering import text_width
from bodymap.slides.limbs import limb_close_ups
from bodymap.slides.page import LEAST, Place, Words, write
from bodymap.slides.shapes import (
    INCH,
    POINT,
    SMOOTH,
    Placing,
    described,
    filled,
    freeform,
    lined,
    marked,
)
from bodymap.terms import View

if TYPE_CHECKING:
    from pptx.slide import Slide

SHEET = 4572.0
"""EMU to a unit of the sheet: the body stands 5 inches high."""

CORNER = (0.22 * INCH, 1.02 * INCH)
"""Where the corner of the sheet stands, EMU."""

ROOM: Place = (0.45, 1.5, 7.3, 4.95)
"""Room for close-ups, inches."""

SMALL = 0.9
"""Close-ups are shown where one or two of them hold this share of the skin."""

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

SLIVER = 0.3
"""Skin of less than this share of the largest piece in a window is no part of what the
window shows (two feet are alike; a strip of hip beside an arm is not). Judgement."""

SCHEMATIC = (912.0, 1118.0)
"""Where the sheet says that the saddle is schematic."""

SHIFT = {View.FRONT: 1.2, View.BACK: 1.2, View.SADDLE: 0.84}
"""RIGHT and LEFT stand this much further apart than in the layout, for the same reason."""


@dataclass(frozen=True)
class Mark:
    """Skin by view that is marked in one style: name of the group, text that stands for it."""

    name: str
    style: MarkStyle
    skin: dict[View, Skin]
    words: str


@dataclass(frozen=True)
class Scene:
    """Which views are shown, and where. ``close`` are the close-ups (none: the sheet)."""

    views: tuple[tuple[View, Placing], ...]
    close: tuple[CloseUp, ...] = ()


def scene(atlas: Atlas, covered_cm2: Floats, limbs: bool = False) -> Scene:
    """The close-ups that hold nearly all of some skin (cm² by cell), or the whole sheet.

    With ``limbs`` a whole arm or leg may be shown as well.
    """
    for among in (close_ups(atlas).values(), limb_close_ups(atlas) if limbs else ()):
        chosen = _held_by_two(atlas, covered_cm2, among)
        if chosen:
            break
    else:
        return Scene(tuple((view, _on_sheet(view)) for view in BODY_LAYOUT))
    width = ROOM[2] / len(chosen)
    return Scene(
        tuple(
            (close.view, _enlarged(close, (ROOM[0] + i * width, ROOM[1], width - 0.2, ROOM[3])))
            for i, close in enumerate(chosen)
        ),
        tuple(chosen),
    )


def _held_by_two(atlas: Atlas, covered_cm2: Floats, among: Iterable[CloseUp]) -> list[CloseUp]:
    """The one or two close-ups that hold nearly all of some skin; none if none do."""
    total = float(covered_cm2.sum())
    centres = shapely.get_coordinates(shapely.point_on_surface(atlas.cells.polygons))
    held: list[tuple[float, CloseUp]] = []
    for close in among if total > 0 else ():
        mine = atlas.cells.in_view(close.view)
        x0, y0, x1, y1 = close.box
        x, y = centres[mine].T
        inside = mine[(x > x0) & (x < x1) & (y > y0) & (y < y1)]
        held.append((float(covered_cm2[inside].sum()) / total, close))
    best = sorted(held, key=lambda pair: -pair[0])[:2]
    if not best or sum(share for share, _ in best) < SMALL:
        return []
    seen = {close.id for share, close in best if share > 0.02}
    return [close for _, close in held if close.id in seen]


def _on_sheet(view: View) -> Placing:
    placed = BODY_LAYOUT[view]
    return Placing(
        SHEET * placed.scale, CORNER[0] + SHEET * placed.dx, CORNER[1] + SHEET * placed.dy
    )


def _enlarged(close: CloseUp, room: Place) -> Placing:
    x0, y0, x1, y1 = close.box
    scale = INCH * min(room[2] / (x1 - x0), room[3] / (y1 - y0))
    left = INCH * (room[0] + room[2] / 2) - scale * (x0 + x1) / 2
    top = INCH * (room[1] + room[3] / 2) + scale * (y0 + y1) / 2
    return Placing(scale, left, top, close.box)


def draw_figure(
    slide: "Slide", atlas: Atlas, marks: Sequence[Mark], theme: Theme, shown: Scene, words: str
) -> None:
    """The figure with its marks. ``words`` stand for it where it is not seen."""
    ground = slide.shapes.add_group_shape()
    for view, placing in shown.views:
        _ground(ground, atlas, view, placing, theme)
    described(ground, tr("Figure: skin"), words)
    for mark in marks:
        group = slide.shapes.add_group_shape()
        for view, placing in shown.views:
            skin = placing.shown(mark.skin.get(view))
            if skin is not None:
                marked(group, skin, placing, mark.style, theme, f"{mark.name}, {view.label}")
        if len(group.shapes):
            described(group, mark.name, mark.words)
        else:
            group._element.getparent().remove(group._element)
    lines = slide.shapes.add_group_shape()
    for view, placing in shown.views:
        _lines(lines, atlas, view, placing, theme)
    described(lines, tr("Figure: lines"), tr("Outline and inner lines of the figure."))
    names = slide.shapes.add_group_shape()
    if shown.close:
        for close, (_, placing) in zip(shown.close, shown.views, strict=True):
            _named(names, close, placing)
    else:
        _sheet_names(names)
    told = tr("Names of the views; RIGHT and LEFT are the patient's.")
    described(names, tr("Figure: sides"), told)


def _ground(group: Any, atlas: Atlas, view: View, placing: Placing, theme: Theme) -> None:
    figure = atlas.figures[view]
    kept = _kept(figure, placing)
    skin = tr("Skin, {view}", view=view.label)
    for piece in shapely.get_parts(kept):
        ring = placing.on_slide(shapely.get_coordinates(piece.exterior))
        filled(freeform(group, [ring], skin, True), theme.skin)
    for kind in dict.fromkeys(shape.kind for shape in figure.shapes):
        soft = union_of(
            clean(shapely.Polygon(s.ring)) for s in figure.shapes if s.kind == kind
        )  # fmt: skip
        soft = placing.shown(clean(placing.thinned(soft, SMOOTH)))
        if soft is not None:
            rings = [
                placing.on_slide(shapely.get_coordinates(p.exterior))
                for p in shapely.get_parts(soft)
                if shapely.intersects(p, kept)
            ]
            if rings:
                shape = freeform(group, rings, f"{soft_part(kind)}, {view.label}", True)
                opacity = 0.35 if kind in ("shadow", "light") else 0.8
                filled(shape, theme.shape_colour(kind), opacity)


def soft_part(kind: str) -> str:
    """What the soft shapes of a kind show, in words."""
    words = {
        "nail": tr("nail", "of the figure"),
        "lip": tr("lip", "of the figure"),
        "areola": tr("areola", "of the figure"),
        "shadow": tr("shadow", "of the figure"),
        "light": tr("light", "of the figure"),
    }
    return words.get(kind, kind)


def _kept(figure: Figure, placing: Placing) -> Skin:
    """The skin of a view that is shown: of a part of it without what the edge of the window
    cuts off its neighbours, such as a strip of the hip beside an arm."""
    outline = placing.shown(clean(placing.thinned(figure.outline, SMOOTH)))
    pieces = shapely.get_parts(outline)
    areas = shapely.area(pieces)
    return shapely.MultiPolygon(list(pieces[areas >= SLIVER * areas.max()]))


def _lines(group: Any, atlas: Atlas, view: View, placing: Placing, theme: Theme) -> None:
    """Inner lines, one shape for each width of a quarter of a point, and the outline."""
    figure = atlas.figures[view]
    kept = _kept(figure, placing)
    by_width: dict[int, list[Floats]] = {}
    for stroke in figure.lines:
        line = placing.thinned(shapely.LineString(stroke.points), SMOOTH)
        if placing.window is not None:
            line = shapely.clip_by_rect(line, *placing.window)
        width = max(1, round(4 * 0.8 * stroke.weight * placing.scale / POINT))
        by_width.setdefault(width, []).extend(
            placing.on_slide(shapely.get_coordinates(part))
            for part in shapely.get_parts(line)
            if not part.is_empty and shapely.intersects(kept, part)
        )
    for width, lines in sorted(by_width.items()):
        if lines:
            shape = freeform(group, lines, tr("Inner lines, {view}", view=view.label), closed=False)
            lined(shape, theme.inner_line, width / 4)
    outline = shapely.boundary(placing.thinned(figure.outline, SMOOTH))
    if placing.window is not None:
        outline = shapely.line_merge(shapely.clip_by_rect(outline, *placing.window))
    rings = [
        placing.on_slide(shapely.get_coordinates(r))
        for r in shapely.get_parts(outline)
        if shapely.dwithin(kept, r, SMOOTH)
    ]
    edge = freeform(group, rings, tr("Outline, {view}", view=view.label), closed=False)
    lined(
        edge, theme.outline, min(1.25, OUTLINE_WIDTH * SHEET / POINT * (1.0 + bool(placing.window)))
    )


def _sheet_names(group: Any) -> None:
    for words, x, y in TITLES.values():
        centred(group, tr(words), _x(x), _y(y), bold=True)
    for mark in SIDE_MARKS:
        placed = BODY_LAYOUT[mark.view]
        x, y = placed.to_sheet(SHIFT.get(mark.view, 1.0) * mark.x, mark.y)
        right, down = MOVED.get(mark.view, (0.0, 8.0))
        centred(group, mark.text, _x(x + right), _y(y + down), bold=False)
    centred(group, tr("(schematic)"), _x(SCHEMATIC[0]), _y(SCHEMATIC[1]), bold=False)


def _named(group: Any, close: CloseUp, placing: Placing) -> None:
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


def centred(group: Any, words: str, x: float, baseline: float, bold: bool) -> None:
    """Words of the least size, centred at a place, in inches."""
    width = text_width(words, LEAST) / 72 + 0.02
    place = (x - width / 2, baseline - 0.19, width, 0.25)
    line = Words(words, LEAST, bold, "TEXT_1" if bold else "TEXT_2", 0.0, centred=True)
    write(group, place, [line], words)
