"""Keys in the place of a pointer: they move a hand over the figure, set it down and lift it.

Everything a pointer draws can be drawn so: arrows lead the hand, Space sets it down and
lifts it, Delete sets it down to take findings away, Enter closes a line. What lies under
the hand is spoken.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent

from bodymap.language import tr
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View

if TYPE_CHECKING:
    from bodymap.gui.canvas import Canvas

STEP_PX, FINE_PX = 8, 1
"""One arrow key leads the hand so far, pixels; with Ctrl the second."""

BORDER_PX = 48
"""An enlarged figure moves on when the hand comes so near to the edge of the canvas."""

START = 0.0, 700.0
"""Where the hand begins on the whole body: the front of the chest, view units."""

ARROWS = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1), Qt.Key.Key_Down: (0, 1),
}  # fmt: skip


class HandKeys:
    """The hand that keys move over a canvas."""

    def __init__(self, canvas: "Canvas") -> None:
        self._canvas = canvas
        self._said = ""
        canvas.pointed.connect(self._under_the_hand)
        canvas.session.told.connect(self._told)

    def turn(self, on: bool) -> None:
        """Begin or end; the hand begins at the pointer, or else on the chest."""
        canvas = self._canvas
        if not on:
            canvas.cancel_stroke()
        canvas.by_keys = on
        if on:
            canvas.setFocus(Qt.FocusReason.ShortcutFocusReason)
            canvas.session.tell(
                tr(
                    "Arrows lead the hand (finely with Ctrl); Space sets it down and lifts it, "
                    "Delete sets it down to take away, Enter closes a line; K ends this."
                )
            )
        where = canvas.hand_at()
        canvas.lead(self._start() if on and where is None else where or QPointF(), down=False)
        canvas.update()

    def pressed(self, event: QKeyEvent) -> bool:
        """A key; says whether it was one for the hand."""
        canvas, key = self._canvas, Qt.Key(event.key())
        where = canvas.hand_at()
        if where is None:
            return False
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key in ARROWS:
            fine = event.modifiers() & Qt.KeyboardModifier.ControlModifier
            self._lead(where, key, FINE_PX if fine else STEP_PX, shift)
            return True
        removes = key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
        enter = key in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if not removes and not enter and key != Qt.Key.Key_Space:
            return False
        if event.isAutoRepeat():
            return True
        if enter and canvas.draws_line:
            canvas.close_outline(shift)
            self._say(tr("Line closed"))
        elif canvas.under_way and (canvas.free_line or not canvas.draws_line):
            canvas.lift(shift)
            self._say(tr("Hand lifted"))
        else:
            canvas.press(where, removes, shift)
            if canvas.place_at(where) is None:
                self._say(tr("Beside the figure"))
            elif canvas.under_way:
                self._say(tr("Hand set down"))
            else:
                canvas.lead(where, down=False)  # What is found there now is said.
        return True

    def _lead(self, where: QPointF, key: Qt.Key, step: int, shift: bool) -> None:
        canvas = self._canvas
        x, y = ARROWS[key]
        at = where + QPointF(x * step, y * step)
        if canvas.enlarged and not self._well_inside(at):
            canvas.pan(-x * step, -y * step)
            at = where
        at = QPointF(
            min(max(at.x(), 0.0), canvas.width() - 1.0),
            min(max(at.y(), 0.0), canvas.height() - 1.0),
        )
        canvas.lead(at, canvas.under_way, shift)

    def _well_inside(self, at: QPointF) -> bool:
        room = self._canvas.rect().adjusted(BORDER_PX, BORDER_PX, -BORDER_PX, -BORDER_PX)
        return room.contains(at.toPoint())

    def _start(self) -> QPointF:
        canvas = self._canvas
        chest = QPointF(*canvas.camera.to_canvas(*BODY_LAYOUT[View.FRONT].to_sheet(*START)))
        return chest if canvas.rect().contains(chest.toPoint()) else QPointF(canvas.rect().center())

    def _under_the_hand(self, words: str) -> None:
        if self._canvas.by_keys and words != self._said:
            self._said = words
            self._say(words)

    def _told(self, words: str, _failure: bool) -> None:
        # The answer of a simulated patient, or why something could not be done.
        if self._canvas.by_keys:
            self._say(words)

    def _say(self, words: str) -> None:
        """Let a screen reader say something, if one listens."""
        if words and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._canvas, words))
