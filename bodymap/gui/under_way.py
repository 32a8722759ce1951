"""What is seen of a gesture under way: the brush's trail, the line round some skin, and the
place where the hand is."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPixmap

from bodymap.geometry import Skin
from bodymap.gui.camera import Camera
from bodymap.gui.gestures import OutlineGesture, StrokeGesture
from bodymap.gui.qt_shapes import colour, skin_path
from bodymap.report.appearance import CHANGE_STYLES, Theme
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View

PAINTED, ERASED = 0.55, 0.25
"""Opacity of the trail of a brush and of an eraser."""

CROSS_PX = 11
"""Length of each arm of the cross at the hand that keys move, pixels."""


def to_sheet(painter: QPainter, camera: Camera) -> None:
    """Let a painter draw in units of the sheet."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(camera.scale, camera.scale)
    painter.translate(-camera.left, -camera.top)


class Trail:
    """What a stroke has covered so far. Each movement is painted once, into a picture for
    the camera in hand, so that a long stroke costs no more than a short one."""

    def __init__(self, stroke: StrokeGesture) -> None:
        self._style = CHANGE_STYLES[stroke.change]
        self._opacity = ERASED if stroke.erases else PAINTED
        self._paths: list[QPainterPath] = []
        self._drawn = 0
        self._picture: QPixmap | None = None
        self._seen: tuple[Camera, QSize, Theme, float] | None = None

    def add(self, added: dict[View, Skin]) -> list[QRectF]:
        """Add the skin of one movement; returns its boxes on the sheet."""
        paths = [skin_path(skin, view) for view, skin in added.items()]
        self._paths += paths
        return [path.boundingRect() for path in paths]

    def paint(
        self, painter: QPainter, camera: Camera, theme: Theme, size: QSize, ratio: float
    ) -> None:
        """Paint the trail on a canvas of some size, device-independent pixels."""
        seen = (camera, size, theme, ratio)
        if self._picture is None or seen != self._seen:
            self._picture = QPixmap(round(size.width() * ratio), round(size.height() * ratio))
            self._picture.setDevicePixelRatio(ratio)
            self._picture.fill(Qt.GlobalColor.transparent)
            self._seen, self._drawn = seen, 0
        if self._drawn < len(self._paths):
            ink = colour(self._style.colour(theme), self._opacity)
            brush = QPainter(self._picture)
            to_sheet(brush, camera)
            # Where movements overlap beyond an edge, the ink does not get darker.
            brush.setCompositionMode(QPainter.CompositionMode.CompositionMode_Source)
            for path in self._paths[self._drawn :]:
                brush.fillPath(path, ink)
            brush.end()
            self._drawn = len(self._paths)
        painter.drawPixmap(0, 0, self._picture)


def paint_outline(
    painter: QPainter,
    outline: OutlineGesture,
    pointer: QPointF | None,
    over_the_edge: bool,
    camera: Camera,
    theme: Theme,
) -> None:
    """The line that is being drawn, on to the pointer; and what it would mark on the other
    side if it goes on there."""
    placed = BODY_LAYOUT[outline.view]
    points = [QPointF(*camera.to_canvas(*placed.to_sheet(x, y))) for x, y in outline.corners]
    if pointer is not None:
        points.append(pointer)
    fill = colour(CHANGE_STYLES[outline.change].colour(theme), 0.25)
    pen = QPen(colour(theme.accent), 1.6, Qt.PenStyle.DashLine)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(fill)
    painter.setPen(pen)
    painter.drawPolygon(points)
    if not over_the_edge:
        return
    last = None
    if pointer is not None:
        last = placed.to_view(*camera.to_sheet(pointer.x(), pointer.y()))
    beyond = {v: s for v, s in outline.pieces(True, last).items() if v is not outline.view}
    painter.save()
    to_sheet(painter, camera)
    pen.setCosmetic(True)
    painter.setPen(pen)
    for view, skin in beyond.items():
        painter.drawPath(skin_path(skin, view))
    painter.restore()


def paint_hand(
    painter: QPainter, where: QPointF, radius: float | None, by_keys: bool, theme: Theme
) -> None:
    """The brush as a ring of some radius, pixels (None without a brush), and a cross where
    keys move the hand. A pale rim lets both be seen on any skin."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for ink, width in ((theme.canvas, 4.0), (theme.accent, 1.4 if not by_keys else 2.0)):
        if ink is theme.canvas and not by_keys:
            continue
        painter.setPen(QPen(colour(ink), width))
        if radius is not None:
            painter.drawEllipse(where, radius, radius)
        if by_keys:
            arm = QPointF(CROSS_PX, 0), QPointF(0, CROSS_PX)
            for along in arm:
                painter.drawLine(where - along, where + along)
