"""Temperature at a chosen dermatome, besides its ladder."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from bodymap.classification.scores import POINTS
from bodymap.gui.answer_fields import Choice
from bodymap.language import tr


class ColdPoints(QWidget):
    """Choose a key point and ask there."""

    chosen = Signal(str)
    """A segment, as key points are named."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.point = Choice()
        self.point.addItems(list(POINTS))
        self.point.setAccessibleName(tr("Key point to test temperature at"))
        self.ask = QPushButton(tr("Ask there"))
        self.ask.setAccessibleName(tr("Ask temperature at this key point"))
        self.ask.clicked.connect(lambda: self.chosen.emit(self.point.currentText()))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(QLabel(tr("At a dermatome")))
        row.addWidget(self.point)
        row.addWidget(self.ask)
        row.addStretch(1)
