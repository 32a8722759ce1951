"""What the guided examination is made of, and where it stands; what it does is elsewhere."""

from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bodymap.gui.answer_fields import WholeBox
from bodymap.gui.answer_pages import AnswerPages
from bodymap.gui.part_list import PartList
from bodymap.language import tr


class ExaminationWidgets(QWidget):
    """Parts, scope, the question in hand, its answers, and the way back and on."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.parts = PartList()
        self.every = QCheckBox(tr("&Every segment, C2 to S4-5"))
        self.every.setToolTip(tr("28 points on each side, for a sensory level (Alt+E)"))
        self.age = WholeBox()
        self.age.setRange(0, 130)
        self.age.setSpecialValueText(tr("Age –"))
        self.age.setPrefix(tr("Age "))
        self.age.setAccessibleName(tr("Age of the person, years"))
        self.age.setToolTip(tr("Age in years, for the lower limits of the graduated fork"))
        self.level = self._label(tr("A level is in question"))
        self.title = self._label(tr("What is examined now"))
        self.method = self._label(tr("How it is done"))
        self.caution = self._label(tr("Caution"))
        self.leading = self._label(tr("What the answers are consistent with so far"))
        self.pages = AnswerPages()
        self.remark = QLineEdit()
        self.remark.setPlaceholderText(tr("Remark, or why it cannot be tested (before answering)"))
        self.remark.setAccessibleName(tr("Remark on this step, or why it cannot be tested"))
        self.back = self._button(tr("&Back"), tr("The question before (Backspace)"))
        self.skip = self._button(tr("&Pass over"), tr("Leave this question out for now (N)"))
        self.clear = self._button(tr("&Clear"), tr("As if this had not been asked (Delete)"))
        tip = tr("Score the key points that painted skin covers")
        self.take = self._button(tr("Points from the &drawing"), tip)
        tip = tr("Copy the chart note of the case as text")
        self.note = self._button(tr("Copy the chart &note"), tip)
        self._lay_out()

    def _label(self, name: str) -> QLabel:
        label = QLabel()
        label.setWordWrap(True)
        label.setAccessibleName(name)
        return label

    def _button(self, words: str, tip: str) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words.replace("&", ""))
        button.setToolTip(tip)
        return button

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(self.parts)
        scope = QHBoxLayout()
        scope.addWidget(self.every, 1)
        scope.addWidget(self.age)
        column.addLayout(scope)
        for widget in (self.level, self.title, self.method, self.caution, self.pages):
            column.addWidget(widget)
        column.addWidget(self.remark)
        for buttons in ((self.back, self.skip, self.clear), (self.take, self.note)):
            row = QHBoxLayout()
            for button in buttons:
                row.addWidget(button)
            column.addLayout(row)
        column.addWidget(self.leading)
        column.addStretch(1)
