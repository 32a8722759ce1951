"""What outlives the window: unsaved work, settings, recent cases, the note to other windows.

The application gives a window its keeping; a window without one (as in most tests)
leaves nothing behind.
"""

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QMenu

from bodymap.errors import BodymapError
from bodymap.findings.journal import LeftOver
from bodymap.gui.journalling import Journalling
from bodymap.gui.settings import read_settings, with_recent, write_settings
from bodymap.language import tr
from bodymap.report.appearance import DARK, LIGHT

if TYPE_CHECKING:
    from bodymap.gui.window import Window


class Keeping(QObject):
    """Journal and settings of one window."""

    def __init__(self, window: "Window") -> None:
        super().__init__(window)
        self._window = window
        self._closed = False
        self._points = QApplication.font().pointSizeF()
        session = window.session
        self.journalling = Journalling(session, parent=self)
        self.journalling.failed.connect(partial(session.tell, failure=True))
        window.restore_bar.restore.connect(self._restore)
        window.restore_bar.discard.connect(self._discard)
        session.atlas_ready.connect(self._offer)
        self.recent = QMenu(tr("&Recent cases"), window)
        window.add_recent_menu(self.recent)
        self._apply()

    def _apply(self) -> None:
        """Make the window as it was left."""
        window, settings = self._window, read_settings()
        window.session.choose(
            brush=settings.brush,
            overlay=settings.overlay,
            overlay_strength=settings.overlay_strength,
        )
        if settings.geometry:
            window.restoreGeometry(settings.geometry)
        if settings.theme != "system":
            window.set_theme(DARK if settings.theme == "dark" else LIGHT)
        if settings.text_scale != 1.0:
            window.scale_text(settings.text_scale)
        self._list_recent()

    def _offer(self) -> None:
        self._window.restore_bar.offer(self.journalling.left_over())

    def _restore(self, left: LeftOver) -> None:
        if self._window.in_a_sitting() or not self._window.may_leave():
            return
        try:
            self.journalling.restore(left)
        except BodymapError as error:
            self._window.session.tell(str(error), failure=True)
            if left.file.exists():
                return
        self._window.restore_bar.settle(left)

    def _discard(self, left: LeftOver) -> None:
        left.discard()
        self._window.restore_bar.settle(left)

    def opened(self, path: Path) -> None:
        """A case file was opened or saved: it is recent, and others may have it open."""
        write_settings(with_recent(read_settings(), path))
        self._list_recent()
        if self.journalling.opened_elsewhere(path):
            sentence = tr(
                "{file} is also open in another window; save one under a new name.",
                file=path.name,
            )
            self._window.session.tell(sentence, failure=True)

    def may_overwrite(self, path: Path) -> bool:
        """Whether a file is still as it was opened; another hand's work is not replaced."""
        return path != self._window.session.path or not self.journalling.file_changed()

    def theme_chosen(self, dark: bool) -> None:
        """Remember the theme that was chosen by hand."""
        write_settings(replace(read_settings(), theme="dark" if dark else "light"))

    def language_chosen(self, code: str) -> None:
        """Remember the language to start in."""
        write_settings(replace(read_settings(), language=code))

    def text_scaled(self, points: float) -> None:
        """Remember the size of the text, as a factor of what the desktop asks for."""
        scale = points / self._points
        write_settings(replace(read_settings(), text_scale=scale))

    def _list_recent(self) -> None:
        self.recent.clear()
        for path in read_settings().recent:
            action = self.recent.addAction(path.name)
            action.setToolTip(str(path))
            action.triggered.connect(partial(self._open_recent, path))
        self.recent.setEnabled(not self.recent.isEmpty())

    def _open_recent(self, path: Path, _checked: bool = False) -> None:
        self._window.open_path(path)

    def close(self) -> None:
        """The window closes in good order."""
        if self._closed:
            return
        self._closed = True
        window, chosen = self._window, self._window.session.choices
        write_settings(
            replace(
                read_settings(),
                geometry=bytes(window.saveGeometry().data()),
                overlay=chosen.overlay,
                overlay_strength=chosen.overlay_strength,
                brush=chosen.brush,
            )
        )
        self.journalling.close()
