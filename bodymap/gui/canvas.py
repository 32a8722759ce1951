"""The canvas: the body, what is found on it, and the pointer at work.

Three layers. The still figure is a pixmap for one zoom, renewed shortly after the
zoom rests; the marks are a second one, renewed when drawing or selection change;
a stroke under way is painted straight over both, and only where it moved.
"""

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from bodymap.errors import BodymapError
from bodymap.gui.body_picture import BodyPicture
from bodymap.gui.camera import Box, Camera, showing
from bodymap.gui.choices import Tool, resized
from bodymap.gui.marks import Mark, legend_of, marks_of, paint_legend, paint_mark
from bodymap.gui.pointing import words_at
from bodymap.gui.qt_shapes import colour, skin_path
from bodymap.gui.session import Session
from bodymap.gui.tools import StrokeGesture, erases, mark_region
from bodymap.report.appearance import CHANGE_STYLES, LIGHT, Theme
from bodymap.report.layout import BODY_LAYOUT, SHEET_HEIGHT, SHEET_WIDTH, view_at
from bodymap.terms import View

SHEET: Box = (0.0, 0.0, SHEET_WIDTH, SHEET_HEIGHT - 24)
LEAST_SCALE, MOST_SCALE = 0.12, 24.0
WHEEL_STEP = 1.0016
"""Zoom for each eighth of a degree of the wheel."""

LEGEND_PX = 44
"""Room kept free for the legend along the lower edge when the whole body is shown."""

REST_MS = 70
"""The figure is drawn anew for a zoom once the zoom has rested so long."""


class Canvas(QWidget):
    """Shows the sheet, and turns gestures into steps of the session."""

    pointed = Signal(str)
    """What lies under the pointer, in words."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.theme: Theme = LIGHT
        self.camera = Camera()
        self._fitted = True
        self._figure: BodyPicture | None = None
        self._still: tuple[Camera, QPixmap] | None = None
        self._marked: tuple[Camera, QPixmap] | None = None
        self._stroke: StrokeGesture | None = None
        self._trail: list[Mark] = []
        self._pan_from: QPointF | None = None
        self._space = False
        self._pointer: QPointF | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._renew)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(320, 240)
        self.setAccessibleName("Body canvas")
        self.setAccessibleDescription(
            "Paint findings on the figure. The list of named regions does the same by keyboard."
        )
        session.atlas_ready.connect(self._begin)
        session.drawing_changed.connect(self._marks_changed)
        session.selection_changed.connect(self._marks_changed)
        session.choices_changed.connect(self._choices_changed)
        self._shown = session.choices

    # What is shown

    def _begin(self) -> None:
        if self.session.atlas is not None:
            self._figure = BodyPicture(self.session.atlas)
        self._renew()

    def set_theme(self, theme: Theme) -> None:
        """Show everything in another theme."""
        self.theme = theme
        self._renew()

    def _choices_changed(self) -> None:
        now, before = self.session.choices, self._shown
        self._shown = now
        if (now.overlay, now.overlay_strength) != (before.overlay, before.overlay_strength):
            self._still = None
        self._marks_changed()
        self._show_cursor()

    def _marks_changed(self) -> None:
        self._marked = None
        self.update()

    def _renew(self) -> None:
        self._still = self._marked = None
        self.update()

    # The camera

    def fit(self) -> None:
        """Show the whole sheet."""
        self._fitted = True
        self._look(showing(SHEET, self.width(), self.height() - LEGEND_PX), at_once=True)

    def show_box(self, box: Box) -> None:
        """Show a part of the sheet as large as the canvas allows."""
        self._fitted = False
        self._look(showing(box, self.width(), self.height()), at_once=True)

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Nearer or farther, holding the skin under a pixel (or the middle) in place."""
        at = at or QPointF(self.width() / 2, self.height() / 2)
        self._fitted = False
        self._look(self.camera.zoomed(factor, at.x(), at.y(), LEAST_SCALE, MOST_SCALE))

    def pan(self, dx: float, dy: float) -> None:
        """Move the sheet by so many pixels."""
        self._fitted = False
        self._look(self.camera.panned(dx, dy))

    def _look(self, camera: Camera, at_once: bool = False) -> None:
        self.camera = camera.held(SHEET, self.width(), self.height())
        if at_once:
            self._rest.stop()
            self._renew()
        else:
            self._rest.start()
            self.update()

    def place_at(self, pixel: QPointF) -> tuple[View, float, float] | None:
        """The view and the place in it under a pixel, or None between the views."""
        atlas = self.session.atlas
        if atlas is None:
            return None
        x, y = self.camera.to_sheet(pixel.x(), pixel.y())
        view = view_at(atlas, x, y)
        return None if view is None else (view, *BODY_LAYOUT[view].to_view(x, y))

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setClipRect(event.rect())
        if self._figure is None:
            painter.fillRect(self.rect(), colour(self.theme.canvas))
            painter.setPen(colour(self.theme.muted_text))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, "Preparing the body map…")
            return
        resting = not self._rest.isActive()
        if self._still is None or (resting and self._still[0] != self.camera):
            self._still = (self.camera, self._still_pixmap())
        if self._marked is None or (resting and self._marked[0] != self.camera):
            self._marked = (self.camera, self._marks_pixmap())
        painter.fillRect(event.rect(), colour(self.theme.canvas))
        for camera, pixmap in (self._still, self._marked):
            self._show(painter, camera, pixmap)
        self._paint_stroke(painter)
        paint_legend(
            painter, legend_of(self.session), self.theme, QRectF(self.rect()),
            self.devicePixelRatioF(),
        )  # fmt: skip
        if not self.session.drawing and self._stroke is None:
            self._paint_hint(painter)

    def _show(self, painter: QPainter, camera: Camera, pixmap: QPixmap) -> None:
        if camera == self.camera:
            painter.drawPixmap(0, 0, pixmap)
            return
        # While the zoom moves, the last picture stands in, enlarged.
        x, y = self.camera.to_canvas(camera.left, camera.top)
        factor = self.camera.scale / camera.scale
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(
            QRectF(x, y, self.width() * factor, self.height() * factor),
            pixmap,
            QRectF(pixmap.rect()),
        )

    def _blank(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        pixmap = QPixmap(round(self.width() * ratio), round(self.height() * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        return pixmap

    def _still_pixmap(self) -> QPixmap:
        pixmap, chosen = self._blank(), self.session.choices
        assert self._figure is not None
        painter = QPainter(pixmap)
        room = QRectF(self.rect())
        self._figure.paint(
            painter, self.camera, self.theme, chosen.overlay, chosen.overlay_strength, room
        )
        painter.end()
        return pixmap

    def _marks_pixmap(self) -> QPixmap:
        pixmap = self._blank()
        painter = QPainter(pixmap)
        self._to_sheet(painter)
        for mark in marks_of(self.session):
            paint_mark(painter, mark, self.theme, self.camera, self.devicePixelRatioF())
        painter.end()
        return pixmap

    def _to_sheet(self, painter: QPainter) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(self.camera.scale, self.camera.scale)
        painter.translate(-self.camera.left, -self.camera.top)

    def _paint_stroke(self, painter: QPainter) -> None:
        painter.save()
        self._to_sheet(painter)
        seen = painter.clipBoundingRect()
        for mark in self._trail:
            if not mark.path.boundingRect().intersects(seen):
                continue
            painter.fillPath(mark.path, colour(mark.style.colour(self.theme), mark.opacity))
        painter.restore()
        if self._pointer is not None and self.session.choices.tool is not Tool.REGION:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(colour(self.theme.accent), 1.4))
            radius = self.session.choices.brush / 2
            painter.drawEllipse(self._pointer, radius, radius)

    def _paint_hint(self, painter: QPainter) -> None:
        words = "Choose an instrument and what was found, then paint on the skin."
        font = self.font()
        font.setPixelSize(13)
        painter.setFont(font)
        width = painter.fontMetrics().horizontalAdvance(words) + 36
        box = QRectF((self.width() - width) / 2, self.height() - 44, width, 32)
        painter.setPen(QPen(colour(self.theme.panel_border), 1))
        painter.setBrush(colour(self.theme.panel, 0.95))
        painter.drawRoundedRect(box, 8, 8)
        painter.setPen(colour(self.theme.text))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    # Gestures

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus()
        left = event.button() is Qt.MouseButton.LeftButton
        if event.button() is Qt.MouseButton.MiddleButton or (left and self._space):
            self._pan_from = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        place = self.place_at(event.position())
        atlas = self.session.atlas
        if not left or place is None or atlas is None:
            return
        modifier = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        view, x, y = place
        if self.session.choices.tool is Tool.REGION:
            self._mark_region(view, x, y, modifier)
            return
        radius = self.session.choices.brush / 2 / self.camera.scale / BODY_LAYOUT[view].scale
        removes = erases(self.session.choices.tool, modifier)
        self._stroke = StrokeGesture(self.session, atlas, view, radius, removes)
        self._sweep(x, y)

    def _mark_region(self, view: View, x: float, y: float, remove: bool) -> None:
        atlas = self.session.atlas
        place = atlas.place(view, x, y) if atlas else None
        if place is not None:
            try:
                mark_region(self.session, place.region.whole, place.side, remove)
            except BodymapError as error:
                self.session.tell(str(error), failure=True)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pan_from is not None:
            moved = event.position() - self._pan_from
            self._pan_from = event.position()
            self.pan(moved.x(), moved.y())
            return
        self._move_pointer(event.position())
        if self._stroke is not None:
            x, y = self.camera.to_sheet(event.position().x(), event.position().y())
            self._sweep(*BODY_LAYOUT[self._stroke.view].to_view(x, y))

    def _sweep(self, x: float, y: float) -> None:
        stroke = self._stroke
        assert stroke is not None
        added = stroke.move_to(x, y)
        if added is None:
            return
        style = CHANGE_STYLES[stroke.change]
        path = skin_path(added, stroke.view)
        self._trail.append(Mark(path, style, 0.25 if stroke.erases else 0.55))
        box = path.boundingRect()
        left, top = self.camera.to_canvas(box.left(), box.top())
        size = box.size() * self.camera.scale
        self.update(QRectF(left, top, size.width(), size.height()).toAlignedRect()
                    .adjusted(-3, -3, 3, 3))  # fmt: skip

    def _move_pointer(self, where: QPointF | None) -> None:
        reach = round(self.session.choices.brush / 2) + 3
        for spot in (self._pointer, where):
            if spot is not None:
                x, y = round(spot.x()), round(spot.y())
                self.update(x - reach, y - reach, 2 * reach, 2 * reach)
        self._pointer = where
        place = self.place_at(where) if where is not None else None
        if self._stroke is None:
            self.pointed.emit(words_at(self.session, *place) if place else "")

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._pan_from is not None:
            self._pan_from = None
            self._show_cursor()
        elif self._stroke is not None and event.button() is Qt.MouseButton.LeftButton:
            stroke, self._stroke, self._trail = self._stroke, None, []
            stroke.finish()
            self.update()

    def cancel_stroke(self) -> bool:
        """Give up a stroke under way; says whether there was one."""
        if self._stroke is None:
            return False
        stroke, self._stroke, self._trail = self._stroke, None, []
        stroke.cancel()
        self.update()
        return True

    def leaveEvent(self, event: QEvent) -> None:
        self._move_pointer(None)

    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y() or event.angleDelta().x()
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._move_pointer(self._pointer)
            self.session.choose(brush=resized(self.session.choices.brush, turned / 120))
        else:
            self.zoom(WHEEL_STEP**turned, event.position())
        event.accept()

    def event(self, event: QEvent) -> bool:
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1 + event.value(), event.position())
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = 60
        moves = {
            Qt.Key.Key_Left: (step, 0), Qt.Key.Key_Right: (-step, 0),
            Qt.Key.Key_Up: (0, step), Qt.Key.Key_Down: (0, -step),
        }  # fmt: skip
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif event.key() in moves:
            self.pan(*moves[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._show_cursor()
        else:
            super().keyReleaseEvent(event)

    def _show_cursor(self) -> None:
        region = self.session.choices.tool is Tool.REGION
        self.setCursor(Qt.CursorShape.PointingHandCursor if region else Qt.CursorShape.CrossCursor)
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        if self._fitted:
            self.fit()
        else:
            self._renew()
