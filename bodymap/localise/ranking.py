"""Order all hypotheses by support, and say what the order is worth.

Two kinds of number stand side by side and are never mixed. ``explained`` and
``involved`` are shares of exact areas that an eye can check. ``support`` is a
probability over all hypotheses and "something else" (see ``likelihood``).
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from functools import reduce

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Territory
from bodymap.findings.contradiction import is_contradictory
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import Signs
from bodymap.geometry import Floats
from bodymap.language import later, phrase
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.evidence import Evidence
from bodymap.localise.hypotheses import territory_of
from bodymap.localise.likelihood import Likelihoods, scattered
from bodymap.localise.pairs import Pair, search_pairs
from bodymap.localise.posterior import Posterior
from bodymap.localise.sign_chances import SignChances
from bodymap.localise.verdict import Verdict, judged
from bodymap.localise.weights import NEAR
from bodymap.terms import Side

SAME = 1e-9
"""Supports closer than this (as a share of the larger) have the same place."""

LEAST_DRAWN_CM2 = 0.05
"""Less drawn skin than this is too little to tell: a pin covers more. Judgement."""

TERRITORIES = 600
"""So many territories are remembered, the latest: a session may meet thousands."""

CANDIDATES = 40
"""So many candidates are told apart; the rest share what support is left."""


@dataclass(frozen=True, eq=False)
class Candidate:
    """One hypothesis held against the drawing. Areas in cm².

    ``territory`` is the skin it takes in the modalities that were drawn;
    ``place`` counts from 1, and candidates with the same support share it; ``parts``
    holds the id and side of each lesion of a combination (one for single lesions).
    """

    territory: Territory
    place: int
    support: float
    explained_fraction: float
    involved_fraction: float
    explained_cm2: float
    unexplained_cm2: float
    spared_cm2: float
    parts: tuple[tuple[str, Side], ...]


@dataclass(frozen=True, eq=False)
class Ranking:
    """The candidates, best first, and what all of them together are worth.

    ``something_else`` is the support of no lesion that bodymap knows.
    """

    verdict: Verdict
    sentence: str
    drawn_cm2: float
    candidates: tuple[Candidate, ...]
    something_else: float = 1.0
    posterior: Posterior | None = None


class Scales:
    """All hypotheses of an atlas, ready to rank drawing after drawing."""

    def __init__(self, atlas: Atlas) -> None:
        self.atlas = atlas
        self.catalogue = Catalogue(atlas)
        self.weights = self.catalogue.weights
        self.likelihoods = Likelihoods(
            self.catalogue.hypotheses, self.weights, self.catalogue.spots
        )
        self.sign_chances = SignChances(self.catalogue)
        self._log_prior, self._log_scattered = self._priors()
        self._territories: dict[tuple[int, int, tuple[int, ...]], Territory] = {}

    def rank_drawing(
        self, drawing: Drawing, cancelled: Callable[[], bool] = lambda: False
    ) -> Ranking:
        """Rank all hypotheses, and pairs where needed, for a whole drawing."""
        return self.rank(
            Evidence.of(self.catalogue.spots, drawing),
            drawing.signs,
            is_contradictory(self.atlas, drawing),
            cancelled=cancelled,
        )

    def rank(
        self,
        evidence: Evidence,
        signs: Signs | None = None,
        contradictory: bool = False,
        *,
        pairs: bool = True,
        most: int = CANDIDATES,
        sums: Floats | None = None,
        cancelled: Callable[[], bool] = lambda: False,
    ) -> Ranking:
        """Rank all hypotheses for a drawing.

        ``contradictory`` says that some skin was found both altered and normal in one
        modality. Two separate lesions are sought with ``pairs``, where no single one
        will do. ``sums`` are the evidence's sums by grade, if they are known already.
        Returns at once with what is known when ``cancelled`` says so.
        """
        area = self.atlas.cells.area_cm2
        drawn = evidence.altered.max(axis=0) * area
        if float(drawn.sum()) < LEAST_DRAWN_CM2:
            sentence = later("Nothing is drawn yet, or too little to tell.")
            return Ranking(Verdict.INSUFFICIENT, sentence, float(drawn.sum()), ())
        posterior = self.posterior(evidence, signs or Signs(), sums)
        if pairs and self._pairs_needed(posterior):
            found = search_pairs(self.catalogue, self.likelihoods, posterior, cancelled)
            posterior = posterior.with_pairs(found)
        candidates = self._candidates(posterior, drawn, most)
        verdict, sentence = judged(self.catalogue, posterior, candidates, contradictory)
        return Ranking(
            verdict, sentence, float(drawn.sum()), candidates, posterior.something_else, posterior
        )

    def with_kept(self, ranking: Ranking, kept: Collection[tuple[str, Side]]) -> Ranking:
        """The ranking with lesions (id and side) that are to stay in view, however far down
        they stand, after those that it has; unknown ones and a ranking of nothing stay out."""
        posterior = ranking.posterior
        there = {(c.territory.id, c.territory.side) for c in ranking.candidates}
        missing = set(kept) - there
        if posterior is None or not missing:
            return ranking
        area = self.atlas.cells.area_cm2
        drawn = posterior.evidence.altered.max(axis=0) * area
        support = posterior.single
        added = []
        for number, hypothesis in enumerate(self.catalogue.hypotheses[: self.catalogue.named]):
            key = (hypothesis.id, hypothesis.side)
            if key in missing:
                place = 1 + int((support[: posterior.named] > support[number]).sum())
                territory = self.territory(number, posterior)
                made = held(territory, place, float(support[number]), drawn, area)
                added.append(Candidate(*made, (key,)))
        added.sort(key=lambda c: -c.support)
        return replace(ranking, candidates=(*ranking.candidates, *added))

    def posterior(self, evidence: Evidence, signs: Signs, sums: Floats | None = None) -> Posterior:
        """Supports of all single hypotheses and of something else."""
        columns = evidence.columns
        if sums is None:
            sums = self.likelihoods.sums(columns)
        log_likelihood = self.likelihoods.of_all(columns, sums)
        of_signs, other = np.zeros(len(log_likelihood)), 0.0
        if signs:
            of_signs, other = self.sign_chances.log_likelihood(signs)
        joint = self._log_prior + log_likelihood + of_signs
        nothing = self._log_scattered + self.weights["tempering"] * scattered(columns) + other
        return Posterior(
            self.catalogue.named,
            joint,
            self._log_prior,
            of_signs,
            nothing,
            evidence,
            columns,
            sums,
            signs,
            self.weights["calibration"],
        )

    def _priors(self) -> tuple[Floats, float]:
        known = self.catalogue.hypotheses
        named = self.catalogue.named
        prior = np.array([h.prior for h in known])
        other, ring = self.weights["something_else"], self.weights["ring_share"]
        prior[:named] *= (1 - other) / prior[:named].sum()
        prior[named:] *= other * ring / prior[named:].sum()
        return np.log(prior), float(np.log(other * (1 - ring)))

    def _pairs_needed(self, posterior: Posterior) -> bool:
        best = int(posterior.single[: posterior.named].argmax())
        left = 1 - self.explained_spots(posterior, best)
        return left > self.weights["pair_when_unexplained"] or posterior.something_else > 0.3

    def explained_spots(self, posterior: Posterior, number: int) -> float:
        """Share of the altered spots that lie where a hypothesis may reach at all."""
        return explained_spots(self.catalogue, self.likelihoods, posterior, (number,))

    def territory(self, number: int, posterior: Posterior) -> Territory:
        """What a hypothesis takes, in the row that fits best and the channels drawn."""
        hypothesis = self.catalogue.hypotheses[number]
        channels = tuple(np.flatnonzero(posterior.evidence.altered.any(axis=1)).tolist())
        known = self.atlas.territories_by_id.get((hypothesis.id, hypothesis.side))
        if known is not None:
            return known
        row = 0
        if len(hypothesis.rows) > 1:
            row = self.likelihoods.best_row(number, posterior.columns, posterior.sums)
        key = (number, row, channels)
        found = self._territories.get(key)
        if found is None:
            found = territory_of(hypothesis, hypothesis.rows[row], channels)
            if len(self._territories) >= TERRITORIES:
                self._territories.pop(next(iter(self._territories)), None)
            self._territories[key] = found
        return found

    def _candidates(self, posterior: Posterior, drawn: Floats, most: int) -> tuple[Candidate, ...]:
        found: list[Candidate] = []
        for entry, support in posterior.ordered(most):
            if isinstance(entry, Pair):
                parts = tuple(self.catalogue.hypotheses[n] for n in entry.members)
                territory = _together([self.territory(n, posterior) for n in entry.members])
            else:
                parts = (self.catalogue.hypotheses[entry],)
                territory = self.territory(entry, posterior)
            same = found and found[-1].support - support <= SAME * found[-1].support
            place = found[-1].place if same else len(found) + 1
            made = held(territory, place, support, drawn, self.atlas.cells.area_cm2)
            found.append(Candidate(*made, tuple((h.id, h.side) for h in parts)))
        return tuple(found)


def explained_spots(
    catalogue: Catalogue, likelihoods: Likelihoods, posterior: Posterior, members: tuple[int, ...]
) -> float:
    """Share of the altered spots that lie where any of some hypotheses may reach."""
    altered = posterior.columns[:, :2].sum(axis=1)
    reach = np.zeros(altered.shape, dtype=bool)
    for number in members:
        row = likelihoods.best_row(number, posterior.columns, posterior.sums)
        reach |= np.array(catalogue.hypotheses[number].rows[row].grades) > NEAR
    total = float(altered.sum())
    return float(altered[reach].sum()) / total if total > 0 else 0.0


def _together(territories: list[Territory]) -> Territory:
    sides = {t.side for t in territories}
    extent = np.any([t.extent for t in territories], axis=0)
    signature = np.any([t.signature for t in territories], axis=0)
    fringe = np.any([t.fringe for t in territories], axis=0)
    return Territory(
        "+".join(t.id for t in territories),
        reduce(
            lambda first, second: phrase("{first} and {second}", first=first, second=second),
            [
                t.english
                if len(sides) == 1
                else phrase("{name} ({side})", name=t.english, side=t.side.value)
                for t in territories
            ],
        ),
        "combination",
        sides.pop() if len(sides) == 1 else Side.BOTH,
        extent,
        signature,
        fringe & ~extent,
    )


def held(
    territory: Territory, place: int, support: float, drawn: Floats, area: Floats
) -> tuple[Territory, int, float, float, float, float, float, float]:
    """The first fields of a candidate, from drawn skin and area of every cell (cm²)."""
    total = float(drawn.sum())
    whole = float(area[territory.extent].sum())
    shared = min(float(drawn[territory.extent].sum()), total)
    return (
        territory, place, support, shared / total, shared / whole if whole > 0 else 0.0,
        shared, total - shared, max(0.0, whole - shared),
    )  # fmt: skip
