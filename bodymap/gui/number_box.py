"""Number fields that can be typed into at once: what they show is selected on arrival."""

from PySide6.QtCore import QTimer
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QDoubleSpinBox, QSpinBox


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
