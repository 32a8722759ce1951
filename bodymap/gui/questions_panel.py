"""What to test next: the best three questions, each answered with one click or key."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QSizePolicy, QWidget

from bodymap.gui.language_choice import keys_shown
from bodymap.gui.replies import reply
from bodymap.gui.session import Session
from bodymap.gui.text_scale import scaled
from bodymap.language import capital, lower_first, tr
from bodymap.localise.next_spots import OFFERED, NextSpot
from bodymap.report.question_words import asked, meaning, spot

BUTTON_PX = 74
"""Wide enough for the longest answer at the designed size of text."""


class QuestionsPanel(QWidget):
    """Three rows: number, question, and a button for each answer.

    Ctrl+Alt+number answers that a spot is altered, Ctrl+Alt+Shift+number that it is
    normal.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.title = QLabel(tr("<b>What to test next</b>"))
        self.title.setWordWrap(True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(0, 1)
        grid.addWidget(self.title, 0, 0, 1, 3)
        self.rows: list[tuple[QLabel, QPushButton, QPushButton]] = []
        for number in range(OFFERED):
            label = QLabel()
            label.setWordWrap(True)
            label.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
            buttons = []
            for column, (altered, keys) in enumerate(
                ((True, f"Ctrl+Alt+{number + 1}"), (False, f"Ctrl+Alt+Shift+{number + 1}")), 1
            ):
                button = QPushButton()
                button.clicked.connect(lambda _=False, n=number, a=altered: self.reply(n, a))
                shortcut = QShortcut(QKeySequence(keys), self)
                shortcut.activated.connect(lambda n=number, a=altered: self.reply(n, a))
                button.setToolTip(tr("Note this answer ({keys})", keys=keys_shown(keys)))
                grid.addWidget(button, number + 1, column, Qt.AlignmentFlag.AlignTop)
                buttons.append(button)
            grid.addWidget(label, number + 1, 0)
            self.rows.append((label, buttons[0], buttons[1]))
        session.answer_changed.connect(self._renew)
        session.ranking_changed.connect(self._renew)
        self._renew()

    @property
    def questions(self) -> tuple[NextSpot, ...]:
        """The questions that are offered now."""
        answer = self._session.answer
        return answer.questions.best if answer is not None else ()

    def reply(self, number: int, altered: bool) -> None:
        """Note the answer to a question by its place (0 to 2)."""
        if number < len(self.questions) and not self._session.previewing:
            reply(self._session, self.questions[number], altered)

    def _renew(self) -> None:
        if self._session.previewing:
            return
        scales, questions = self._session.scales, self.questions
        drawn = self._session.ranking is not None and bool(self._session.ranking.candidates)
        waiting = drawn and self._session.answer is None
        title = tr("<b>What to test next</b>")
        if waiting:
            title += tr(" (working it out…)")
        elif drawn and not questions:
            title += tr(": no single further test would tell much")
        self.title.setText(title)
        self.setVisible(drawn)
        for number, (label, yes, no) in enumerate(self.rows):
            for button in (yes, no):
                button.setFixedWidth(scaled(BUTTON_PX))
            known = number < len(questions)
            for widget in (label, yes, no):
                widget.setVisible(known)
            if not known or scales is None:
                continue
            question = questions[number]
            words = asked(scales.catalogue, question)
            label.setText(f"{number + 1}. {capital(spot(scales.catalogue, question))}")
            bits = tr("{bits:.2f} bits", bits=question.gain_bits)
            label.setToolTip(f"{meaning(scales.catalogue, question)} ({bits})")
            lost = tr("Altered")
            if question.sign is not None:
                kind = scales.atlas.facts.signs[question.sign].kind
                lost = tr("Weak") if kind == "muscle" else tr("Reduced")
            for button, word in ((yes, lost), (no, tr("Normal"))):
                button.setText(word)
                button.setAccessibleName(f"{words}: {lower_first(word)}")
                button.setAccessibleDescription(meaning(scales.catalogue, question))
