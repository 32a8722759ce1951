"""The three stories from start to end, by real events, counting what a hand does."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bodymap.practice.hidden_patients import Difficulty
from bodymap.terms import Side, View

from .conftest import Hand

LEFT = Qt.MouseButton.LeftButton
CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier

C6, MEDIAN = "C6 nerve root", "Median nerve at the carpal tunnel"

# Palmar skin of the right thumb, index and middle finger, front view.
FINGERS = [(-312, 496), (-318, 446), (-306, 430)]


def test_a_clinician_sketches_a_numb_area_and_copies_the_summary(hand: Hand, qtbot: QtBot) -> None:
    """Under 20 actions: a click, a key or a chord counts one."""
    actions = 0

    def did(_: object = None) -> None:
        nonlocal actions
        actions += 1

    did(hand.press(Qt.Key.Key_F5))
    did(hand.press(Qt.Key.Key_R))
    for place in FINGERS:
        did(hand.click(View.FRONT, *place))
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=10000)
    # Tested and normal: the palm over the thenar eminence.
    did(hand.press(Qt.Key.Key_5, Qt.KeyboardModifier.AltModifier))
    did(hand.click(View.FRONT, -280, 500))
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=10000)
    # One of the questions is answered in place.
    did(QTest.mouseClick(hand.window.panels.ranking.questions.rows[0][2], LEFT))
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=10000)
    did(hand.press(Qt.Key.Key_C, CTRL, SHIFT))
    text = QGuiApplication.clipboard().text()
    assert actions < 20
    assert "Median nerve at the carpal tunnel" in text.split("consistent with")[1][:600]
    assert "does not diagnose" in " ".join(text.split())


def test_a_teacher_goes_from_c6_against_median_to_slides(
    hand: Hand, tmp_path: Path, qtbot: QtBot
) -> None:
    from pptx import Presentation

    hand.press(Qt.Key.Key_K, CTRL)
    panel = hand.window.panels.compare
    # From the list of confusions, with the mouse.
    QTest.mouseClick(panel.classics, LEFT)
    listed = panel.classics.view()
    qtbot.waitUntil(listed.isVisible)
    row = next(
        r for r in range(panel.classics.count())
        if panel.classics.itemText(r) == f"{C6} or {MEDIAN}"
    )  # fmt: skip
    index = listed.model().index(row, 0)
    listed.scrollTo(index)
    # A list that has just opened takes the release of the click that opened it for no choice.
    qtbot.wait(QApplication.doubleClickInterval() + 50)
    at = listed.visualRect(index).center()
    QTest.mouseMove(listed.viewport(), at)
    QTest.mouseClick(listed.viewport(), LEFT, pos=at)
    qtbot.waitUntil(lambda: hand.window.session.comparison is not None)
    picture = hand.answers.picture = tmp_path / "c6-or-median.svg"
    hand.press(Qt.Key.Key_E, CTRL)
    hand.made()
    assert f"only {C6}" in picture.read_text(encoding="utf-8")
    deck = hand.answers.slides = tmp_path / "c6-or-median.pptx"
    hand.press(Qt.Key.Key_E, CTRL, SHIFT)
    hand.made()
    slides = list(Presentation(str(deck)).slides)
    assert slides[0].shapes.title.text_frame.text == f"{C6} or {MEDIAN}?"
    both = [
        slide for slide in slides
        if {f"Compared: only {name}" for name in (C6, MEDIAN)}
        <= {group.name for group in slide.shapes if len(getattr(group, "shapes", ()))}
    ]  # fmt: skip
    assert len(both) == 1
    words = " ".join(s.text_frame.text for s in both[0].shapes if s.has_text_frame)
    assert f"Skin lost only in {C6}" in words
    assert f"Skin lost only in {MEDIAN}" in words
    # The findings are shown again, and the deck of the case holds no comparison.
    hand.press(Qt.Key.Key_Escape)
    hand.press(Qt.Key.Key_E, CTRL, SHIFT)
    hand.made()
    named = {s.name for slide in Presentation(str(deck)).slides for s in slide.shapes}
    assert not {name for name in named if name.startswith("Compared: ")}


def test_a_student_examines_a_simulated_patient_to_the_answer(
    hand: Hand, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = hand.window
    # Which patient comes is chance; here it is the fourth.
    monkeypatch.setattr("bodymap.gui.practice_panel.random.randrange", lambda *_: 4)
    hand.press(Qt.Key.Key_T, CTRL)
    panel = window.panels.practice
    qtbot.waitUntil(panel.isVisible)
    assert panel.difficulty.currentData() == Difficulty.WHOLE
    QTest.mouseClick(panel.new, LEFT)
    assert window.session.practising
    for place in ((-90, -20), (-110, 0), (-75, -55)):
        hand.click(View.FRONT, *place)
    answers = [panel.touches.item(n).text() for n in range(panel.touches.count())]
    assert len(answers) == 3
    assert all("(right)" in a for a in answers)
    lesion = panel.lesions
    lesion.search.clear()
    QTest.keyClicks(lesion.search, "superficial fibular fascia right")
    assert not lesion.list.currentItem().isHidden()
    QTest.mouseClick(panel.name_it, LEFT)
    assert not window.session.practising
    qtbot.waitUntil(lambda: not panel.background.busy, timeout=20000)
    assert "Superficial fibular nerve" in panel.debrief.toPlainText()
    assert "Your path" in panel.debrief.toPlainText()
    sides = {side for _, _, layer in window.session.drawing for _, side in layer.regions}
    assert sides <= {Side.RIGHT, Side.LEFT}
