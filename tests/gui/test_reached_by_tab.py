"""Every widget that can be used is reached with Tab, and has a name to be said, over the whole
window: each panel, and the examination at each kind of question."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QLineEdit,
    QScrollArea,
    QSpinBox,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from bodymap.examination.parts import Part
from bodymap.findings.samples import sample_file
from bodymap.gui.panels import PANELS
from bodymap.practice.hidden_patients import Difficulty
from bodymap.terms import View

from .conftest import Hand

TAB = Qt.FocusPolicy.TabFocus


def _usable(window: QWidget) -> Iterator[QWidget]:
    """Widgets that a pointer could use now: shown, enabled, taking a press or a key."""
    for widget in window.findChildren(QWidget):
        if not widget.isVisibleTo(window) or not widget.isEnabled() or widget.size().isEmpty():
            continue
        inner = isinstance(widget, QLineEdit) and isinstance(widget.parent(), QSpinBox)
        if isinstance(widget, QScrollArea) or inner or widget.focusProxy() is not None:
            continue
        pressed = isinstance(widget, QAbstractButton) and not _of_qt(widget)
        if widget.focusPolicy() & TAB or pressed:
            yield widget


def _of_qt(button: QAbstractButton) -> bool:
    """Buttons inside a widget of Qt, which has keys of its own: arrows of tab bars, the
    corner of a table, the one that a tool bar shows when it has no room."""
    names = {"qt_toolbar_ext_button", "ScrollLeftButton", "ScrollRightButton"}
    return button.objectName() in names or type(button).__name__ == "QAbstractButton"


def _group(widget: QWidget) -> set[QWidget]:
    """A widget, and those of its group: Tab goes to one radio button, arrows to the others."""
    if isinstance(widget, QAbstractButton) and widget.autoExclusive() and widget.isCheckable():
        parent = widget.parentWidget()
        if parent is not None:
            return {
                b for b in parent.findChildren(QAbstractButton)
                if b.autoExclusive() and b.isCheckable()
            }  # fmt: skip
    return {widget}


def _reached(window: QWidget) -> set[QWidget]:
    """Every widget that has the focus at some time while Tab is pressed on and on."""
    seen: set[QWidget] = set()
    idle = 0
    for _ in range(1500):
        focused = QApplication.focusWidget()
        assert focused is not None
        before = len(seen)
        seen |= _group(focused)
        idle = 0 if len(seen) > before else idle + 1
        if idle > 60:
            return seen
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    raise AssertionError("Tab goes round and round")


def _said(widget: QWidget) -> str:
    words = widget.accessibleName()
    if not words and isinstance(widget, QAbstractButton | QLabel):
        words = widget.text()
    if not words and isinstance(widget, QTabBar):
        words = widget.tabText(0)
    return words


def _check(window: QWidget) -> int:
    """Press Tab through the window, and count what can be used."""
    window.activateWindow()
    QTest.qWaitForWindowActive(window)
    wanted = set(_usable(window))
    missing = wanted - _reached(window)
    assert not missing, [
        f"{type(w).__name__} '{_said(w)}' at {w.mapTo(window, QPoint())}" for w in missing
    ]
    silent = [type(w).__name__ for w in wanted if not _said(w).strip()]
    assert not silent
    return len(wanted)


@pytest.mark.parametrize("name", PANELS)
def test_every_widget_of_every_panel_is_reached_and_named(
    hand: Hand, qtbot: QtBot, name: str
) -> None:
    hand.window.open_path(sample_file("stocking-record"), untitled=True)
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=20000)
    hand.window.toggle_panel(name)
    hand.canvas.setFocus()
    assert _check(hand.window) > 25


def test_candidate_questions_and_visits_at_hand(hand: Hand, qtbot: QtBot) -> None:
    """The explanations with a chosen candidate and the questions below it."""
    hand.window.open_path(sample_file("root-c6"), untitled=True)
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=20000)
    hand.window.panels.ranking.table.selectRow(0)
    hand.canvas.setFocus()
    assert _check(hand.window) > 30


def test_a_sitting_with_a_simulated_patient(hand: Hand) -> None:
    hand.press(Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    panel = hand.window.panels.practice
    panel.start(Difficulty.WHOLE, 3)
    hand.click(View.FRONT, -310, 495)
    hand.canvas.setFocus()
    assert _check(hand.window) > 25
    QTest.mouseClick(panel.give_up, Qt.MouseButton.LeftButton)
    hand.canvas.setFocus()
    assert _check(hand.window) > 25


def test_each_kind_of_question_of_the_examination(hand: Hand) -> None:
    """One question of each part: its answers, and going back and passing over."""
    hand.press(Qt.Key.Key_B, Qt.KeyboardModifier.ControlModifier)
    panel = hand.window.panels.examination
    assert len(Part) > 6
    for part in Part:
        panel.go_to_part(part)
        hand.canvas.setFocus()
        assert _check(hand.window) > 25


def test_a_widget_without_tab_would_be_noticed(hand: Hand) -> None:
    hand.window.toggle_panel("regions")
    hand.canvas.setFocus()
    _check(hand.window)
    brush = next(b for b in hand.window.findChildren(QAbstractButton) if _said(b) == "Tool: Brush")
    brush.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    with pytest.raises(AssertionError, match="Tool: Brush"):
        _check(hand.window)
