"""What tells the leading candidates apart: spots of skin first, then muscle and reflex."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from bodymap.atlas.assets import table
from bodymap.geometry import Floats
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


Parts = tuple[tuple[str, Side], ...]
"""Id and side of each lesion of a candidate (one, or two of a combination)."""


@dataclass(frozen=True)
class Difference:
    """What would speak for the first of two lesions, and what for the second.

    ``skin`` lists (region, side, whether it is lost in the first only); ``signs``
    (sign, side, likewise); ``note`` says it in the words of the table of pairs.
    """

    skin: tuple[tuple[str, Side, bool], ...]
    signs: tuple[tuple[str, Side, bool], ...]
    note: str


@dataclass(frozen=True)
class TieBreaker:
    """The leading candidate, another one, and what tells them apart."""

    first: "Candidate"
    second: "Candidate"
    difference: Difference


class TieBreaking:
    """Compares lesions of one atlas."""

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
            TieBreaker(first, other, self.between(first.parts, other.parts))
            for other in ranking.candidates[1 : 1 + COMPARED]
            if other.support >= LEAST_SHARE * first.support
        )

    def between(self, first: Parts, second: Parts, told: int = TOLD) -> Difference:
        """What tells two lesions apart: at most ``told`` spots and signs for each."""
        ids = frozenset("+".join(id_ for id_, _ in parts) for parts in (first, second))
        skin, signs = self._skin(first, second, told), self._signs(first, second, told)
        return Difference(skin, signs, self._notes.get(ids, ""))

    def taken(self, parts: Parts) -> tuple[Floats, Floats]:
        """Share of every region (both sides, right before left) that lesions take for
        sure, and that they may reach."""
        atlas, catalogue = self._atlas, self._scales.catalogue
        key = 2 * atlas.region_of_cell + atlas.cells.left
        weight = catalogue.spots.weight
        count = 2 * len(atlas.facts.regions)
        sure, may = np.zeros(len(key)), np.zeros(len(key))
        for part in parts:
            row = catalogue.hypotheses[catalogue.by_id[part]].rows[0]
            grades = np.max(row.grades, axis=0)
            sure = np.maximum(sure, (grades >= PROXIMAL) & (grades != VARIABLE))
            may = np.maximum(may, grades >= EDGE)
        whole = np.bincount(key, weight, count)
        scale = np.where(whole > 0, whole, 1.0)
        first, second = (np.bincount(key, weight * m, count) / scale for m in (sure, may))
        return first, second

    def _skin(self, first: Parts, second: Parts, told: int) -> tuple[tuple[str, Side, bool], ...]:
        names = list(self._atlas.facts.regions)
        (a, may_a), (b, may_b) = self.taken(first), self.taken(second)
        found: list[tuple[str, Side, bool]] = []
        for mine, others, in_first in ((a, may_b, True), (b, may_a, False)):
            clear = (mine >= MOSTLY) & (others <= 1 - MOSTLY)
            order = sorted(np.flatnonzero(clear).tolist(), key=lambda k: others[k] - mine[k])
            for k in order[:told]:
                found.append((names[k // 2], Side.LEFT if k % 2 else Side.RIGHT, in_first))
        return tuple(found)

    def _signs(self, first: Parts, second: Parts, told: int) -> tuple[tuple[str, Side, bool], ...]:
        chances, by_id = self._scales.sign_chances, self._scales.catalogue.by_id
        rows = [
            chances.lost[[by_id[part] for part in parts]].max(axis=0) for parts in (first, second)
        ]
        difference = rows[0] - rows[1]
        found: list[tuple[str, Side, bool]] = []
        for sign in (1, -1):
            order = np.argsort(-sign * difference, kind="stable")[:told]
            found += [(*chances.keys[k], sign > 0) for k in order if sign * difference[k] >= CLEAR]
        return tuple(found)
