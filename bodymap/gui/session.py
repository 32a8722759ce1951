"""The one place that knows the state of a sitting: case, history, choices, ranking.

Widgets read it, call it, and listen to its few signals, each of which is a fact
that changed. They never talk to each other. The session draws nothing and asks
nothing; errors that a person can meet pass through to the caller.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal

from bodymap.atlas import Atlas
from bodymap.errors import RequestError
from bodymap.findings.case_file import Case, open_case, save_case
from bodymap.findings.contradiction import is_contradictory
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Floats
from bodymap.gui.choices import Choices
from bodymap.gui.history import History
from bodymap.localise.explanation import Reasons, Remainders, reasons, remainders
from bodymap.localise.ranking import Candidate, Ranking, Scales
from bodymap.terms import Side, View


class Session(QObject):
    """One sitting with one case. Nothing can be drawn until ``begin`` gave it an atlas."""

    atlas_ready = Signal()
    drawing_changed = Signal()
    ranking_changed = Signal()
    """The ranking is another one, also while a stroke is being drawn."""
    selection_changed = Signal()
    """Another candidate, or none, is held against the skin."""
    choices_changed = Signal()
    case_changed = Signal()
    """Another file, or saved and unsaved changed places."""
    told = Signal(str, bool)
    """One sentence for the person, and whether it is a failure."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.choices = Choices()
        self.ranking: Ranking | None = None
        self.previewing = False
        """Whether the ranking that is being announced is of a stroke under way."""
        self.path: Path | None = None
        self.atlas: Atlas | None = None
        self._scales: Scales | None = None
        self._history = History()
        self._saved = self._history.present
        self._case = Case(Drawing())
        self._altered: Floats | None = None
        self._chosen: tuple[str, Side] | None = None

    def begin(self, atlas: Atlas, scales: Scales | None = None) -> None:
        """Take the atlas; from here on skin can be painted and ranked."""
        self.atlas = atlas
        self._scales = scales or Scales(atlas)
        self.atlas_ready.emit()
        self._rank()

    # The drawing and its history

    @property
    def drawing(self) -> Drawing:
        """What is drawn now."""
        return self._history.present

    @property
    def history(self) -> History:
        """Steps that can be undone and redone."""
        return self._history

    @property
    def dirty(self) -> bool:
        """Whether there is work that no file holds."""
        return self.drawing is not self._saved

    def step(self, name: str, drawing: Drawing) -> None:
        """Make one named step; a drawing that is the same object makes none."""
        if drawing is not self.drawing:
            self._move(self._history.after(name, drawing))

    def undo(self) -> None:
        """Take the last step back."""
        self._move(self._history.undone())

    def redo(self) -> None:
        """Make the step again that was taken back last."""
        self._move(self._history.redone())

    def _move(self, history: History) -> None:
        if history is self._history:
            return
        was_dirty = self.dirty
        self._history = history
        self.drawing_changed.emit()
        if self.dirty != was_dirty:
            self.case_changed.emit()
        self._rank()

    # Choices

    def choose(self, **changes: Any) -> None:
        """Change some of the choices (fields of ``Choices`` by name)."""
        chosen = replace(self.choices, **changes)
        if chosen != self.choices:
            self.choices = chosen
            self.choices_changed.emit()

    # The ranking

    @property
    def altered_cm2(self) -> Floats | None:
        """Altered skin of every cell of the atlas as drawn, cm²."""
        return self._altered

    def preview(self, altered_cm2: Floats) -> None:
        """Rank a drawing that is still under the brush."""
        if self._scales is not None:
            self.ranking = self._scales.rank(altered_cm2)
            self.previewing = True
            self.ranking_changed.emit()
            self.previewing = False

    def end_preview(self) -> None:
        """Rank what is really drawn again, after a stroke that came to nothing."""
        self._rank()

    def _rank(self) -> None:
        if self.atlas is None or self._scales is None:
            return
        self._altered = self.drawing.altered_cm2(self.atlas)
        self.ranking = self._scales.rank(self._altered, is_contradictory(self.atlas, self.drawing))
        self.ranking_changed.emit()
        if self._chosen is not None:
            if self.chosen is None:
                self._chosen = None
            self.selection_changed.emit()

    # The candidate that is held against the skin

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

    def reasons(self) -> Reasons | None:
        """Why the chosen candidate stands where it stands."""
        chosen = self.chosen
        if chosen is None or self.atlas is None or self._altered is None:
            return None
        return reasons(self.atlas, self._altered, self.drawing.normal_cm2(self.atlas), chosen)

    def remainders(self) -> dict[View, Remainders]:
        """Explained, unexplained and spared skin of the chosen candidate."""
        chosen = self.chosen
        if chosen is None or self.atlas is None:
            return {}
        return remainders(self.atlas, self.drawing, chosen.territory)

    # The case file

    def new(self) -> None:
        """An empty case."""
        self._take(Case(Drawing()), None)

    def open(self, path: Path, untitled: bool = False) -> None:
        """Open a case; an untitled one (a sample) will ask for a name when saved.

        Raises CaseError if the file cannot be used, and RequestError before ``begin``;
        then nothing has changed.
        """
        if self.atlas is None:
            raise RequestError("The body map is not ready yet; open the case in a moment.")
        case = open_case(path, self.atlas)
        self._take(case, None if untitled else path)

    def save(self, path: Path) -> None:
        """Save the case.

        Raises CaseError if that fails; then the file is as it was.
        """
        case = self._case.with_drawing(self.drawing)
        save_case(case, path)
        self._case, self.path, self._saved = case, path, self.drawing
        self.case_changed.emit()

    def _take(self, case: Case, path: Path | None) -> None:
        self._case, self.path = case, path
        self._history = History(case.drawing)
        self._saved = case.drawing
        self._chosen = None
        self.selection_changed.emit()
        self.drawing_changed.emit()
        self.case_changed.emit()
        self._rank()

    def tell(self, sentence: str, failure: bool = False) -> None:
        """Say one sentence to the person."""
        self.told.emit(sentence, failure)
