"""Visits in the window, by keys and clicks."""

import json
import os
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from bodymap.findings.case_file import encode_case, open_case
from bodymap.findings.journal import left_over
from bodymap.findings.samples import sample_file
from bodymap.findings.visits import visits
from bodymap.gui import visits_panel
from bodymap.gui.journalling import Journalling
from bodymap.gui.visits_panel import VisitsPanel
from bodymap.terms import Change, Modality, Side, View

from .conftest import Hand

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture(autouse=True)
def _today(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(visits_panel, "today", lambda: "2027-02-01")


def _open(hand: Hand) -> VisitsPanel:
    hand.window.open_path(sample_file("neuropathy-visits"), untitled=True)
    hand.press(Qt.Key.Key_V, CTRL, SHIFT)
    panel = hand.window.panels.visits
    assert panel.isVisible()
    assert panel.list.hasFocus()
    return panel


def _dates(hand: Hand) -> list[str | None]:
    return [v.date for v in visits(hand.window.session.drawing)]


def _pixels(hand: Hand) -> np.ndarray:
    QApplication.sendEvent(hand.canvas, QEvent(QEvent.Type.Leave))
    image = hand.canvas.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    data = np.frombuffer(image.constBits(), dtype=np.uint8)
    return data.reshape(image.height(), image.width(), 4)[:, :, :3].copy()


def _laid(hand: Hand, qtbot: QtBot) -> None:
    session = hand.window.session
    qtbot.waitUntil(lambda: session.laid_over is not None, timeout=15000)


SAMPLE = ["2024-03-11", "2024-11-18", "2025-06-02"]


def test_visits_are_listed_by_date_with_the_one_in_hand_last(hand: Hand) -> None:
    panel = _open(hand)
    rows = [panel.list.item(n).text() for n in range(panel.list.count())]
    assert [row.partition(":")[0] for row in rows] == [
        "11 March 2024", "18 November 2024", "2 June 2025, in hand",
    ]  # fmt: skip
    assert "temperature" in rows[1]
    assert "temperature" not in rows[2]
    assert panel.list.currentRow() == 2
    assert not panel.remove_button.isEnabled()


def test_a_new_visit_starts_with_the_skin_and_is_undone_and_made_again(hand: Hand) -> None:
    panel, session = _open(hand), hand.window.session
    before = session.drawing
    QTest.mouseClick(panel.copy, LEFT)
    assert _dates(hand) == [*SAMPLE, "2027-02-01"]
    assert dict(session.drawing.layers) == dict(before.layers)
    assert not session.drawing.record
    assert panel.list.count() == 4
    assert hand.window.isWindowModified()
    assert hand.window.actions_by_id["undo"].text() == "&Undo: New visit of 1 February 2027"
    hand.press(Qt.Key.Key_Z, CTRL)
    assert session.drawing is before
    assert panel.list.count() == 3
    hand.press(Qt.Key.Key_Z, CTRL, SHIFT)
    assert _dates(hand) == [*SAMPLE, "2027-02-01"]
    QTest.mouseClick(panel.copy, LEFT)  # a second one of the same day
    assert "comes after" in hand.window.statusBar().currentMessage()
    assert len(_dates(hand)) == 4


def test_an_empty_visit_is_saved_and_opened_with_all_the_others(hand: Hand, tmp_path: Path) -> None:
    panel, session = _open(hand), hand.window.session
    QTest.mouseClick(panel.empty, LEFT)
    assert not session.drawing
    hand.press(Qt.Key.Key_R)
    hand.look_at("right-palm")
    hand.click(View.FRONT, -318, 493)
    hand.answers.save = tmp_path / "visits.json"
    hand.press(Qt.Key.Key_S, CTRL)
    saved = json.loads(hand.answers.save.read_text())
    assert saved["date"] == "2027-02-01"
    assert [v["date"] for v in saved["visits"]] == SAMPLE
    assert saved["findings"][0]["regions"] == ["thumb-palmar"]
    assert saved["visits"][2]["signs"][0]["sign"] == "ankle-reflex"
    hand.press(Qt.Key.Key_N, CTRL)
    assert _dates(hand) == [None]
    hand.answers.open = hand.answers.save
    hand.press(Qt.Key.Key_O, CTRL)
    assert _dates(hand) == [*SAMPLE, "2027-02-01"]


def test_findings_without_a_date_ask_for_one_first(hand: Hand) -> None:
    hand.window.open_path(sample_file("root-c6"), untitled=True)
    hand.press(Qt.Key.Key_V, CTRL, SHIFT)
    panel = hand.window.panels.visits
    assert not panel.lay.isEnabled()
    QTest.mouseClick(panel.copy, LEFT)
    assert "no date yet" in hand.window.statusBar().currentMessage()
    panel.date.setFocus()
    panel.date.selectAll()
    QTest.keyClicks(panel.date, "2026-13-01")
    QTest.keyClick(panel.date, Qt.Key.Key_Return)
    assert "no date" in hand.window.statusBar().currentMessage()
    assert _dates(hand) == [None]
    panel.date.selectAll()
    QTest.keyClicks(panel.date, "2026-12-01")
    QTest.keyClick(panel.date, Qt.Key.Key_Return)
    assert _dates(hand) == ["2026-12-01"]
    QTest.mouseClick(panel.copy, LEFT)
    assert _dates(hand) == ["2026-12-01", "2027-02-01"]
    hand.press(Qt.Key.Key_Z, CTRL)
    hand.press(Qt.Key.Key_Z, CTRL)
    assert _dates(hand) == [None]


def test_an_earlier_visit_is_dated_anew_and_removed(hand: Hand) -> None:
    panel = _open(hand)
    QTest.keyClick(panel.list, Qt.Key.Key_Home)
    assert panel.list.currentRow() == 0
    assert panel.date.text() == "2024-03-11"
    panel.date.selectAll()
    QTest.keyClicks(panel.date, "2024-04-01")
    QTest.mouseClick(panel.set, LEFT)
    assert _dates(hand) == ["2024-04-01", *SAMPLE[1:]]
    QTest.mouseClick(panel.remove_button, LEFT)
    assert _dates(hand) == SAMPLE[1:]
    hand.press(Qt.Key.Key_Z, CTRL)
    hand.press(Qt.Key.Key_Z, CTRL)
    assert _dates(hand) == SAMPLE


def test_two_visits_are_laid_over_each_other_until_escape(hand: Hand, qtbot: QtBot) -> None:
    panel, session = _open(hand), hand.window.session
    findings = _pixels(hand)
    QTest.mouseClick(panel.lay, LEFT)
    _laid(hand, qtbot)
    shown = session.laid_over
    assert shown is not None
    assert shown.modality is None
    assert shown.dates == ("2024-11-18", "2025-06-02")
    laid = _pixels(hand)
    assert (findings != laid).any()
    text = panel.text.toPlainText()
    assert f"{shown.gone.cm2:.0f} cm²" in text
    assert "not examined again" in text
    assert "judgement" in text
    # One modality alone, by keys.
    panel.modality.setFocus()
    QTest.keyClick(panel.modality, Qt.Key.Key_Down)
    assert session.laid_over is not None
    assert session.laid_over.modality is Modality.LIGHT_TOUCH
    assert (_pixels(hand) != laid).any()
    hand.press(Qt.Key.Key_Escape)
    assert session.laid_over is None
    assert (_pixels(hand) == findings).all()
    assert "cm²" not in panel.text.toPlainText()


def test_the_comparison_follows_the_drawing(hand: Hand, qtbot: QtBot) -> None:
    panel, session = _open(hand), hand.window.session
    panel.lay.setFocus()
    QTest.keyClick(panel.lay, Qt.Key.Key_Space)
    _laid(hand, qtbot)
    before = session.laid_over
    atlas = session.atlas
    assert before is not None
    assert atlas is not None
    drawing = session.drawing.with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "forehead", Side.LEFT
    )
    session.step("forehead", drawing)
    qtbot.waitUntil(lambda: session.laid_over is not before, timeout=15000)
    after = session.laid_over
    assert after is not None
    grown = float(atlas.cells.area_cm2[atlas.cells_of_region("forehead", Side.LEFT)].sum())
    assert after.new.cm2 == pytest.approx(before.new.cm2 + grown)


def test_another_case_or_comparison_takes_the_place(hand: Hand, qtbot: QtBot) -> None:
    panel, session = _open(hand), hand.window.session
    QTest.mouseClick(panel.lay, LEFT)
    _laid(hand, qtbot)
    session.compare((("root-c6", Side.RIGHT), ("median-wrist", Side.RIGHT)))
    assert session.laid_over is None
    QTest.mouseClick(panel.lay, LEFT)
    _laid(hand, qtbot)
    assert session.comparison is None
    hand.press(Qt.Key.Key_N, CTRL)
    assert session.laid_over is None
    assert not panel.lay.isEnabled()


def test_the_picture_of_the_window_shows_what_the_figure_shows(
    hand: Hand, qtbot: QtBot, tmp_path: Path
) -> None:
    panel = _open(hand)
    QTest.mouseClick(panel.lay, LEFT)
    _laid(hand, qtbot)
    hand.answers.picture = tmp_path / "change.svg"
    hand.press(Qt.Key.Key_E, CTRL)
    hand.made()
    assert "gone: altered then, not now" in hand.answers.picture.read_text(encoding="utf-8")


def test_everything_is_reached_by_tab_and_has_a_name(hand: Hand) -> None:
    panel = _open(hand)
    QTest.mouseClick(panel.copy, LEFT)
    seen: set[QWidget] = set()
    panel.list.setFocus()
    for _ in range(40):
        focused = QApplication.focusWidget()
        seen.add(focused)
        QTest.keyClick(focused, Qt.Key.Key_Tab)
    for widget in (panel.list, panel.date, panel.set, panel.copy, panel.empty, panel.then,
                   panel.now, panel.modality, panel.lay, panel.clear_button):  # fmt: skip
        assert widget in seen, widget.accessibleName()
        assert widget.accessibleName()


def test_practice_keeps_the_visits_of_the_case_and_shows_none(hand: Hand, qtbot: QtBot) -> None:
    panel, session = _open(hand), hand.window.session
    QTest.mouseClick(panel.lay, LEFT)
    _laid(hand, qtbot)
    hand.window.panels.practice.start(seed=3)
    assert session.laid_over is None
    assert not hand.window.actions_by_id["visits"].isEnabled()
    assert not session.drawing
    assert _dates(hand) == SAMPLE
    hand.window.panels.practice.touched(View.FRONT, -318, 493)
    assert session.drawing
    assert _dates(hand) == SAMPLE
    hand.window.panels.practice.end()


def test_visits_come_back_after_a_crash(hand: Hand, tmp_path: Path) -> None:
    session = hand.window.session
    journalling = Journalling(session, tmp_path / "state")
    panel = _open(hand)
    QTest.mouseClick(panel.empty, LEFT)
    expected = encode_case(session.case)
    assert journalling.journal.flush()
    file = journalling.journal.file
    dead = file.with_name(f"{os.getpid()}-gone-{os.urandom(8).hex()}.journal")
    dead.write_bytes(file.read_bytes())
    (left,) = left_over(file.parent)
    session.new()
    assert _dates(hand) == [None]
    journalling.restore(left)
    assert _dates(hand) == [*SAMPLE, "2027-02-01"]
    assert encode_case(session.case) == expected
    atlas = session.atlas
    assert atlas is not None
    sample = open_case(sample_file("neuropathy-visits"), atlas).drawing
    assert session.drawing.earlier[-1].drawing.layers == sample.layers
    journalling.close()
