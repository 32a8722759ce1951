"""Answers of a comparison of both sides: one press for the same and normal, one for what
is different and where."""

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QPushButton, QSizePolicy, QWidget

from bodymap.language import capital, lower_first, tr
from bodymap.terms import Change, Side

WORDS: tuple[tuple[str, Change | None], ...] = (
    ("Less", Change.REDUCED),
    ("None", Change.ABSENT),
    ("More", Change.INCREASED),
    ("Altered", Change.TINGLING),
    ("Not testable", None),
)
"""What can be different, in the order of the keys 1 to 5."""

PADDING_PX = 12

ROWS = (("R", Side.RIGHT), ("L", Side.LEFT), ("B", Side.BOTH))
"""The sides and their keys, which are the same in every language."""


class CompareAnswers(QWidget):
    """Emits what was found: normal on both sides, or a change (None: not testable) on a
    side. The keys: Space for normal, R, L or B for the side, then 1 to 5."""

    answered = Signal(object, object)
    """Side and change; both sides and normal for the same."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.same = QPushButton(tr("Same on both sides, normal   (Space)"))
        self.same.setAccessibleName(tr("Same on both sides, normal"))
        self.same.clicked.connect(lambda: self.answered.emit(Side.BOTH, Change.NORMAL))
        self.same.setMinimumHeight(34)
        self.starred = QCheckBox(tr("Cause other than a spinal cord &injury (*)"))
        self.starred.setToolTip(tr("A cast, scar or old nerve injury: the score gets a star"))
        self._grid = grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(4)
        grid.addWidget(self.same, 0, 0, 1, len(WORDS) + 1)
        self.side = Side.RIGHT
        self.labels: dict[Side, QLabel] = {}
        self.numbers = [QLabel(f"<small>{n}</small>") for n in range(1, len(WORDS) + 1)]
        for column, number in enumerate(self.numbers, start=1):
            number.setAlignment(Qt.AlignmentFlag.AlignCenter)
            grid.addWidget(number, 1, column)
        self.buttons: dict[tuple[Side, Change | None], QPushButton] = {}
        for row, (key, side) in enumerate(ROWS, start=1):
            label = QLabel()
            label.setTextFormat(Qt.TextFormat.RichText)
            self.labels[side] = label
            grid.addWidget(label, row + 1, 0)
            for column, (word, change) in enumerate(WORDS, start=1):
                button = QPushButton(tr(word, "felt") if change else "NT")
                said = f"{capital(side.word)}: {lower_first(tr(word, 'felt'))}"
                button.setAccessibleName(said)
                keys = tr("{key}, then {number}", key=key, number=column)
                button.setToolTip(f"{said} ({keys})")
                button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
                button.clicked.connect(lambda _=False, s=side, c=change: self.answered.emit(s, c))
                self.buttons[side, change] = button
                grid.addWidget(button, row + 1, column)
        hint = QLabel(tr("Keys: R, L or B for the side, then the number."))
        hint.setObjectName("hint")
        hint.setWordWrap(True)
        grid.addWidget(hint, len(ROWS) + 2, 0, 1, len(WORDS) + 1)
        grid.addWidget(self.starred, len(ROWS) + 3, 0, 1, len(WORDS) + 1)
        self._fit()
        self.take(Side.RIGHT)

    def show_for(
        self, sides: tuple[Side, ...], kept_only: bool, starring: bool, fresh: bool = True
    ) -> None:
        """Offer what a step can be answered with. ``kept_only``: a deep sense is felt less
        or not at all, never more; ``starring``: scores may carry a star."""
        one = len(sides) == 1
        if one:
            self.same.setText(tr("Normal, {side}   (Space)", side=sides[0].word))
            self.same.setAccessibleName(tr("Normal, {side}", side=sides[0].word))
        else:
            self.same.setText(tr("Same on both sides, normal   (Space)"))
            self.same.setAccessibleName(tr("Same on both sides, normal"))
        for (side, change), button in self.buttons.items():
            asked = side in sides or (side is Side.BOTH and not one)
            told = not kept_only or change not in (Change.INCREASED, Change.TINGLING)
            button.setVisible(asked and told)
            column = 1 + [c for _, c in WORDS].index(change)
            self._grid.setColumnStretch(column, 1 if told else 0)
            self.numbers[column - 1].setVisible(told)
            self.labels[side].setVisible(asked)
        self.starred.setVisible(starring)
        if fresh:
            self.starred.setChecked(False)
        self.take(sides[0] if one else self.side)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        """Never narrower than the words."""
        for button in self.buttons.values():
            words = button.fontMetrics().horizontalAdvance(button.text())
            button.setMinimumWidth(words + PADDING_PX)

    def take(self, side: Side) -> None:
        """Let the keys 1 to 5 mean this side."""
        self.side = side
        for key, s in ROWS:
            mark = "▸ " if s is side else "&nbsp;&nbsp; "
            word = capital(s.word)
            lined = f"<u>{key}</u>{word[1:]}" if word.startswith(key) else f"{word} <u>{key}</u>"
            self.labels[s].setText(mark + lined)

    def key(self, key: int) -> bool:
        """Answer by a key; says whether it was one of ours."""
        sides = {Qt.Key.Key_R: Side.RIGHT, Qt.Key.Key_L: Side.LEFT, Qt.Key.Key_B: Side.BOTH}
        if key == Qt.Key.Key_Space:
            self.same.click()
            return True
        if key in sides:
            side = sides[Qt.Key(key)]
            if self.labels[side].isVisibleTo(self):
                self.take(side)
            return True
        number = key - Qt.Key.Key_1
        if 0 <= number < len(WORDS):
            button = self.buttons[self.side, WORDS[number][1]]
            if button.isVisibleTo(self):
                button.click()
            return True
        return False
