"""Skin that was found both altered and normal in one modality: test it again."""

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.findings.drawing import Drawing
from bodymap.geometry import common, union_of
from bodymap.terms import Change, Modality

LEAST_CM2 = 0.05
"""Less shared skin than this is where two drawn edges meet, or smaller than the
head of a pin. Judgement."""


def contradictory_cm2(atlas: Atlas, drawing: Drawing) -> float:
    """Largest area, over the modalities, that is both altered and normal, cm²."""
    return max((_shared_cm2(atlas, drawing, modality) for modality in Modality), default=0.0)


def is_contradictory(atlas: Atlas, drawing: Drawing) -> bool:
    """Whether more skin than a pin's head is both altered and normal in one modality."""
    return contradictory_cm2(atlas, drawing) >= LEAST_CM2


def _shared_cm2(atlas: Atlas, drawing: Drawing, modality: Modality) -> float:
    normal = drawing.layer(modality, Change.NORMAL)
    altered = [la for m, change, la in drawing if m is modality and change.altered]
    if not normal or not altered:
        return 0.0
    shared = {}
    for view in VIEWS:
        skin = common(
            union_of(layer.skin(atlas, view) for layer in altered), normal.skin(atlas, view)
        )
        if skin is not None:
            shared[view] = skin
    return float(np.sum(atlas.painted_cm2(shared)))
