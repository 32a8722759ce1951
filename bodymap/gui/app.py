"""Start the application: window first, atlas behind it, then the case."""

import sys
import threading
from pathlib import Path

from PySide6.QtCore import QEventLoop, QObject, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from bodymap import __version__
from bodymap.atlas import Atlas, load_atlas
from bodymap.errors import BodymapError
from bodymap.findings.seam import OTHER_SIDE
from bodymap.gui.ending import end_work
from bodymap.gui.keeping import Keeping
from bodymap.gui.language_choice import take_language
from bodymap.gui.memory import give_back_what_is_free
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.localise.ranking import Scales
from bodymap.rendering import load_fonts


class AtlasLoader(QObject):
    """Loads the atlas beside the window, which stays alive meanwhile."""

    ready = Signal(object, object)
    failed = Signal(str)

    def start(self) -> None:
        """Begin; one of the signals follows."""
        threading.Thread(target=self._load, daemon=True, name="atlas").start()

    def _load(self) -> None:
        try:
            atlas = load_atlas()
            scales = Scales(atlas)
            for view in OTHER_SIDE:
                _ = atlas.figures[view].edge  # made here, so that no stroke waits for it
            self.ready.emit(atlas, scales)
        except BodymapError as error:
            self.failed.emit(str(error))


def application() -> QApplication:
    """The application, in the Fusion style, with the bundled font."""
    give_back_what_is_free()
    running = QApplication.instance()
    app = running if isinstance(running, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("bodymap")
    app.setApplicationVersion(__version__)
    app.setDesktopFileName("bodymap")
    app.setStyle("Fusion")
    load_fonts()
    font = QFont("DejaVu Sans")
    font.setPointSizeF(app.font().pointSizeF())
    app.setFont(font)
    return app


def open_window(path: Path | None, window: Window) -> AtlasLoader:
    """Show a window, load the atlas behind it, and then open a case in it."""
    loader = AtlasLoader(window)
    window.keeping = Keeping(window)

    def begin(atlas: Atlas, scales: Scales) -> None:
        window.session.begin(atlas, scales)
        if path is not None:
            window.open_path(path)

    loader.ready.connect(begin)
    loader.failed.connect(lambda sentence: window.session.tell(sentence, True))
    window.show()
    # Painted before the loading begins, which would take turns with it.
    QApplication.processEvents(QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents)
    loader.start()
    return loader


def run(path: Path | None = None) -> int:
    """Open the window, on a case if a path is given; returns the exit code."""
    app = application()
    take_language(app)
    window = Window(Session())
    open_window(path, window)
    code = app.exec()
    window.session.forget()
    return end_work(code)
