"""A field that finds a root, nerve, plexus part or pattern by any part of its name."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QCompleter, QWidget

from bodymap.localise.catalogue import Catalogue


class LesionBox(QComboBox):
    """Names of lesions without side; type any part of one, or choose."""

    chosen = Signal(str)
    """The id of the lesion that was chosen."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setAccessibleName(name)
        self.setMinimumWidth(120)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        edit = self.lineEdit()
        if edit is not None:
            edit.setPlaceholderText(name)
            edit.setAccessibleName(name)
        completer = QCompleter(self.model(), self)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setCompleter(completer)
        self.activated.connect(lambda _: self.chosen.emit(self.lesion or ""))
        completer.activated.connect(lambda _: self.chosen.emit(self.lesion or ""))

    def fill(self, catalogue: Catalogue) -> None:
        """Take the lesions of a catalogue, each once."""
        self.clear()
        names: dict[str, str] = {}
        for hypothesis in catalogue.hypotheses[: catalogue.named]:
            names.setdefault(hypothesis.id, hypothesis.name)
        for id_, name in names.items():
            self.addItem(name, id_)
        self.setCurrentIndex(-1)

    @property
    def lesion(self) -> str | None:
        """The id of the lesion that is named in the field, or None."""
        text = self.currentText().strip().lower()
        for row in range(self.count()):
            if self.itemText(row).lower() == text:
                return str(self.itemData(row))
        return None

    def name(self, id_: str) -> None:
        """Show a lesion by id."""
        self.setCurrentIndex(self.findData(id_))
