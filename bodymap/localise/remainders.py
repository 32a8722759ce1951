"""The drawing held against one territory, as skin: explained, unexplained and spared.

Cells that a named region covers whole, and cells that no free-hand skin touches, are told
apart as cells, which is quick; shapes are cut only in cells that are painted in part.
"""

from dataclasses import dataclass

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.territories import Mask, Territory
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Skin, common, union_of, without
from bodymap.terms import View


@dataclass(frozen=True)
class Remainders:
    """Skin of one view: explained, unexplained and spared (None where there is none)."""

    explained: Skin | None
    unexplained: Skin | None
    spared: Skin | None


def remainders(atlas: Atlas, drawing: Drawing, territory: Territory) -> dict[View, Remainders]:
    """The drawing held against a territory, as geometry, view by view."""
    whole, taken = drawing.altered_whole(atlas), territory.extent.astype(bool)
    found = {}
    for view in VIEWS:
        made = _in_view(atlas, view, whole, drawing.altered_freehand(view), taken)
        if made != Remainders(None, None, None):
            found[view] = made
    return found


def _in_view(
    atlas: Atlas, view: View, whole: Mask, freehand: Skin | None, taken: Mask
) -> Remainders:
    """``whole`` and ``taken`` are masks of cells, ``freehand`` is skin of the view."""
    touched = np.zeros(len(atlas.cells), dtype=bool)
    if freehand is not None:
        indices, shared = atlas.painted_units(view, freehand)
        touched[indices[shared > 0]] = True
    open_ = touched & ~whole

    def skin(mask: Mask) -> Skin | None:
        return atlas.skin_of(mask, view)

    mine, others = skin(open_ & taken), skin(open_ & ~taken)
    return Remainders(
        _joined(skin(whole & taken), common(freehand, mine)),
        _joined(skin(whole & ~taken), common(freehand, others)),
        _joined(skin(taken & ~whole & ~open_), without(mine, freehand)),
    )


def _joined(a: Skin | None, b: Skin | None) -> Skin | None:
    return union_of((a, b))
