"""What lies under the pointer, in words: side, region, dermatome, nerve, findings."""

from shapely import Point

from bodymap.gui.session import Session
from bodymap.terms import View


def words_at(session: Session, view: View, x: float, y: float) -> str:
    """One line about a place of a view; empty outside the skin."""
    atlas = session.atlas
    place = atlas.place(view, x, y) if atlas else None
    if atlas is None or place is None:
        return ""
    roots = ", ".join(place.nerve_segments)
    said = (
        f"{place.side.value.capitalize()}: {place.region.label}   ·   dermatome "
        f"{place.dermatome}   ·   {place.nerve_name} ({roots})"
    )
    found = findings_at(session, view, x, y)
    return f"{said}   ·   found: {', '.join(found)}" if found else said


def findings_at(session: Session, view: View, x: float, y: float) -> list[str]:
    """What was found at a place, such as 'reduced pinprick'."""
    atlas = session.atlas
    if atlas is None or not session.drawing:
        return []
    cell, point, found = atlas.cell_at(view, x, y), Point(x, y), []
    for modality, change, layer in session.drawing:
        named = layer.region_cells(atlas)
        drawn = layer.drawn.get(view)
        if (named is not None and cell is not None and named[cell]) or (
            drawn is not None and drawn.contains(point)
        ):
            found.append(f"{change} {modality.label}")
    return found
