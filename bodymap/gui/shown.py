"""What the figure shows in place of the findings or over them: a candidate held against
the skin, lesions compared, a place that was searched, two visits, where to touch next."""

from abc import abstractmethod
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Progress
from bodymap.localise.comparison import Comparison, compared
from bodymap.localise.explanation import Explaining, Reasons
from bodymap.localise.ranking import Candidate, Ranking, Scales
from bodymap.localise.remainders import Remainders, remainders
from bodymap.report.places import NamedPlace
from bodymap.terms import Side, View


class Target(NamedTuple):
    """A place to touch: a view, x and y in its units, and the side of the patient."""

    view: View
    x: float
    y: float
    side: Side


class Shown(QObject):
    """The part of the session that chooses what is looked at; it changes no finding."""

    ranking_changed = Signal()
    """The ranking is another one, also while a stroke is being drawn."""
    selection_changed = Signal()
    """Something else is shown on the figure: another candidate, or none."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.ranking: Ranking | None = None
        self.atlas: Atlas | None = None
        self._scales: Scales | None = None
        self._chosen: tuple[str, Side] | None = None
        self._pinned: tuple[tuple[str, Side], ...] = ()
        self._comparison: Comparison | None = None
        self._place: NamedPlace | None = None
        self._laid_over: Progress | None = None
        self._targets: tuple[Target, ...] = ()

    @property
    @abstractmethod
    def drawing(self) -> Drawing:
        """What is drawn now."""

    def _show_findings(self) -> None:
        """Nothing is held against the findings any more."""
        self._chosen = self._comparison = self._place = self._laid_over = None
        self.selection_changed.emit()

    @property
    def chosen(self) -> Candidate | None:
        """The candidate that is held against the skin."""
        if self._chosen is None or self.ranking is None:
            return None
        for candidate in self.ranking.candidates:
            if (candidate.territory.id, candidate.territory.side) == self._chosen:
                return candidate
        return None

    def select(self, candidate: Candidate | None) -> None:
        """Hold a candidate against the skin, or none."""
        chosen = None if candidate is None else (candidate.territory.id, candidate.territory.side)
        if chosen != self._chosen:
            self._chosen = chosen
            self.selection_changed.emit()

    @property
    def pinned(self) -> tuple[tuple[str, Side], ...]:
        """Lesions (id and side) that stay in view while one paints, in the order they were
        pinned."""
        return self._pinned

    def pin(self) -> None:
        """Keep the chosen candidate in view, or let it go again."""
        if self._chosen is None or self.ranking is None:
            return
        others = tuple(key for key in self._pinned if key != self._chosen)
        let_go = len(others) < len(self._pinned)
        self._pinned = others if let_go else (*others, self._chosen)
        self.ranking_changed.emit()

    @property
    def comparison(self) -> Comparison | None:
        """The lesions that are compared on the figure, in place of the findings."""
        return self._comparison

    def compare(self, chosen: tuple[tuple[str, Side], ...] | None) -> None:
        """Compare two or three lesions on the figure, or none.

        Raises RequestError for lesions that cannot be compared.
        """
        if chosen is None or self._scales is None:
            self._comparison = None
        else:
            self._comparison = compared(self._scales, chosen)
            self._laid_over = None
        self.selection_changed.emit()

    @property
    def laid_over(self) -> Progress | None:
        """Two visits laid over each other on the figure, in place of the findings."""
        return self._laid_over

    def lay_over(self, progress: Progress | None) -> None:
        """Show what became of the skin between two visits, or the findings again."""
        if progress is not None:
            self._comparison = self._place = None
        self._laid_over = progress
        self.selection_changed.emit()

    @property
    def place(self) -> NamedPlace | None:
        """The place that is shown on the figure, in place of the findings."""
        return self._place

    def show_place(self, place: NamedPlace | None) -> None:
        """Show a named place on the figure, or the findings again."""
        self._place = place
        if place is not None:
            self._laid_over = None
        self.selection_changed.emit()

    @property
    def targets(self) -> tuple[Target, ...]:
        """Where to touch next in the guided examination."""
        return self._targets

    def aim(self, targets: tuple[Target, ...]) -> None:
        """Show where to touch next, or nowhere."""
        if targets != self._targets:
            self._targets = targets
            self.selection_changed.emit()

    @property
    def covered(self) -> bool:
        """Whether a place, a comparison or two visits stand in the place of the findings."""
        return bool(self._place or self._comparison or self._laid_over)

    def reasons(self) -> Reasons | None:
        """Why the chosen candidate stands where it stands."""
        chosen = self.chosen
        if chosen is None or self._scales is None or self.ranking is None:
            return None
        return Explaining(self._scales, self.drawing, self.ranking.posterior).reasons(chosen)

    def remainders(self) -> dict[View, Remainders]:
        """Explained, unexplained and spared skin of the chosen candidate."""
        chosen = self.chosen
        if chosen is None or self.atlas is None:
            return {}
        return remainders(self.atlas, self.drawing, chosen.territory)
