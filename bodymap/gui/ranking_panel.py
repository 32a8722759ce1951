"""The answer beside the figure: verdict, candidates, reasons, caution."""

from html import escape

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QLabel,
    QScrollArea,
    QTableView,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from bodymap.gui.candidates import HEADS, Candidates, ShareBar, key_of, named
from bodymap.gui.caution_area import CautionArea
from bodymap.gui.questions_panel import QuestionsPanel
from bodymap.gui.session import Session
from bodymap.gui.start_html import start_html
from bodymap.gui.text_scale import scaled
from bodymap.language import tr
from bodymap.localise.ranking import Candidate
from bodymap.report.appearance import Theme
from bodymap.report.cautions import CAUTION, cautions
from bodymap.report.question_words import told_apart
from bodymap.report.ranking_report import probability

LEAST_WIDTH = 410
"""Room for names of two lines beside three bars, pixels."""

ROW_PX = 30
"""Room for a name of two lines, pixels at the designed size of text."""

BESIDE_HEAD_PX = 10
"""Room beside the words of a head, pixels."""

COLUMNS_PX = {0: 26, 2: 58, 3: 70, 4: 64}
"""Widths of the columns of numbers."""


class RankingPanel(QWidget):
    """Shows the ranking, and lets one candidate be held against the skin."""

    sample_wanted = Signal(str)
    """The name of a sample that was chosen."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._model = Candidates(session)
        self._quiet = False
        self.verdict = QLabel(tr("Nothing is drawn yet."))
        self.verdict.setWordWrap(True)
        self.verdict.setAccessibleName(tr("Verdict"))
        self.table = self._table()
        self.reasons = QTextBrowser()
        self.reasons.setAccessibleName(tr("Reasons for the chosen candidate"))
        self.reasons.setOpenLinks(False)
        self.reasons.anchorClicked.connect(lambda url: self.sample_wanted.emit(url.path()))
        self.caution = QLabel(tr(CAUTION))
        self.caution.setWordWrap(True)
        self.caution.setAccessibleName(tr("Caution"))
        self.caution.setObjectName("caution")
        self.setMinimumWidth(LEAST_WIDTH)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 10, 10, 8)
        self.questions = QuestionsPanel(session)
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.table, self.reasons, self.questions):
            column.addWidget(widget)
        # The list keeps most of the room when the panel below is opened.
        column.setStretch(0, 5)
        column.setStretch(1, 2)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(inner)
        layout.addWidget(self.verdict)
        layout.addWidget(area, 1)
        self.caution_area = CautionArea(self.caution)
        layout.addWidget(self.caution_area)
        self._fit()
        session.ranking_changed.connect(self._renew)
        session.drawing_changed.connect(self._warn)
        session.selection_changed.connect(self._show_reasons)
        session.answer_changed.connect(self._show_reasons)
        self._show_reasons()

    def _table(self) -> QTableView:
        table = QTableView()
        table.setModel(self._model)
        table.setAccessibleName(tr("Candidates, best first"))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setShowGrid(False)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        self.bar = ShareBar(table)
        for column in (2, 3, 4):
            table.setItemDelegateForColumn(column, self.bar)
        head = table.horizontalHeader()
        head.setHighlightSections(False)
        head.setTextElideMode(Qt.TextElideMode.ElideRight)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        table.selectionModel().currentRowChanged.connect(self._chose)
        return table

    def _fit(self) -> None:
        """Give rows and columns the room that the size of the text asks for."""
        self.table.verticalHeader().setDefaultSectionSize(scaled(ROW_PX))
        for column, width in COLUMNS_PX.items():
            words = self.table.horizontalHeader().fontMetrics().horizontalAdvance(tr(HEADS[column]))
            self.table.setColumnWidth(column, max(scaled(width), words + BESIDE_HEAD_PX))
        self.table.setMinimumHeight(scaled(4 * ROW_PX))
        self.reasons.setMinimumHeight(scaled(84))
        self.reasons.setMaximumHeight(scaled(190))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self._fit()

    def set_theme(self, theme: Theme) -> None:
        """Show bars and caution in another theme."""
        self.bar.show_in(theme)
        self.table.viewport().update()

    def _renew(self) -> None:
        session = self._session
        ranking = session.ranking
        self._quiet = True
        self._model.renew()
        chosen = session.chosen
        keys = [key_of(c) for c in self._model.rows] if chosen else []
        if chosen is not None and key_of(chosen) in keys:
            self.table.setCurrentIndex(self._model.index(keys.index(key_of(chosen)), 1))
        elif self.table.currentIndex().isValid():
            self.table.clearSelection()
            self.table.setCurrentIndex(QModelIndex())
        self._quiet = False
        if ranking is not None:
            area = ""
            if ranking.candidates:
                area = " " + tr(
                    "{area:.0f} cm² drawn; something else: {share}.",
                    area=ranking.drawn_cm2, share=escape(probability(ranking.something_else)),
                )  # fmt: skip
            self.verdict.setText(f"<b>{escape(tr(ranking.sentence))}</b>{area}")

    def _warn(self) -> None:
        # Asked of the whole drawing, so not while a stroke is under way.
        session = self._session
        if session.atlas is not None:
            said = cautions(session.atlas, session.drawing)
            self.caution.setText(" ".join(said) if said else tr(CAUTION))
            self.caution_area.renew()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.caution_area.renew()

    def _chose(self, current: QModelIndex) -> None:
        if not self._quiet:
            row = current.row()
            self._session.select(self._model.rows[row] if row >= 0 else None)

    def clear(self) -> None:
        """Hold no candidate against the skin."""
        self._quiet = True
        self.table.clearSelection()
        self.table.setCurrentIndex(QModelIndex())
        self._quiet = False
        self._session.select(None)

    def _show_reasons(self) -> None:
        chosen, why = self._session.chosen, self._session.reasons()
        if not self._session.drawing:
            self.reasons.setHtml(start_html())
            return
        if chosen is None or why is None:
            self.reasons.setHtml(
                tr(
                    "<p>Choose a candidate to see on the skin what it explains, what it leaves "
                    "unexplained, and what it would have taken as well.</p>"
                    "<p><i>Support</i>: probability among all candidates and something else. "
                    "<i>Explained</i>: share of the drawing inside its territory. "
                    "<i>Involved</i>: share of its territory that is drawn.</p>"
                )
            )
            return
        parts = [f"<p><b>{escape(named(chosen))}</b></p>"]
        for title, sentences in (
            (tr("For"), why.in_favour),
            (tr("Against"), why.against),
            (tr("Missing"), why.missing),
        ):
            if sentences:
                said = "".join(f"<br>{escape(s)}" for s in sentences)
                parts.append(f"<p><b>{title}</b>{said}</p>")
        parts += self._told_apart(chosen)
        self.reasons.setHtml("".join(parts))

    def _told_apart(self, chosen: Candidate) -> list[str]:
        """What tells the chosen candidate from the leading one, or that from the next."""
        answer = self._session.answer
        atlas = self._session.atlas
        for tie in answer.tie_breakers if answer else ():
            if chosen.parts in (tie.first.parts, tie.second.parts) and atlas is not None:
                title = tr(
                    "{first} or {second}?",
                    first=tie.first.territory.name,
                    second=tie.second.territory.name,
                )
                said = "".join(f"<br>{escape(s)}" for s in told_apart(atlas, tie))
                return [f"<p><b>{escape(title)}</b>{said}</p>"]
        return []
