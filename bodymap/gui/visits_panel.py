"""The visits of a case: begin one, date it, take one away, lay two over each other."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from bodymap.errors import BodymapError
from bodymap.examination.visits_compared import VisitsCompared, visits_compared
from bodymap.findings.dates import day, today
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import examined
from bodymap.findings.visits import begun, dated, removed, visits
from bodymap.gui.background import Background
from bodymap.gui.session import Session
from bodymap.gui.visits_html import HOW, visits_html
from bodymap.language import capital, later, tr
from bodymap.terms import Modality

LIST_PX = 116
"""Height of the list: three visits are seen at once, each with what it holds."""

ALL = later("All that was examined at both visits")


class VisitsPanel(QWidget):
    """Lays two visits over each other on the figure, in place of the findings, until it
    is cleared; what is done to visits is a step like any other."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._found: VisitsCompared | None = None
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Visits of this case, by date"))
        self.list.setFixedHeight(LIST_PX)
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.date = QLineEdit()
        self.date.setAccessibleName(tr("Date of the chosen visit: year, month, day"))
        self.date.setPlaceholderText("2026-11-25")
        self.date.setMaxLength(10)
        self.date.returnPressed.connect(self.set_date)
        self.set = self._button(
            tr("Set the date"), tr("Date the chosen visit (Enter)"), self.set_date
        )
        self.remove_button = self._button(
            tr("Remove"), tr("Take the chosen earlier visit out of the case"), self.remove
        )
        self.copy = self._button(
            tr("New visit today"),
            tr(
                "The findings in hand become an earlier visit; the new one starts with the same "
                "skin and signs, to be amended"
            ),
            self.begin,
        )
        self.empty = self._button(
            tr("New visit today, empty"),
            tr("The findings in hand become an earlier visit; the new one starts with nothing"),
            partial(self.begin, empty=True),
        )
        self.then = self._box(tr("The earlier of the two visits"))
        self.now = self._box(tr("The later of the two visits"))
        self.modality = self._box(tr("What is laid over each other"))
        self.modality.addItem(tr(ALL), None)
        self.lay = self._button(
            tr("Lay over each other"), tr("Show what is new and gone"), self.compare
        )
        self.clear_button = self._button(tr("Show the findings again"), tr("Esc"), self.clear)
        self.text = QTextBrowser()
        self.text.setAccessibleName(tr("What changed between the two visits"))
        self.text.setMinimumHeight(100)
        self.background = Background()
        self._lay_out()
        self.list.currentRowChanged.connect(lambda _: self._offer())
        for box in (self.then, self.now):
            box.activated.connect(lambda _: self.compare())
        self.modality.activated.connect(lambda _: self._show())
        session.drawing_changed.connect(self._renew)
        session.selection_changed.connect(self._give_way)
        session.atlas_ready.connect(self._renew)
        self.text.setHtml(tr(HOW))
        self._renew()

    @staticmethod
    def _button(text: str, tip: str, call: object) -> QPushButton:
        button = QPushButton(text)
        button.setAccessibleName(text)
        button.setToolTip(tip)
        button.clicked.connect(lambda: call())  # type: ignore[operator]
        return button

    @staticmethod
    def _box(name: str) -> QComboBox:
        box = QComboBox()
        box.setAccessibleName(name)
        return box

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        layout.setSpacing(4)
        layout.addWidget(self.list)
        for widgets in (
            (self.date, self.set, self.remove_button),
            (self.copy, self.empty),
            (QLabel(tr("From")), self.then, QLabel(tr("to")), self.now),
            (self.modality,),
            (self.lay, self.clear_button),
        ):
            row = QHBoxLayout()
            for widget in widgets:
                stretch = isinstance(widget, QComboBox | QLineEdit)
                row.addWidget(widget, 1 if stretch else 0)
            layout.addLayout(row)
        layout.addWidget(self.text, 1)
        layout.addWidget(self.background)

    # The list of visits

    def _renew(self) -> None:
        """Tell the visits as they are now, and what changed if two are laid over."""
        known = visits(self._session.drawing)
        latest = len(known) - 1
        dates = [day(v.date) for v in known]
        words = [*dates[:-1], tr("{date}, in hand", date=dates[-1])]
        for box, chosen in ((self.then, latest - 1), (self.now, latest)):
            before = (box.count(), box.currentIndex())
            box.clear()
            box.addItems(dates)
            box.setCurrentIndex(before[1] if before[0] == len(words) else max(chosen, 0))
        row, count = self.list.currentRow(), self.list.count()
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems([f"{w}: {_told(v)}" for w, v in zip(words, known, strict=True)])
        self.list.setCurrentRow(row if count == len(words) else latest)
        self.list.blockSignals(False)
        self._offer()
        if self._found is not None:
            if self._session.laid_over is None:
                self._forget()
            else:
                self.compare()

    def _offer(self) -> None:
        """Offer for the chosen visit what can be done to it."""
        drawing, row = self._session.drawing, self.list.currentRow()
        known = visits(drawing)
        several = len(known) > 1
        if 0 <= row < len(known):
            self.date.setText(known[row].date or today())
        self.remove_button.setEnabled(0 <= row < len(known) - 1)
        for widget in (self.then, self.now, self.modality, self.lay):
            widget.setEnabled(several)

    def set_date(self) -> None:
        """Give the chosen visit the date that is written."""
        drawing, row = self._session.drawing, self.list.currentRow()
        date = self.date.text().strip()
        if row >= 0:
            self._step(tr("Date {date}", date=date), lambda: dated(drawing, row, date))

    def begin(self, empty: bool = False) -> None:
        """Begin a new visit today."""
        date = today()
        self._step(
            tr("New visit of {date}", date=day(date)),
            lambda: begun(self._session.case, date, empty),
        )

    def remove(self) -> None:
        """Take the chosen earlier visit out of the case."""
        drawing, row = self._session.drawing, self.list.currentRow()
        if row >= 0:
            date = visits(drawing)[row].date
            self._step(
                tr("Remove the visit of {date}", date=day(date)), lambda: removed(drawing, row)
            )

    def _step(self, name: str, made: Callable[[], Drawing]) -> None:
        try:
            self._session.step(name, made())
        except BodymapError as error:
            self._session.tell(str(error), failure=True)

    # Two of them laid over each other

    def compare(self) -> None:
        """Lay the chosen visits over each other, the earlier one first whichever was named
        first; the geometry is worked out beside the window."""
        atlas, known = self._session.atlas, visits(self._session.drawing)
        first, second = sorted((self.then.currentIndex(), self.now.currentIndex()))
        if atlas is None or len(known) < 2:
            self._session.tell(tr("There is one visit; begin a new one to compare."), failure=True)
            return
        if first == second:
            self._session.tell(tr("Choose two different visits to compare."), failure=True)
            return
        self.background.start(
            tr("Laying the visits over each other…"),
            lambda: visits_compared(atlas, known[first], known[second]),
            self._take,
            lambda error: self._session.tell(
                tr("The visits cannot be compared: {error}", error=error), True
            ),
        )

    def _take(self, found: VisitsCompared) -> None:
        known = visits(self._session.drawing)
        if not all(any(v is visit for v in known) for visit in (found.then, found.now)):
            return  # The case moved on meanwhile; another comparison is under way or none wanted.
        before = self.modality.currentData()
        self._found = found
        self.modality.clear()
        for p in (found.skin[-1], *found.skin[:-1]):
            words = p.modality.label if p.modality else tr(ALL)
            self.modality.addItem(capital(words), p.modality)
        self.modality.setCurrentIndex(max(self.modality.findData(before), 0))
        if self._session.atlas is not None:
            self.text.setHtml(visits_html(self._session.atlas, found))
        self._show()

    def _show(self) -> None:
        """Show the chosen modality on the figure."""
        if self._found is not None:
            word = self.modality.currentData()  # Qt keeps the word, not the modality
            self._session.lay_over(self._found.of(Modality(word) if word else None))

    def clear(self) -> None:
        """Show the findings again."""
        self.background.give_up()
        self._session.lay_over(None)

    def _give_way(self) -> None:
        """Something else is shown on the figure."""
        if self._session.laid_over is None and self._found is not None:
            self._forget()

    def _forget(self) -> None:
        self.background.give_up()
        self._found = None
        self.modality.clear()
        self.modality.addItem(tr(ALL), None)
        self.text.setHtml(tr(HOW))


def _told(visit: Drawing) -> str:
    """What a visit holds, in a few words."""
    found = [m.label for m in Modality if examined(visit, m)]
    return ", ".join(found) or (tr("muscles and reflexes") if visit.signs else tr("nothing yet"))
