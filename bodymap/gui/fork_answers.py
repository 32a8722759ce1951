"""Readings of a fork as answers: what they mean at an age and place, and whether they say
something else than the answer that is given."""

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from bodymap.examination.norms import felt_from_eighths, felt_from_seconds, lowest_normal_eighths
from bodymap.examination.steps import Step
from bodymap.findings.record import BedsideRecord
from bodymap.gui.readings import ForkReadings
from bodymap.language import tr
from bodymap.terms import Change, Side


class ForkAnswers(QWidget):
    """Readings of both sides, with the limit that holds for them."""

    taken = Signal(object, object)
    """Changes and readings by side: the readings are the answer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._step: Step | None = None
        self._record = BedsideRecord()
        self.readings = ForkReadings()
        self.readings.changed.connect(self._judge)
        self.readings.entered.connect(self._take_readings)
        self.norm = QLabel()
        self.norm.setWordWrap(True)
        self.norm.setAccessibleName(tr("What the readings mean"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.readings)
        column.addWidget(self.norm)

    def show_step(self, step: Step, record: BedsideRecord) -> None:
        """Judge readings at this place, by the age in this record."""
        self._step, self._record = step, record
        self._judge()

    def doubts(
        self,
        found: Mapping[Side, Change | None],
        values: Mapping[Side, Mapping[str, float]],
    ) -> bool:
        """Whether a reading says something else than the answer; then it is told instead."""
        for side, reading in values.items():
            judged = self._judged(reading)
            said = found.get(side)
            if judged is not None and said is not None:
                normal = Change.NORMAL in (judged, said) and judged is not said
                if normal:
                    words = tr(
                        "The reading on the {side} says {judged}. Enter takes the readings; or "
                        "mend the reading.", side=side.word, judged=judged.word,
                    )  # fmt: skip
                    self.norm.setText(f"<b>{words}</b>")
                    self.readings.boxes[side].setFocus()
                    return True
        return False

    def _judged(self, reading: Mapping[str, float]) -> Change | None:
        """What a reading says at this age and place, or None where there is no norm."""
        site = self._step.site if self._step is not None else None
        if site is None or not site.norm:
            return None
        if "eighths" in reading:
            return felt_from_eighths(reading["eighths"], self._age, site.limb)
        if "seconds" in reading and site.id == "great-toe":
            return felt_from_seconds(reading["seconds"])
        return None

    @property
    def _age(self) -> int | None:
        age = self._record.at("age")
        return age if isinstance(age, int) else None

    def _judge(self) -> None:
        """Say what the readings mean at this age."""
        step = self._step
        if step is None or step.site is None:
            return
        limit = None if self._age is None else lowest_normal_eighths(self._age, step.site.limb)
        if not step.site.norm:
            words = tr("There is no norm for readings at this place.")
        elif self._age is None:
            words = tr("Graduated fork: its lower limit needs the age (above).")
        elif limit is None:
            words = tr("There is no lower limit for this age.")
        else:
            words = tr(
                "Lower limit at {age} years on the {limb}: {limit:g}/8 (Martina 1998). Enter "
                "takes the readings as the answer.",
                age=self._age, limb=tr(step.site.limb, "on the"), limit=limit,
            )  # fmt: skip
        self.norm.setText(words)

    def _take_readings(self) -> None:
        """Let readings of all sides that are asked be the answer, where there is a norm."""
        step = self._step
        if step is None or step.site is None:
            return
        values = self.readings.values
        found: dict[Side, Change | None] = {}
        for side in step.sides:
            judged = self._judged(values.get(side, {}))
            if judged is None:
                words = tr("Enter needs a reading on each side that is asked, and a norm for it.")
                self.norm.setText(f"<b>{words}</b>")
                return
            found[side] = judged
        self.taken.emit(found, values)
