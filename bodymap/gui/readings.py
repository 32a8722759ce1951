"""Numbers of both sides: readings of a fork, touches of a filament, distances of points."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from bodymap.gui.answer_fields import Choice, DecimalBox, WholeBox
from bodymap.gui.language_choice import keep_sides
from bodymap.language import capital, later, tr
from bodymap.terms import Side

BOTH = (Side.RIGHT, Side.LEFT)
UNITS = {
    "eighths": (later("/8, graduated fork"), 8.0),
    "seconds": (later("s, fork struck hard"), 120.0),
}


class ForkReadings(QWidget):
    """An optional reading for each side, in eighths of a graduated fork or in seconds."""

    changed = Signal()
    entered = Signal()
    """Enter was pressed: the readings are the answer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.unit = Choice()
        for name, (words, _) in UNITS.items():
            self.unit.addItem(tr(words), name)
        self.unit.setAccessibleName(tr("Unit of the readings"))
        self.boxes: dict[Side, DecimalBox] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(QLabel(tr("Reading")), 0, 0)
        keep_sides(self)
        for column, side in enumerate(BOTH, start=1):
            box = DecimalBox()
            box.setDecimals(1)
            box.setSingleStep(0.5)
            box.setMinimum(-0.5)
            box.setSpecialValueText(f"{side.word}: –")
            box.setPrefix(f"{side.word}: ")
            box.setAccessibleName(tr("Reading, {side}", side=side.word))
            box.valueChanged.connect(lambda _: self.changed.emit())
            box.lineEdit().returnPressed.connect(self.entered)
            self.boxes[side] = box
            grid.addWidget(box, 0, column)
        # Under the fields: beside them the row is wider than the panel in longer languages.
        grid.addWidget(self.unit, 1, 1, 1, 2)
        self.unit.currentIndexChanged.connect(lambda _: self._limit())
        self._limit()

    def _limit(self) -> None:
        for box in self.boxes.values():
            # A number of seconds is no number of eighths.
            box.setValue(box.minimum())
            box.setMaximum(UNITS[self.unit.currentData()][1])
        self.changed.emit()

    def clear(self) -> None:
        """No readings."""
        for box in self.boxes.values():
            box.setValue(box.minimum())

    @property
    def values(self) -> dict[Side, dict[str, float]]:
        """The reading of each side that has one, by the name of its unit."""
        name = self.unit.currentData()
        return {s: {name: b.value()} for s, b in self.boxes.items() if b.value() >= 0}


class SideNumbers(QWidget):
    """A whole number for each side and one button that takes both."""

    taken = Signal(object)
    """The numbers by side."""

    def __init__(
        self, unit: str, most: int, usual: int | None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.boxes: dict[Side, WholeBox] = {}
        self._none = usual is None
        keep_sides(self)
        self._usual = usual or 0
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        for column, side in enumerate(BOTH):
            box = WholeBox()
            box.setMaximum(most)
            box.setPrefix(f"{side.word}: ")
            box.setSuffix(unit)
            box.setAccessibleName(f"{capital(side.word)},{unit}")
            if self._none:
                box.setSpecialValueText(f"{side.word}: –")
            self.boxes[side] = box
            grid.addWidget(box, 0, column)
        self.take = QPushButton(tr("Take these   (Space)"))
        self.take.setAccessibleName(tr("Take these numbers"))
        self.take.setMinimumHeight(34)
        self.take.clicked.connect(self._take)
        grid.addWidget(self.take, 1, 0, 1, 2)
        self.clear()

    def clear(self) -> None:
        """The usual number on both sides, or none."""
        for box in self.boxes.values():
            box.setValue(self._usual)

    def _take(self) -> None:
        boxes = self.boxes.items()
        self.taken.emit({s: b.value() for s, b in boxes if b.value() or not self._none})

    def key(self, key: int) -> bool:
        """Take the numbers by a key; says whether it was one of ours."""
        if key == Qt.Key.Key_Space:
            self.take.click()
            return True
        return False
