"""The canvas: the sheet with a pointer at work, whose gestures become steps.

Press, movement, wheel and keys are told apart here; what they do to the drawing
stands in ``tools``.
"""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QResizeEvent,
    QTabletEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from bodymap.errors import BodymapError
from bodymap.gui.choices import Tool, resized
from bodymap.gui.marks import Mark
from bodymap.gui.pointing import words_at
from bodymap.gui.qt_shapes import skin_path
from bodymap.gui.session import Session
from bodymap.gui.sheet_view import SheetView
from bodymap.gui.tools import (
    OutlineGesture,
    StrokeGesture,
    erases,
    mark_region,
    mark_territory,
)
from bodymap.report.appearance import CHANGE_STYLES
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View

WHEEL_STEP = 1.0016
"""Zoom for each eighth of a degree of the wheel."""


class Canvas(SheetView):
    """Turns gestures on the sheet into steps of the session."""

    pointed = Signal(str)
    """What lies under the pointer, in words."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._pan_from: QPointF | None = None
        self._space = False
        self._pressure = 1.0
        self.toucher: Callable[[View, float, float], bool] | None = None
        """What a click does while a patient is being touched, in place of the tools."""
        session.choices_changed.connect(self._show_cursor)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus()
        left = event.button() is Qt.MouseButton.LeftButton
        if event.button() is Qt.MouseButton.MiddleButton or (left and self._space):
            self._pan_from = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if left and self._outline is None and self.centre_on_overview(event.position()):
            return
        place = self.place_at(event.position())
        atlas = self.session.atlas
        if not left or place is None or atlas is None:
            return
        modifier = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        view, x, y = place
        if self.toucher is not None:
            self.toucher(view, x, y)
            return
        tool = self.session.choices.tool
        if tool is Tool.REGION:
            self._mark_region(view, x, y, modifier)
            return
        if tool is Tool.TERRITORY:
            mark_territory(self.session, view, x, y, modifier)
            return
        if tool in (Tool.OUTLINE, Tool.STRAIGHT):
            if self._outline is None or self._outline.view is not view:
                self._outline = OutlineGesture(self.session, atlas, view, modifier)
            self._outline.add(x, y)
            self.update()
            return
        radius = self.session.choices.brush / 2 / self.camera.scale / BODY_LAYOUT[view].scale
        removes = erases(self.session.choices.tool, modifier)
        self._stroke = StrokeGesture(self.session, atlas, view, radius, removes)
        self._stroke.over_the_edge = not event.modifiers() & Qt.KeyboardModifier.ShiftModifier
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
        if self._outline is not None:
            if event.buttons() & Qt.MouseButton.LeftButton and self._free:
                x, y = self.camera.to_sheet(event.position().x(), event.position().y())
                self._outline.add(*BODY_LAYOUT[self._outline.view].to_view(x, y))
            self.update()
        if self._stroke is not None:
            x, y = self.camera.to_sheet(event.position().x(), event.position().y())
            self._sweep(*BODY_LAYOUT[self._stroke.view].to_view(x, y))

    def _sweep(self, x: float, y: float) -> None:
        stroke = self._stroke
        assert stroke is not None
        added = stroke.move_to(x, y, self._pressure)
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
        elif self._outline is not None and self._free:
            self.close_outline()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self._outline is not None and not self._free:
            self.close_outline()
        else:
            self.mousePressEvent(event)

    @property
    def _free(self) -> bool:
        return self.session.choices.tool is Tool.OUTLINE

    def close_outline(self) -> None:
        """Close the line that is being drawn, and mark what it encloses."""
        outline, self._outline = self._outline, None
        if outline is not None:
            outline.finish()
        self.update()

    def tabletEvent(self, event: QTabletEvent) -> None:
        # The pressure is kept for the mouse event that follows, which paints.
        released = event.type() is QEvent.Type.TabletRelease
        self._pressure = 1.0 if released else max(event.pressure(), 0.0)
        event.ignore()

    def pointer_place(self) -> tuple[View, float, float] | None:
        """The view and the place in it under the pointer, or None."""
        return None if self._pointer is None else self.place_at(self._pointer)

    def cancel_stroke(self) -> bool:
        """Give up a stroke under way; says whether there was one."""
        if self._outline is not None:
            self._outline = None
            self.update()
            return True
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
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._outline is not None:
            self.close_outline()
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
        if self._outline is not None and self.session.choices.tool not in (
            Tool.OUTLINE, Tool.STRAIGHT,
        ):  # fmt: skip
            self._outline = None
        region = self.session.choices.tool in (Tool.REGION, Tool.TERRITORY)
        self.setCursor(Qt.CursorShape.PointingHandCursor if region else Qt.CursorShape.CrossCursor)
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        if self._fitted:
            self.fit()
        else:
            self._renew()
