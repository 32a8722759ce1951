"""Gestures that mark skin: what a press, a movement and a release do to the drawing.

A gesture belongs to the view it began in. Each that changes anything becomes one
named step of the history. Knows the session, not the canvas.
"""

from collections.abc import Iterator

import shapely

from bodymap.atlas import Atlas
from bodymap.findings.brush import BrushStroke
from bodymap.geometry import Skin, common, enclosed, folded_over, mirrored, piece_at, smoothed
from bodymap.gui.choices import Choices, Tool
from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.terms import Change, Modality, Side, View

SEAM_FROM, SEAM_TO = 30.0, 850.0
"""Heights between which front and back meet at the edge, view units: below are the soles,
above the sides of the head."""

LIGHTEST = 0.3
"""Width of the brush under the lightest stylus, as a share of its full width."""


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
        self.over_the_edge = True
        """Whether the brush goes on over the edge of the figure, from front to back."""
        self.modality = session.choices.modality
        self.change = session.choices.change
        self._session = session
        self._atlas = atlas
        self._stroke = BrushStroke(atlas, view, radius)

    def move_to(self, x: float, y: float, pressure: float = 1.0) -> Skin | None:
        """Sweep to a place of the view; returns the skin that this adds. A lighter stylus
        (``pressure`` below 1) makes the brush narrower."""
        self._stroke.radius = self.radius * (LIGHTEST + (1 - LIGHTEST) * pressure)
        added = self._stroke.move_to(x, y)
        if added is not None:
            change = None if self.erases else self.change
            self._session.preview(self.modality, change, self._stroke.covered_cm2)
        return added

    def finish(self) -> None:
        """Make the stroke a step of the history, exactly."""
        session, skin = self._session, self._stroke.skin
        drawing = session.drawing
        changed = drawing
        for view, piece in self._pieces(skin):
            if self.erases:
                changed = changed.erased(self._atlas, self.modality, view, piece)
            else:
                changed = changed.painted(self._atlas, self.modality, self.change, view, piece)
        if changed.layers == drawing.layers:
            session.end_preview()
        else:
            session.step(stroke_name(self.erases, self.modality, self.change), changed)

    def _pieces(self, skin: Skin | None) -> Iterator[tuple[View, Skin]]:
        """The stroke in its view, and what goes on over the edge on the other side."""
        if skin is None:
            return
        yield self.view, skin
        other = {View.FRONT: View.BACK, View.BACK: View.FRONT}.get(self.view)
        if not self.over_the_edge or other is None:
            return
        box = shapely.box(-1e4, SEAM_FROM, 1e4, SEAM_TO)
        folded = folded_over(skin, self._atlas.figures[self.view].outline)
        on_limbs = common(folded, box)
        if on_limbs is not None:
            # The patient's left lies on the other side of the sheet from behind.
            yield other, mirrored(on_limbs)

    def cancel(self) -> None:
        """Give the stroke up; nothing was drawn."""
        self._session.end_preview()


class OutlineGesture:
    """A closed line round some skin of one view: drawn freely, or from corner to corner.

    ``corners`` are the places of the line so far, in view units.
    """

    def __init__(self, session: Session, atlas: Atlas, view: View, erases: bool) -> None:
        self.view = view
        self.erases = erases
        self.modality = session.choices.modality
        self.change = session.choices.change
        self.corners: list[tuple[float, float]] = []
        self._session = session
        self._atlas = atlas

    def add(self, x: float, y: float) -> None:
        """Lead the line to a place of the view."""
        if not self.corners or self.corners[-1] != (x, y):
            self.corners.append((x, y))

    def finish(self) -> None:
        """Close the line and mark what it encloses, as one step."""
        skin = enclosed(self.corners)
        session = self._session
        drawing = session.drawing
        if skin is None:
            return
        if self.erases:
            changed = drawing.erased(self._atlas, self.modality, self.view, skin)
        else:
            changed = drawing.painted(self._atlas, self.modality, self.change, self.view, skin)
        if changed.layers != drawing.layers:
            session.step(
                tr("Erase {modality}", modality=self.modality.label)
                if self.erases
                else tr(
                    "Outline {change} {modality}",
                    change=self.change.word,
                    modality=self.modality.label,
                ),
                changed,
            )


def mark_territory(session: Session, view: View, x: float, y: float, remove: bool = False) -> None:
    """Mark the whole territory of the overlay at a place (the dermatome without one), in
    every view that shows it; or take findings of this modality off it."""
    atlas, chosen = session.atlas, session.choices
    cell = atlas.cell_at(view, x, y) if atlas else None
    place = atlas.place(view, x, y) if atlas else None
    if atlas is None or cell is None or place is None:
        return
    if chosen.overlay == "regions":
        mark_region(session, place.region.whole, place.side, remove)
        return
    cells = atlas.cells
    if chosen.overlay == "nerves":
        mask, name = cells.nerve == cells.nerve[cell], place.nerve_name
    else:
        mask, name = (
            cells.dermatome == cells.dermatome[cell],
            tr("dermatome {dermatome}", dermatome=place.dermatome),
        )
    mask &= cells.left == cells.left[cell]
    changed = session.drawing
    for other in View:
        skin = atlas.skin_of(mask, other)
        if skin is None:
            continue
        if remove:
            changed = changed.erased(atlas, chosen.modality, other, skin)
        else:
            changed = changed.painted(atlas, chosen.modality, chosen.change, other, skin)
    if changed.layers != session.drawing.layers:
        session.step(mark_name(remove, chosen, name, place.side), changed)


def smooth(session: Session, radius: float) -> None:
    """Smooth what is drawn with the instrument in hand, in every view, as one step.

    ``radius`` is in view units; skin outside the outline is dropped.
    """
    atlas, modality = session.atlas, session.choices.modality
    if atlas is None:
        return
    changed = session.drawing
    for m, change, layer in session.drawing:
        if m is not modality:
            continue
        for view, skin in layer.drawn.items():
            inside = common(smoothed(skin, radius), atlas.figures[view].outline)
            kept = changed.layer(m, change).with_drawn(view, inside)
            changed = changed.with_layer(m, change, kept)
    if changed.layers != session.drawing.layers:
        session.step(tr("Smooth {modality}", modality=modality.label), changed)


def change_here(session: Session, view: View, x: float, y: float) -> None:
    """Give the piece of skin at a place the finding in hand, as one step.

    A named region stays a named region.
    """
    atlas, chosen = session.atlas, session.choices
    if atlas is None:
        return
    place = atlas.place(view, x, y)
    for modality, change, layer in session.drawing:
        if modality is not chosen.modality or change is chosen.change:
            continue
        named = place and next(
            (r for r in layer.regions if r[1] is place.side
             and r[0] in (place.region.id, place.region.whole)), None
        )  # fmt: skip
        piece = piece_at(layer.drawn.get(view), x, y)
        if named:
            changed = session.drawing.with_region(atlas, modality, chosen.change, *named)
        elif piece is not None:
            changed = session.drawing.painted(atlas, modality, chosen.change, view, piece)
        else:
            continue
        words = tr(
            "Change {before} to {change} {modality}",
            before=change.word, change=chosen.change.word, modality=modality.label,
        )  # fmt: skip
        session.step(words, changed)
        return


def stroke_name(erases: bool, modality: Modality, change: Change) -> str:
    """What undo calls a stroke."""
    if erases:
        return tr("Erase {modality}", modality=modality.label)
    return tr("Paint {change} {modality}", change=change.word, modality=modality.label)


def mark_name(remove: bool, chosen: Choices, place: str, side: Side) -> str:
    """What undo calls the marking of a whole region or territory, or its clearing."""
    modality = chosen.modality.label
    if remove:
        return tr(
            "Clear {modality} on {place} ({side})", modality=modality, place=place, side=side.word
        )
    return tr(
        "Mark {change} {modality} on {place} ({side})",
        change=chosen.change.word, modality=modality, place=place, side=side.word,
    )  # fmt: skip


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
    if remove:
        changed = session.drawing.without_region(atlas, chosen.modality, id_, side)
    else:
        changed = session.drawing.with_region(atlas, chosen.modality, chosen.change, id_, side)
    if changed.layers != session.drawing.layers:
        session.step(mark_name(remove, chosen, region.label, side), changed)
