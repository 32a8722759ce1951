"""A search field over a list: type words, go up and down, press Enter to take one.

Enter is heard here and not as the list's activation, which on some desktops is a single
click.
"""

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from bodymap.language import searchable, tr

ROLE = Qt.ItemDataRole.UserRole
SEARCHED = ROLE + 1
"""What an entry answers to."""

MOVES = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class SearchList(QWidget):
    """Entries are English words, shown in the language in hand and found in both, and a
    value. With ``on_demand`` the list shows only while words stand in the field; with
    ``careful`` Enter in the field only goes to the list."""

    taken = Signal(object)
    """The value of the entry that was taken with Enter or a double click."""
    current_changed = Signal()

    def __init__(
        self, prompt: str, name: str, on_demand: bool = False, careful: bool = False
    ) -> None:
        super().__init__()
        self._on_demand = on_demand
        self._careful = careful
        self.search = QLineEdit()
        self.search.setPlaceholderText(prompt)
        self.search.setAccessibleName(prompt)
        self.search.setClearButtonEnabled(True)
        self.list = QListWidget()
        self.list.setAccessibleName(name)
        self.list.setWordWrap(True)
        self.list.setSpacing(1)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        if on_demand:
            self.list.hide()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addWidget(self.search)
        layout.addWidget(self.list)
        self.setFocusProxy(self.search)
        self.search.installEventFilter(self)
        self.list.installEventFilter(self)
        self.search.textChanged.connect(self._filter)
        self.search.returnPressed.connect(self._entered)
        self.list.itemDoubleClicked.connect(lambda _: self._take())
        self.list.currentItemChanged.connect(lambda *_: self.current_changed.emit())

    def fill(self, entries: Iterable[tuple[str, object]]) -> None:
        """Take other entries."""
        self.list.clear()
        for words, value in entries:
            item = QListWidgetItem(tr(words))
            item.setData(ROLE, value)
            item.setData(SEARCHED, searchable(words))
            self.list.addItem(item)
        self._filter(self.search.text())

    @property
    def current(self) -> object | None:
        """The value of the current entry, if it is shown."""
        item = self.list.currentItem()
        return None if item is None or item.isHidden() else item.data(ROLE)

    def _filter(self, typed: str) -> None:
        words = typed.casefold().split()
        first = None
        for row in range(self.list.count()):
            item = self.list.item(row)
            shown = all(word in item.data(SEARCHED) for word in words)
            item.setHidden(not shown)
            first = item if shown and first is None else first
        chosen = first if words else None
        self.list.setCurrentItem(chosen)  # type: ignore[arg-type]
        if chosen is not None:
            self.list.scrollToItem(chosen)
        if self._on_demand:
            self.list.setVisible(bool(words))
        self.current_changed.emit()

    def _entered(self) -> None:
        if self._careful and self.current is not None:
            self.list.setFocus()
        else:
            self._take()

    def _take(self) -> None:
        if self.current is not None:
            self.taken.emit(self.current)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            in_list = watched is self.list
            if in_list and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._take()
                return True
            if not in_list and event.key() in MOVES and self.list.isVisible():
                self.list.keyPressEvent(event)
                return True
            if event.key() == Qt.Key.Key_Escape and self.search.text():
                self.search.clear()
                self.search.setFocus()
                return True
        return super().eventFilter(watched, event)
