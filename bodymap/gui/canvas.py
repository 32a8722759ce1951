"""The canvas: the sheet with a pointer at work, whose gestures become steps.

Press, movement, wheel and keys are told apart here; what they do to the drawing
stands in ``gestures`` and ``tools``.
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
from bodymap.geometry import Skin
from bodymap.gui.choices import Tool, resized
from bodymap.gui.computing import computed
from bodymap.gui.gestures import OutlineGesture, StrokeGesture
from bodymap.gui.hand_keys import HandKeys
from bodymap.gui.pointing import words_at
from bodymap.gui.session import Session
from bodymap.gui.sheet_view import SheetView
from bodymap.gui.tools import erases, mark_region, mark_territory
from bodymap.gui.under_way import CROSS_PX, Trail
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View

WHEEL_STEP = 1.0016
"""Zoom for each eighth of a degree of the wheel."""

PAN_PX = 60
"""One arrow key moves the sheet so far, pixels."""


def shifted(event: QMouseEvent | QKeyEvent) -> bool:
    """Whether Shift is held: a brush stays on its side, a line goes on over the edge."""
    return bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)


class Canvas(SheetView):
    """Turns gestures on the sheet into steps of the session."""

    pointed = Signal(str)
    """What lies under the pointer, in words."""
    findings_wanted = Signal()
    """Skin is about to be marked while something else stands in the place of the findings."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._pan_from: QPointF | None = None
        self._space = False
        self._pressure = 1.0
        self.toucher: Callable[[View, float, float], bool] | None = None
        """What a click does while a patient is being touched, in place of the tools."""
        self.keys = HandKeys(self)
        session.choices_changed.connect(self._show_cursor)
        session.ranking_changed.connect(self._sweep_beyond)
        # What is under way was begun on the skin of another person, or of another visit.
        session.begun_anew.connect(self.cancel_stroke)

    # A hand at work, moved by a pointer or by keys

    def press(self, pixel: QPointF, removes: bool = False, other_way: bool = False) -> None:
        """Set the hand down at a pixel. ``removes`` takes findings away; ``other_way`` lets
        a brush stay on its side of the body, where it goes on over the edge otherwise."""
        place, atlas = self.place_at(pixel), self.session.atlas
        if place is None or atlas is None:
            return
        view, x, y = place
        tool = self.session.choices.tool
        if self._stroke is not None:
            self.lift()  # Keys have set the hand down; a pointer goes on from there.
        if self.toucher is None and self.session.covered:
            self.findings_wanted.emit()
        if self.toucher is not None:
            self.toucher(view, x, y)
        elif tool is Tool.REGION:
            self._mark_region(view, x, y, removes)
        elif tool is Tool.TERRITORY:
            with computed(self.session):
                mark_territory(self.session, view, x, y, removes)
        elif tool in (Tool.OUTLINE, Tool.STRAIGHT):
            if self._outline is None or self._outline.view is not view:
                self._outline = OutlineGesture(self.session, atlas, view, removes)
            self._outline.add(x, y)
            self.update()
        else:
            radius = self.session.choices.brush / 2 / self.camera.scale / BODY_LAYOUT[view].scale
            self._stroke = StrokeGesture(
                self.session, atlas, view, radius, erases(tool, removes), not other_way
            )
            self._trail = Trail(self._stroke)
            self._sweep(x, y)

    def lead(self, pixel: QPointF, down: bool, other_way: bool = False) -> None:
        """Lead the hand to a pixel, pressed down or not."""
        self._move_pointer(pixel)
        sheet = self.camera.to_sheet(pixel.x(), pixel.y())
        if self._outline is not None:
            if down and self.free_line:
                self._outline.add(*BODY_LAYOUT[self._outline.view].to_view(*sheet))
            self._over_the_edge = other_way
            self.update()
        if self._stroke is not None:
            self._sweep(*BODY_LAYOUT[self._stroke.view].to_view(*sheet))

    def lift(self, other_way: bool = False) -> None:
        """Lift the hand: a stroke ends, a line that was drawn freely closes."""
        if self._stroke is not None:
            stroke, self._stroke, self._trail = self._stroke, None, None
            with computed(self.session):
                stroke.finish()
            self.update()
        elif self._outline is not None and self.free_line:
            self.close_outline(other_way)

    def _leave_skin(self) -> None:
        # What lies between is not drawn: nobody led the hand over it.
        self.lift()

    @property
    def free_line(self) -> bool:
        """Whether a line is drawn by leading the hand, not from corner to corner."""
        return self.session.choices.tool is Tool.OUTLINE

    @property
    def draws_line(self) -> bool:
        """Whether a line round some skin is being drawn."""
        return self._outline is not None

    @property
    def under_way(self) -> bool:
        """Whether a stroke or a line is being drawn."""
        return self._stroke is not None or self._outline is not None

    def close_outline(self, over_the_edge: bool = False) -> None:
        """Close the line that is being drawn, and mark what it encloses; with
        ``over_the_edge`` also on the other side of the body."""
        outline, self._outline = self._outline, None
        if outline is not None:
            with computed(self.session):
                outline.finish(over_the_edge)
        self.update()

    def _mark_region(self, view: View, x: float, y: float, remove: bool) -> None:
        atlas = self.session.atlas
        place = atlas.place(view, x, y) if atlas else None
        if place is not None:
            try:
                with computed(self.session):
                    mark_region(self.session, place.region.whole, place.side, remove)
            except BodymapError as error:
                self.session.tell(str(error), failure=True)

    def _sweep(self, x: float, y: float) -> None:
        if self._stroke is not None:
            with computed(self.session):
                self._show_added(self._stroke.move_to(x, y, self._pressure))

    def _sweep_beyond(self) -> None:
        """Show what hangs over the edge, as often as the ranking follows a stroke."""
        if self._stroke is not None and self.session.previewing:
            with computed(self.session):
                self._show_added(self._stroke.go_beyond())

    def _show_added(self, added: dict[View, Skin]) -> None:
        assert self._trail is not None
        for box in self._trail.add(added):
            left, top = self.camera.to_canvas(box.left(), box.top())
            size = box.size() * self.camera.scale
            self.update(QRectF(left, top, size.width(), size.height()).toAlignedRect()
                        .adjusted(-3, -3, 3, 3))  # fmt: skip

    def _move_pointer(self, where: QPointF | None) -> None:
        reach = max(round(self.brush_radius() or 0), CROSS_PX if self.by_keys else 0) + 3
        for spot in (self._pointer, where):
            if spot is not None:
                x, y = round(spot.x()), round(spot.y())
                self.update(x - reach, y - reach, 2 * reach, 2 * reach)
        self._pointer = where
        place = self.place_at(where) if where is not None else None
        if self._stroke is None:
            self.pointed.emit(words_at(self.session, *place) if place else "")

    # Pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus()
        left = event.button() is Qt.MouseButton.LeftButton
        if event.button() is Qt.MouseButton.MiddleButton or (left and self._space):
            self._pan_from = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if left and self._outline is None and self.centre_on_overview(event.position()):
            return
        if left:
            removes = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
            self.press(event.position(), removes, shifted(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pan_from is not None:
            moved = event.position() - self._pan_from
            self._pan_from = event.position()
            self.pan(moved.x(), moved.y())
            return
        down = bool(event.buttons() & Qt.MouseButton.LeftButton)
        if self.by_keys and self.under_way and not down:
            return  # A mouse that is nudged does not lead the hand that keys have set down.
        self.lead(event.position(), down, shifted(event))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._pan_from is not None:
            self._pan_from = None
            self._show_cursor()
        elif event.button() is Qt.MouseButton.LeftButton:
            self.lift(shifted(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self._outline is not None and not self.free_line:
            self.close_outline(shifted(event))
        else:
            self.mousePressEvent(event)

    def tabletEvent(self, event: QTabletEvent) -> None:
        # The pressure is kept for the mouse event that follows, which paints.
        released = event.type() is QEvent.Type.TabletRelease
        self._pressure = 1.0 if released else max(event.pressure(), 0.0)
        event.ignore()

    def hand_at(self) -> QPointF | None:
        """The pixel of the pointer, or of the hand that keys move; None off the canvas."""
        return self._pointer

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
        stroke, self._stroke, self._trail = self._stroke, None, None
        stroke.cancel()
        self.update()
        return True

    def leaveEvent(self, event: QEvent) -> None:
        if not self.by_keys:
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

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.by_keys and self.keys.pressed(event):
            return
        moves = {
            Qt.Key.Key_Left: (PAN_PX, 0), Qt.Key.Key_Right: (-PAN_PX, 0),
            Qt.Key.Key_Up: (0, PAN_PX), Qt.Key.Key_Down: (0, -PAN_PX),
        }  # fmt: skip
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._outline is not None:
            self.close_outline(shifted(event))
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
        if self.session.choices.by_keys != self.by_keys:
            self.keys.turn(self.session.choices.by_keys)
        region = self.session.choices.tool in (Tool.REGION, Tool.TERRITORY)
        self.setCursor(Qt.CursorShape.PointingHandCursor if region else Qt.CursorShape.CrossCursor)
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        if self._fitted:
            self.fit()
        else:
            self._renew()
