"""Dictation: type a finding, read what was understood, draw it; and the drawing in words."""

from html import escape
from typing import TYPE_CHECKING

from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from bodymap.gui.session import Session
from bodymap.language import capital, tr
from bodymap.terms import Side

if TYPE_CHECKING:
    from bodymap.wording.understand import Understood

EXAMPLE = "numb outer three toes and sole, left"


class DictationPanel(QWidget):
    """Nothing is drawn before what was understood has been shown.

    The wording is imported when it is first used, so that the window is there sooner.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._got: Understood | None = None
        self.phrase = QLineEdit()
        self.phrase.setAccessibleName(tr("A finding in words"))
        self.phrase.setPlaceholderText(EXAMPLE)
        self.phrase.setClearButtonEnabled(True)
        self.side = QComboBox()
        self.side.setAccessibleName(tr("Side, as none was said"))
        self.side.addItem(tr("No side was said: choose one"), None)
        for side in (Side.RIGHT, Side.LEFT, Side.BOTH):
            words = tr("both sides") if side is Side.BOTH else side.word
            self.side.addItem(capital(words), side)
        self.heard = self._text(tr("What was understood"))
        self.draw = QPushButton(tr("&Draw it"))
        self.draw.setAccessibleName(tr("Draw what was understood"))
        self.draw.setToolTip(tr("Draw what was understood, as one step (Enter)"))
        self.words = self._text(tr("The drawing in words"))
        self.copy = QPushButton(tr("Copy the &words"))
        self.copy.setAccessibleName(tr("Copy the drawing in words"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        layout.addWidget(QLabel(tr("<b>Dictate a finding</b>")))
        layout.addWidget(self.phrase)
        layout.addWidget(self.heard, 1)
        row = QHBoxLayout()
        row.addWidget(self.side, 1)
        row.addStretch(0)
        row.addWidget(self.draw)
        layout.addLayout(row)
        layout.addWidget(QLabel(tr("<b>What is drawn, in words</b>")))
        layout.addWidget(self.words, 2)
        layout.addWidget(self.copy)
        self.phrase.textChanged.connect(self._listen)
        self.phrase.returnPressed.connect(self.draw_it)
        self.side.currentIndexChanged.connect(lambda _: self._show())
        self.draw.clicked.connect(self.draw_it)
        self.copy.clicked.connect(self.copy_words)
        session.drawing_changed.connect(self._describe)
        session.atlas_ready.connect(self._describe)
        self._listen()

    @staticmethod
    def _text(name: str) -> QTextBrowser:
        text = QTextBrowser()
        text.setAccessibleName(name)
        text.setMinimumHeight(60)
        return text

    def _listen(self) -> None:
        atlas, phrase = self._session.atlas, self.phrase.text().strip()
        self._got = None
        if atlas is not None and phrase:
            from bodymap.wording.understand import understood

            self._got = understood(phrase, atlas)
        self.side.setCurrentIndex(0)
        self._show()

    def _show(self) -> None:
        got = self._got
        self.side.setVisible(got is not None and got.side_missing)
        self.draw.setEnabled(self._ready())
        if got is None:
            self.heard.setHtml(
                tr(
                    "<p>Type a change, a place and a side, such as “{example}”. LT, PP, R, L, "
                    "bilat., digits 4-5 are understood. Read here what was understood, then "
                    "press Enter.</p>",
                    example=EXAMPLE,
                )
            )
            return
        parts = [f"<b>{escape(self._echo(got))}</b>"]
        if got.not_understood:
            parts.append(
                tr(
                    "<b>Not understood:</b> {words}",
                    words=escape(" ".join(got.not_understood)),
                )
            )
        parts += [tr("Note: {note}.", note=escape(tr(note))) for note in got.notes]
        self.heard.setHtml("".join(f'<p style="margin: 0 0 5px 0">{part}</p>' for part in parts))

    def _echo(self, got: "Understood") -> str:
        """What was understood, said again in the language in hand."""
        from bodymap.report.skin_sentences import findings_said

        atlas = self._session.atlas
        said = "" if atlas is None else findings_said(atlas, got.findings)
        return said or tr("No finding was understood.")

    def _ready(self) -> bool:
        got = self._got
        if got is None or not got.findings:
            return False
        return not got.side_missing or self.side.currentData() is not None

    def draw_it(self) -> None:
        """Draw what was understood, as one step; nothing while a side is missing."""
        atlas, got = self._session.atlas, self._got
        if atlas is None or got is None:
            return
        if not self._ready():
            missing = tr("choose a side") if got.findings else tr("say a change and a place")
            self._session.tell(
                tr("This cannot be drawn yet: {missing}.", missing=missing), failure=True
            )
            return
        from bodymap.wording.finding import with_findings

        drawing = with_findings(atlas, self._session.drawing, got.findings, self.side.currentData())
        self._session.step(tr("Dictated: {words}", words=self.phrase.text().strip()), drawing)
        self.phrase.clear()
        self.phrase.setFocus()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._describe()

    def _describe(self) -> None:
        atlas = self._session.atlas
        if atlas is not None and self.isVisible():
            from bodymap.report.skin_sentences import drawing_said

            self.words.setPlainText(drawing_said(atlas, self._session.drawing))

    def copy_words(self) -> None:
        """Copy the drawing in words."""
        QGuiApplication.clipboard().setText(self.words.toPlainText())
        self._session.tell(tr("The drawing is copied in words."))
