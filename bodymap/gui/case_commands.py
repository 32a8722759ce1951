"""Commands for the case file, and for what is taken away from the window."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QMainWindow

from bodymap.errors import BodymapError
from bodymap.faults import cause
from bodymap.findings.samples import sample_file
from bodymap.findings.whole_file import write_whole
from bodymap.gui.background import Background
from bodymap.gui.keeping import Keeping
from bodymap.gui.questions import Questions
from bodymap.gui.session import Session
from bodymap.gui.takings import HEIGHT_PX, Takings
from bodymap.language import tr
from bodymap.localise.answer import answered
from bodymap.report.ranking_report import as_text


class CaseCommands(QMainWindow):
    """The part of the window that opens, saves, copies, prints and exports."""

    session: Session
    questions: Questions
    takings: Takings
    keeping: Keeping | None
    background: Background

    def new_case(self) -> None:
        """An empty case, after asking about unsaved work."""
        if not self.in_a_sitting() and self.may_leave():
            self.session.new()

    def open_case(self) -> None:
        """Ask for a case file and open it."""
        path = self.questions.file_to_open()
        if path is not None:
            self.open_path(path)

    def open_path(self, path: Path, untitled: bool = False) -> None:
        """Open a case; a file that cannot be used changes nothing."""
        if self.in_a_sitting() or not self.may_leave():
            return
        try:
            self.session.open(path, untitled)
        except BodymapError as error:
            self.session.tell(str(error), failure=True)
            return
        if self.keeping is not None and not untitled:
            self.keeping.opened(path)

    def in_a_sitting(self) -> bool:
        """Whether a simulated patient answers now; then it is said that this comes first.

        Answers of a simulated patient must never reach the file of a real one.
        """
        if self.session.practising:
            sentence = tr("End the sitting with the simulated patient first (Give up).")
            self.session.tell(sentence, failure=True)
        return self.session.practising

    def _open_named_sample(self, name: str) -> None:
        self.open_path(sample_file(name), untitled=True)

    def _open_sample(self, path: Path, _checked: bool = False) -> None:
        self.open_path(path, untitled=True)

    def save_case(self) -> bool:
        """Save the case where it came from, or ask; says whether it is saved."""
        return self._save(self.session.path)

    def save_case_as(self) -> bool:
        """Save the case under another name."""
        return self._save(None)

    def _save(self, path: Path | None) -> bool:
        if path is not None and self.keeping is not None and not self.keeping.may_overwrite(path):
            self.session.tell(
                tr(
                    "{file} was changed by another hand since it was opened; save under another "
                    "name.",
                    file=path.name,
                ),
                failure=True,
            )
            path = None
        path = path or self.questions.file_to_save()
        if path is None:
            return False
        try:
            self.session.save(path)
        except BodymapError as error:
            self.session.tell(str(error), failure=True)
            return False
        self.session.tell(tr("Saved {file}.", file=path.name))
        if self.keeping is not None:
            self.keeping.opened(path)
        return True

    def may_leave(self) -> bool:
        """Whether the work may be left: it is saved, or the person gives it up."""
        if not self.session.dirty:
            return True
        answer = self.questions.about_unsaved_work()
        return self.save_case() if answer == "save" else answer == "discard"

    def closeEvent(self, event: QCloseEvent) -> None:
        leaving = self.may_leave()
        if leaving and self.keeping is not None:
            self.keeping.close()
        event.setAccepted(leaving)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        self.open_path(Path(event.mimeData().urls()[0].toLocalFile()))

    def save_picture(self) -> None:
        """Write what the figure shows as a picture."""
        path = self.questions.picture_to_save()
        if path is None:
            return
        ending, height = path.suffix.lower(), HEIGHT_PX
        if ending == ".png":
            asked = self.questions.picture_height(HEIGHT_PX)
            if asked is None:
                return
            height = asked
        self._write(path, lambda: self.takings.picture(ending, height))

    def save_handout(self, limb: str) -> None:
        """Write a page that compares roots and nerves of a limb."""
        path = self.questions.picture_to_save()
        if path is not None:
            self._write(path, lambda: self.takings.handout(limb, path.suffix.lower()))

    def save_slides(self) -> None:
        """Write a deck of teaching slides."""
        path = self.questions.slides_to_save()
        if path is not None:
            self._write(path, self.takings.slides)

    def save_note(self) -> None:
        """Write the chart note of the case."""
        path = self.questions.note_to_save()
        if path is not None:
            self._write(path, lambda: self.takings.note(path.suffix.lower()))

    def _write(self, path: Path, settled: Callable[[], Callable[[], bytes]]) -> None:
        """Make something beside the window, then write it; a failure is told."""

        def write(data: bytes) -> None:
            try:
                write_whole(path, data)
            except (BodymapError, OSError) as error:
                failed(error)
                return
            self.session.tell(tr("Saved {file}.", file=path.name))

        def failed(error: Exception) -> None:
            why = cause(error) if isinstance(error, OSError) else str(error)
            self.session.tell(
                tr("{file} cannot be written: {cause}", file=path.name, cause=why), failure=True
            )

        try:
            work = settled()
        except BodymapError as error:
            failed(error)
            return
        self.background.start(tr("Making {file}…", file=path.name), work, write, failed)

    def copy_picture(self) -> None:
        """Copy what the figure shows as a picture."""

        def copied(image: QImage) -> None:
            QGuiApplication.clipboard().setImage(image)
            self.session.tell(tr("The picture is copied."))

        if self.session.atlas is not None:
            self.background.start(
                tr("Making the picture…"), self.takings.image(), copied, self._tell_failure
            )

    def copy_short_note(self) -> None:
        """Copy the short form of the chart note as text."""
        self.copy_note(short=True)

    def copy_note(self, short: bool = False) -> None:
        """Copy the chart note as text, in full or in its short form."""

        def copied(text: str) -> None:
            QGuiApplication.clipboard().setText(text)
            self.session.tell(tr("The chart note is copied."))

        def failed(error: Exception) -> None:
            self.session.tell(tr("The note cannot be made: {error}", error=error), failure=True)

        if self.session.scales is not None:
            text = self.takings.note_text(short)
            self.background.start(tr("Making the note…"), text, copied, failed)

    def print_picture(self) -> None:
        """Print what the figure shows."""
        printer = self.questions.printer() if self.session.atlas is not None else None
        if printer is None:
            return

        def drawn(svg: str) -> None:
            self.takings.print_on(printer, svg)
            self.session.tell(tr("The picture is sent to the printer."))

        self.background.start(
            tr("Making the picture…"), self.takings.draft(), drawn, self._tell_failure
        )

    def _tell_failure(self, error: Exception) -> None:
        self.session.tell(tr("The picture cannot be made: {error}", error=error), failure=True)

    def copy_ranking(self) -> None:
        """Copy the ranking as text."""
        session = self.session
        if session.scales is not None:
            answer = session.answer or answered(session.scales, session.drawing)
            QGuiApplication.clipboard().setText(as_text(answer))
            session.tell(tr("The ranking is copied as text."))
