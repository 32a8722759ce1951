"""A plexus as a graph: cut a root, trunk, division, cord or nerve, and the skin answers."""

import re
from collections.abc import Callable
from html import escape

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from bodymap.gui.language_choice import keep_sides
from bodymap.gui.qt_shapes import colour
from bodymap.gui.session import Session
from bodymap.language import capital, tr
from bodymap.localise.plexus_cut import PLEXUSES, Graph, Plexuses, plexus_graph
from bodymap.report.appearance import LIGHT, Theme
from bodymap.report.places import NamedPlace
from bodymap.report.plexus_layout import Layout, laid_out
from bodymap.terms import Side

BESIDE_NAME = 18
"""Room beside the longest name of a column for its frame and the links, pixels."""

ROW = 25
"""Height of a row of the graph, pixels."""

SHORT = (
    (r"^(Ant|Post)erior divisions? of the (\w+) \w+$", r"\2 \1."),
    (r"^(Lat|Med)\w+ root of the median nerve$", r"\1. root"),
    (r"\blateral\b", "lat."),
    (r"\bLateral\b", "Lat."),
    (r"\bmedial\b", "med."),
    (r"\bMedial\b", "Med."),
    (r"\bPosterior\b", "Post."),
    (r"\bcutaneous( nerve of (the )?)?", "cut. "),
    (r"\bfemoral cut", "fem. cut"),
    (r"Musculocutaneous", "Musculocut."),
    (r"Lumbosacral", "Lumbosacr."),
    (r" plexus$", " pl."),
    (r" nerves?$", ""),
    (r"Upper and lower subscapular", "Subscapular"),
)
"""Longer words and what stands for them on the small buttons, in turn."""


def short(name: str) -> str:
    """A name that fits on a small button; the whole one is its tool tip."""
    for pattern, stands in SHORT:
        name = re.sub(pattern, stands, name)
    return capital(name.strip())


class PlexusPanel(QWidget):
    """Chooses a plexus and what is cut; shows the lost skin on the figure."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._plexuses: Plexuses | None = None
        self.plexus = QComboBox()
        for plexus in PLEXUSES:
            self.plexus.addItem(tr(plexus), plexus)
        self.plexus.setAccessibleName(tr("Plexus"))
        self.side = QComboBox()
        for side in (Side.RIGHT, Side.LEFT):
            self.side.addItem(side.word, side.value)
        self.side.setAccessibleName(tr("Side of the plexus"))
        self.graph = GraphView()
        self.mend = QPushButton(tr("Mend all cuts"))
        self.text = QTextBrowser()
        self.text.setAccessibleName(tr("What the cut takes"))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(6, 8, 6, 8)
        layout.setSpacing(4)
        row = QHBoxLayout()
        row.addWidget(self.plexus, 1)
        row.addWidget(self.side)
        layout.addLayout(row)
        layout.addWidget(self.graph, 3)
        layout.addWidget(self.mend)
        layout.addWidget(self.text, 1)
        session.atlas_ready.connect(self._fill)
        self.plexus.currentTextChanged.connect(self._another)
        self.side.activated.connect(lambda _: self._cut())
        self.mend.clicked.connect(self.clear)
        self.graph.changed = self._cut
        self._say_how()
        self._fill()

    def _fill(self) -> None:
        atlas = self._session.atlas
        if atlas is not None:
            self._plexuses = self._plexuses or Plexuses(atlas)
            self.graph.show_graph(plexus_graph(atlas, self.plexus.currentData()))
            self._say_how()

    def _another(self) -> None:
        self._session.show_place(None)
        self._fill()

    def set_theme(self, theme: Theme) -> None:
        """Draw the links in another theme."""
        self.graph.theme = theme
        self.graph.update()

    def _cut(self) -> None:
        atlas, cut = self._session.atlas, self.graph.cut
        if atlas is None or self._plexuses is None:
            return
        if not cut:
            self._session.show_place(None)
            self._say_how()
            return
        side = Side(self.side.currentData())
        taken = self._plexuses.cut(frozenset(cut), side)
        names = ", ".join(cut.values())
        lost = tr("lost by cutting on the {side}: {names}", side=side.word, names=names)
        self._session.show_place(NamedPlace("cut", lost, "", taken.lost))
        area = atlas.cells.area_cm2
        muscles = [atlas.facts.signs[m].label for m in taken.muscles]
        self.text.setHtml(
            tr(
                "<p><b>Cut ({side}): {names}</b></p><p>Skin lost: {lost:.0f} cm²; lost "
                "in part: {in_part:.0f} cm².</p><p>Weak: {muscles}.</p>",
                side=side.word,
                names=escape(names),
                lost=area[taken.lost].sum(),
                in_part=area[taken.in_part].sum(),
                muscles=escape("; ".join(muscles)) or tr("none of the muscles listed"),
            )
        )

    def clear(self) -> None:
        """Mend all cuts and show the findings again."""
        self.graph.mend()
        self._session.show_place(None)
        self._say_how()

    def _say_how(self) -> None:
        self.text.setHtml(
            tr(
                "<p>Press a root, trunk, division, cord or nerve to cut it. The figure shows the "
                "skin that loses at least half of its fibres, on the side you choose.</p>"
            )
        )


def _nothing() -> None:
    """What a graph tells until somebody listens."""


class GraphView(QWidget):
    """Buttons for the nodes, in columns, over lines for the links."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.changed: Callable[[], None] = _nothing
        self.buttons: dict[str, QPushButton] = {}
        self._graph: Graph | None = None
        self._layout = Layout({}, (), 0.0)
        self._spans: dict[int, tuple[float, float]] = {}
        """From where to where each column reaches, pixels."""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(tr("Plexus as a graph"))
        keep_sides(self)

    def show_graph(self, graph: Graph) -> None:
        """Show another plexus, without cuts."""
        for button in self.buttons.values():
            button.hide()
            button.deleteLater()
        self.buttons = {}
        self._graph, self._layout = graph, laid_out(graph)
        for node in graph.nodes:
            button = QPushButton(tr(short(node.english), "on a button"), self)
            button.setCheckable(True)
            button.setAccessibleName(tr("Cut {node}", node=node.name))
            button.setToolTip(node.name)
            button.setStyleSheet("padding: 0; min-width: 0; font-size: 10px;")
            button.toggled.connect(lambda _: self._toggled())
            button.show()
            self.buttons[node.id] = button
        self.setMinimumHeight(round(ROW * self._layout.rows) + 8)
        self._place()

    @property
    def cut(self) -> dict[str, str]:
        """Ids and names of the nodes that are cut."""
        graph = self._graph
        return {
            n.id: n.name for n in (graph.nodes if graph else ()) if self.buttons[n.id].isChecked()
        }

    def mend(self) -> None:
        """Cut nothing."""
        for button in self.buttons.values():
            button.blockSignals(True)
            button.setChecked(False)
            button.blockSignals(False)
        self.update()

    def _toggled(self) -> None:
        self.update()
        self.changed()

    def _place(self) -> None:
        graph = self._graph
        if graph is None:
            return
        columns = sorted({n.column for n in graph.nodes})
        # Each column is as wide as its longest name needs, and the rest is shared out.
        shares = [
            max(
                self.buttons[n.id].fontMetrics().horizontalAdvance(self.buttons[n.id].text())
                for n in graph.nodes if n.column == column
            ) + BESIDE_NAME
            for column in columns
        ]  # fmt: skip
        left, step = 0.0, self.width() / sum(shares)
        for column, share in zip(columns, shares, strict=True):
            wide = step * share
            self._spans[column] = (left, left + wide)
            for node in graph.nodes:
                if node.column == column:
                    middle = self._layout.heights[node.id] * self.height()
                    self.buttons[node.id].setGeometry(
                        round(left) + 2, round(middle - (ROW - 3) / 2), round(wide) - 9, ROW - 3
                    )
            left += wide
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._graph is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        cut = set(self.cut)
        links = zip(self._graph.links, self._layout.passing, strict=True)
        for (start, end, weight), passing in links:
            a, b = self.buttons[start].geometry(), self.buttons[end].geometry()
            broken = start in cut or end in cut
            ink = self.theme.warning if broken else self.theme.muted_text
            pen = QPen(colour(ink, 0.9 if broken else 0.6), 0.8 + 1.6 * weight)
            if broken:
                pen.setStyle(Qt.PenStyle.DashLine)
            painter.setPen(pen)
            path = QPainterPath(QPointF(a.right(), a.center().y()))
            for column, height in passing:
                # Level in the middle of the column, between its parts.
                left, right = self._spans[column]
                _bend(path, QPointF((left + right) / 2 - 4, height * self.height()))
            _bend(path, QPointF(b.left(), b.center().y()))
            painter.drawPath(path)


def _bend(path: QPainterPath, to: QPointF) -> None:
    """Go on to a place, level at both ends."""
    at = path.currentPosition()
    middle = (at.x() + to.x()) / 2
    path.cubicTo(QPointF(middle, at.y()), QPointF(middle, to.y()), to)
