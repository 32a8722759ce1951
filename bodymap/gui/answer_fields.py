"""Fields for answers: numbers that can be typed over at once, lists that hold still."""

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QSpinBox


class WholeBox(QSpinBox):
    """A whole number."""

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        # After the click that brought the focus has set its cursor.
        QTimer.singleShot(0, self, self.selectAll)


class DecimalBox(QDoubleSpinBox):
    """A number with decimals."""

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        QTimer.singleShot(0, self, self.selectAll)


class Choice(QComboBox):
    """A list of answers. What is typed chooses an answer, also where the key is that of a
    tool; a turn of the wheel moves the page that it stands on and changes nothing."""

    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            plain = event.modifiers() in (
                Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier,
            )  # fmt: skip
            if plain and event.text().isprintable() and event.text():
                event.accept()
                return True
        return super().event(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
