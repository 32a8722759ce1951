"""The bar that offers unsaved work again: quiet, at the top of the window, no dialog."""

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import QLocale, Qt, QTime, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from bodymap.findings.journal import LeftOver
from bodymap.language import tr, trn

SURE_MS = 4000
"""So long a first press on Discard waits for the second, milliseconds."""


class RestoreBar(QWidget):
    """Offers left-over work, newest first; hidden while there is none.

    It decides nothing: who answers ``restore`` or ``discard`` calls ``settle`` when it is
    done, and the next piece of work is offered.
    """

    restore = Signal(object)
    """A ``LeftOver`` to go on with."""
    discard = Signal(object)
    """A ``LeftOver`` to remove; Discard was pressed twice."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._offered: list[LeftOver] = []
        self.setObjectName("restore-bar")
        self.setAccessibleName(tr("Unsaved work"))
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.restore_button = QPushButton(tr("Restore"))
        self.restore_button.clicked.connect(self._restore)
        self.discard_button = QPushButton()
        self.discard_button.clicked.connect(self._discard)
        self._unsure = QTimer(self, singleShot=True, interval=SURE_MS)
        self._unsure.timeout.connect(self._calm)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 6, 12, 6)
        row.addWidget(self.words, 1)
        row.addWidget(self.restore_button)
        row.addWidget(self.discard_button)
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._show()

    def offer(self, left: Sequence[LeftOver]) -> None:
        """Offer these, the first first."""
        self._offered = list(left)
        self._show()

    def settle(self, left: LeftOver) -> None:
        """This one is restored or discarded."""
        self._offered = [other for other in self._offered if other.file != left.file]
        self._show()

    def _show(self) -> None:
        self._calm()
        self.setVisible(bool(self._offered))
        if not self._offered:
            return
        sentence = told(self._offered[0])
        more = len(self._offered) - 1
        if more:
            sentence += " " + trn(
                "{count} more after this one.", "{count} more after this one.", more
            )
        self.words.setText(sentence)
        self.words.setAccessibleName(sentence)
        self.restore_button.setAccessibleName(tr("Restore the unsaved work"))
        self.restore_button.setAccessibleDescription(sentence)
        self.discard_button.setAccessibleDescription(sentence)

    def _restore(self) -> None:
        self._calm()
        if self._offered:
            self.restore.emit(self._offered[0])

    def _discard(self) -> None:
        if not self._unsure.isActive():
            self.discard_button.setText(tr("Press again to discard"))
            self.discard_button.setAccessibleName(tr("Press again to discard the unsaved work"))
            self._unsure.start()
        elif self._offered:
            left = self._offered[0]
            self._calm()
            self.discard.emit(left)

    def _calm(self) -> None:
        self._unsure.stop()
        self.discard_button.setText(tr("Discard"))
        self.discard_button.setAccessibleName(tr("Discard the unsaved work"))


def told(left: LeftOver) -> str:
    """One sentence about left-over work: what, and from when."""
    when = left.written.astimezone()
    clock = QLocale().toString(QTime(when.hour, when.minute), QLocale.FormatType.ShortFormat)
    day = tr("today") if when.date() == date.today() else tr("on {date:%Y-%m-%d}", date=when)
    name = tr("a new case") if left.path is None else left.path.name
    said = tr(
        "bodymap ended before {name} was saved. The work from {clock} {day} is kept.",
        name=name, clock=clock, day=day,
    )  # fmt: skip
    if left.file_changed:
        said += " " + tr("The file was changed since, and will not be replaced.")
    return said
