"""Length-dependent neuropathy: loss below one cut height, the same on both sides.

The cut height is continuous: it is integrated over a fine grid of distances from
the toes. Fingers join when the legs are taken to about the knee (some teach
mid-shin); small-fibre forms spare touch, vibration and joint position, large-fibre
forms spare pinprick and temperature. Where the loss ends in one limb only, or in
the hands alone, the ring follows no lesion: those are part of "something else".
"""

import math
from collections.abc import Iterator

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask
from bodymap.language import later, phrase
from bodymap.localise.grading import Grades
from bodymap.localise.hypotheses import NO_LESION, Hypothesis, Row
from bodymap.localise.limb_distance import STEP, LimbDistance
from bodymap.localise.weights import CORE, DISTAL, EDGE, FRINGE, OUTSIDE, PROXIMAL, Weights
from bodymap.terms import Side

SOFT_CM = 4.0
"""Half width of the border of a stocking. Judgement: patients give a graded edge."""

HIGHEST_CM = 96.0
"""Highest cut in the legs: the groin lies at about 100 cm from the toes."""

HANDS_JOIN_CM = (46.0, 56.0, 66.0)
"""Distance from the toes at which fingers join: mid-shin, upper shin, knee."""

SHARES = (0.12, 0.36, 0.66, 0.86)
"""Shares of a cell below the cut that part the grades outside, fringe, edge,
proximal and core."""

FORMS = (("", 0.6), ("small-fibre", 0.2), ("large-fibre", 0.2))
"""Forms and their shares. Judgement."""

NOTES = {
    "": later("all fibres, up to {cut:.0f} cm from the toe tips"),
    "small-fibre": later("small fibres, up to {cut:.0f} cm from the toe tips"),
    "large-fibre": later("large fibres, up to {cut:.0f} cm from the toe tips"),
}
"""What a form is called, up to a height."""


def polyneuropathy(atlas: Atlas, limbs: LimbDistance, weights: Weights) -> Hypothesis:
    """The one hypothesis of a length-dependent neuropathy, with all its rows."""
    rows = []
    cuts = np.arange(6.0, HIGHEST_CM, 3.0)
    legs, arms = limbs.limb == 2, limbs.limb == 1
    none = np.zeros(len(legs), dtype=np.int8)
    for cut in cuts:
        leg = graded(limbs, float(cut), legs)
        hands = [j for j in HANDS_JOIN_CM if cut > j]
        ways = [leg] * 2 + [
            np.maximum(leg, graded(limbs, float(cut) - j, arms)).astype(np.int8) for j in hands
        ]
        for grades in ways:
            for form, share in FORMS:
                channels = {
                    "": (grades,) * 3,
                    "small-fibre": (grades, none, none),
                    "large-fibre": (none, grades, grades),
                }[form]
                weight = math.log(share / len(ways) / len(cuts))
                rows.append(Row(weight, channels, phrase(NOTES[form], cut=float(cut))))
    return Hypothesis(
        "polyneuropathy", later("Length-dependent polyneuropathy"), "polyneuropathy", Side.BOTH,
        "pattern", weights.priors["polyneuropathy"], tuple(rows),
    )  # fmt: skip


def rings(limbs: LimbDistance, weights: Weights) -> list[Hypothesis]:
    """Socks, gloves, sleeves and whole limbs of one side, and both hands alone."""
    found = []
    for limb, name, highest in ((1, "arm", 52.0), (2, "leg", 92.0)):
        for side in Side:
            if side is Side.BOTH and limb == 2:
                continue
            mask = (limbs.limb == limb) & limbs.atlas.cells.on_side(side)
            rows = (*_ring_rows(limbs, mask, highest), *_whole_limb(limbs, name, mask, side))
            found.append(
                Hypothesis(
                    f"ring-{name}", f"ring around the {name}", NO_LESION, side, "ring", 1.0, rows
                )
            )
    return found


def _ring_rows(limbs: LimbDistance, mask: Mask, highest: float) -> Iterator[Row]:
    cuts = np.arange(6.0, highest, 3.0)
    # A whole limb is as common an answer as all partial cuts together.
    for cut in cuts:
        yield Row.same(graded(limbs, float(cut), mask), math.log(0.6 / len(cuts)))


ROOTS_OF_LIMBS = {
    "arm": ("shoulder-top", "shoulder-top-back", "axilla"),
    "leg": ("groin", "buttock-upper", "buttock-lower"),
}
"""Regions of the trunk that a whole limb may be drawn to."""


def _whole_limb(limbs: LimbDistance, name: str, mask: Mask, side: Side) -> Iterator[Row]:
    regions = list(limbs.atlas.facts.regions)
    numbers = [regions.index(r) for r in ROOTS_OF_LIMBS[name]]
    upper = np.isin(limbs.atlas.region_of_cell, numbers) & limbs.atlas.cells.on_side(side)
    # An arm up to the shoulder is the whole brachial plexus; with the shoulder top and
    # the armpit it is the arm as people draw it.
    for reach, share in ((mask, 0.01), (mask | upper, 0.39)):
        yield Row.same(np.where(reach, CORE, OUTSIDE).astype(np.int8), math.log(share))


def graded(limbs: LimbDistance, cut: float, mask: Mask) -> Grades:
    """Grades of the skin nearer to the tip than a cut (cm), softened at the border."""
    at = [round((cut + s) / STEP) for s in (-SOFT_CM, 0.0, SOFT_CM)]
    last = len(limbs.cuts) - 1
    share = np.mean([limbs.profile[:, min(max(n, 0), last)] for n in at], axis=0)
    grades = np.select(
        [share < SHARES[0], share < SHARES[1], share < SHARES[2], share < SHARES[3]],
        [OUTSIDE, FRINGE, EDGE, PROXIMAL],
        np.where(share < 0.97, DISTAL, CORE),
    )
    return np.where(mask, grades, OUTSIDE).astype(np.int8)
