"""What lies under the pointer, in words: side, region, dermatome, nerve, findings."""

from shapely import Point

from bodymap.gui.session import Session
from bodymap.language import capital, tr
from bodymap.terms import View


def words_at(session: Session, view: View, x: float, y: float) -> str:
    """One line about a place of a view; empty outside the skin."""
    atlas = session.atlas
    place = atlas.place(view, x, y) if atlas else None
    if atlas is None or place is None:
        return ""
    roots = ", ".join(place.nerve_segments)
    said = tr(
        "{side}: {region}   ·   dermatome {dermatome}   ·   {nerve} ({roots})",
        side=capital(place.side.word), region=place.region.label, dermatome=place.dermatome,
        nerve=place.nerve_name, roots=roots,
    )  # fmt: skip
    found = findings_at(session, view, x, y)
    if not found:
        return said
    return tr("{place}   ·   found: {found}", place=said, found=", ".join(found))


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
            found.append(tr("{change} {modality}", change=change.word, modality=modality.label))
    return found
