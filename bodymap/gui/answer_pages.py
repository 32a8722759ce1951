"""The place where a step is answered: one page for each way of answering."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from bodymap.classification.scores import POINTS
from bodymap.examination.exchange import recorded_change
from bodymap.examination.parts import Part
from bodymap.examination.steps import Kind, Step
from bodymap.findings.record import BedsideRecord
from bodymap.gui.answer_fields import Choice
from bodymap.gui.cold_points import ColdPoints
from bodymap.gui.compare_answers import CompareAnswers
from bodymap.gui.fork_answers import ForkAnswers
from bodymap.gui.readings import SideNumbers
from bodymap.gui.romberg_count import RombergCount
from bodymap.gui.trial_run import TrialRun
from bodymap.language import later, tr
from bodymap.terms import Change, Side

POKES, MOVES = 10, 5
"""Trials of a run. Sharp or dull: 10 (ISNCSCI booklet, from memory). Moves: 5, all right by
guessing in 1 of 32."""

SHARP_DULL = {
    "sharp": later("touch with the POINT"),
    "dull": later("touch with the ROUNDED END"),
}
UP_DOWN = {"up": later("move UP"), "down": later("move DOWN")}


class AnswerPages(QStackedWidget):
    """Shows the page of a step and passes its answer on."""

    compared = Signal(object, object)
    """Changes by side (None: not testable), and values beside them by side."""
    trials_done = Signal(str, object, object)
    """Point, side, and the trials."""
    romberg_done = Signal(str, object)
    numbers_taken = Signal(object)
    cold_point = Signal(str)
    """Ask temperature at this key point as well."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self._step: Step | None = None
        self._record = BedsideRecord()
        self._moved: dict[Side, tuple[Change, dict[str, float]]] = {}
        self._nothing = QWidget()
        self.compare = CompareAnswers()
        self.compare.answered.connect(self._answered)
        self.fork = ForkAnswers()
        self.fork.taken.connect(self.compared)
        self.moves = QPushButton(tr("Prompt the moves, up or down   (M)"))
        self.moves.setAccessibleName(tr("Prompt the moves, up or down"))
        self.moves.clicked.connect(self.begin_moves)
        self.cold = ColdPoints()
        self.cold.chosen.connect(self.cold_point)
        self._comparing = self._column(self.compare, self.fork, self.moves, self.cold)
        self.move_run = TrialRun(UP_DOWN)
        self.move_run.finished.connect(self._moved_side)
        self.move_words = QLabel()
        self._moving = self._column(self.move_words, self.move_run)
        self._make_poking()
        self.romberg = RombergCount()
        self.romberg.finished.connect(self.romberg_done)
        self.touches = SideNumbers(tr(" of 3"), 3, 3)
        self.distances = SideNumbers(" mm", 99, None)
        for numbers in (self.touches, self.distances):
            numbers.taken.connect(self.numbers_taken)
        self._pages: tuple[QWidget, ...] = (
            self._nothing, self._comparing, self._moving, self._poking, self.romberg,
            self.touches, self.distances,
        )  # fmt: skip
        for page in self._pages:
            self.addWidget(page)

    def _column(self, *widgets: QWidget) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in widgets:
            column.addWidget(widget)
        column.addStretch(1)
        return page

    def _make_poking(self) -> None:
        self.point = Choice()
        self.point.addItems(list(POINTS))
        self.point.setCurrentText("C6")
        self.point.setAccessibleName(tr("Key point to test sharp or dull at"))
        self.side = Choice()
        for side in (Side.RIGHT, Side.LEFT):
            self.side.addItem(side.word, side)
        self.side.setAccessibleName(tr("Side to test sharp or dull on"))
        self.begin = QPushButton(tr("Begin   (Space)"))
        self.begin.setAccessibleName(tr("Begin the prompts"))
        self.begin.clicked.connect(self._begin_pokes)
        self.run = TrialRun(SHARP_DULL)
        self.run.finished.connect(
            lambda trials: self.trials_done.emit(
                self.point.currentText(), Side(self.side.currentData()), trials
            )
        )
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        for widget in (self.point, self.side, self.begin):
            line.addWidget(widget)
        self._poking = self._column(row, self.run)

    def show_step(self, step: Step | None, record: BedsideRecord) -> None:
        """Show how a step is answered; what was begun for another one is dropped."""
        same = step is not None and self._step is not None and step.key == self._step.key
        self._step, self._record = step, record
        if step is None:
            self._turn_to(self._nothing)
            return
        if same and (step.kind is not Kind.COMPARE or self.currentWidget() is self._moving):
            return  # A run that is under way goes on.
        if not same:
            self._moved.clear()
            self.fork.readings.clear()
        page = {
            Kind.TRIALS: self._poking, Kind.ROMBERG: self.romberg, Kind.COUNT: self.touches,
            Kind.DISTANCE: self.distances,
        }.get(step.kind, self._comparing)  # fmt: skip
        if page is self._comparing:
            points = step.part in (Part.LIGHT_TOUCH, Part.PINPRICK)
            kept = step.part in (Part.VIBRATION, Part.JOINT_POSITION)
            starring = points and step.kind is Kind.COMPARE
            self.compare.show_for(self._asked(step), kept, starring, fresh=not same)
            self.fork.setVisible(step.part is Part.VIBRATION)
            self.moves.setVisible(step.part is Part.JOINT_POSITION)
            self.cold.setVisible(step.part is Part.TEMPERATURE)
            self.fork.show_step(step, record)
        elif page is self._poking:
            self._offer_point()
            for choice in (self.point, self.side):
                choice.setEnabled(True)
            self.run.hide()
            self.begin.show()
        elif page is self.romberg:
            self.romberg.reset()
        elif isinstance(page, SideNumbers):
            page.clear()
        self._turn_to(page)

    def forget(self) -> None:
        """Drop whatever was begun; nothing of it is recorded."""
        self._step = None
        self._moved.clear()
        self.romberg.reset()
        self._turn_to(self._nothing)

    def _asked(self, step: Step) -> tuple[Side, ...]:
        """The sides to answer now: the one that is open where the other is answered."""
        sides = step.sides or (Side.RIGHT, Side.LEFT)
        if not step.sides:
            return sides
        open_ = tuple(s for s in sides if self._record.at(*step.path(s)) is None)
        return open_ or sides

    def _turn_to(self, page: QWidget) -> None:
        # A page that is not seen must not make the panel taller.
        for each in self._pages:
            policy = QSizePolicy.Policy.Preferred if each is page else QSizePolicy.Policy.Ignored
            each.setSizePolicy(QSizePolicy.Policy.Preferred, policy)
        self.setCurrentWidget(page)
        self.adjustSize()

    def hold_focus(self) -> None:
        """Take the focus, so that the keys answer."""
        first: dict[QWidget | None, QWidget] = {
            self._comparing: self.compare.same, self._poking: self.begin,
            self.romberg: self.romberg.buttons["ready"], self.touches: self.touches.take,
            self.distances: self.distances.boxes[Side.RIGHT],
            self._moving: self.move_run.buttons["up"],
        }  # fmt: skip
        first.get(self.currentWidget(), self).setFocus()

    # Comparison

    def _answered(self, side: Side, change: Change | None) -> None:
        step = self._step
        if step is None:
            return
        asked = self._asked(step)
        sides = asked if side is Side.BOTH else (side,)
        values = self.fork.readings.values if step.part is Part.VIBRATION else {}
        values = {s: v for s, v in values.items() if s in (step.sides or asked)}
        found: dict[Side, Change | None] = dict.fromkeys(asked, Change.NORMAL)
        found |= dict.fromkeys(sides, change)
        if change is not None and self.fork.doubts(found, values):
            return
        self.compared.emit(dict.fromkeys(sides, change), values)

    # Runs

    def _offer_point(self) -> None:
        """Where pinprick was found altered, sharp against dull is best tested."""
        for point in POINTS:
            for number, side in enumerate((Side.RIGHT, Side.LEFT)):
                change = recorded_change(self._record, Part.PINPRICK, side, point)
                if change in (Change.REDUCED, Change.ABSENT):
                    self.point.setCurrentText(point)
                    self.side.setCurrentIndex(number)
                    return

    def _begin_pokes(self) -> None:
        self.begin.hide()
        for choice in (self.point, self.side):
            choice.setEnabled(False)  # The run belongs to the spot where it began.
        self.run.show()
        self.run.begin(POKES)
        self.run.buttons["sharp"].setFocus()

    def begin_moves(self) -> None:
        """Prompt moves in random order, on one side after the other."""
        if self._step is not None:
            self._moved.clear()
            self._next_side()

    def _next_side(self) -> None:
        step = self._step
        assert step is not None
        side = next(s for s in step.sides if s not in self._moved)
        self.move_words.setText(
            tr("<b>{place}, {side}</b>: eyes closed", place=step.label, side=side.word)
        )
        self.move_run.begin(MOVES)
        self._turn_to(self._moving)
        self.move_run.buttons["up"].setFocus()

    def _moved_side(self, trials: tuple[tuple[str, str], ...]) -> None:
        step = self._step
        if step is None:
            return
        side = next(s for s in step.sides if s not in self._moved)
        right = sum(given == said for given, said in trials)
        self._moved[side] = (
            judged_moves(right, len(trials)),
            {"correct": right, "trials": len(trials)},
        )
        if len(self._moved) < len(step.sides):
            self._next_side()
            return
        moved = dict(self._moved)
        self.compared.emit(
            {s: change for s, (change, _) in moved.items()},
            {s: values for s, (_, values) in moved.items()},
        )

    def key(self, key: int) -> bool:
        """Answer by a key; says whether it was one of ours."""
        page = self.currentWidget()
        if page is self._comparing:
            if key == ord("M") and self.moves.isVisibleTo(self):
                self.begin_moves()
                return True
            return self.compare.key(key)
        if page is self._moving:
            return self.move_run.key(key)
        if page is self._poking:
            if self.begin.isVisibleTo(self) and key == ord(" "):
                self._begin_pokes()
                return True
            return self.run.isVisibleTo(self) and self.run.key(key)
        if isinstance(page, RombergCount | SideNumbers):
            return page.key(key)
        return False


def judged_moves(right: int, of: int) -> Change:
    """What a run of moves says: all right is normal, more than half is reduced, no better
    than half is absent. Judgement."""
    if right == of:
        return Change.NORMAL
    return Change.REDUCED if 2 * right > of else Change.ABSENT
