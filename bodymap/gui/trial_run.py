"""A run of forced choices: the program says what to do, the person says what they felt,
and the count stands beside the chance of doing as well by guessing."""

import random

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from bodymap.examination.chances import chance_of_guessing
from bodymap.language import tr

Trial = tuple[str, str]
"""What was given and what was said."""


class TrialRun(QWidget):
    """Prompts in random order, each with the same chance whatever came before, so that
    nothing can be learnt from the order. ``words`` are the two choices with what the
    examiner does for each."""

    finished = Signal(object)
    """All trials of the run, as (given, said)."""

    def __init__(self, words: dict[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = words
        self.trials: list[Trial] = []
        self._given: str | None = None
        self._length = 0
        self.chooser = random.SystemRandom()
        self.prompt = QLabel()
        self.prompt.setAccessibleName(tr("What to do now"))
        self.prompt.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.prompt.setWordWrap(True)
        self.tally = QLabel()
        self.tally.setAccessibleName(tr("Right answers"))
        self.tally.setWordWrap(True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self.prompt, 0, 0, 1, 2)
        self.buttons = {}
        for column, word in enumerate(words):
            button = QPushButton(tr("Says {word}   ({key})", word=tr(word), key=word[0].upper()))
            button.setAccessibleName(tr("The person says {word}", word=tr(word)))
            button.setMinimumHeight(34)
            button.clicked.connect(lambda _=False, w=word: self.said(w))
            self.buttons[word] = button
            grid.addWidget(button, 1, column)
        grid.addWidget(self.tally, 2, 0, 1, 2)
        self.keep = QPushButton(tr("Keep   (Space)"))
        self.keep.setAccessibleName(tr("Keep this run"))
        self.keep.clicked.connect(self._finish)
        grid.addWidget(self.keep, 3, 0, 1, 2)

    def begin(self, length: int) -> None:
        """Begin a run of so many trials."""
        self.trials, self._length = [], length
        self._next()

    @property
    def running(self) -> bool:
        """Whether an answer is waited for."""
        return self._given is not None

    def said(self, word: str) -> None:
        """The person has answered."""
        if self._given is not None:
            self.trials.append((self._given, word))
            self._next()

    def _next(self) -> None:
        over = len(self.trials) >= self._length
        self._given = None if over else self.chooser.choice(list(self.words))
        number = tr("{done} of {whole}", done=len(self.trials) + 1, whole=self._length)
        if self._given is None:
            self.prompt.setText(tr("<b>Done.</b>"))
        else:
            words = tr(self.words[self._given])
            self.prompt.setText(f"{number}: <span style='font-size:large'><b>{words}</b></span>")
        self.tally.setText(told(self.trials))
        for button in self.buttons.values():
            button.setVisible(not over)
        self.keep.setVisible(over)
        if over and self.trials:
            self.keep.setFocus()

    def _finish(self) -> None:
        if self._given is None and self.trials:
            self.finished.emit(tuple(self.trials))

    def key(self, key: int) -> bool:
        """Answer by a key; says whether it was one of ours."""
        if key == Qt.Key.Key_Space:
            self._finish()
            return True
        for word in self.words:
            if key == ord(word[0].upper()):
                self.said(word)
                return True
        return False


def told(trials: list[Trial]) -> str:
    """The count, and the chance of at least so many by guessing."""
    if not trials:
        return ""
    right = sum(given == said for given, said in trials)
    chance = chance_of_guessing(right, len(trials))
    return tr(
        "{right} of {count} right. Guessing alone does as well in {chance:.1%} of runs.",
        right=right, count=len(trials), chance=chance,
    )  # fmt: skip
