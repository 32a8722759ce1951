"""The candidates of the ranking as rows of a table, and how their shares are painted."""

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from bodymap.gui.qt_shapes import colour
from bodymap.gui.session import Session
from bodymap.language import later, number, tr
from bodymap.localise.ranking import Candidate
from bodymap.report.appearance import LIGHT, Theme
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

SHOWN = 60

HEADS = (
    "",
    later("Consistent with"),
    later("Support"),
    later("Explained"),
    later("Involved"),
)
Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()
PINNED = "◆ "
"""Stands before a candidate that is pinned."""

LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


class Candidates(QAbstractTableModel):
    """The candidates of the current ranking, best first."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.rows: tuple[Candidate, ...] = ()
        self._cells: list[tuple[str, ...]] = []

    def renew(self) -> None:
        """Take the current ranking. Under a brush the numbers change many times a second, so
        only what reads otherwise is announced."""
        ranking = self._session.ranking
        candidates = ranking.candidates if ranking else ()
        pinned = self._session.pinned
        kept = [c for c in candidates if key_of(c) in pinned]
        kept.sort(key=lambda c: pinned.index(key_of(c)))
        rows = (*kept, *[c for c in candidates if c not in kept])[:SHOWN]
        cells = [_cells(c, number < len(kept)) for number, c in enumerate(rows)]
        if len(rows) != len(self.rows):
            self.beginResetModel()
            self.rows, self._cells = rows, cells
            self.endResetModel()
            return
        before, self.rows, self._cells = self._cells, rows, cells
        for row, (was, now) in enumerate(zip(before, cells, strict=True)):
            for column in range(len(HEADS)):
                if was[column] != now[column]:
                    at = self.index(row, column)
                    self.dataChanged.emit(at, at)

    def rowCount(self, parent: Index = ROOT) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        return len(HEADS)

    def headerData(
        self, section: int, way: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if section == 1 and role == Qt.ItemDataRole.TextAlignmentRole:
            return LEFT
        if way is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return tr(HEADS[section])
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row, column = index.row(), index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self._cells[row][column]
        if role == Qt.ItemDataRole.TextAlignmentRole and column != 1:
            return RIGHT
        if role == Qt.ItemDataRole.UserRole:
            return self.share(row, column)
        if role == Qt.ItemDataRole.ToolTipRole:
            candidate = self.rows[row]
            return tr(
                "{candidate}: support {support:.0%}; explains {explained:.0%} of the drawing; "
                "{involved:.0%} of its territory is drawn",
                candidate=named(candidate), support=candidate.support,
                explained=candidate.explained_fraction, involved=candidate.involved_fraction,
            )  # fmt: skip
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{tr(HEADS[column])} {self._cells[row][column]}"
        return None

    def share(self, row: int, column: int) -> float | None:
        """The share (0 to 1) that a cell shows, or None where it shows none."""
        candidate = self.rows[row]
        if column < 2:
            return None
        shares = candidate.support, candidate.explained_fraction, candidate.involved_fraction
        return float(shares[column - 2])


def _cells(candidate: Candidate, pinned: bool) -> tuple[str, ...]:
    """What a row says, by column."""
    return (
        str(candidate.place),
        f"{PINNED if pinned else ''}{named(candidate)}",
        probability(candidate.support),
        number(candidate.explained_fraction, ".0%"),
        number(candidate.involved_fraction, ".0%"),
    )


def key_of(candidate: Candidate) -> tuple[str, Side]:
    """Id and side of what a candidate takes."""
    return candidate.territory.id, candidate.territory.side


def named(candidate: Candidate) -> str:
    """A candidate with its side."""
    side = candidate.territory.side
    return f"{candidate.territory.name}, {tr('both sides') if side is Side.BOTH else side.word}"


class ShareBar(QStyledItemDelegate):
    """A share as a number over a quiet bar."""

    def __init__(self, parent: Any) -> None:
        super().__init__(parent)
        self.show_in(LIGHT)

    def show_in(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._whole: QColor = colour(theme.panel_border, 0.5)
        self._part: QColor = colour(theme.accent, 0.35)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        share = index.data(Qt.ItemDataRole.UserRole)
        if share is not None:
            box = option.rect.adjusted(4, 5, -4, -5)
            painter.fillRect(box, self._whole)
            box.setWidth(round(box.width() * share))
            painter.fillRect(box, self._part)
        super().paint(painter, option, index)
