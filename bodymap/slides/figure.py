"""The figure on a slide: the whole sheet, or close-ups where all is small.

The sheet is that of ``report.layout``. Order from below: skin, marks, lines, words; each a
group with a name and a text that stands for it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.figure import Figure
from bodymap.geometry import Floats, Skin, clean, union_of
from bodymap.language import tr
from bodymap.report.appearance import OUTLINE_WIDTH, MarkStyle, Theme
from bodymap.report.layout import BODY_LAYOUT, CloseUp, close_ups
from bodymap.slides.limbs import limb_close_ups
from bodymap.slides.page import Place
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
from bodymap.slides.view_names import CORNER, SHEET, named, sheet_names
from bodymap.terms import View

if TYPE_CHECKING:
    from pptx.slide import Slide

ROOM: Place = (0.45, 1.5, 7.3, 4.95)
"""Room for close-ups, inches."""

SMALL = 0.9
"""Close-ups are shown where one or two of them hold this share of the skin."""

SLIVER = 0.3
"""Skin of less than this share of the largest piece in a window is no part of what the
window shows (two feet are alike; a strip of hip beside an arm is not). Judgement."""


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
            named(names, close, placing)
    else:
        sheet_names(names)
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
