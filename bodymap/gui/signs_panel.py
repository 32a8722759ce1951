"""Muscles and reflexes as a list: what was found beside the sensory findings."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bodymap.findings.signs import CHANGES, SignChange
from bodymap.gui.region_panel import SIDES
from bodymap.gui.session import Session
from bodymap.language import capital, searchable, tr
from bodymap.terms import Side


class SignsPanel(QWidget):
    """Search a muscle or reflex, choose the side, and note what was found."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Search a muscle, movement or reflex"))
        self.search.setAccessibleName(tr("Search a muscle, movement or reflex"))
        self.search.setClearButtonEnabled(True)
        self.side = QComboBox()
        for side in SIDES:
            words = tr("both sides") if side is Side.BOTH else side.word
            self.side.addItem(capital(words), side)
        self.side.setAccessibleName(tr("Side of the muscle or reflex"))
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setAccessibleName(tr("Muscles and reflexes"))
        self.buttons = {change: QPushButton(capital(change.word)) for change in SignChange}
        self.clear = QPushButton(tr("Clear"))
        row = QHBoxLayout()
        row.setSpacing(4)
        for change, button in self.buttons.items():
            button.clicked.connect(lambda _=False, c=change: self.note(c))
            row.addWidget(button)
        self.clear.clicked.connect(lambda: self.note(None))
        row.addWidget(self.clear)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        for widget in (self.search, self.side, self.list):
            layout.addWidget(widget)
        layout.addLayout(row)
        self.search.textChanged.connect(self._filter)
        self.list.currentItemChanged.connect(lambda *_: self._offer())
        session.atlas_ready.connect(self._fill)
        session.drawing_changed.connect(self._tell)
        self._offer()
        self._fill()

    def _fill(self) -> None:
        atlas = self._session.atlas
        self.list.clear()
        for sign in atlas.facts.signs.values() if atlas else ():
            item = QListWidgetItem()
            item.setData(Qt.ItemDataRole.UserRole, sign.id)
            item.setToolTip(
                tr("{test}. Roots: {roots}", test=tr(sign.test), roots=", ".join(sign.main_roots))
            )
            self.list.addItem(item)
        self._tell()
        self.list.setCurrentRow(0)

    def _filter(self, words: str) -> None:
        atlas = self._session.atlas
        if atlas is None:
            return
        first = None
        for row in range(self.list.count()):
            item = self.list.item(row)
            sign = atlas.facts.signs[item.data(Qt.ItemDataRole.UserRole)]
            text = searchable(sign.english, sign.test, *sign.main_roots)
            shown = all(word in text for word in words.casefold().split())
            item.setHidden(not shown)
            first = item if shown and first is None else first
        self.list.setCurrentItem(first)  # type: ignore[arg-type]

    def _current(self) -> str | None:
        item = self.list.currentItem()
        return None if item is None else str(item.data(Qt.ItemDataRole.UserRole))

    def _offer(self) -> None:
        """Show only the answers that the current muscle or reflex can have."""
        atlas, current = self._session.atlas, self._current()
        kind = atlas.facts.signs[current].kind if atlas and current else "muscle"
        for change, button in self.buttons.items():
            button.setVisible(change in CHANGES[kind])
            button.setEnabled(current is not None)

    def _tell(self) -> None:
        """Write behind each muscle and reflex what was found."""
        atlas = self._session.atlas
        found: dict[str, list[str]] = {}
        for (sign, side), change in sorted(self._session.drawing.signs.found.items()):
            found.setdefault(sign, []).append(f"{side.word} {change.word}")
        for row in range(self.list.count() if atlas else 0):
            item = self.list.item(row)
            id_ = item.data(Qt.ItemDataRole.UserRole)
            if atlas is not None:
                label = atlas.facts.signs[id_].label
                said = ", ".join(found.get(id_, ()))
                item.setText(f"{label} — {said}" if said else label)

    def note(self, change: SignChange | None) -> None:
        """Note what was found on the current muscle or reflex, or clear it."""
        atlas, current = self._session.atlas, self._current()
        if atlas is None or current is None:
            return
        side = Side(self.side.currentData())
        drawing = self._session.drawing
        signs = drawing.signs.noted(current, side, change)
        if signs.found != drawing.signs.found:
            label = atlas.facts.signs[current].label
            words = (
                tr("{sign} ({side}) {change}", sign=label, side=side.word, change=change.word)
                if change
                else tr("Clear {sign} ({side})", sign=label, side=side.word)
            )
            self._session.step(words, drawing.with_signs(signs))
