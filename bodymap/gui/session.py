"""The one place that knows the state of a sitting: case, history, choices, ranking.

Widgets read it, call it, and listen to its few signals, each of which is a fact
that changed. They never talk to each other. The session draws nothing and asks
nothing; errors that a person can meet pass through to the caller.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from bodymap.atlas import Atlas
from bodymap.errors import RequestError
from bodymap.findings.case_file import Case, save_case
from bodymap.findings.contradiction import is_contradictory
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Floats
from bodymap.gui.choices import Choices
from bodymap.gui.history import History
from bodymap.gui.shown import Shown
from bodymap.gui.thinker import Thinker
from bodymap.language import tr
from bodymap.localise.answer import Answer
from bodymap.localise.evidence import Evidence
from bodymap.localise.ranking import Ranking, Scales
from bodymap.terms import Change, Modality

PREVIEW_MS = 60
"""While a stroke is under way it is ranked this often, milliseconds."""

PREVIEWED = 12
"""Candidates that are told apart while a stroke is under way."""


class Session(Shown):
    """One sitting with one case. Nothing can be drawn until ``begin`` gave it an atlas."""

    atlas_ready = Signal()
    drawing_changed = Signal()
    answer_changed = Signal()
    """The whole answer (pairs, next questions) has come, or is out of date."""
    choices_changed = Signal()
    case_changed = Signal()
    """Another file, or saved and unsaved changed places."""
    begun_anew = Signal()
    """Another case, or another visit, is in hand: what was under way belongs to no one."""
    told = Signal(str, bool)
    """One sentence for the person, and whether it is a failure."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.choices = Choices()
        self.previewing = False
        """Whether the ranking that is being announced is of a stroke under way."""
        self.path: Path | None = None
        self._history = History()
        self._saved = self._history.present
        self._case = Case(Drawing())
        self.answer: Answer | None = None
        """The whole answer to what is drawn; None while it is being worked out."""
        self._thinker = Thinker(self)
        self._thinker.answered.connect(self._answered)
        self._evidence: Evidence | None = None
        self._sums: Floats | None = None
        self.practising = False
        """Whether a hidden lesion is being looked for, so that no answer may be shown."""
        self._pending: tuple[Modality, Change | None, Floats] | None = None
        self._soon = QTimer(self, singleShot=True, interval=PREVIEW_MS)
        self._soon.timeout.connect(self._preview)

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
        was_dirty, before = self.dirty, self.drawing
        self._history = history
        if len(self.drawing.earlier) != len(before.earlier):
            self.begun_anew.emit()
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
    def scales(self) -> Scales | None:
        """What drawings are ranked with."""
        return self._scales

    @property
    def evidence(self) -> Evidence | None:
        """What is drawn, as evidence."""
        return self._evidence

    def preview(self, modality: Modality, change: Change | None, covered_cm2: Floats) -> None:
        """Rank a drawing that is still under the brush, shortly: ``covered_cm2`` of each
        cell is about to be found so, or, without a change, erased.

        A pointer moves more often than anyone can read, so a movement that comes before
        the last one was ranked waits with it; the newest counts.
        """
        self._thinker.forget()
        self._pending = (modality, change, covered_cm2)
        if not self._soon.isActive():
            self._soon.start()

    def _preview(self) -> None:
        pending, self._pending = self._pending, None
        if self._scales is None or self._evidence is None or pending is None:
            return
        evidence = self._evidence.with_painted(*pending)
        if self._sums is None:
            self._sums = self._scales.likelihoods.sums(self._evidence.columns)
        sums = self._sums.copy()
        self._scales.likelihoods.add_change(sums, evidence.columns - self._evidence.columns)
        ranking = self._scales.rank(
            evidence, self.drawing.signs, pairs=False, most=PREVIEWED, sums=sums
        )
        self.ranking = self._scales.with_kept(ranking, self._pinned)
        self.previewing = True
        self.ranking_changed.emit()
        self.previewing = False

    def forget(self) -> None:
        """Stop working out the answer: nobody waits for it any more."""
        self._soon.stop()
        self._thinker.forget()

    def end_preview(self) -> None:
        """Rank what is really drawn again, after a stroke that came to nothing."""
        self._rank()

    def _rank(self) -> None:
        if self.atlas is None or self._scales is None:
            return
        self._soon.stop()
        self._pending = None
        self._evidence = Evidence.of(self._scales.catalogue.spots, self.drawing)
        self._sums = None
        self.answer = None
        contradictory = is_contradictory(self.atlas, self.drawing)
        # At once what takes milliseconds; pairs and the next spots come from the side.
        self._show(
            self._scales.rank(self._evidence, self.drawing.signs, contradictory, pairs=False)
        )
        self._thinker.think(self._scales, self.drawing)

    def _answered(self, answer: Answer) -> None:
        if answer.drawing is self.drawing:
            self.answer = answer
            self._show(answer.ranking)
            self.answer_changed.emit()

    def _show(self, ranking: Ranking) -> None:
        kept = self._scales.with_kept(ranking, self._pinned) if self._scales else ranking
        self.ranking = kept
        self.ranking_changed.emit()
        if self.answer is None:
            self.answer_changed.emit()
        if self._chosen is not None:
            if self.chosen is None:
                self._chosen = None
            self.selection_changed.emit()

    # The case file

    @property
    def case(self) -> Case:
        """The case as it is now, saved or not."""
        return self._case.with_drawing(self.drawing)

    def restore(self, case: Case, path: Path | None) -> None:
        """Take up work that was left over, as one step that can be undone; it is unsaved."""
        before = case.opened
        self._case, self.path = case, path
        self._history = History(before).after(tr("Take up the work again"), case.drawing)
        self._saved = before
        self._show_findings()
        self.begun_anew.emit()
        self.drawing_changed.emit()
        self.case_changed.emit()
        self._rank()

    def detach(self) -> None:
        """What is in hand from now on belongs to no file: saving it asks for a name."""
        if self.path is not None:
            self.path = None
            self.case_changed.emit()

    def new(self) -> None:
        """An empty case."""
        self._take(Case(Drawing()), None)

    def open(self, path: Path, untitled: bool = False) -> None:
        """Open a case; an untitled one (a sample) will ask for a name when saved.

        Raises CaseError if the file cannot be used, and RequestError before ``begin``;
        then nothing has changed.
        """
        if self.atlas is None:
            raise RequestError(tr("The body map is not ready yet; open the case in a moment."))
        # Imported when it is first used, so that the window is there sooner.
        from bodymap.examination.exchange import opened

        case = opened(path, self.atlas)
        self._take(case, None if untitled else path)

    def save(self, path: Path) -> None:
        """Save the case.

        Raises CaseError if that fails; then the file is as it was.
        """
        case = self.case
        save_case(case, path)
        self._case, self.path, self._saved = case, path, self.drawing
        self.case_changed.emit()

    def _take(self, case: Case, path: Path | None) -> None:
        self._case, self.path = case, path
        self._history = History(case.drawing)
        self._saved = case.drawing
        self._show_findings()
        self.begun_anew.emit()
        self.drawing_changed.emit()
        self.case_changed.emit()
        self._rank()

    def tell(self, sentence: str, failure: bool = False) -> None:
        """Say one sentence to the person."""
        self.told.emit(sentence, failure)
