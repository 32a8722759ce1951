"""The guided examination: one question at a time, answered with one press."""

from dataclasses import replace

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QLineEdit,
    QWidget,
)

from bodymap.examination import answers
from bodymap.examination.course import Course
from bodymap.examination.levels import level_in_question
from bodymap.examination.parts import Part
from bodymap.examination.steps import Kind, Plan, Step, is_done
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.gui.examination_widgets import ExaminationWidgets
from bodymap.gui.session import Session
from bodymap.gui.step_words import leading_words, targets_of, title_of
from bodymap.language import later, tr
from bodymap.report.appearance import LIGHT, Theme
from bodymap.terms import Change, Side

LEVEL = later("A level is in question: examine every segment.")


class ExaminationPanel(ExaminationWidgets):
    """Goes through the plan; every answer is one step that can be undone."""

    note_wanted = Signal()
    """The chart note is to be copied."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._theme: Theme = LIGHT
        self.course = Course()
        self._in_front = False
        for button, call in (
            (self.back, self.go_back), (self.skip, self.pass_over), (self.clear, self.clear_step),
            (self.take, self.take_points),
        ):  # fmt: skip
            button.clicked.connect(call)
        self.parts.changed.connect(self._replan)
        self.parts.chosen.connect(self.go_to_part)
        self.every.toggled.connect(lambda _: self._replan())
        self.age.editingFinished.connect(self._take_age)
        self.remark.returnPressed.connect(self._note)
        pages = self.pages
        pages.compared.connect(self._compared)
        pages.romberg_done.connect(self._romberg)
        pages.trials_done.connect(self._trials)
        pages.numbers_taken.connect(self._numbers)
        pages.cold_point.connect(self._ask_cold)
        session.atlas_ready.connect(self._begin)
        session.drawing_changed.connect(self._changed)
        session.begun_anew.connect(self._begin_anew)
        session.ranking_changed.connect(self._show_leading)
        self.note.clicked.connect(self.note_wanted)
        self._begin()
        self._show_leading()

    def set_theme(self, theme: Theme) -> None:
        """Show cautions in the colour of another theme."""
        self._theme = theme
        self._show()

    # The way through the plan

    @property
    def step(self) -> Step | None:
        """The question in hand."""
        return self.course.step

    @property
    def _record(self) -> BedsideRecord:
        return self._session.drawing.record

    def _begin(self) -> None:
        if self._session.atlas is not None:
            self.course.refresh(self._record)
        self._show()

    def _replan(self) -> None:
        cold = self.course.plan.temperature_at
        self.course.refresh(self._record, Plan(self.parts.parts, self.every.isChecked(), cold))
        self._show()

    def _ask_cold(self, point: str) -> None:
        self.course.ask_temperature_at(point, self._record)
        self._arrive()

    def _arrive(self) -> None:
        """Show the question that was moved to, ready for its answer."""
        self.remark.setText(self._remark_kept(self.step) if self.step is not None else "")
        self._show()
        self.pages.hold_focus()

    def _remark_kept(self, step: Step) -> str:
        """The remark on a step that the record holds."""
        return str(self._record.at("remarks", step.key) or "")

    def _leave(self) -> None:
        """Keep a remark that was typed before the question is left unanswered."""
        step = self.step
        if step is not None and self.remark.text().strip() != self._remark_kept(step):
            self._note_remark(step)

    def go_to_part(self, part: Part) -> None:
        """Go to the first open question of a part, or to its first."""
        self._leave()
        self.course.go_to(part, self._record)
        self._arrive()

    def go_back(self) -> None:
        """The question that was answered or passed over before this one."""
        self._leave()
        self.course.go_back(self._record)
        self._arrive()

    def pass_over(self) -> None:
        """Leave this question out for now; its part in the list leads back to it."""
        self._leave()
        self.course.pass_over(self._record)
        self._arrive()

    # Answers

    def _take(self, drawing: Drawing, words: str) -> None:
        step = self.step
        if step is not None and self.remark.text().strip() != self._remark_kept(step):
            drawing = answers.with_note(drawing, step.key, self.remark.text())
        self._session.step(words, drawing)
        if step is None or is_done(step, self._record) or step.kind is Kind.REFERENCE:
            self.course.go_on(self._record)
        self._arrive()

    def _compared(
        self, found: dict[Side, Change | None], values: dict[Side, dict[str, float]]
    ) -> None:
        step, atlas = self.step, self._session.atlas
        if step is None or atlas is None:
            return
        drawing = self._session.drawing
        asked = step.sides or (Side.RIGHT, Side.LEFT)
        before = {s: None if not step.sides else drawing.record.at(*step.path(s)) for s in asked}
        # The side that was not named is normal, unless it was answered already, or nothing
        # was compared because this one cannot be tested: then it is asked alone.
        whole = dict(found)
        if any(change is not None for change in found.values()):
            unsaid = [s for s in asked if s not in found and before[s] is None]
            whole |= dict.fromkeys(unsaid, Change.NORMAL)
        drawing = answers.compared(
            atlas, drawing, step, whole, values, self.pages.compare.starred.isChecked()
        )
        reason = self.remark.text()
        for side, change in found.items():
            why = reason if change is None else ""
            drawing = answers.with_note(drawing, step.key_of(side), why, "reasons")
        if any(change is None for change in found.values()):
            self.remark.setText(self._remark_kept(step))
        said = ", ".join(
            f"{side.word} {tr('not testable') if c is None else c.word}"
            for side, c in whole.items()
        )
        self._take(drawing, f"{step.part.method.title} {step.label}: {said}")

    def _romberg(self, result: str, seconds: float | None) -> None:
        reason, drawing = self.remark.text(), self._session.drawing
        if result == "not done":
            self.remark.setText(str(self._record.at("remarks", "romberg") or ""))
        else:
            reason = ""
        self._take(
            answers.with_romberg(drawing, result, seconds, reason),
            tr("Romberg: {result}", result=tr(result)),
        )

    def _trials(self, point: str, side: Side, trials: tuple[tuple[str, str], ...]) -> None:
        right = sum(given == said for given, said in trials)
        self._take(
            answers.with_trials(self._session.drawing, point, side, trials),
            tr(
                "Sharp or dull, {point} {side}: {right} of {count}",
                point=point,
                side=side.word,
                right=right,
                count=len(trials),
            ),
        )

    def _numbers(self, numbers: dict[Side, int]) -> None:
        step, drawing = self.step, self._session.drawing
        if step is None or not numbers:
            return
        if step.kind is Kind.COUNT:
            drawing = answers.with_touches(drawing, step, numbers)
        else:
            drawing = answers.with_distances(drawing, step, numbers)
        said = ", ".join(f"{side.word} {number}" for side, number in numbers.items())
        self._take(drawing, f"{step.part.method.title}, {step.label}: {said}")

    def _take_age(self) -> None:
        age = self.age.value() or None
        if age != self._record.at("age"):
            record = self._record.with_value(("age",), age)
            self._session.step(tr("Age"), self._session.drawing.with_record(record))

    def clear_step(self) -> None:
        """Take the answer of this question back, as if it had not been asked."""
        step, atlas = self.step, self._session.atlas
        if step is not None and atlas is not None and is_done(step, self._record):
            drawing = answers.cleared(atlas, self._session.drawing, step)
            self._session.step(tr("Clear {step}", step=step.key), drawing)
        self.pages.hold_focus()

    def take_points(self) -> None:
        """Score the key points that painted skin covers."""
        from bodymap.examination.exchange import points_taken

        atlas = self._session.atlas
        if atlas is not None:
            drawing = points_taken(atlas, self._session.drawing)
            if drawing.record != self._session.drawing.record:
                self._session.step(tr("Points from the drawing"), drawing)
            else:
                self._session.tell(
                    tr("No key point is covered by painted skin that is not scored.")
                )
        self.pages.hold_focus()

    def _note(self) -> None:
        if self.step is not None and is_done(self.step, self._record):
            self._note_remark(self.step)
        self.pages.hold_focus()

    def _note_remark(self, step: Step) -> None:
        drawing = answers.with_note(self._session.drawing, step.key, self.remark.text())
        self._session.step(tr("Remark on {step}", step=step.key), drawing)

    # What is shown

    def _changed(self) -> None:
        """Undo, another case: the question may be another one, or its sides."""
        self.course.refresh(self._record)
        self._show()

    def _begin_anew(self) -> None:
        """Another person, or another day: nothing that was begun may reach the new record."""
        self.course = Course(replace(self.course.plan, temperature_at=()))
        self.pages.forget()
        self.age.clearFocus()
        self.course.refresh(self._record)
        self.remark.setText(self._remark_kept(self.step) if self.step is not None else "")
        self._show()

    def _show(self) -> None:
        step, record = self.step, self._record
        ready = self._session.atlas is not None
        age = record.at("age")
        if not self.age.hasFocus():
            self.age.setValue(age if isinstance(age, int) else 0)
        self.parts.tell(self.course.plan, record, step.part if step else None)
        asked = ready and not self.every.isChecked() and level_in_question(record.scores)
        self.level.setText(f"<b>{tr(LEVEL)}</b>" if asked else "")
        self.level.setVisible(asked)
        self.back.setEnabled(self.course.can_go_back)
        self.skip.setEnabled(step is not None)
        self.clear.setEnabled(step is not None and is_done(step, record))
        self.pages.show_step(step if ready else None, record)
        self.remark.setVisible(step is not None)
        if step is None:
            self.title.setText(tr("<b>Everything that was planned is answered or passed over.</b>"))
            self.method.setText(tr("Choose a part to go back to it. Edit → Copy the chart note."))
            self.caution.setText("")
        else:
            self.title.setText(title_of(step, record))
            self.method.setText(step.part.method.hint)
            self.caution.setText(
                f"<span style='color:{self._theme.warning}'>{step.part.method.caution}</span>"
            )
        self.caution.setVisible(step is not None and bool(step.part.method.caution))
        self._point()

    def _point(self) -> None:
        """Show on the figure where to touch, and take the instrument in hand."""
        atlas, step = self._session.atlas, self.step
        if atlas is None or step is None or not self._in_front:
            self._session.aim(())
            return
        if step.part.modality is not None:
            self._session.choose(modality=step.part.modality)
        self._session.aim(targets_of(atlas, step))

    def _show_leading(self) -> None:
        self.leading.setText(leading_words(self._session.ranking))

    def seen(self, in_front: bool) -> None:
        """Point at the skin only while the questions are in front."""
        self._in_front = in_front
        self._show()

    # Keys

    def event(self, event: QEvent) -> bool:
        # While a question is answered the letters of the tools mean answers.
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            plain = event.modifiers() in (
                Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier,
            )  # fmt: skip
            if plain and not self._typing() and event.key() < Qt.Key.Key_F1:
                event.accept()
                return True
        return super().event(event)

    def _typing(self) -> bool:
        return isinstance(self.focusWidget(), QLineEdit | QAbstractSpinBox)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        keys = {
            Qt.Key.Key_Backspace: self.go_back,
            Qt.Key.Key_N: self.pass_over,
            Qt.Key.Key_Delete: self.clear_step,
        }
        if self._typing() or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().keyPressEvent(event)
        elif event.isAutoRepeat():
            return  # A key that is held down must not answer questions nobody has seen.
        elif self.pages.key(event.key()):
            return
        elif Qt.Key(event.key()) in keys:
            keys[Qt.Key(event.key())]()
        else:
            super().keyPressEvent(event)
