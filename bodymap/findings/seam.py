"""Where front and back of the skin meet: what is painted over the edge of one view goes on
in the other, as a hand goes round a limb."""

from collections.abc import Iterable

import shapely

from bodymap.atlas import Atlas
from bodymap.geometry import Skin, common, frame, framed, mirrored, pieces_beside, without
from bodymap.terms import View

SEAM_FROM, SEAM_TO = 30.0, 850.0
"""Heights between which front and back meet at the edge, view units: below are the soles,
above the sides of the head."""

OTHER_SIDE = {View.FRONT: View.BACK, View.BACK: View.FRONT}
"""The view in which skin goes on over the edge; soles and sides of the head have none."""

BESIDE = 0.2
"""Folded skin goes on from what was touched if it comes so near to it, view units: more than
outlines are straightened by, less than a gap between fingers."""


def over_the_seam(atlas: Atlas, view: View, skin: Skin) -> dict[View, Skin]:
    """What of some skin lies beyond the outline of its view, on the other side of the body.

    ``skin`` is in units of its view, inside and outside the outline; the answer is in units
    of the other view. Empty where no skin goes on.
    """
    figures = atlas.figures
    beyond = folded_on(atlas, view, without(skin, framed(figures[view].outline, skin)), [skin])
    inside = {v: common(s, framed(figures[v].outline, s)) for v, s in beyond.items()}
    return {v: s for v, s in inside.items() if s is not None}


def folded_on(
    atlas: Atlas, view: View, outside: Skin | None, touched: Iterable[Skin]
) -> dict[View, Skin]:
    """As ``over_the_seam``, for skin that lies outside the outline, whole: it is folded
    inwards over the nearest edge, and may reach beyond the outline of the other view.

    Only skin that goes on from what was ``touched`` counts: the gap between two legs is partly
    nearer to the other one, whose back nobody meant.
    """
    other = OTHER_SIDE.get(view)
    if other is None or outside is None:
        return {}
    try:
        return _folded_on(atlas, view, other, outside, touched)
    except shapely.GEOSException:
        return {}  # What cannot be folded cleanly stays on its side; the stroke itself is kept.


def _folded_on(
    atlas: Atlas, view: View, other: View, outside: Skin, touched: Iterable[Skin]
) -> dict[View, Skin]:
    edge = atlas.figures[view].edge
    folded = edge.folded(outside)
    if folded is not None and not SEAM_FROM <= folded.bounds[1] <= folded.bounds[3] <= SEAM_TO:
        folded = common(folded, frame(SEAM_FROM, SEAM_TO))
    if folded is None:
        return {}
    on_seam = pieces_beside(common(folded, framed(edge.coarse, folded)), touched, BESIDE)
    # The patient's left lies on the other side of the sheet from behind.
    return {} if on_seam is None else {other: mirrored(on_seam)}
