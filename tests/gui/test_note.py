"""The chart note from the window: one key copies it, one key saves it."""

from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from bodymap.findings.samples import sample_file
from bodymap.gui.actions import TABLE
from bodymap.gui.window import REVEALING

from .conftest import Hand

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier


def test_one_key_copies_the_full_note(hand: Hand, qtbot: QtBot) -> None:
    hand.window.open_path(sample_file("stocking-record"), untitled=True)
    QGuiApplication.clipboard().setText("")
    hand.press(Qt.Key.Key_N, CTRL, SHIFT)
    hand.made()
    copied = QGuiApplication.clipboard().text()
    assert copied.startswith("Sensory examination\nDate: 2026-02-17.")
    assert "does not diagnose" in copied
    # The same words as approved, in lines that the chart wraps.
    notes = Path(__file__).parent.parent / "report" / "notes"
    approved = (notes / "stocking-record-full.txt").read_text(encoding="utf-8")
    assert copied.split() == approved.split()
    assert max(map(len, copied.splitlines())) > 100
    assert "copied" in hand.window.statusBar().currentMessage()


def test_the_note_is_of_what_is_drawn_now(hand: Hand) -> None:
    hand.window.open_path(sample_file("carpal-tunnel"), untitled=True)
    hand.press(Qt.Key.Key_M, CTRL)
    hand.press(Qt.Key.Key_N, CTRL, SHIFT)
    hand.made()
    copied = QGuiApplication.clipboard().text()
    assert "carpal tunnel, left (support" in copied
    assert "The right side, in any modality." in copied


@pytest.mark.parametrize("ending", ["txt", "md", "pdf"])
def test_one_key_saves_the_note(hand: Hand, tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"note.{ending}"
    hand.answers.note = path
    hand.window.open_path(sample_file("saddle"), untitled=True)
    hand.press(Qt.Key.Key_N, CTRL, ALT)
    hand.made()
    if ending == "pdf":
        words = " ".join(PdfReader(path).pages[0].extract_text().split())
        assert "Sensory examination" in words
    else:
        text = path.read_text(encoding="utf-8")
        assert text.removeprefix("# ").startswith("Sensory examination\n")
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_another_ending_is_told_and_nothing_written(hand: Hand, tmp_path: Path) -> None:
    hand.answers.note = tmp_path / "note.doc"
    hand.window.open_path(sample_file("saddle"), untitled=True)
    hand.press(Qt.Key.Key_N, CTRL, ALT)
    hand.made()
    assert "no kind of note" in hand.window.statusBar().currentMessage()
    assert list(tmp_path.iterdir()) == []


def test_a_note_would_give_a_hidden_lesion_away() -> None:
    assert {"note", "copy-note"} <= set(REVEALING)
    assert {"note", "copy-note"} <= {row.id for row in TABLE}
