"""Practice: touch a simulated patient, name the hidden lesion, read the debrief."""

import random

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from bodymap.errors import BodymapError
from bodymap.findings.drawing import Drawing
from bodymap.gui.background import Background
from bodymap.gui.choices import INSTRUMENT_NAMES
from bodymap.gui.search_list import SearchList
from bodymap.gui.session import Session
from bodymap.language import capital, later, lower_first, phrase, tr
from bodymap.practice.hidden_patients import Difficulty
from bodymap.practice.sitting import Practice, Sitting
from bodymap.terms import Side, View

HINT = later("Touch the skin with cotton, pin, cold or fork: click on the figure.")
HITS_PX = 110
"""Room for regions, muscles and reflexes that were searched for."""

PATIENTS = 10_000
"""Patients are numbered up to this, so that a number can be told to others."""

Target = tuple[str, str]
"""What is tested, skin or sign, and its id."""


def _side(side: Side) -> str:
    """A side in English, as it stands behind a lesion."""
    return later("both sides") if side is Side.BOTH else side.value


class PracticePanel(QWidget):
    """One sitting after another. While one goes on the ranking should not be seen."""

    practising_changed = Signal(bool)
    """A sitting has begun, or is over."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._practice: Practice | None = None
        self.sitting: Sitting | None = None
        self._make_widgets()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        first = QHBoxLayout()
        first.addWidget(self.difficulty, 1)
        first.addWidget(self.new)
        layout.addLayout(first)
        layout.addWidget(self.complaint)
        layout.addWidget(self.hint)
        layout.addWidget(self.testing, 2)
        layout.addWidget(self.pages, 3)
        layout.addWidget(self.background)
        layout.addStretch(0)
        session.atlas_ready.connect(self._fill)
        session.choices_changed.connect(self._show)
        self._fill()

    def _make_widgets(self) -> None:
        self.difficulty = QComboBox()
        for difficulty in Difficulty:
            self.difficulty.addItem(tr(difficulty.label), difficulty)
        self.difficulty.setAccessibleName(tr("How the hidden lesion shows"))
        self.difficulty.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.new = self._button(tr("&New patient"), tr("Begin with a new patient (Alt+N)"))
        self.new.clicked.connect(lambda: self.start())
        self.complaint = self._label(tr("Complaint of the patient"))
        self.hint = self._label(tr("What to do"))
        self.targets = SearchList(
            tr("Or type a region, muscle or reflex"),
            tr("Regions, muscles and reflexes found"),
            True,
        )
        self.targets.list.setMaximumHeight(HITS_PX)
        self.targets.taken.connect(lambda _: self.test_current())
        self.side = QComboBox()
        for side in (Side.RIGHT, Side.LEFT):
            self.side.addItem(capital(side.word), side)
        self.side.setAccessibleName(tr("Side of the patient to test"))
        self.test = self._button(
            tr("&Test"), tr("Test what was typed, on this side (Enter or Alt+T)")
        )
        self.test.clicked.connect(self.test_current)
        self.touches = QListWidget()
        self.touches.setAccessibleName(tr("Touches and answers"))
        self.touches.setWordWrap(True)
        self.touches.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.touches.setSpacing(1)
        self.touches.setMinimumHeight(60)
        self.testing = QWidget()
        column = QVBoxLayout(self.testing)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.targets)
        row = QHBoxLayout()
        row.addWidget(self.side, 1)
        row.addWidget(self.test, 1)
        column.addLayout(row)
        column.addWidget(self.touches)
        self._make_naming()

    def _make_naming(self) -> None:
        self.lesions = SearchList(
            tr("Name the lesion: search, with side"),
            tr("Lesions to name: Enter names"),
            careful=True,
        )
        self.lesions.taken.connect(lambda _: self.name_current())
        self.name_it = self._button(
            tr("Name &it"), tr("Name the chosen lesion (Enter in the list, Alt+I)")
        )
        self.name_it.clicked.connect(self.name_current)
        self.give_up = self._button(
            tr("&Give up"), tr("End without a name and see the truth (Alt+G)")
        )
        self.give_up.clicked.connect(self.end)
        self.debrief = QTextBrowser()
        self.debrief.setAccessibleName(tr("Debrief"))
        self.background = Background()
        self.background.stopped.connect(self._not_judged)
        naming = QWidget()
        column = QVBoxLayout(naming)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.lesions)
        buttons = QHBoxLayout()
        buttons.addWidget(self.name_it)
        buttons.addWidget(self.give_up)
        column.addLayout(buttons)
        self.pages = QStackedWidget()
        self.pages.addWidget(naming)
        self.pages.addWidget(self.debrief)
        for search in (self.targets, self.lesions):
            search.current_changed.connect(self._show)

    def _button(self, text: str, tip: str) -> QPushButton:
        button = QPushButton(text)
        button.setToolTip(tip)
        button.setAccessibleName(text.replace("&", ""))
        return button

    def _label(self, name: str) -> QLabel:
        label = QLabel()
        label.setWordWrap(True)
        label.setAccessibleName(name)
        return label

    def _fill(self) -> None:
        scales, atlas = self._session.scales, self._session.atlas
        if scales is not None and atlas is not None:
            facts = atlas.facts
            skin = {**facts.regions, **facts.parts}
            entries: list[tuple[str, Target]] = [
                (region.english, ("skin", id_)) for id_, region in skin.items()
            ]
            entries += [
                (phrase("{sign} ({kind})", sign=s.english, kind=s.kind), ("sign", s.id))
                for s in facts.signs.values()
            ]
            self.targets.fill(entries)
            catalogue = scales.catalogue
            named = catalogue.hypotheses[: catalogue.named]
            self.lesions.fill(
                (phrase("{lesion}, {side}", lesion=h.english, side=_side(h.side)), (h.id, h.side))
                for h in named
            )
        self._show()

    @property
    def practising(self) -> bool:
        """Whether a sitting goes on."""
        return self.sitting is not None and not self.sitting.over

    def start(self, difficulty: Difficulty | None = None, seed: int | None = None) -> None:
        """Begin with a new patient; what is drawn gives way, as a step that can be undone."""
        scales = self._session.scales
        if scales is None:
            self._session.tell(tr("The body map is not ready yet; try again in a moment."), True)
            return
        if self._practice is None or self._practice.scales is not scales:
            self._practice = Practice(scales)
        chosen = difficulty or Difficulty(self.difficulty.currentData())
        self.difficulty.setCurrentIndex(list(Difficulty).index(chosen))
        number = random.randrange(1, PATIENTS) if seed is None else seed
        self.sitting = Sitting(self._practice, chosen, number)
        self.background.give_up()
        self.touches.clear()
        self.targets.search.clear()
        self.lesions.search.clear()
        self.pages.setCurrentIndex(0)
        self.side.setCurrentIndex(1 if self.sitting.complaint_at[1] is Side.LEFT else 0)
        # The answers of a simulated patient must never reach the file of a real one.
        self._session.detach()
        self.practising_changed.emit(True)
        if self._session.drawing:
            # Earlier visits of the case stay with it; only what is in hand gives way.
            empty = self._session.drawing.with_findings_of(Drawing())
            self._session.step(tr("New patient"), empty)
        self._show()
        self.targets.search.setFocus()

    def touched(self, view: View, x: float, y: float) -> bool:
        """Touch the skin at a place of a view with the instrument in hand; says whether
        the patient answered."""
        atlas = self._session.atlas
        place = atlas.place(view, x, y) if atlas else None
        if place is None or not self.practising:
            return False
        self.side.setCurrentIndex(0 if place.side is Side.RIGHT else 1)
        return self._ask(("skin", place.region.id), place.side)

    def test_current(self) -> None:
        """Test the region, muscle or reflex that was searched for."""
        target = self.targets.current
        if isinstance(target, tuple) and self.practising:
            self._ask(target, Side(self.side.currentData()))
            self.targets.search.clear()

    def _ask(self, target: Target, side: Side) -> bool:
        sitting, atlas = self.sitting, self._session.atlas
        if sitting is None or atlas is None:
            return False
        kind, id_ = target
        try:
            if kind == "sign":
                sitting.test_sign(id_, side)
            else:
                sitting.touch(id_, side, self._session.choices.modality)
        except BodymapError as error:
            self._session.tell(str(error), failure=True)
            return False
        from bodymap.practice.words import answered

        words = answered(atlas, sitting.steps[-1])
        self.touches.addItem(words)
        self.touches.setCurrentRow(self.touches.count() - 1)
        drawing = self._session.drawing.with_findings_of(sitting.drawing)
        self._session.step(words.partition(" ")[2], drawing)
        self._session.tell(words)
        self._show()
        return True

    def name_current(self) -> None:
        """Name the chosen lesion; this ends the sitting."""
        chosen = self.lesions.current
        if self.sitting is not None and self.practising and isinstance(chosen, tuple):
            self.sitting.name(*chosen)
            self._tell_truth()

    def end(self) -> None:
        """Give up; nothing happens without a sitting."""
        if self.sitting is not None and self.practising:
            self.sitting.give_up()
            self._tell_truth()

    def _tell_truth(self) -> None:
        sitting = self.sitting
        assert sitting is not None

        # Imported when it is first used, so that the window is there sooner.
        from bodymap.gui.debrief_html import debrief_html
        from bodymap.practice.debrief import Debrief, debriefed
        from bodymap.practice.words import judged

        def told(debrief: Debrief) -> None:
            self.debrief.setHtml(debrief_html(sitting, debrief))
            self._session.tell(judged(sitting.practice.textbook, debrief))
            self.debrief.setFocus()

        def failed(error: Exception) -> None:
            self.debrief.setPlainText(tr("The sitting cannot be judged: {error}", error=error))

        self.debrief.setPlainText(tr("Your path is being compared with the best questions…"))
        self.pages.setCurrentIndex(1)
        self.practising_changed.emit(False)
        self._show()
        self.background.start(tr("Comparing…"), lambda: debriefed(sitting), told, failed)

    def _not_judged(self) -> None:
        if self.sitting is not None:
            truth = self.sitting.practice.textbook.name(self.sitting.truth.number)
            self.debrief.setPlainText(
                tr("The lesion was: {truth}. Your path was not compared.", truth=truth)
            )

    def _show(self) -> None:
        """Show what can be done now."""
        on, sitting = self.practising, self.sitting
        self.new.setEnabled(self._session.scales is not None)
        self.testing.setVisible(on)
        self.pages.setVisible(sitting is not None)
        self.test.setEnabled(on and self.targets.current is not None)
        self.name_it.setEnabled(on and self.lesions.current is not None)
        instrument = lower_first(tr(INSTRUMENT_NAMES[self._session.choices.modality]))
        if sitting is None:
            self.complaint.setText(
                tr("<b>A simulated patient with a hidden lesion answers you.</b>")
            )
            self.hint.setText(tr("Choose how the lesion shows, then begin with a new patient."))
            return
        words = tr(
            "<b>“{words}”</b> Patient {number}.", words=tr(sitting.complaint), number=sitting.seed
        )
        self.complaint.setText(words)
        over = tr("The sitting is over; your answers stay on the figure.")
        self.hint.setText(
            tr("{hint} In hand: {instrument}.", hint=tr(HINT), instrument=instrument)
            if on
            else over
        )
