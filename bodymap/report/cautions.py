"""The cautions that stand wherever a result is read.

Wording after the usual red-flag advice for the cauda equina and the cord (bedside
practice; timings differ from place to place, so none is given here).
"""

import numpy as np

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.terms import DERMATOMES, View

CAUTION = "Supports a trained examiner; does not diagnose and excludes no disease."
"""One line, small and permanent."""

CAUTION_LONG = (
    "bodymap supports a trained examiner. It compares drawn skin with published maps, which "
    "differ from each other and from person to person; it does not diagnose, it excludes no "
    "disease, and it does not replace an examination. Decisions belong to licensed practice "
    "and local pathways."
)

URGENT = (
    "Needs urgent assessment by the local pathway whatever the ranking says: new saddle "
    "numbness, change of bladder, bowel or sexual function, both legs affected, weakness that "
    "progresses, a sensory level, sudden loss on one side of the body or face, fever, cancer "
    "or injury."
)
"""Red flags of altered sensation, for the places that have room for them."""

SADDLE = (
    "Altered saddle skin may indicate the cauda equina or the conus: a new change needs "
    "emergency assessment by the local pathway, also where the ranking names another site."
)

CONSENT = (
    "Examining perianal and genital skin: explain why, ask for consent, offer a chaperone, "
    "and note if it was declined."
)
"""Shown where the saddle view opens."""

SADDLE_SEGMENTS = ("S3", "S4", "S5")
LEAST_SADDLE_CM2 = 0.05
"""Less altered saddle skin than a pin's head is no finding. Judgement."""


def involves_saddle(atlas: Atlas, drawing: Drawing) -> bool:
    """Whether skin of the saddle view, or of S3 to S5, is altered."""
    cells = atlas.cells
    saddle = np.isin(cells.dermatome, [DERMATOMES.index(s) for s in SADDLE_SEGMENTS])
    saddle |= cells.view == list(View).index(View.SADDLE)
    return float(drawing.altered_cm2(atlas)[saddle].sum()) >= LEAST_SADDLE_CM2


def cautions(atlas: Atlas, drawing: Drawing) -> tuple[str, ...]:
    """The cautions that belong to the result of a drawing; the one that matters most first."""
    general = (CAUTION, URGENT)
    return (SADDLE, *general) if involves_saddle(atlas, drawing) else general
