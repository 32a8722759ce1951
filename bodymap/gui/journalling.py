"""Keeps the journal of a window up to date with its session, and brings back what is left.

It listens to the session and never changes it, but for ``restore``. The case is taken
as a value at the moment of the step; encoding and writing happen beside the window.
"""

from functools import partial
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from bodymap.errors import RequestError
from bodymap.findings.case_file import encode_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.journal import Journal, LeftOver, left_over, opened_elsewhere, sweep
from bodymap.gui.session import Session
from bodymap.language import tr


class _State(NamedTuple):
    path: Path | None
    drawing: Drawing

    def same_as(self, other: "_State | None") -> bool:
        """The very same drawing of the same file."""
        return other is not None and other.drawing is self.drawing and other.path == self.path


class Journalling(QObject):
    """Notes every step of a session; ``close`` when the window closes in good order."""

    failed = Signal(str)
    """Unsaved work cannot be kept; one sentence, once until it works again."""

    def __init__(
        self, session: Session, folder: Path | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._folder = folder
        self.journal = Journal(folder, self._tell_failure)
        self._noted: _State | None = None
        self._resting: _State | None = None
        self._moved = False
        session.drawing_changed.connect(self._step)
        session.case_changed.connect(self._case)
        self._keep()

    def left_over(self) -> list[LeftOver]:
        """Unsaved work of windows that are gone, newest first."""
        sweep(self._folder)
        return left_over(self._folder)

    def opened_elsewhere(self, path: Path) -> bool:
        """Whether another window has this file open."""
        return opened_elsewhere(path, self._folder, self.journal)

    def file_changed(self) -> bool:
        """Whether the file of the case was written by another hand since it was opened."""
        return self._session.path is not None and self.journal.file_changed()

    def restore(self, left: LeftOver) -> None:
        """Go on with unsaved work. Where its file has changed since, or is open in another
        window, the case comes without a name, so that saving asks for one.

        Raises CaseError or RequestError if that fails; then nothing has changed.
        """
        atlas = self._session.atlas
        if atlas is None:
            raise RequestError(tr("The body map is not ready yet; restore the case in a moment."))
        case = left.open(atlas)
        path = left.path
        if path is not None and (left.file_changed or self.opened_elsewhere(path)):
            path = None
        if not self.journal.adopt(left, path):
            raise RequestError(tr("Another window has taken this work, or it was discarded."))
        self._session.restore(case, path)

    def close(self) -> None:
        """The window closes in good order, and everything in it is saved or given up."""
        self._session.drawing_changed.disconnect(self._step)
        self._session.case_changed.disconnect(self._case)
        self.journal.close()

    def _step(self) -> None:
        self._moved = True
        self._keep()

    def _case(self) -> None:
        self._keep()
        self._moved = False

    def _keep(self) -> None:
        session = self._session
        now = _State(session.path, session.drawing)
        if session.dirty:
            if not now.same_as(self._noted):
                self._noted = now
                self.journal.note(partial(encode_case, session.case))
            return
        # Undo may lead back to what the file holds; the file is then not looked at again,
        # so that what another hand did to it meanwhile is still noticed.
        undone = self._moved and now.same_as(self._resting)
        self._noted, self._resting = None, now
        self.journal.rest(session.path, as_it_was=undone)

    def _tell_failure(self, sentence: str) -> None:
        try:
            self.failed.emit(sentence)
        except RuntimeError:
            return  # The window was closed meanwhile.
