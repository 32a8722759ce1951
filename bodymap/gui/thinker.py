"""Works out the whole answer beside the window, and drops it when the drawing moves on."""

import threading
from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from bodymap.findings.drawing import Drawing
from bodymap.localise.answer import Answer, answered
from bodymap.localise.ranking import Scales


class Thinker(QObject):
    """At most one answer is being worked out; a newer question cancels the older one."""

    answered = Signal(object)
    """An ``Answer``; comes in the thread of the window."""
    _done = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._question = 0
        self._done.connect(self._deliver)

    def think(self, scales: Scales, drawing: Drawing) -> None:
        """Begin to work out the answer to a drawing; forget any other."""
        self.forget()
        number = self._question
        threading.Thread(
            target=self._work, args=(number, scales, drawing), daemon=True, name="thinker"
        ).start()

    def forget(self) -> None:
        """Cancel what is being worked out."""
        self._question += 1

    def _work(self, number: int, scales: Scales, drawing: Drawing) -> None:
        answer = answered(scales, drawing, self._stale(number))
        if number == self._question:
            try:
                self._done.emit(number, answer)
            except RuntimeError:
                return  # The window was closed meanwhile.

    def _stale(self, number: int) -> Callable[[], bool]:
        return lambda: number != self._question

    def _deliver(self, number: int, answer: Answer) -> None:
        if number == self._question:
            self.answered.emit(answer)
