"""Order every root, lesion site and plexus part by how well its skin matches.

For drawn altered skin D and a territory T, from exact areas in cm²:

    explained = |D ∩ T| / |D|      share of the drawing that lies in the territory
    involved  = |D ∩ T| / |T|      share of the territory that is drawn
    agreement = 2 · explained · involved / (explained + involved)
              = 2 · |D ∩ T| / (|D| + |T|)

The order is by agreement: the similarity coefficient of Dice (Ecology 1945;26:297)
and Sørensen (Biol Skr 1948;5:1), which is also the F-measure with equal weights
(van Rijsbergen, Information Retrieval, 1979). It is 1 only where drawing and
territory are the same skin, so painting a whole territory puts it first; sites
with the same skin share a place. It is a measure of overlap, not a probability.

Worked example: a territory of 4 cm², of which 3 are drawn, in a drawing of 6 cm².

>>> from bodymap.localise.ranking import agreement
>>> float(round(agreement(explained=3 / 6, involved=3 / 4), 3))
0.6
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Territory
from bodymap.geometry import Floats

SAME = 1e-9
"""Agreements closer than this share a place."""

LEAST_DRAWN_CM2 = 0.05
"""Less drawn skin than this is too little to tell: a pin covers more. Judgement."""

LEAST_EXPLAINED = 0.6
"""If the leading candidate explains less of the drawing than this, no single
candidate is put forward. Judgement."""


class Verdict(StrEnum):
    """What the ranking is worth as a whole."""

    RANKED = "ranked"
    INSUFFICIENT = "insufficient"
    CONTRADICTORY = "contradictory"
    NO_SINGLE_EXPLANATION = "no-single-explanation"


@dataclass(frozen=True)
class Candidate:
    """One territory held against the drawing. Areas in cm².

    ``place`` counts from 1; candidates with the same agreement share a place.
    """

    territory: Territory
    place: int
    explained_fraction: float
    involved_fraction: float
    agreement: float
    explained_cm2: float
    unexplained_cm2: float
    spared_cm2: float


@dataclass(frozen=True, eq=False)
class Ranking:
    """All candidates that share skin with the drawing, best first."""

    verdict: Verdict
    sentence: str
    drawn_cm2: float
    candidates: tuple[Candidate, ...]


def agreement(explained: Any, involved: Any) -> Any:
    """Dice and Sørensen's coefficient from the two fractions (numbers or arrays)."""
    total = explained + involved
    return 2 * explained * involved / np.where(total > 0, total, 1.0)


class Scales:
    """The areas of all territories of an atlas, ready to rank drawing after drawing."""

    def __init__(self, atlas: Atlas) -> None:
        self.territories = atlas.territories
        self._membership = atlas.extents
        self._whole: Floats = atlas.extents @ atlas.cells.area_cm2

    def rank(self, drawn_cm2: Floats, contradictory: bool = False) -> Ranking:
        """Rank all territories for a drawing.

        ``drawn_cm2`` holds the altered skin of each cell in cm²; ``contradictory``
        says that some skin was found both altered and normal in one modality.
        """
        total = float(drawn_cm2.sum())
        if total < LEAST_DRAWN_CM2:
            return Ranking(
                Verdict.INSUFFICIENT, "Nothing is drawn yet, or too little to tell.", total, ()
            )
        shared = self._membership @ drawn_cm2
        explained = np.minimum(shared / total, 1.0)
        involved = np.minimum(shared / np.where(self._whole > 0, self._whole, 1.0), 1.0)
        score = agreement(explained, involved)
        order = [i for i in np.lexsort((-explained, -score)).tolist() if shared[i] > 0]
        candidates: list[Candidate] = []
        for number, i in enumerate(order, start=1):
            tied = candidates and candidates[-1].agreement - float(score[i]) < SAME
            candidates.append(
                Candidate(
                    self.territories[i],
                    candidates[-1].place if tied else number,
                    float(explained[i]),
                    float(involved[i]),
                    float(score[i]),
                    float(shared[i]),
                    max(0.0, total - float(shared[i])),
                    max(0.0, float(self._whole[i] - shared[i])),
                )
            )
        return Ranking(*_verdict(candidates, contradictory), total, tuple(candidates))


def _verdict(candidates: list[Candidate], contradictory: bool) -> tuple[Verdict, str]:
    if contradictory:
        return (
            Verdict.CONTRADICTORY,
            "Some skin is marked both altered and normal in the same modality: test it again.",
        )
    best = max((c.explained_fraction for c in candidates[:1]), default=0.0)
    if best < LEAST_EXPLAINED:
        return (
            Verdict.NO_SINGLE_EXPLANATION,
            f"No single root, nerve or plexus part fits: the closest leaves "
            f"{100 * (1 - best):.0f} % of the drawn skin unexplained. "
            f"That excludes no disease.",
        )
    return Verdict.RANKED, "Ordered by agreement of the drawn skin with each whole territory."
