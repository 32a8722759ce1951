"""Commands for what is in hand, what is drawn, and what the figure shows."""

from PySide6.QtGui import QAction

from bodymap.gui.canvas import Canvas
from bodymap.gui.choices import Tool, resized
from bodymap.gui.computing import computed
from bodymap.gui.panels import Panels
from bodymap.gui.session import Session
from bodymap.gui.tools import change_here, smooth
from bodymap.language import tr
from bodymap.terms import Change, MapName, Modality

SMOOTHING = 4.0
"""Notches and spikes up to twice this wide are smoothed away, view units (7 mm of skin)."""


class FigureCommands:
    """The part of the window that answers the actions of marking and looking."""

    session: Session
    canvas: Canvas
    panels: Panels
    actions_by_id: dict[str, QAction]

    def choose_modality(self, modality: Modality) -> None:
        """Take another instrument."""
        self.session.choose(modality=modality)

    def choose_change(self, change: Change) -> None:
        """Mark what was found from now on as this."""
        self.session.choose(change=change)

    def choose_tool(self, tool: Tool) -> None:
        """Take another tool."""
        self.session.choose(tool=tool)

    def draw_by_keys(self) -> None:
        """Let keys lead the hand over the figure, or no longer; where the focus is elsewhere
        they go on with it."""
        if self.session.choices.by_keys and not self.canvas.hasFocus():
            self.canvas.setFocus()
            self.actions_by_id["by-keys"].setChecked(True)
        else:
            self.session.choose(by_keys=not self.session.choices.by_keys)

    def size_brush(self, steps: int) -> None:
        """Make the brush larger or smaller."""
        self.session.choose(brush=resized(self.session.choices.brush, steps))

    def choose_overlay(self, overlay: MapName | None) -> None:
        """Lay another map over the figure, or none."""
        self.session.choose(overlay=overlay)

    def smooth(self) -> None:
        """Smooth what is drawn with the instrument in hand."""
        with computed(self.session):
            smooth(self.session, SMOOTHING)

    def change_here(self) -> None:
        """Give the skin under the pointer the finding in hand."""
        place = self.canvas.pointer_place()
        if place is not None:
            with computed(self.session):
                change_here(self.session, *place)

    def undo(self) -> None:
        """Give up a stroke under way, or else take the last step back."""
        if not self.canvas.cancel_stroke():
            self.session.undo()

    def redo(self) -> None:
        """Make the step again."""
        self.session.redo()

    def mirror(self) -> None:
        """Put all findings on the other side."""
        if self.session.drawing:
            self.session.step(tr("Mirror to the other side"), self.session.drawing.mirrored())

    def zoom_by(self, factor: float) -> None:
        """Nearer or farther."""
        self.canvas.zoom(factor)

    def fit(self) -> None:
        """Show the whole body."""
        self.canvas.fit()

    def deselect(self) -> None:
        """Give up a stroke under way, or else the chosen candidate."""
        if self.canvas.cancel_stroke():
            return
        self.panels.clear()

    def pin(self) -> None:
        """Keep the chosen candidate in view, or let it go."""
        if self.session.chosen is None:
            self.session.tell(tr("Choose a candidate in the list first; P then pins it."))
        self.session.pin()
