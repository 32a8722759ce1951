"""Gestures that mark skin: what a press, a movement and a release do to the drawing.

A gesture belongs to the view it began in. Each that changes anything becomes one
named step of the history. Knows the session, not the canvas.
"""

from bodymap.atlas import Atlas
from bodymap.findings.brush import BrushStroke
from bodymap.geometry import Skin
from bodymap.gui.choices import Tool
from bodymap.gui.session import Session
from bodymap.terms import Change, Modality, Side, View


class StrokeGesture:
    """A brush or eraser dragged over the skin of one view.

    ``radius`` is in view units. While it moves, the ranking follows by arithmetic
    on the covered area of each cell; what brush and old paint share inside one
    cell is then taken as average. The end of the stroke computes it exactly.
    """

    def __init__(
        self, session: Session, atlas: Atlas, view: View, radius: float, erases: bool
    ) -> None:
        self.view = view
        self.radius = radius
        self.erases = erases
        self.modality = session.choices.modality
        self.change = session.choices.change
        self._session = session
        self._atlas = atlas
        self._stroke = BrushStroke(atlas, view, radius)

    def move_to(self, x: float, y: float) -> Skin | None:
        """Sweep to a place of the view; returns the skin that this adds."""
        added = self._stroke.move_to(x, y)
        if added is not None:
            change = None if self.erases else self.change
            self._session.preview(self.modality, change, self._stroke.covered_cm2)
        return added

    def finish(self) -> None:
        """Make the stroke a step of the history, exactly."""
        session, skin = self._session, self._stroke.skin
        drawing = session.drawing
        if skin is not None and self.erases:
            changed = drawing.erased(self._atlas, self.modality, self.view, skin)
        elif skin is not None:
            changed = drawing.painted(self._atlas, self.modality, self.change, self.view, skin)
        else:
            changed = drawing
        if changed.layers == drawing.layers:
            session.end_preview()
        else:
            session.step(stroke_name(self.erases, self.modality, self.change), changed)

    def cancel(self) -> None:
        """Give the stroke up; nothing was drawn."""
        self._session.end_preview()


def stroke_name(erases: bool, modality: Modality, change: Change) -> str:
    """What undo calls a stroke."""
    return f"Erase {modality.label}" if erases else f"Paint {change} {modality.label}"


def erases(tool: Tool, modifier: bool) -> bool:
    """Whether a stroke takes findings away: the eraser, or the brush with the modifier."""
    return (tool is Tool.ERASER) != modifier


def mark_region(session: Session, id_: str, side: Side, remove: bool = False) -> None:
    """Mark a whole named region as found, or take all findings of this modality off it.

    Raises RequestError for an unknown region.
    """
    atlas = session.atlas
    if atlas is None:
        return
    chosen = session.choices
    region = atlas.facts.parts.get(id_) or atlas.facts.regions[id_]
    words = f"{region.label} ({side})"
    if remove:
        changed = session.drawing.without_region(atlas, chosen.modality, id_, side)
        name = f"Clear {chosen.modality.label} on {words}"
    else:
        changed = session.drawing.with_region(atlas, chosen.modality, chosen.change, id_, side)
        name = f"Mark {chosen.change} {chosen.modality.label} on {words}"
    if changed.layers != session.drawing.layers:
        session.step(name, changed)
