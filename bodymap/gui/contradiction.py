"""Whether some skin is marked both altered and normal in one modality.

Painting cannot do that (a new finding replaces the old one), but a file can hold it.
"""

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.geometry import common
from bodymap.terms import Change, View

NOTABLE = 1.0
"""Smaller overlaps, square view units, are the rim of two drawings that meet. Judgement."""


def contradictory(atlas: Atlas, drawing: Drawing) -> bool:
    """True if altered and normal skin of one modality overlap notably in a view."""
    for modality, change, layer in drawing:
        if change.altered:
            normal = drawing.layer(modality, Change.NORMAL)
            for view in View if normal else ():
                both = common(layer.skin(atlas, view), normal.skin(atlas, view))
                if both is not None and both.area > NOTABLE:
                    return True
    return False
