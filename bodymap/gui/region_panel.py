"""The named regions as a list: the same skin for the keyboard and for screen readers."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from bodymap.gui.session import Session
from bodymap.gui.tools import mark_region
from bodymap.language import capital, later, searchable, tr
from bodymap.localise.explanation import regions_in
from bodymap.terms import Side
from bodymap.wording.describe import LEAST, WHOLE

SIDES = (Side.RIGHT, Side.LEFT, Side.BOTH)


class RegionPanel(QWidget):
    """Search a region, choose the side, press Enter to mark it, Delete to clear it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Search a region"))
        self.search.setAccessibleName(tr("Search a named region"))
        self.search.setClearButtonEnabled(True)
        self.side = QComboBox()
        for side in SIDES:
            words = tr("both sides") if side is Side.BOTH else side.word
            self.side.addItem(capital(words), side)
        self.side.setAccessibleName(tr("Side of the patient"))
        self.list = _RegionList(self)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setWordWrap(True)
        self.list.setAccessibleName(tr("Named regions: Enter marks, Delete clears"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        for widget in (self.search, self.side, self.list):
            layout.addWidget(widget)
        self.search.textChanged.connect(self._filter)
        self.search.returnPressed.connect(lambda: self.mark(False))
        self.list.itemActivated.connect(lambda _: self.mark(False))
        session.atlas_ready.connect(self._fill)
        session.drawing_changed.connect(self._tell)
        session.choices_changed.connect(self._tell)
        self._fill()

    def _fill(self) -> None:
        atlas = self._session.atlas
        self.list.clear()
        for region in atlas.facts.regions.values() if atlas else ():
            item = QListWidgetItem(region.label)
            item.setData(Qt.ItemDataRole.UserRole, region.id)
            item.setToolTip(tr(region.where))
            self.list.addItem(item)
        self.list.setCurrentRow(0)
        self._tell()

    def _filter(self, words: str) -> None:
        atlas = self._session.atlas
        if atlas is None:
            return
        first = None
        for row in range(self.list.count()):
            item = self.list.item(row)
            region = atlas.facts.regions[item.data(Qt.ItemDataRole.UserRole)]
            # What was found stands in the item's text, and is searched as well.
            text = searchable(region.english, region.id, item.text())
            shown = all(word in text for word in words.casefold().split())
            item.setHidden(not shown)
            first = item if shown and first is None else first
        self.list.setCurrentItem(first)  # type: ignore[arg-type]

    def _tell(self) -> None:
        """Write behind each region what was found on it, or on a part of it."""
        atlas = self._session.atlas
        if atlas is None or not self.isVisible():
            return
        found: dict[str, list[str]] = {}
        for modality, change, layer in self._session.drawing:
            for id_, side, share in regions_in(atlas, layer.painted_cm2(atlas), LEAST):
                whole = (id_, side) in layer.regions or share >= WHOLE
                template = (
                    later("{side}: {change} {modality}")
                    if whole
                    else later("{side}, a part: {change} {modality}")
                )
                found.setdefault(id_, []).append(
                    tr(template, side=side.word, change=change.word, modality=modality.label)
                )
        for row in range(self.list.count()):
            item = self.list.item(row)
            id_ = item.data(Qt.ItemDataRole.UserRole)
            label = atlas.facts.regions[id_].label
            said = "; ".join(found.get(id_, ()))
            item.setText(f"{label} — {said}" if said else label)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._tell()

    def mark(self, remove: bool) -> None:
        """Mark the current region with what is in hand, or clear it."""
        item = self.list.currentItem()
        if item is not None:
            side = Side(self.side.currentData())
            mark_region(self._session, item.data(Qt.ItemDataRole.UserRole), side, remove)


class _RegionList(QListWidget):
    def __init__(self, panel: RegionPanel) -> None:
        super().__init__(panel)
        self._panel = panel

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._panel.mark(False)
        elif event.key() == Qt.Key.Key_Delete:
            self._panel.mark(True)
        else:
            super().keyPressEvent(event)
