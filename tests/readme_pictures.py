"""The pictures of the README, taken from the window as it is: ``python -m tests.readme_pictures``.

Run it after a change of what a person sees, look at the pictures, and commit them.
"""

import os
import time
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from bodymap.atlas import load_atlas
from bodymap.examination.parts import Part
from bodymap.findings.samples import sample_file
from bodymap.gui.app import application
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.practice.hidden_patients import Difficulty
from bodymap.report.appearance import LIGHT
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View

PICTURES = Path(__file__).parent.parent / "assets" / "pictures"

TOUCHED = ((-92, 40), (-104, 16), (-75, -55), (-70, 200), (-105, 200), (-120, -39))
"""Places of the right leg and foot, front view, that the student touches."""


def _wait(until: Callable[[], bool], seconds: float = 60.0) -> None:
    end = time.monotonic() + seconds
    while not until():
        QApplication.processEvents()
        if time.monotonic() > end:
            raise TimeoutError("the window is not ready")


def window() -> Window:
    """A window of the designed size with the atlas in it."""
    made = Window(Session(), theme=LIGHT)
    made.resize(1280, 800)
    made.show()
    made.session.begin(load_atlas())
    QApplication.processEvents()  # shows the figure, which asks for its map
    overlays = made.canvas.overlays
    assert overlays is not None
    _wait(lambda: not overlays.busy)
    return made


def candidate(shown: Window) -> None:
    """The C6 root held against its sample."""
    shown.open_path(sample_file("root-c6"), untitled=True)
    _wait(lambda: shown.session.answer is not None)
    shown.panels.ranking.table.selectRow(0)


def examination(shown: Window) -> None:
    """Light touch normal throughout, and pinprick less at the right C6 point."""
    shown.toggle_panel("examination")
    panel = shown.panels.examination
    while panel.step is not None and panel.step.part is not Part.PINPRICK:
        QTest.keyClick(panel.pages.compare.same, Qt.Key.Key_Space)
    while panel.step is not None and panel.step.label != "C6":
        QTest.keyClick(panel.pages.compare.same, Qt.Key.Key_Space)
    QTest.keyClicks(panel.pages.compare.same, "r1")


def comparison(shown: Window) -> None:
    """C6 against the median nerve at the wrist."""
    shown.toggle_panel("compare")
    panel = shown.panels.compare
    panel.first.name("root-c6")
    panel.second.name("median-wrist")
    panel.compare()


def practice(shown: Window) -> None:
    """A simulated patient who has been touched at some places."""
    shown.toggle_panel("practice")
    shown.panels.practice.start(Difficulty.WHOLE, 4)
    canvas = shown.canvas
    for place in TOUCHED:
        x, y = canvas.camera.to_canvas(*BODY_LAYOUT[View.FRONT].to_sheet(*place))
        QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))


def main() -> None:
    """Take all pictures."""
    application()
    for name, story in (
        ("window", candidate),
        ("examination", examination),
        ("root-against-nerve", comparison),
        ("practice", practice),
    ):
        shown = window()
        story(shown)
        shown.canvas.clearFocus()
        _wait(lambda: not shown.background.busy)  # noqa: B023
        for _ in range(20):
            QApplication.processEvents()
            time.sleep(0.02)
        shown.grab().save(str(PICTURES / f"{name}.png"))
        shown.session.new()
        shown.close()


if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    main()
