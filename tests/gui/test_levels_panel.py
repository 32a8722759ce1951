"""Levels in the window: grades by keys, results at once, what would settle them on demand."""

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bodymap.classification.scores import POINTS
from bodymap.examination.muscles import key_muscles
from bodymap.findings.record import BedsideRecord
from bodymap.findings.signs import SignChange
from bodymap.gui.levels_panel import LevelsPanel
from bodymap.terms import Side
from tests.gui.conftest import Hand


@pytest.fixture
def panel(hand: Hand, qtbot: QtBot) -> LevelsPanel:
    qtbot.waitUntil(hand.window.isActiveWindow)
    hand.window.toggle_panel("levels")
    qtbot.waitUntil(hand.window.panels.levels.isVisible)
    return hand.window.panels.levels


def _t4_complete() -> BedsideRecord:
    """Both sides normal to T4, then nothing: the plainest example, constructed from the
    rules of ISNCSCI 2019 (levels T4, scale A)."""
    record = BedsideRecord()
    for part in ("light_touch", "pinprick"):
        for side in ("right", "left"):
            for number, point in enumerate(POINTS):
                score = "2" if number <= POINTS.index("T4") else "0"
                record = record.with_value((part, side, point), score)
    return record


def test_levels_follow_the_record(hand: Hand, panel: LevelsPanel, qtbot: QtBot) -> None:
    session = hand.window.session
    assert "Nothing is scored yet" in panel.results.text()
    session.step("Points", session.drawing.with_record(_t4_complete()))
    assert "right <b>T4</b>, left <b>T4</b>" in panel.results.text()
    QTest.mouseClick(panel.normal, Qt.MouseButton.LeftButton)
    for segment in ("L2", "L3", "L4", "L5", "S1"):
        for side in ("right", "left"):
            box = panel.choices["motor", side, segment]
            box.setFocus()
            QTest.keyClick(box, Qt.Key.Key_0)
    assert session.drawing.record.at("motor", "left", "S1") == "0"
    assert re.search(r"Impairment scale</td><td[^>]*>ND", panel.results.text())
    assert panel.settle.isVisible()
    QTest.mouseClick(panel.settle, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(panel.points.text()), timeout=20000)
    assert "deep anal pressure" in panel.points.text()
    for path in (("deep_anal_pressure",), ("voluntary_anal_contraction",)):
        box = panel.choices[path]
        box.setFocus()
        QTest.keyClick(box, Qt.Key.Key_N)
    assert re.search(r"Impairment scale</td><td[^>]*><b>A</b>", panel.results.text())
    assert "emergency assessment" in panel.notes.text()
    hand.window.undo()
    assert session.drawing.record.at("voluntary_anal_contraction") is None


def test_a_grade_moves_the_ranking_and_is_one_step(hand: Hand, panel: LevelsPanel) -> None:
    box = panel.choices["motor", "right", "C7"]
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_3)
    drawing = hand.window.session.drawing
    assert drawing.record.at("motor", "right", "C7") == "3"
    assert drawing.signs.found["triceps", Side.RIGHT] is SignChange.WEAK
    hand.window.undo()
    assert not hand.window.session.drawing


def test_the_key_muscles_are_those_of_the_standard() -> None:
    """ISNCSCI 2019, from memory."""
    words = ("elbow flex", "wrist ext", "elbow ext", "finger flex", "little finger abd",
             "hip flex", "knee ext", "ankle dorsi", "long toe ext", "ankle plantar")  # fmt: skip
    for muscle, word in zip(key_muscles().values(), words, strict=True):
        assert muscle.name.startswith(word)


def test_the_wheel_over_a_grade_changes_nothing(hand: Hand, panel: LevelsPanel) -> None:
    box = panel.choices["motor", "right", "C5"]
    event_count = hand.window.session.history.past
    from PySide6.QtCore import QPoint, QPointF
    from PySide6.QtGui import QWheelEvent
    from PySide6.QtWidgets import QApplication

    wheel = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(0, 0), QPoint(0, -120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(box, wheel)
    assert box.currentIndex() == 0
    assert hand.window.session.history.past == event_count
