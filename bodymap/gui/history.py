"""Undo and redo by keeping old values: a drawing never changes, so a step is a name and a value.

Knows drawings, not Qt.
"""

from dataclasses import dataclass, field

from bodymap.findings.drawing import Drawing


@dataclass(frozen=True)
class Step:
    """A named change of the drawing and the value on the far side of it."""

    name: str
    drawing: Drawing


@dataclass(frozen=True)
class History:
    """The drawing now, the steps that led here and the steps taken back (nearest last)."""

    present: Drawing = field(default_factory=Drawing)
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()

    def after(self, name: str, drawing: Drawing) -> "History":
        """The history after one more step; steps taken back are forgotten."""
        return History(drawing, (*self.past, Step(name, self.present)))

    def undone(self) -> "History":
        """The history one step earlier, or itself at the beginning."""
        if not self.past:
            return self
        step = self.past[-1]
        return History(step.drawing, self.past[:-1], (*self.future, Step(step.name, self.present)))

    def redone(self) -> "History":
        """The history one step later, or itself at the end."""
        if not self.future:
            return self
        step = self.future[-1]
        return History(step.drawing, (*self.past, Step(step.name, self.present)), self.future[:-1])

    @property
    def undo_name(self) -> str | None:
        """What undo would take back."""
        return self.past[-1].name if self.past else None

    @property
    def redo_name(self) -> str | None:
        """What redo would bring again."""
        return self.future[-1].name if self.future else None
