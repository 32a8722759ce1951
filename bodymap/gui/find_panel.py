"""Find any region, dermatome, nerve or lesion by its words, and see where it is."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.report.places import NamedPlace, named_places


class FindPanel(QWidget):
    """A search field over a list; the chosen place is shown on the figure."""

    looked_for = Signal(object)
    """The place that was chosen, or None."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._places: tuple[NamedPlace, ...] = ()
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Find a region, segment, nerve or lesion"))
        self.search.setAccessibleName(tr("Find a region, segment, nerve or lesion"))
        self.search.setClearButtonEnabled(True)
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Places found"))
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        layout.addWidget(self.search)
        layout.addWidget(self.list)
        self.search.textChanged.connect(self._filter)
        self.search.returnPressed.connect(self._show_current)
        self.list.itemActivated.connect(lambda _: self._show_current())
        self.list.itemClicked.connect(lambda _: self._show_current())
        session.atlas_ready.connect(self._fill)
        self._fill()

    def _fill(self) -> None:
        scales = self._session.scales
        self._places = named_places(scales.catalogue) if scales else ()
        self.list.clear()
        for place in self._places:
            self.list.addItem(QListWidgetItem(f"{place.name} — {place.kind}"))
        self._filter(self.search.text())

    def _filter(self, words: str) -> None:
        first = None
        for row, place in enumerate(self._places):
            item = self.list.item(row)
            text = f"{place.name} {place.words} {place.kind}".lower()
            shown = all(word in text for word in words.lower().split())
            item.setHidden(not shown)
            first = item if shown and first is None else first
        self.list.setCurrentItem(first)  # type: ignore[arg-type]

    def _show_current(self) -> None:
        row = self.list.currentRow()
        if 0 <= row < len(self._places):
            self._session.show_place(self._places[row])
            self.looked_for.emit(self._places[row])

    def clear(self) -> None:
        """Show the findings again."""
        self._session.show_place(None)
