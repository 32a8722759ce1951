"""The panels beside the figure: which there are, where they stand, what has the focus."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDockWidget, QMainWindow, QWidget

from bodymap.gui.compare_panel import ComparePanel
from bodymap.gui.dictation_panel import DictationPanel
from bodymap.gui.find_panel import FindPanel
from bodymap.gui.plexus_panel import PlexusPanel
from bodymap.gui.practice_panel import PracticePanel
from bodymap.gui.ranking_panel import RankingPanel
from bodymap.gui.region_panel import RegionPanel
from bodymap.gui.session import Session
from bodymap.gui.signs_panel import SignsPanel

WIDTH = 440
"""Width of the panels at first, pixels."""


class Panels:
    """Explanations always; lists, search and comparison on demand, in the same place."""

    def __init__(self, window: QMainWindow, session: Session) -> None:
        self._window = window
        self._session = session
        self.ranking = RankingPanel(session)
        self.regions = RegionPanel(session)
        self.signs = SignsPanel(session)
        self.compare = ComparePanel(session)
        self.plexus = PlexusPanel(session)
        self.practice = PracticePanel(session)
        self.finder = FindPanel(session)
        self.dictation = DictationPanel(session)
        self.main = main = self._dock("Explanations", self.ranking)
        self._docks: dict[str, tuple[QDockWidget, QWidget]] = {}
        below: QDockWidget | None = None
        for name, title, panel, focus in (
            ("regions", "Named regions", self.regions, self.regions.search),
            ("signs", "Muscles and reflexes", self.signs, self.signs.search),
            ("dictation", "Dictation", self.dictation, self.dictation.phrase),
            ("compare", "Root against nerve", self.compare, self.compare.first),
            ("plexus", "Plexus", self.plexus, self.plexus.plexus),
            ("practice", "Practice", self.practice, self.practice.new),
            ("find", "Find", self.finder, self.finder.search),
        ):
            dock = self._dock(title, panel)
            if name in ("regions", "signs"):
                # The lists are worked with while the explanations are read.
                if below is not None:
                    window.tabifyDockWidget(below, dock)
                below = dock
            else:
                window.tabifyDockWidget(main, dock)
            dock.hide()
            self._docks[name] = dock, focus
        window.resizeDocks([main], [WIDTH], Qt.Orientation.Horizontal)

    def _dock(self, title: str, widget: QWidget) -> QDockWidget:
        dock = QDockWidget(title)
        dock.setObjectName(title)
        dock.setWidget(widget)
        dock.setFeatures(QDockWidget.DockWidgetFeature.NoDockWidgetFeatures)
        widget.setMinimumWidth(max(350, widget.minimumWidth()))
        self._window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, dock)
        return dock

    def toggle(self, name: str) -> None:
        """Show a panel with the focus in it, or hide it and what it shows on the figure."""
        dock, focus = self._docks[name]
        shown = not dock.isVisible()
        dock.setVisible(shown)
        if shown:
            dock.raise_()
            focus.setFocus()
        elif name == "compare":
            self.compare.clear()
        elif name == "plexus":
            self.plexus.clear()
        elif name == "practice":
            self.practice.end()
        elif name == "find":
            self.finder.clear()

    def practising(self, on: bool) -> None:
        """Hide whatever would give the hidden lesion away, or show it again."""
        if on:
            self._session.select(None)
            for name, (dock, _) in self._docks.items():
                if name != "practice":
                    dock.hide()
        self.main.setVisible(not on)

    def clear(self) -> None:
        """Show the findings on the figure again, in place of whatever stands for them."""
        if self._session.place is not None:
            self.plexus.clear()
            self.finder.clear()
        elif self._session.comparison is not None:
            self.compare.clear()
        else:
            self.ranking.clear()
