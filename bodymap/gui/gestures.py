"""Gestures that draw skin by moving: what a press, a movement and a release do to the drawing.

A gesture belongs to the view it began in, and may go on over the edge to the other side.
Each that changes anything becomes one named step of the history. Knows the session, not
the canvas.
"""

from bodymap.atlas import Atlas
from bodymap.findings.brush import BrushStroke
from bodymap.findings.drawing import Drawing
from bodymap.findings.seam import over_the_seam
from bodymap.geometry import Skin, enclosed
from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.terms import View

LIGHTEST = 0.3
"""Width of the brush under the lightest stylus, as a share of its full width."""


class Gesture:
    """What all gestures have in hand: view, modality, change, and whether they erase."""

    def __init__(self, session: Session, atlas: Atlas, view: View, erases: bool) -> None:
        self.view = view
        self.erases = erases
        self.modality = session.choices.modality
        self.change = session.choices.change
        self._session = session
        self._atlas = atlas

    def drawn(self, pieces: dict[View, Skin]) -> Drawing:
        """The drawing with some skin marked, or with its findings taken off."""
        changed = self._session.drawing
        for view, skin in pieces.items():
            if self.erases:
                changed = changed.erased(self._atlas, self.modality, view, skin)
            else:
                changed = changed.painted(self._atlas, self.modality, self.change, view, skin)
        return changed

    def step(self, name: str, changed: Drawing) -> bool:
        """Make a step of a drawing that is another; says whether it is."""
        if changed.layers == self._session.drawing.layers:
            return False
        erased = tr("Erase {modality}", modality=self.modality.label)
        self._session.step(erased if self.erases else name, changed)
        return True


class StrokeGesture(Gesture):
    """A brush or eraser dragged over the skin.

    ``radius`` is in view units. While it moves, the ranking follows by arithmetic
    on the covered area of each cell; what brush and old paint share inside one
    cell is then taken as average. The end of the stroke computes it exactly.
    """

    def __init__(
        self,
        session: Session,
        atlas: Atlas,
        view: View,
        radius: float,
        erases: bool,
        over_the_edge: bool = True,
    ) -> None:
        super().__init__(session, atlas, view, erases)
        self.radius = radius
        self._stroke = BrushStroke(atlas, view, radius, over_the_edge)

    def move_to(self, x: float, y: float, pressure: float = 1.0) -> dict[View, Skin]:
        """Sweep to a place of the view; returns the skin that this adds, by view. A lighter
        stylus (``pressure`` below 1) makes the brush narrower."""
        self._stroke.radius = self.radius * (LIGHTEST + (1 - LIGHTEST) * pressure)
        added = self._stroke.move_to(x, y)
        if added:
            change = None if self.erases else self.change
            self._session.preview(self.modality, change, self._stroke.covered_cm2)
        return added

    def go_beyond(self) -> dict[View, Skin]:
        """The skin that the stroke has added on the other side since this was asked last."""
        return self._stroke.go_beyond()

    def finish(self) -> None:
        """Make the stroke a step of the history, exactly."""
        name = tr(
            "Paint {change} {modality}", change=self.change.word, modality=self.modality.label
        )
        if not self.step(name, self.drawn(self._stroke.pieces())):
            self._session.end_preview()

    def cancel(self) -> None:
        """Give the stroke up; nothing was drawn."""
        self._session.end_preview()


class OutlineGesture(Gesture):
    """A closed line round some skin of one view: drawn freely, or from corner to corner.

    ``corners`` are the places of the line so far, in view units. A line is drawn generously
    past the edge, so it ends there unless it is told to go on.
    """

    def __init__(self, session: Session, atlas: Atlas, view: View, erases: bool) -> None:
        super().__init__(session, atlas, view, erases)
        self.corners: list[tuple[float, float]] = []

    def add(self, x: float, y: float) -> None:
        """Lead the line to a place of the view."""
        if not self.corners or self.corners[-1] != (x, y):
            self.corners.append((x, y))

    def pieces(
        self, over_the_edge: bool, last: tuple[float, float] | None = None
    ) -> dict[View, Skin]:
        """What the line encloses if it is closed now, or from one last place, by view."""
        skin = enclosed([*self.corners, last] if last is not None else self.corners)
        if skin is None:
            return {}
        beyond = over_the_seam(self._atlas, self.view, skin) if over_the_edge else {}
        return {self.view: skin} | beyond

    def finish(self, over_the_edge: bool = False) -> None:
        """Close the line and mark what it encloses, as one step."""
        name = tr(
            "Outline {change} {modality}", change=self.change.word, modality=self.modality.label
        )
        self.step(name, self.drawn(self.pieces(over_the_edge)))
