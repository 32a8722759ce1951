"""A hand that uses everything in the window at random, by real events."""

from collections.abc import Callable, Sequence

import numpy as np
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QWidget

from bodymap.atlas import Atlas
from bodymap.findings.samples import sample_files
from bodymap.gui.panels import PANELS
from bodymap.gui.window import Window

LEFT = Qt.MouseButton.LeftButton

WORDS = (
    "LT reduced R thumb", "pinprick absent both feet", "C6", "ulnar", "sole", "tingling L palm",
    "median nerve", "T10", "normal right calf",
)  # fmt: skip

KEYS = (
    Qt.Key.Key_Space, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Right,
    Qt.Key.Key_Return, Qt.Key.Key_R, Qt.Key.Key_L, Qt.Key.Key_B, Qt.Key.Key_1, Qt.Key.Key_2,
    Qt.Key.Key_5, Qt.Key.Key_Tab, Qt.Key.Key_Delete,
)  # fmt: skip

OUTSIDE = {
    "new", "open", "save", "save-as", "picture", "slides", "handout-arm", "handout-leg", "note",
    "print", "quit", "theme", "text-larger", "text-smaller",
}  # fmt: skip
"""Actions that ask for a file, end the window or restyle the whole program: not at random."""

MOST_STEPS = 60
"""A case with more steps is put away for the next."""


class RandomUse:
    """Steps of a hand over a window."""

    def __init__(self, window: Window, atlas: Atlas, seed: int) -> None:
        self.window, self.rng = window, np.random.default_rng(seed)
        self._regions = list(atlas.facts.regions)
        self._samples = list(sample_files())
        self._kinds: tuple[Callable[[], None], ...] = (
            self.paint, self.paint, self.paint, self.look, self.call, self.call, self.turn_panel,
            self.press_button, self.press_button, self.choose, self.type, self.press_key,
            self.press_key, self.select, self.open_sample,
        )  # fmt: skip

    def step(self) -> None:
        """Do one thing, and let the window answer."""
        self._kinds[int(self.rng.integers(len(self._kinds)))]()
        QApplication.processEvents()
        # Without a running event loop nobody else buries what was to be deleted later.
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        if len(self.window.session.history.past) > MOST_STEPS:
            self.window.session.new()

    def _one_of(self, things: Sequence[QWidget]) -> QWidget | None:
        seen = [t for t in things if t.isVisible() and t.isEnabled()]
        return seen[int(self.rng.integers(len(seen)))] if seen else None

    def _panels(self) -> list[QWidget]:
        """Panels that have been opened."""
        return [panel for _, panel in self.window.panels._docks.values()]

    def paint(self) -> None:
        """A stroke, a line or clicks on the figure."""
        canvas = self.window.canvas
        at = self.rng.uniform([100, 150], [700, 600])
        QTest.mousePress(canvas, LEFT, pos=QPoint(*at.astype(int).tolist()))
        for _ in range(int(self.rng.integers(3, 15))):
            at = at + self.rng.normal(0, 9, 2)
            QTest.mouseMove(canvas, QPoint(*at.astype(int).tolist()))
        QTest.mouseRelease(canvas, LEFT)

    def look(self) -> None:
        """Nearer, farther, elsewhere."""
        self.window.canvas.zoom(float(self.rng.uniform(0.7, 1.5)))
        self.window.canvas.pan(*self.rng.normal(0, 60, 2).tolist())

    def call(self) -> None:
        """Any action of the menus that stays inside the window."""
        known = [a for id_, a in self.window.actions_by_id.items() if id_ not in OUTSIDE]
        action = known[int(self.rng.integers(len(known)))]
        if action.isEnabled():
            action.trigger()

    def turn_panel(self) -> None:
        """Show or hide a panel."""
        name = PANELS[int(self.rng.integers(len(PANELS)))]
        if self.window.actions_by_id[name].isEnabled():
            self.window.toggle_panel(name)

    def press_button(self) -> None:
        """Any button of a panel that is shown."""
        every = [b for p in self._panels() for b in p.findChildren(QAbstractButton)]
        button = self._one_of(every)
        if button is not None:
            QTest.mouseClick(button, LEFT)

    def choose(self) -> None:
        """Another entry of a list that drops down."""
        box = self._one_of([b for p in self._panels() for b in p.findChildren(QComboBox)])
        if isinstance(box, QComboBox) and box.count():
            row = int(self.rng.integers(box.count()))
            box.setCurrentIndex(row)
            box.activated.emit(row)

    def type(self) -> None:
        """Words into a field, and Enter."""
        field = self._one_of([f for p in self._panels() for f in p.findChildren(QLineEdit)])
        if isinstance(field, QLineEdit):
            field.clear()
            QTest.keyClicks(field, WORDS[int(self.rng.integers(len(WORDS)))])
            QTest.keyClick(field, Qt.Key.Key_Return)

    def press_key(self) -> None:
        """A key where the focus is."""
        QTest.keyClick(
            QApplication.focusWidget() or self.window.canvas,
            KEYS[int(self.rng.integers(len(KEYS)))],
        )

    def select(self) -> None:
        """A candidate held against the skin."""
        ranking = self.window.session.ranking
        if ranking and ranking.candidates:
            few = ranking.candidates[:5]
            self.window.session.select(few[int(self.rng.integers(len(few)))])

    def open_sample(self) -> None:
        """One of the samples."""
        if not self.window.session.practising:
            path = self._samples[int(self.rng.integers(len(self._samples)))]
            self.window.open_path(path, untitled=True)
