"""The whole window is killed in the middle of an examination, and while someone paints,
twenty times each at random moments; what was done comes back."""

import json
import os
import random
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.findings.journal import left_over
from bodymap.gui.app import application
from bodymap.gui.keeping import Keeping
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.report.appearance import LIGHT
from tests.gui.conftest import Answers

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kill -9 is a thing of POSIX")

BOOT = """
import json, random
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from bodymap.gui.app import application, open_window
from bodymap.gui.session import Session
from bodymap.gui.window import Window

app = application()
window = Window(Session())
loader = open_window(None, window)
while window.session.atlas is None:
    QTest.qWait(5)
journal = window.keeping.journalling.journal
chance = random.Random()
"""

EXAMINER = """
window.toggle_panel("examination")
QTest.qWait(20)
panel = window.panels.examination
panel.every.setChecked(True)
while panel.step is not None and panel.step.part in ("light-touch", "pinprick"):
    if chance.random() < 0.3:
        QTest.keyClick(panel, chance.choice([Qt.Key.Key_R, Qt.Key.Key_L, Qt.Key.Key_B]))
        QTest.keyClick(panel, Qt.Key(Qt.Key.Key_1 + chance.randrange(5)))
    else:
        QTest.keyClick(panel, Qt.Key.Key_Space)
    journal.flush()  # the next touch takes longer than one write
    print(json.dumps(dict(window.session.drawing.record.fields)), flush=True)
    QTest.qWait(chance.randrange(1, 12))
"""

PAINTER = """
QTest.qWait(20)
canvas = window.canvas
while True:
    x, y = chance.randrange(100, 330), chance.randrange(150, 500)
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=QPoint(x, y))
    for _ in range(chance.randrange(1, 6)):
        x, y = x + chance.randrange(-20, 20), y + chance.randrange(-20, 20)
        QTest.mouseMove(canvas, QPoint(x, y))
        QTest.qWait(chance.randrange(1, 8))
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=QPoint(x, y))
    journal.flush()  # the next stroke takes longer than one write
    painted = window.session.drawing.altered_cm2(window.session.atlas).sum()
    print(json.dumps({"cm2": float(painted)}), flush=True)
"""


def _start(state: Path, program: str = EXAMINER) -> "subprocess.Popen[str]":
    env = os.environ | {
        "BODYMAP_STATE": str(state), "BODYMAP_CONFIG": str(state),
        "QT_QPA_PLATFORM": "offscreen",
    }  # fmt: skip
    return subprocess.Popen(
        [sys.executable, "-c", BOOT + program], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        text=True, env=env,
    )  # fmt: skip


def _flat(fields: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, Any]]:
    for name, value in fields.items():
        if isinstance(value, Mapping):
            yield from _flat(value, f"{path}{name} ")
        else:
            yield f"{path}{name}", value


def _killed(examiner: "subprocess.Popen[str]", seconds: float) -> dict[str, Any]:
    """What the examiner had answered when it was killed, so long after its first answer."""
    assert examiner.stdout is not None
    lines = [examiner.stdout.readline()]
    threading.Event().wait(seconds)
    examiner.send_signal(signal.SIGKILL)
    lines += examiner.stdout.read().splitlines()
    examiner.wait()
    examiner.stdout.close()
    whole = [json.loads(line) for line in lines if line.strip().endswith("}")]
    found: dict[str, Any] = whole[-1]
    return found


def test_what_was_answered_is_offered_back(
    tmp_path: Path, atlas: Atlas, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    chance, lengths = random.Random(), []
    for batch in range(10):
        folders = [tmp_path / f"{batch}-{number}" for number in range(2)]
        for folder, examiner in zip(folders, [_start(f) for f in folders], strict=True):
            answered = _killed(examiner, chance.uniform(0.0, 0.6))
            (left,) = left_over(folder / "journals")
            kept = dict(_flat(left.open(atlas).drawing.record.fields))
            told = dict(_flat(answered))
            assert told.items() <= kept.items()
            # At most the answer that was being given when it was killed comes on top: two
            # sides, each with a score and a word for how it differs, or the cheek.
            assert len(kept) - len(told) <= 4
            lengths.append(len(kept))
    assert len(set(lengths)) > 5, "killed at different moments"
    # And a window that starts again offers the last of them.
    for name in ("BODYMAP_STATE", "BODYMAP_CONFIG"):
        monkeypatch.setenv(name, str(folders[-1]))
    application()
    window = Window(Session(), Answers(), LIGHT)  # type: ignore[arg-type]
    qtbot.addWidget(window)
    window.keeping = Keeping(window)
    window.show()
    window.session.begin(atlas)
    qtbot.waitUntil(window.restore_bar.isVisible)
    button = window.restore_bar.restore_button
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    restored = dict(_flat(window.session.drawing.record.fields))
    assert restored == kept
    assert window.session.dirty
    window.keeping.close()


def test_what_was_painted_is_offered_back(tmp_path: Path, atlas: Atlas) -> None:
    """Every finished stroke; at most the one under way comes on top."""
    chance, areas = random.Random(), []
    for batch in range(10):
        folders = [tmp_path / f"{batch}-{number}" for number in range(2)]
        painters = [_start(folder, PAINTER) for folder in folders]
        for folder, painter in zip(folders, painters, strict=True):
            painted = _killed(painter, chance.uniform(0.0, 0.6))["cm2"]
            if painted == 0.0:
                continue  # the strokes so far missed the skin
            (left,) = left_over(folder / "journals")
            kept = float(left.open(atlas).drawing.altered_cm2(atlas).sum())
            # A stroke of one finding only adds skin.
            assert kept >= painted - 1e-6
            areas.append(kept)
    assert len(areas) >= 10
    assert len(set(areas)) > 5, "killed at different moments"
