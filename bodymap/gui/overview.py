"""The whole sheet, small, in a corner of an enlarged canvas, with the part that is seen."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPixmap

from bodymap.gui.body_picture import BodyPicture
from bodymap.gui.camera import Box, Camera, showing
from bodymap.gui.qt_shapes import colour
from bodymap.report.appearance import Theme

WIDTH_PX = 150
EDGE_PX = 10
"""Width of the overview, and its distance from the corner."""


class Overview:
    """Knows the sheet; is told the camera and the width of the canvas."""

    def __init__(self, sheet: Box) -> None:
        self._sheet = sheet
        self._picture: tuple[Theme, QPixmap] | None = None

    def box(self, canvas_width: float) -> QRectF:
        """Where the overview stands on the canvas."""
        left, top, right, bottom = self._sheet
        height = WIDTH_PX * (bottom - top) / (right - left)
        return QRectF(canvas_width - WIDTH_PX - EDGE_PX, EDGE_PX, WIDTH_PX, height)

    def place(self, canvas_width: float, pixel: QPointF) -> tuple[float, float] | None:
        """The place of the sheet under a pixel of the overview, or None beside it."""
        box = self.box(canvas_width)
        if not box.contains(pixel):
            return None
        return self._camera(box).to_sheet(pixel.x() - box.left(), pixel.y() - box.top())

    def paint(
        self, painter: QPainter, figure: BodyPicture, camera: Camera, room: QRectF,
        theme: Theme, ratio: float,
    ) -> None:  # fmt: skip
        """Paint it over a canvas of the size of ``room`` (pixels) that shows a camera."""
        box = self.box(room.width())
        own = self._camera(box)
        if self._picture is None or self._picture[0] is not theme:
            pixmap = QPixmap(round(box.width() * ratio), round(box.height() * ratio))
            pixmap.setDevicePixelRatio(ratio)
            small = QPainter(pixmap)
            figure.paint(small, own, theme, None, 0.0, QRectF(0, 0, box.width(), box.height()))
            small.end()
            self._picture = theme, pixmap
        painter.drawPixmap(box.topLeft(), self._picture[1])
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour(theme.panel_border), 1))
        painter.drawRect(box)
        left, top = own.to_canvas(camera.left, camera.top)
        factor = own.scale / camera.scale
        seen = QRectF(
            box.left() + left, box.top() + top, room.width() * factor, room.height() * factor
        )
        painter.setPen(QPen(colour(theme.accent), 1.6))
        painter.drawRect(seen.intersected(box))

    def _camera(self, box: QRectF) -> Camera:
        return showing(self._sheet, box.width(), box.height(), 3.0)
