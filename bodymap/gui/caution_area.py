"""The caution where results are read: as tall as its words, and where that is more than
the room allows (long red flags in large text) a part of them that scrolls."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QWidget

from bodymap.language import tr

MOST = 0.4
"""Share of the panel that the caution takes at most, so that the list keeps its room."""


class CautionArea(QScrollArea):
    """Holds the label of the caution; its first lines are always in sight."""

    def __init__(self, label: QLabel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._label = label
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        # Reached by the keyboard only to scroll it.
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(tr("Caution"))
        label.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.setWidget(label)

    def sizeHint(self) -> QSize:
        parent = self.parentWidget()
        most = int(MOST * parent.height()) if parent is not None else 10_000
        need = self._label.heightForWidth(self.viewport().width())
        return QSize(super().sizeHint().width(), min(need, most))

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self._label.fontMetrics().height() * 2)

    def renew(self) -> None:
        """The words or their size are others."""
        self.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.updateGeometry()
