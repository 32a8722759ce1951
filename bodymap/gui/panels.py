"""The panels beside the figure: which there are, where they stand, what has the focus."""

from functools import cached_property
from typing import TYPE_CHECKING, Protocol, TypeVar, runtime_checkable

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import (
    QDockWidget,
    QFrame,
    QLabel,
    QMainWindow,
    QScrollArea,
    QTabBar,
    QWidget,
)

from bodymap.gui.ranking_panel import RankingPanel
from bodymap.gui.session import Session
from bodymap.gui.text_scale import scaled
from bodymap.language import tr
from bodymap.report.appearance import LIGHT, Theme

if TYPE_CHECKING:
    from bodymap.gui.compare_panel import ComparePanel
    from bodymap.gui.dictation_panel import DictationPanel
    from bodymap.gui.examination_panel import ExaminationPanel
    from bodymap.gui.find_panel import FindPanel
    from bodymap.gui.levels_panel import LevelsPanel
    from bodymap.gui.plexus_panel import PlexusPanel
    from bodymap.gui.practice_panel import PracticePanel
    from bodymap.gui.region_panel import RegionPanel
    from bodymap.gui.signs_panel import SignsPanel
    from bodymap.gui.visits_panel import VisitsPanel

WIDTH = 440
"""Width of the panels at first, pixels at the designed size of text."""

LEAST_WIDTH = 350

PANELS = (
    "examination", "levels", "regions", "signs", "dictation", "visits", "compare", "plexus",
    "practice", "find",
)  # fmt: skip
"""What can be shown beside the explanations."""

Panel = TypeVar("Panel", bound=QWidget)


@runtime_checkable
class Watched(Protocol):
    """A panel that shows something on the figure only while it is in front."""

    def seen(self, in_front: bool) -> None:
        """The panel has come to the front, or has gone."""


class Panels(QObject):
    """Explanations always; lists, search and comparison in the same place.

    A panel is imported and made when it is first asked for, so that the window is there
    sooner.
    """

    practising_changed = Signal(bool)
    note_wanted = Signal()
    looked_for = Signal(object)
    """The place that was chosen in the search."""

    def __init__(self, window: QMainWindow, session: Session) -> None:
        super().__init__(window)
        self._window = window
        self._session = session
        self._theme: Theme = LIGHT
        self._docks: dict[str, tuple[QDockWidget, QWidget]] = {}
        self.ranking = RankingPanel(session)
        self.main = self._dock("ranking", tr("Explanations"), self.ranking)
        window.resizeDocks([self.main], [WIDTH], Qt.Orientation.Horizontal)

    @cached_property
    def examination(self) -> "ExaminationPanel":
        """The guided examination."""
        from bodymap.gui.examination_panel import ExaminationPanel

        panel = ExaminationPanel(self._session)
        panel.note_wanted.connect(self.note_wanted)
        panel.set_theme(self._theme)
        return self._add("examination", tr("Examination"), panel, panel.pages.compare.same)

    @cached_property
    def levels(self) -> "LevelsPanel":
        """Muscles, levels and the classification."""
        from bodymap.gui.levels_panel import LevelsPanel

        panel = LevelsPanel(self._session)
        return self._add("levels", tr("Levels"), panel, panel.choices["motor", "right", "C5"])

    @cached_property
    def regions(self) -> "RegionPanel":
        """The list of named regions."""
        from bodymap.gui.region_panel import RegionPanel

        panel = RegionPanel(self._session)
        return self._add("regions", tr("Named regions"), panel, panel.search)

    @cached_property
    def signs(self) -> "SignsPanel":
        """Muscles and reflexes."""
        from bodymap.gui.signs_panel import SignsPanel

        panel = SignsPanel(self._session)
        return self._add("signs", tr("Muscles and reflexes"), panel, panel.search)

    @cached_property
    def dictation(self) -> "DictationPanel":
        """Findings in words."""
        from bodymap.gui.dictation_panel import DictationPanel

        panel = DictationPanel(self._session)
        return self._add("dictation", tr("Dictation"), panel, panel.phrase)

    @cached_property
    def compare(self) -> "ComparePanel":
        """Root against nerve."""
        from bodymap.gui.compare_panel import ComparePanel

        panel = ComparePanel(self._session)
        return self._add("compare", tr("Root against nerve"), panel, panel.first)

    @cached_property
    def plexus(self) -> "PlexusPanel":
        """A plexus to cut."""
        from bodymap.gui.plexus_panel import PlexusPanel

        panel = PlexusPanel(self._session)
        panel.set_theme(self._theme)
        return self._add("plexus", tr("Plexus"), panel, panel.plexus)

    @cached_property
    def practice(self) -> "PracticePanel":
        """A simulated patient."""
        from bodymap.gui.practice_panel import PracticePanel

        panel = PracticePanel(self._session)
        panel.practising_changed.connect(self.practising_changed)
        return self._add("practice", tr("Practice"), panel, panel.new)

    @cached_property
    def find(self) -> "FindPanel":
        """The search on the figure."""
        from bodymap.gui.find_panel import FindPanel

        panel = FindPanel(self._session)
        panel.looked_for.connect(self.looked_for)
        return self._add("find", tr("Find"), panel, panel.search)

    @cached_property
    def visits(self) -> "VisitsPanel":
        """The visits of the case."""
        from bodymap.gui.visits_panel import VisitsPanel

        panel = VisitsPanel(self._session)
        return self._add("visits", tr("Visits"), panel, panel.list)

    def _add(self, name: str, title: str, panel: Panel, focus: QWidget) -> Panel:
        dock = self._dock(name, title, panel)
        lists = [self._docks[other][0] for other in ("regions", "signs") if other in self._docks]
        if name not in ("regions", "signs"):
            self._window.tabifyDockWidget(self.main, dock)
        elif lists:
            # The lists are worked with while the explanations are read.
            self._window.tabifyDockWidget(lists[0], dock)
        dock.hide()
        if isinstance(panel, Watched):
            dock.visibilityChanged.connect(panel.seen)
        self._docks[name] = dock, focus
        return panel

    def _dock(self, name: str, title: str, widget: QWidget) -> QDockWidget:
        dock = QDockWidget(title)
        dock.setObjectName(name)
        # A label follows the size of the text, which the title of a dock does not.
        heading = QLabel(title)
        heading.setContentsMargins(10, 5, 10, 0)
        dock.setTitleBarWidget(heading)
        # The explanations scroll by themselves: verdict and caution stay in sight.
        dock.setWidget(widget if widget is self.ranking else _scrolled(widget))
        dock.setFeatures(QDockWidget.DockWidgetFeature.NoDockWidgetFeatures)
        self._window.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, dock)
        return dock

    def toggle(self, name: str) -> None:
        """Show a panel with the focus in it, or hide it and what it shows on the figure."""
        panel = getattr(self, name)
        dock, focus = self._docks[name]
        shown = not dock.isVisible()
        dock.setVisible(shown)
        if shown and name == "examination":
            self.clear()  # Answers are seen as findings, not behind a candidate.
        if shown:
            dock.raise_()
            focus.setFocus()
            self._name_tabs()
        elif name == "practice":
            panel.end()
        elif name in ("compare", "plexus", "find", "visits"):
            panel.clear()

    def _name_tabs(self) -> None:
        """Give the tabs, which the window makes by itself, a name for a screen reader."""
        for tabs in self._window.findChildren(QTabBar):
            tabs.setAccessibleName(tr("Panels"))

    def refit(self) -> None:
        """Give the panels the width that the size of the text asks for, at most half."""
        docks = [self.main, *(dock for dock, _ in self._docks.values())]
        wide = min(scaled(WIDTH), self._window.width() // 2)
        shown = [dock for dock in docks if dock.isVisible()]
        self._window.resizeDocks(shown, [wide] * len(shown), Qt.Orientation.Horizontal)

    def set_theme(self, theme: Theme) -> None:
        """Show what is drawn in the panels in another theme."""
        self._theme = theme
        self.ranking.set_theme(theme)
        if "plexus" in self._docks:
            self.plexus.set_theme(theme)
        if "examination" in self._docks:
            self.examination.set_theme(theme)

    def practising(self, on: bool) -> None:
        """Hide whatever would give the hidden lesion away, or show it again."""
        if on:
            self._session.select(None)
            self._session.lay_over(None)
            for name, (dock, _) in self._docks.items():
                if name != "practice":
                    dock.hide()
        self.main.setVisible(not on)

    def clear(self) -> None:
        """Show the findings on the figure again, in place of whatever stands for them."""
        shows = {"plexus", "find"} if self._session.place is not None else set()
        if not shows and self._session.comparison is not None:
            shows = {"compare"}
        if not shows and self._session.laid_over is not None:
            shows = {"visits"}
        for name in shows & set(self._docks):
            getattr(self, name).clear()
        if not shows:
            self.ranking.clear()

    def show_findings(self) -> None:
        """Show the findings, whatever stands in their place; a chosen candidate stays."""
        while self._session.covered:
            self.clear()


def _scrolled(widget: QWidget) -> QScrollArea:
    """A panel that may be taller than the window, at large text, without making it taller."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setMinimumWidth(LEAST_WIDTH)
    area.setWidget(widget)
    return area
