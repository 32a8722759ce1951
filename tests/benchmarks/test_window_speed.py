"""Speed of the window as ratios to floors measured in the same run (see core)."""

import subprocess
import sys
import time
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.geometry import stroke
from bodymap.gui.app import application
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import Change, Modality, View
from tests.gui.conftest import Answers

from .test_core_speed import median_seconds

pytestmark = pytest.mark.skipif(
    "--benchmark-enable" not in sys.argv, reason="benchmarks run with --benchmark-enable"
)


def test_brush_event_with_repaint(atlas: Atlas, qtbot: QtBot) -> None:
    """A pointer movement end to end (geometry, ranking, list, repaint), 95th percentile,
    with 1,500 vertices painted: at most 0.15 F."""
    application()
    window = Window(Session(), Answers())  # type: ignore[arg-type]
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    window.session.begin(atlas)
    rng = np.random.default_rng(3)
    drawing, count = window.session.drawing, 0
    while count < 1500:
        track = rng.uniform([40, 480], [300, 760]) + np.cumsum(rng.normal(0, 9, (12, 2)), axis=0)
        brush = stroke(track, float(rng.uniform(4, 9)))
        drawing = drawing.painted(atlas, Modality.PINPRICK, Change.REDUCED, View.FRONT, brush)
        skin = drawing.layer(Modality.PINPRICK, Change.REDUCED).drawn.get(View.FRONT)
        count = 0 if skin is None else shapely.get_num_coordinates(skin)
    window.session.step("Paint much", drawing)
    painted = drawing.altered_skin(atlas, View.FRONT)
    skins = [atlas.skin_of(t.extent, View.FRONT) for t in atlas.territories]
    territories = np.array([s for s in skins if s is not None])
    floor = median_seconds(lambda: shapely.area(shapely.intersection(painted, territories)))

    canvas = window.canvas
    x, y = canvas.camera.to_canvas(*BODY_LAYOUT[View.FRONT].to_sheet(-60, 600))
    where = np.array([x, y])
    QApplication.processEvents()
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))
    times = []
    for _ in range(400):
        where = np.clip(where + rng.normal(0, 4, 2), [x - 30, y - 90], [x + 60, y + 90])
        start = time.perf_counter()
        QTest.mouseMove(canvas, QPoint(*np.round(where).astype(int).tolist()))
        QApplication.processEvents()
        times.append(time.perf_counter() - start)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton)
    ratio = float(np.quantile(times, 0.95)) / floor
    print(f"brush event with repaint, 95th percentile: {ratio:.3f} F (F = {1e3 * floor:.1f} ms)")
    assert ratio <= 0.15


# Both end at once: what counts is when the window is there, not how Python tidies up.
BARE = "import os, PySide6.QtWidgets, PySide6.QtSvg, shapely, numpy; os._exit(0)"
SHOWN = """
import os
from bodymap.gui.app import application, open_window, Session, Window
app = application()
window = Window(Session())
loader = open_window(None, window)
app.processEvents()
os._exit(0)
"""


def test_window_is_shown_within_two_and_a_half_bare_imports() -> None:
    def run(program: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, "-c", program], check=True)

    bare, shown = median_seconds(run(BARE), rounds=7), median_seconds(run(SHOWN), rounds=7)
    print(f"window shown: {shown / bare:.2f} of a bare import ({bare:.2f} s)")
    assert shown <= 2.5 * bare
