"""The still part of the canvas: figure, one overlay, names, titles.

Everything is prepared once as paths on the sheet; a picture for one zoom is then a
few hundred fills. Nothing here depends on what is drawn.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen, QPixmap

from bodymap.atlas import Atlas
from bodymap.gui.camera import Camera
from bodymap.gui.figure_names import FigureNames, figure_font
from bodymap.gui.overlays import Overlay
from bodymap.gui.qt_shapes import colour, path_of
from bodymap.language import tr
from bodymap.report.appearance import BORDER_WIDTH, OUTLINE_WIDTH, Theme
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, SIDE_SIZE, TITLE_SIZE, SideMark
from bodymap.report.shading import SHADE_OVER, rings_of, smoothed, smoothed_ring, soft_edge
from bodymap.report.strokes import inner_lines
from bodymap.report.territory_colours import territory_colours
from bodymap.terms import View

SIDE_GAP_PX = 4.0
"""Between two marks of sides, pixels."""

BESIDE_HEAD = 54.0
"""Room for half of a side's mark beside the head, sheet units."""

TITLE_GAP = 0.8
"""Between two titles, as a share of their size."""

THINNEST_PX, HAIR_PX = 1.1, 1.3
"""The thinnest line, and up to which width a border is drawn as a hair, pixels."""


@dataclass(frozen=True)
class _Ground:
    outline: QPainterPath
    bands: tuple[tuple[QPainterPath, float], ...]
    shapes: tuple[tuple[QPainterPath, str], ...]
    lines: QPainterPath


class BodyPicture:
    """Paints the figure of an atlas on the sheet."""

    def __init__(self, atlas: Atlas) -> None:
        self._atlas = atlas
        self._grounds = {view: self._ground(view) for view in View}
        self.names = FigureNames(atlas, {v: g.lines for v, g in self._grounds.items()})

    def _ground(self, view: View) -> _Ground:
        figure = self._atlas.figures[view]
        return _Ground(
            path_of(rings_of(smoothed(figure.outline, view)), view),
            tuple((path_of(b.rings, view), b.opacity) for b in soft_edge(self._atlas, view)),
            tuple((path_of([s.ring], view), s.kind) for s in figure.shapes),
            self._lines(view),
        )

    def _lines(self, view: View) -> QPainterPath:
        ribbons = [smoothed_ring(ribbon, view) for ribbon in inner_lines(self._atlas, view)]
        path = path_of(ribbons, view)
        path.setFillRule(Qt.FillRule.WindingFill)
        return path

    def paint(
        self,
        painter: QPainter,
        camera: Camera,
        theme: Theme,
        overlay: Overlay | None,
        strength: float,
        room: QRectF,
    ) -> None:
        """Paint what a camera sees of the sheet. ``room`` is the canvas in pixels."""
        painter.fillRect(room, colour(theme.canvas))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.save()
        painter.scale(camera.scale, camera.scale)
        painter.translate(-camera.left, -camera.top)
        seen = QRectF(camera.left, camera.top, room.width() / camera.scale,
                      room.height() / camera.scale)  # fmt: skip
        painter.setPen(Qt.PenStyle.NoPen)
        grounds = [g for g in self._grounds.values() if g.outline.boundingRect().intersects(seen)]
        for ground in grounds:
            painter.fillPath(ground.outline, colour(theme.skin))
        # The soft edge is laid on twice, under the territories and over them, but drawn once.
        shade = self._shade(painter, theme, grounds, room)
        self._lay(painter, shade, 1.0)
        for ground in grounds:
            for shape, kind in ground.shapes:
                soft = 0.35 if kind in ("shadow", "light") else 0.8
                painter.fillPath(shape, colour(theme.shape_colour(kind), soft))
        if overlay is not None:
            self._paint_fills(painter, theme, overlay, strength, seen)
            self._lay(painter, shade, SHADE_OVER * strength)
            ratio = painter.device().devicePixelRatioF()
            painter.strokePath(overlay.borders, self._border_pen(theme, strength, camera, ratio))
        for ground in grounds:
            painter.fillPath(ground.lines, colour(theme.inner_line))
            painter.strokePath(ground.outline, self._pen(theme.outline, OUTLINE_WIDTH, camera))
        painter.restore()

    def write(
        self,
        painter: QPainter,
        camera: Camera,
        theme: Theme,
        overlay: Overlay | None,
        room: QRectF,
        marked: Sequence[QPainterPath],
    ) -> None:
        """Write names and titles; names on ``marked`` skin (sheet) get a light edge."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if overlay is not None:
            self.names.write(painter, camera, theme, overlay, room, marked)
        self._write_headings(painter, camera, theme)

    def _paint_fills(
        self, painter: QPainter, theme: Theme, overlay: Overlay, strength: float, seen: QRectF
    ) -> None:
        colours = territory_colours(self._atlas, overlay.map_name, theme)
        opacity = theme.territory_opacity * strength
        for name, fill in overlay.fills:
            if fill.boundingRect().intersects(seen):
                painter.fillPath(fill, colour(colours[name], opacity))

    @staticmethod
    def _shade(
        painter: QPainter, theme: Theme, grounds: Sequence[_Ground], room: QRectF
    ) -> QPixmap:
        """The soft inner edge of some views, in the place where a painter would draw it."""
        ratio = painter.device().devicePixelRatioF()
        shade = QPixmap(round(room.width() * ratio), round(room.height() * ratio))
        shade.setDevicePixelRatio(ratio)
        shade.fill(Qt.GlobalColor.transparent)
        brush = QPainter(shade)
        brush.setRenderHint(QPainter.RenderHint.Antialiasing)
        brush.setTransform(painter.transform())
        for ground in grounds:
            for band, opacity in ground.bands:
                brush.fillPath(band, colour(theme.skin_shade, opacity))
        brush.end()
        return shade

    @staticmethod
    def _lay(painter: QPainter, shade: QPixmap, opacity: float) -> None:
        painter.save()
        painter.resetTransform()
        painter.setOpacity(opacity)
        painter.drawPixmap(0, 0, shade)
        painter.restore()

    @staticmethod
    def _pen(ink: str, width: float, camera: Camera) -> QPen:
        # The outline grows with the figure, but slower than it, so that a hand that fills
        # the screen is not ringed by a rope.
        shown = width if camera.scale <= 1 else width / camera.scale**0.55
        pen = QPen(colour(ink), max(shown, THINNEST_PX / camera.scale))
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        return pen

    def _border_pen(self, theme: Theme, strength: float, camera: Camera, ratio: float) -> QPen:
        pen = self._pen(theme.territory_border, BORDER_WIDTH, camera)
        pen.setColor(colour(theme.territory_border, 0.35 + 0.65 * strength))
        if pen.widthF() * camera.scale * ratio <= HAIR_PX:
            # A hair is drawn as a line, many times faster than as a shape that is filled.
            pen.setWidthF(1.0)
            pen.setCosmetic(True)
        return pen

    def _write_headings(self, painter: QPainter, camera: Camera, theme: Theme) -> None:
        painter.setPen(colour(theme.text))
        size = min(max(TITLE_SIZE * camera.scale, 11.0), 17.0, _title_limit() * camera.scale)
        for placed in BODY_LAYOUT.values():
            x, y = camera.to_canvas(*placed.title_at)
            painter.setFont(figure_font(size, bold=True))
            painter.drawText(QRectF(x - 200, y - size * 1.3, 400, size * 1.6),
                             Qt.AlignmentFlag.AlignCenter, tr(placed.title))  # fmt: skip
        painter.setPen(colour(theme.muted_text))
        size = min(max(SIDE_SIZE * camera.scale, 10.0), 15.0)
        painter.setFont(figure_font(size, bold=True))
        for mark, words in side_words(size, camera.scale):
            x, y = camera.to_canvas(*mark.on_sheet)
            painter.drawText(QRectF(x - 60, y - size, 120, size * 1.5),
                             Qt.AlignmentFlag.AlignCenter, words)  # fmt: skip


def side_words(size: float, scale: float) -> list[tuple[SideMark, str]]:
    """The marks of the sides, ``size`` pixels high at a scale (pixels for each sheet unit): in
    words, or all by their first letters where words would touch the head or each other."""
    metrics = QFontMetricsF(figure_font(size, bold=True))
    wide = {mark.text: metrics.horizontalAdvance(mark.text) for mark in SIDE_MARKS}
    touch = (
        any(
            abs(a.on_sheet[0] - b.on_sheet[0]) * scale
            < (wide[a.text] + wide[b.text]) / 2 + SIDE_GAP_PX
            for number, a in enumerate(SIDE_MARKS)
            for b in SIDE_MARKS[:number]
            if abs(a.on_sheet[1] - b.on_sheet[1]) < SIDE_SIZE
        )
        or max(wide.values()) / 2 > BESIDE_HEAD * scale
    )
    initials = {text: text[:1] for text in wide}
    apart = len(set(initials.values())) == len(initials)
    return [(m, initials[m.text] if touch and apart else m.text) for m in SIDE_MARKS]


@cache
def _title_limit() -> float:
    """The largest size of titles, for each pixel of a sheet unit, at which no two that
    stand side by side touch."""
    metrics = QFontMetricsF(figure_font(100.0, bold=True))
    placed = [
        (p.title_at, metrics.horizontalAdvance(p.title) / 100.0) for p in BODY_LAYOUT.values()
    ]
    limits = [
        abs(a[0] - b[0]) / (TITLE_GAP + (wide + other) / 2)
        for number, (a, wide) in enumerate(placed)
        for b, other in placed[:number]
        if abs(a[1] - b[1]) < TITLE_SIZE
    ]
    return min(limits)
