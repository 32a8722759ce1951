"""What one press does to the drawing: whole regions and territories, smoothing, another
finding for the skin at a place.

Each that changes anything becomes one named step of the history. Knows the session, not
the canvas; what is drawn by moving stands in ``gestures``.
"""

from bodymap.geometry import common, piece_at, smoothed
from bodymap.gui.choices import Choices, Tool
from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.terms import Side, View


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
