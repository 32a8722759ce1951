"""A real window on an offscreen screen, driven as a hand would drive it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.gui.app import application
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.report.appearance import LIGHT
from bodymap.report.layout import BODY_LAYOUT, close_ups
from bodymap.terms import View


class Answers:
    """Stands where the dialogs stand, and counts what was asked."""

    def __init__(self) -> None:
        self.open: Path | None = None
        self.save: Path | None = None
        self.picture: Path | None = None
        self.height: int | None = None
        self.slides: Path | None = None
        self.note: Path | None = None
        self.unsaved = "discard"
        self.asked = 0
        self.told: list[str] = []

    def file_to_open(self) -> Path | None:
        return self.open

    def file_to_save(self) -> Path | None:
        return self.save

    def picture_to_save(self) -> Path | None:
        return self.picture

    def picture_height(self, usual: int) -> int | None:
        return self.height or usual

    def slides_to_save(self) -> Path | None:
        return self.slides

    def note_to_save(self) -> Path | None:
        return self.note

    def about_unsaved_work(self) -> str:
        self.asked += 1
        return self.unsaved

    def inform(self, title: str, words: str) -> None:
        self.told.append(words)


class Hand:
    """A hand at the window: moves a real pointer over the canvas."""

    def __init__(self, window: Window, answers: Answers, qtbot: QtBot) -> None:
        self.window, self.answers, self.canvas = window, answers, window.canvas
        self._qtbot = qtbot

    def pixel(self, view: View, x: float, y: float) -> QPoint:
        """Where a place of a view is on the canvas."""
        px, py = self.canvas.camera.to_canvas(*BODY_LAYOUT[view].to_sheet(x, y))
        return QPoint(round(px), round(py))

    def drag(self, view: View, *places: tuple[float, float]) -> None:
        """Press, sweep through places of a view, let go."""
        points = [self.pixel(view, *place) for place in places]
        QTest.mousePress(self.canvas, Qt.MouseButton.LeftButton, pos=points[0])
        for point in points[1:]:
            QTest.mouseMove(self.canvas, point)
        QTest.mouseRelease(self.canvas, Qt.MouseButton.LeftButton, pos=points[-1])

    def click(self, view: View, x: float, y: float, alt: bool = False) -> None:
        """One click on the skin."""
        modifier = Qt.KeyboardModifier.AltModifier if alt else Qt.KeyboardModifier.NoModifier
        QTest.mouseClick(self.canvas, Qt.MouseButton.LeftButton, modifier, self.pixel(view, x, y))

    def look_at(self, close_up: str) -> None:
        """Zoom to a close-up."""
        atlas = self.window.session.atlas
        assert atlas is not None
        self.canvas.show_box(close_ups(atlas)[close_up].on_sheet)

    def press(self, keys: Qt.Key, *modifiers: Qt.KeyboardModifier) -> None:
        """A key with modifiers, anywhere in the window."""
        modifier = Qt.KeyboardModifier.NoModifier
        for one in modifiers:
            modifier |= one
        QTest.keyClick(self.window, keys, modifier)

    def ready(self) -> None:
        """Wait until the map in hand is laid over the figure."""

        def laid_over() -> bool:
            QApplication.processEvents()
            overlays = self.canvas.overlays
            return overlays is not None and not overlays.busy

        self._qtbot.waitUntil(laid_over, timeout=20000)

    def made(self) -> None:
        """Wait until the window has made what it was asked for."""
        self._qtbot.waitUntil(lambda: not self.window.background.busy, timeout=20000)

    def drawn_cm2(self) -> float:
        """Altered skin, cm²."""
        atlas = self.window.session.atlas
        assert atlas is not None
        return float(self.window.session.drawing.altered_cm2(atlas).sum())

    def names(self) -> list[str]:
        """The candidates as the list shows them."""
        model = self.window.panels.ranking.table.model()
        return [model.index(row, 1).data() for row in range(model.rowCount())]


@pytest.fixture
def hand(qtbot: QtBot, atlas: Atlas) -> Iterator[Hand]:
    application()
    answers = Answers()
    window = Window(Session(), answers, LIGHT)  # type: ignore[arg-type]
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    window.session.begin(atlas)
    qtbot.waitExposed(window)
    found = Hand(window, answers, qtbot)
    found.ready()
    yield found
    answers.unsaved = "discard"
    window.close()
