"""Work that takes longer than a blink, done beside the window: shown in the status bar,
and given up at a press."""

import threading
from collections.abc import Callable
from typing import Any, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from bodymap.language import tr

Made = TypeVar("Made")


class Background(QWidget):
    """Does one piece of work at a time in a thread of its own; hidden while idle.

    The work must not touch the window: it gets what it needs beforehand and returns what
    it made. What is given up may run on to its end, but nobody hears of it.
    """

    stopped = Signal()
    """The person has given up what was being made."""
    _done = Signal(int, object, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._then: Callable[[Any], None] | None = None
        self._failed: Callable[[Exception], None] | None = None
        self._words = QLabel()
        self._words.setAccessibleName(tr("Work going on"))
        bar = QProgressBar()
        bar.setRange(0, 0)
        bar.setTextVisible(False)
        bar.setFixedSize(90, 10)
        bar.setAccessibleName(tr("Progress"))
        self.cancel = QPushButton(tr("Stop"))
        self.cancel.setAccessibleName(tr("Stop the work going on"))
        self.cancel.setToolTip(tr("Give up what is being made"))
        self.cancel.clicked.connect(self._stop)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 6, 0)
        for widget in (self._words, bar, self.cancel):
            row.addWidget(widget, 0, Qt.AlignmentFlag.AlignVCenter)
        self._done.connect(self._deliver)
        self.hide()

    @property
    def busy(self) -> bool:
        """Whether something is being made."""
        return self._then is not None

    def start(
        self,
        words: str,
        work: Callable[[], Made],
        then: Callable[[Made], None],
        failed: Callable[[Exception], None],
    ) -> None:
        """Begin a piece of work; an older one is given up.

        ``then`` gets what was made, ``failed`` what was raised, in the window's thread.
        """
        self._number += 1
        self._then, self._failed = then, failed
        self._words.setText(words)
        self.show()
        threading.Thread(
            target=self._work, args=(self._number, work), daemon=True, name="background"
        ).start()

    def give_up(self) -> None:
        """Drop what is being made; nothing is written."""
        self._number += 1
        self._then = self._failed = None
        self.hide()

    def _stop(self) -> None:
        self.give_up()
        self.stopped.emit()

    def _work(self, number: int, work: Callable[[], object]) -> None:
        made: object = None
        error: Exception | None = None
        try:
            made = work()
        except Exception as caught:  # handed on to whoever asked
            error = caught
        try:
            self._done.emit(number, made, error)
        except RuntimeError:
            return  # The window was closed meanwhile.

    def _deliver(self, number: int, made: object, error: Exception | None) -> None:
        then, failed = self._then, self._failed
        if number != self._number or then is None or failed is None:
            return
        self.give_up()
        if error is None:
            then(made)
        else:
            failed(error)
