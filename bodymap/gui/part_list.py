"""The parts of the examination: which are asked, in which order, and how far each is."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QToolButton, QWidget

from bodymap.examination.parts import Part, methods
from bodymap.examination.steps import Plan
from bodymap.findings.record import BedsideRecord
from bodymap.language import tr


class PartList(QWidget):
    """A tick takes a part in; Up and Down buttons move it; Enter or a double click goes to
    it."""

    changed = Signal()
    """Other parts, or another order."""
    chosen = Signal(object)
    """Go to this part."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._current: Part | None = None
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Parts of the examination"))
        self.list.setToolTip(tr("Tick the parts to examine; Enter or a double click goes to one"))
        self.list.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for part, method in methods().items():
            item = QListWidgetItem()
            item.setData(Qt.ItemDataRole.UserRole, part)
            item.setCheckState(Qt.CheckState.Checked if method.usual else Qt.CheckState.Unchecked)
            self.list.addItem(item)
        self.list.itemChanged.connect(lambda _: self.changed.emit())
        self.list.itemActivated.connect(
            lambda item: self.chosen.emit(Part(item.data(Qt.ItemDataRole.UserRole)))
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.list, 1)
        self.up, self.down = (
            self._arrow("▲", tr("Examine this part earlier"), -1),
            self._arrow("▼", tr("Examine this part later"), 1),
        )
        for button in (self.up, self.down):
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)

    def _arrow(self, sign: str, words: str, by: int) -> QToolButton:
        button = QToolButton()
        button.setText(sign)
        button.setAccessibleName(words)
        button.setToolTip(words)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.clicked.connect(lambda: self._move(by))
        return button

    def _move(self, by: int) -> None:
        row = self.list.currentRow()
        if row >= 0 and 0 <= row + by < self.list.count():
            item = self.list.takeItem(row)
            self.list.insertItem(row + by, item)
            self.list.setCurrentItem(item)
            self.changed.emit()

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts that are ticked, in order."""
        items = [self.list.item(row) for row in range(self.list.count())]
        return tuple(
            Part(item.data(Qt.ItemDataRole.UserRole))
            for item in items
            if item.checkState() is Qt.CheckState.Checked
        )

    def _fit(self) -> None:
        """As tall as its rows at this size of text, no taller."""
        height = self.list.sizeHintForRow(0) * self.list.count() + 2 * self.list.frameWidth()
        self.list.setFixedHeight(height)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self.list.setFont(self.font())
            self._fit()

    def tell(self, plan: Plan, record: BedsideRecord, current: Part | None) -> None:
        """Write how far each part is."""
        self.list.blockSignals(True)
        for row in range(self.list.count()):
            item = self.list.item(row)
            part = Part(item.data(Qt.ItemDataRole.UserRole))
            done, whole = plan.progress(part, record)
            mark = "✓ " if done == whole else "▸ " if part is current else ""
            count = tr("   {done} of {whole}", done=done, whole=whole) if whole > 1 else ""
            item.setText(f"{mark}{part.method.title}{count}")
            if part is current and current is not self._current:
                self.list.setCurrentRow(row)
        self._current = current
        self._fit()
        self.list.blockSignals(False)
