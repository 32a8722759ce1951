"""Find any region, dermatome, nerve or lesion by its words, and see where it is."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bodymap.examination.spots import Spot
from bodymap.gui.answer_fields import Choice
from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.report.places import NamedPlace, named_places
from bodymap.terms import Side


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
        self.side = Choice()
        for side in Side:
            self.side.addItem(side.word.capitalize(), side)
        self.side.setAccessibleName(tr("Side to mark"))
        self.mark = QPushButton(tr("&Mark it with what is in hand"))
        self.mark.setAccessibleName(tr("Mark the whole place with what is in hand"))
        self.mark.setToolTip(
            tr("Give all of this skin, on the side named here, the finding in hand (Alt+M)")
        )
        self.mark.clicked.connect(self.mark_current)
        row = QHBoxLayout()
        row.addWidget(self.side)
        row.addWidget(self.mark, 1)
        layout.addLayout(row)
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
            shown = all(word in place.words for word in words.casefold().split())
            item.setHidden(not shown)
            first = item if shown and first is None else first
        self.list.setCurrentItem(first)  # type: ignore[arg-type]

    def _show_current(self) -> None:
        row = self.list.currentRow()
        if 0 <= row < len(self._places):
            self._session.show_place(self._places[row])
            self.looked_for.emit(self._places[row])

    def mark_current(self) -> None:
        """Give the whole place the finding in hand, as one step."""
        row, atlas = self.list.currentRow(), self._session.atlas
        if not 0 <= row < len(self._places) or atlas is None:
            return
        place, chosen = self._places[row], self._session.choices
        side = Side(self.side.currentData())
        mask = place.skin & atlas.cells.on_side(side)
        drawing = Spot(side, cells=mask).noted(
            atlas, self._session.drawing, chosen.modality, chosen.change
        )
        words = tr(
            "Mark {place} ({side}): {change}", place=place.name, side=side.word,
            change=chosen.change.word,
        )  # fmt: skip
        self._session.step(words, drawing)
        self.clear()

    def clear(self) -> None:
        """Show the findings again."""
        self._session.show_place(None)
