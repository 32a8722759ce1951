"""Romberg: the caution first, then eyes open, then a count of ten seconds."""

import time

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from bodymap.examination.norms import STOOD_SECONDS
from bodymap.language import later, tr

TICK_MS = 100

READY, OPEN, COUNTING, COUNTED = range(4)

SAY = (
    later("Stand within reach, both sides clear, ready to catch. Stop at the first step."),
    later("Feet together, eyes open: does the person stand steadily?"),
    later("Eyes closed. Counting…"),
    later("Ten seconds stood. How?"),
)


class RombergCount(QWidget):
    """Emits the result and the seconds stood with closed eyes (None without a count)."""

    finished = Signal(str, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.needed = STOOD_SECONDS
        self._stage = READY
        self._began = 0.0
        self._timer = QTimer(self, interval=TICK_MS)
        self._timer.timeout.connect(self._tick)
        self.say = QLabel()
        self.say.setAccessibleName(tr("What to do now"))
        self.say.setWordWrap(True)
        self.seconds = QLabel()
        self.seconds.setAccessibleName(tr("Seconds with closed eyes"))
        self.buttons: dict[str, QPushButton] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.say)
        column.addWidget(self.seconds)
        rows = (
            ("ready", tr("I stand ready   (Space)")),
            ("start", tr("Steady; eyes closed: count   (Space)")),
            ("cannot", tr("Cannot stand with open eyes   (X)")),
            ("lost", tr("Lost balance   (X)")),
            ("steady", tr("Steady   (Space)")),
            ("sway", tr("Swayed   (S)")),
            ("undone", tr("Not done   (N)")),
        )
        row = QHBoxLayout()
        for name, words in rows:
            button = QPushButton(words)
            button.setAccessibleName(words.partition("   ")[0])
            button.clicked.connect(lambda _=False, n=name: self._press(n))
            self.buttons[name] = button
            (row if name in ("steady", "sway") else column).addWidget(button)
            if name == "lost":
                column.addLayout(row)
        column.addStretch(1)
        self.reset()

    def reset(self) -> None:
        """Back to the caution."""
        self._timer.stop()
        self._to(READY)

    def _to(self, stage: int) -> None:
        self._stage = stage
        self.say.setText(f"<b>{tr(SAY[stage])}</b>")
        self.seconds.setText("")
        shown = {
            READY: ("ready", "undone"), OPEN: ("start", "cannot", "undone"),
            COUNTING: ("lost", "undone"), COUNTED: ("steady", "sway", "lost"),
        }[stage]  # fmt: skip
        held = any(button.hasFocus() for button in self.buttons.values())
        for name, button in self.buttons.items():
            button.setVisible(name in shown)
        if held:
            self.buttons[shown[0]].setFocus()

    def _press(self, name: str) -> None:
        if name == "ready":
            self._to(OPEN)
        elif name == "start":
            self._began = time.monotonic()
            self._to(COUNTING)
            self._timer.start()
        elif name == "cannot":
            self._end("cannot stand with open eyes", None)
        elif name == "lost":
            stood = time.monotonic() - self._began
            self._end("lost balance", min(stood, self.needed))
        elif name == "undone":
            self._end("not done", None)
        else:
            self._end(name, self.needed)

    def _end(self, result: str, seconds: float | None) -> None:
        self.reset()
        self.finished.emit(result, seconds)

    def _tick(self) -> None:
        stood = time.monotonic() - self._began
        self.seconds.setText(f"{min(stood, self.needed):.0f} s")
        if stood >= self.needed:
            self._timer.stop()
            self._to(COUNTED)

    def key(self, key: int) -> bool:
        """Answer by a key; says whether it was one of ours."""
        names = {
            Qt.Key.Key_Space: ("ready", "start", "steady"), Qt.Key.Key_X: ("cannot", "lost"),
            Qt.Key.Key_S: ("sway",), Qt.Key.Key_N: ("undone",),
        }.get(Qt.Key(key), ())  # fmt: skip
        for name in names:
            if self.buttons[name].isVisibleTo(self):
                self.buttons[name].click()
                return True
        return bool(names)
