"""Speed of the window as ratios to floors measured in the same run (see core)."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QGraphicsPathItem, QGraphicsScene, QGraphicsView
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.gui.app import application
from bodymap.gui.qt_shapes import skin_path
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import Change, Modality, Side, View
from tests.gui.conftest import Answers

from .random_use import RandomUse
from .timing import median_seconds

pytestmark = pytest.mark.skipif(
    "--benchmark-enable" not in sys.argv, reason="benchmarks run with --benchmark-enable"
)


def _window(atlas: Atlas, qtbot: QtBot) -> Window:
    application()
    window = Window(Session(), Answers())  # type: ignore[arg-type]
    qtbot.addWidget(window)
    window.resize(1280, 800)
    window.show()
    window.session.begin(atlas)
    QApplication.processEvents()
    overlays = window.canvas.overlays
    assert overlays is not None
    qtbot.waitUntil(lambda: not overlays.busy, timeout=20000)
    return window


def test_brush_event_with_repaint(
    atlas: Atlas, qtbot: QtBot, drawing: Drawing, floor: float
) -> None:
    """A pointer movement end to end (geometry, ranking, list, repaint), 95th percentile,
    with 1,500 vertices painted: at most 0.15 F."""
    window = _window(atlas, qtbot)
    rng = np.random.default_rng(3)
    window.session.step("Paint much", drawing)
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


def test_a_step_of_zoom_draws_nothing_anew(atlas: Atlas, qtbot: QtBot, drawing: Drawing) -> None:
    """While the wheel turns, the last picture stands in, enlarged: an event costs at most a
    fifth of drawing the figure anew for the new zoom."""
    window = _window(atlas, qtbot)
    window.session.step("Paint much", drawing)
    canvas = window.canvas
    QApplication.processEvents()
    image = QImage(canvas.size(), QImage.Format.Format_ARGB32_Premultiplied)

    def anew() -> None:
        canvas.fit()
        canvas.render(image)

    whole = median_seconds(anew)
    times = []
    for turn in range(200):
        start = time.perf_counter()
        canvas.zoom(1.05 if turn % 40 < 20 else 1 / 1.05, QPointF(200, 300))
        canvas.repaint()
        times.append(time.perf_counter() - start)
    ratio = float(np.quantile(times, 0.95)) / whole
    print(f"zoom step, 95th percentile: {ratio:.3f} of a figure ({1e3 * whole:.1f} ms)")
    assert ratio <= 0.2


def test_a_step_on_a_complete_examination(atlas: Atlas, qtbot: QtBot, floor: float) -> None:
    """An answer on top of a whole examination (record, ranking, list, figure), until the
    window has painted it: at most 2.5 F."""
    window = _window(atlas, qtbot)
    window.open_path(sample_file("stocking-record"), untitled=True)
    session = window.session
    qtbot.waitUntil(lambda: session.answer is not None, timeout=20000)
    times = []
    for turn in range(15):
        side = (Side.RIGHT, Side.LEFT)[turn % 2]
        start = time.perf_counter()
        session.step(
            "one more",
            session.drawing.with_region(
                atlas, Modality.PINPRICK, (Change.REDUCED, Change.NORMAL)[turn // 2 % 2],
                "thumb-palmar", side,
            ),
        )  # fmt: skip
        QApplication.processEvents()
        times.append(time.perf_counter() - start)
        session._thinker.forget()  # what is worked out beside the window is measured elsewhere
    ratio = float(np.median(times)) / floor
    print(f"a step on a complete examination: {ratio:.2f} F (F = {1e3 * floor:.1f} ms)")
    assert ratio <= 2.5


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


def test_window_is_shown_within_two_and_a_half_bare_imports(tmp_path: Path) -> None:
    """Both with their bytecode on the disk, as an installed program has it; where Python is
    told to write none, this program alone would be compiled at every start."""
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(tmp_path)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)

    def run(program: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, "-c", program], check=True, env=environment)

    run(BARE)(), run(SHOWN)()
    bare, shown = median_seconds(run(BARE), rounds=7), median_seconds(run(SHOWN), rounds=7)
    print(f"window shown: {shown / bare:.2f} of a bare import ({bare:.2f} s)")
    assert shown <= 2.5 * bare


def test_full_repaint_against_separate_items(atlas: Atlas, qtbot: QtBot) -> None:
    """A full repaint with all layers, against a scene that has each territory of the overlay
    as an item of its own: at most an eighth."""
    window = _window(atlas, qtbot)
    drawing = window.session.drawing
    for region in ("thumb-palmar", "index-palmar", "cheek", "sole-heel", "thigh-lateral"):
        drawing = drawing.with_region(atlas, Modality.PINPRICK, Change.REDUCED, region, Side.RIGHT)
    window.session.step("five regions", drawing)
    qtbot.waitUntil(lambda: window.session.answer is not None, timeout=10000)
    canvas = window.canvas
    image = QImage(canvas.size(), QImage.Format.Format_ARGB32_Premultiplied)
    ours = median_seconds(lambda: canvas.render(image))
    scene = QGraphicsScene()
    cells = atlas.cells
    for view in View:
        for column in (cells.dermatome, cells.nerve):
            for name in set(column[cells.in_view(view)].tolist()):
                for left in (False, True):
                    skin = atlas.skin_of((column == name) & (cells.left == left), view)
                    if skin is not None:
                        item = QGraphicsPathItem(skin_path(skin, view))
                        item.setBrush(QColor(200, 220, 240, 120))
                        scene.addItem(item)
    scaled = QGraphicsView(scene)
    scaled.setRenderHint(QPainter.RenderHint.Antialiasing)
    scaled.resize(canvas.size())
    theirs = median_seconds(lambda: _render(scaled, image))
    print(f"full repaint: {ours * 1e3:.1f} ms, {ours / theirs:.3f} of {len(scene.items())} items")
    assert ours / theirs <= 1 / 8


def _render(view: QGraphicsView, image: QImage) -> None:
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    view.scene().render(painter)
    painter.end()


def _resident() -> int:
    """Bytes of memory that this process holds (Linux)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE")


def test_memory_does_not_grow_with_use(atlas: Atlas, qtbot: QtBot) -> None:
    """Random use of everything in the window for as long as BODYMAP_SOAK_SECONDS says (60):
    after a warm-up of a third of it, memory grows by at most a tenth."""
    window = _window(atlas, qtbot)
    use = RandomUse(window, atlas, seed=1)
    seconds = float(os.environ.get("BODYMAP_SOAK_SECONDS", "60"))
    start, warm, steps, told = time.monotonic(), 0, 0, 0.0
    while (gone := time.monotonic() - start) < seconds:
        steps += 1
        use.step()
        if not warm and gone > seconds / 3:
            warm = _resident()
        if gone - told > 60:
            told = gone
            print(f"{gone:.0f} s, {steps} steps: {_resident() >> 20} MB", flush=True)
    grown = _resident() / warm - 1
    print(f"memory after {steps} steps in {seconds:.0f} s: {warm >> 20} MB, grown by {grown:.1%}")
    assert grown <= 0.10
