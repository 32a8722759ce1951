"""What tells the leading candidates apart: spots of skin first, then muscle and reflex."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from bodymap.atlas.assets import table
from bodymap.localise.weights import EDGE, PROXIMAL, VARIABLE
from bodymap.terms import Side

if TYPE_CHECKING:
    from bodymap.localise.ranking import Candidate, Ranking, Scales

TOLD = 3
"""Spots and signs that are named for each side of a comparison."""

COMPARED = 3
"""Candidates that the first is compared with."""

LEAST_SHARE = 0.12
"""A candidate with less than this share of the first's support is not compared."""

MOSTLY = 0.6
"""A region tells two lesions apart if one takes this much of it, and the other at most
one less this much."""

CLEAR = 0.3
"""A sign tells two lesions apart if its chances differ by this much."""


@dataclass(frozen=True)
class TieBreaker:
    """What would speak for the first of two candidates, and what for the second.

    ``skin`` lists (region, side, whether it is lost in the first only); ``signs``
    (sign, side, likewise); ``note`` says it in the words of the table of pairs.
    """

    first: "Candidate"
    second: "Candidate"
    skin: tuple[tuple[str, Side, bool], ...]
    signs: tuple[tuple[str, Side, bool], ...]
    note: str


class TieBreaking:
    """Compares candidates of one atlas."""

    def __init__(self, scales: "Scales") -> None:
        self._scales = scales
        self._atlas = scales.atlas

    @cached_property
    def _notes(self) -> dict[frozenset[str], str]:
        rows = table(self._atlas.facts.folder, "pairs")
        return {frozenset((r["a"], r["b"])): r["motor_reflex"] for r in rows}

    def of(self, ranking: "Ranking") -> tuple[TieBreaker, ...]:
        """The leading candidate against those that are close to it."""
        if not ranking.candidates:
            return ()
        first = ranking.candidates[0]
        return tuple(
            self.between(first, other)
            for other in ranking.candidates[1 : 1 + COMPARED]
            if other.support >= LEAST_SHARE * first.support
        )

    def between(self, first: "Candidate", second: "Candidate") -> TieBreaker:
        """What tells two candidates apart."""
        note = self._notes.get(frozenset((first.territory.id, second.territory.id)), "")
        return TieBreaker(
            first, second, self._skin(first, second), self._signs(first, second), note
        )

    def _skin(self, first: "Candidate", second: "Candidate") -> tuple[tuple[str, Side, bool], ...]:
        atlas = self._atlas
        names = list(atlas.facts.regions)
        key = 2 * atlas.region_of_cell + atlas.cells.left
        weight = self._scales.catalogue.spots.weight
        whole = np.bincount(key, weight, 2 * len(names))
        share = []
        reach = []
        for candidate in (first, second):
            taken = np.zeros(len(key))
            may = np.zeros(len(key))
            for part in candidate.parts:
                number = self._scales.catalogue.by_id[part]
                grades = np.max(self._scales.catalogue.hypotheses[number].rows[0].grades, axis=0)
                taken = np.maximum(taken, (grades >= PROXIMAL) & (grades != VARIABLE))
                may = np.maximum(may, grades >= EDGE)
            share.append(np.bincount(key, weight * taken, len(whole)))
            reach.append(np.bincount(key, weight * may, len(whole)))
        scale = np.where(whole > 0, whole, 1.0)
        a, b = share[0] / scale, share[1] / scale
        may_a, may_b = reach[0] / scale, reach[1] / scale
        found: list[tuple[str, Side, bool]] = []
        for mine, others, in_first in ((a, may_b, True), (b, may_a, False)):
            clear = (mine >= MOSTLY) & (others <= 1 - MOSTLY)
            order = sorted(np.flatnonzero(clear).tolist(), key=lambda k: others[k] - mine[k])
            for k in order[:TOLD]:
                found.append((names[k // 2], Side.LEFT if k % 2 else Side.RIGHT, in_first))
        return tuple(found)

    def _signs(self, first: "Candidate", second: "Candidate") -> tuple[tuple[str, Side, bool], ...]:
        chances = self._scales.sign_chances
        rows = []
        for candidate in (first, second):
            numbers = [self._scales.catalogue.by_id[part] for part in candidate.parts]
            rows.append(chances.lost[numbers].max(axis=0))
        difference = rows[0] - rows[1]
        found: list[tuple[str, Side, bool]] = []
        for sign in (1, -1):
            order = np.argsort(-sign * difference, kind="stable")[:TOLD]
            found += [(*chances.keys[k], sign > 0) for k in order if sign * difference[k] >= CLEAR]
        return tuple(found)
