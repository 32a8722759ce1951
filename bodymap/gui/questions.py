"""Every question that the window asks a person, in one place.

Tests put their own answers here, so that no dialog ever stands in the way.
"""

from pathlib import Path
from typing import Literal

from PySide6.QtGui import QPageLayout
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QInputDialog, QMessageBox, QWidget

from bodymap.language import later, tr

Answer = Literal["save", "discard", "cancel"]
CASES = later("Cases (*.json)")


class Questions:
    """Asks with ordinary dialogs over a window."""

    def __init__(self, over: QWidget) -> None:
        self._over = over

    def file_to_open(self) -> Path | None:
        """Which case file to open."""
        name, _ = QFileDialog.getOpenFileName(self._over, tr("Open a case"), "", tr(CASES))
        return Path(name) if name else None

    def file_to_save(self) -> Path | None:
        """Where to save the case."""
        name, _ = QFileDialog.getSaveFileName(
            self._over, tr("Save the case"), "case.bodymap.json", tr(CASES)
        )
        if not name:
            return None
        return Path(name) if Path(name).suffix else Path(name).with_suffix(".bodymap.json")

    def picture_to_save(self) -> Path | None:
        """Where to write a picture; the ending says which kind."""
        name, _ = QFileDialog.getSaveFileName(
            self._over, tr("Save a picture"), "bodymap.png", tr("Pictures (*.png *.svg *.pdf)")
        )
        return Path(name) if name else None

    def picture_height(self, usual: int) -> int | None:
        """How high a picture of pixels is to be, or None to write none."""
        height, sure = QInputDialog.getInt(
            self._over, tr("Save a picture"), tr("Height in pixels"), usual, 100, 10000, 100
        )
        return height if sure else None

    def slides_to_save(self) -> Path | None:
        """Where to write teaching slides."""
        name, _ = QFileDialog.getSaveFileName(
            self._over, tr("Save slides"), "bodymap.pptx", tr("Slides (*.pptx)")
        )
        return Path(name) if name else None

    def note_to_save(self) -> Path | None:
        """Where to write the chart note; the ending says which kind."""
        name, _ = QFileDialog.getSaveFileName(
            self._over, tr("Save the chart note"), "note.pdf", tr("Notes (*.txt *.md *.pdf)")
        )
        return Path(name) if name else None

    def printer(self) -> QPrinter | None:
        """The printer, set up by the person, or None."""
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageOrientation(QPageLayout.Orientation.Landscape)
        dialog = QPrintDialog(printer, self._over)
        return printer if dialog.exec() else None

    def about_unsaved_work(self) -> Answer:
        """What to do with work that no file holds."""
        box = QMessageBox(self._over)
        box.setWindowTitle(tr("Unsaved work"))
        box.setText(tr("This case has changes that are not saved."))
        buttons = QMessageBox.StandardButton
        box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
        answers: dict[int, Answer] = {buttons.Save.value: "save", buttons.Discard.value: "discard"}
        return answers.get(box.exec(), "cancel")

    def inform(self, title: str, words: str) -> None:
        """Tell something that needs room."""
        QMessageBox.information(self._over, title, words)
