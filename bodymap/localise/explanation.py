"""What one candidate explains, leaves unexplained and would have taken as well.

The three remainders, whose skin ``remainders`` gives, are told here as facts in words. They
come from areas, from which spots were tested, and from muscles and reflexes. Nothing here
claims a cause.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.geometry import Floats
from bodymap.language import tr, trn
from bodymap.localise.splits import split_facts
from bodymap.terms import Side

if TYPE_CHECKING:
    from bodymap.localise.posterior import Posterior
    from bodymap.localise.ranking import Candidate, Scales

NOTABLE = 0.25
"""A region is named in a reason if at least this share of it is concerned. Judgement."""

NAMED_AT_MOST = 4
"""So many regions are named in one reason; the rest is counted."""

LEAST_CM2 = 0.05
"""Less skin than this gives no reason."""

TELLING = 2.0
"""A sign speaks for or against a candidate if it is this many times as probable with
it, or without it. Judgement."""


@dataclass(frozen=True)
class Reasons:
    """Sentences for and against a candidate, and what is missing to be sure."""

    in_favour: tuple[str, ...]
    against: tuple[str, ...]
    missing: tuple[str, ...]


class Explaining:
    """Reasons for the candidates of one drawing."""

    def __init__(
        self, scales: "Scales", drawing: Drawing, posterior: "Posterior | None" = None
    ) -> None:
        self._scales = scales
        self._posterior = posterior
        self._atlas = scales.atlas
        self._signs = drawing.signs
        self._area = self._atlas.cells.area_cm2
        self._drawn = drawing.altered_cm2(self._atlas)
        self._normal = drawing.normal_cm2(self._atlas)
        self._untested = np.maximum(self._area - np.maximum(self._drawn, self._normal), 0.0)

    def reasons(self, candidate: "Candidate") -> Reasons:
        """Facts for and against a candidate, and what of its skin was not tested."""
        for_, against, missing = self._by_area(candidate)
        for favours, sentence in split_facts(
            self._atlas, self._drawn, self._normal, candidate.territory
        ):
            (for_ if favours else against).append(sentence)
        for favours, sentence in self._by_sign(candidate):
            (for_ if favours else against).append(sentence)
        for_ += self._by_variation(candidate)
        return Reasons(tuple(for_), tuple(against), tuple(missing))

    def _by_variation(self, candidate: "Candidate") -> list[str]:
        """Which form of a pattern fits best, or why a root stands high although its own
        strip is spared."""
        if self._posterior is None or len(candidate.parts) > 1:
            return []
        number = self._scales.catalogue.by_id[candidate.parts[0]]
        hypothesis = self._scales.catalogue.hypotheses[number]
        if len(hypothesis.rows) < 2:
            return []
        best = self._scales.likelihoods.best_row(
            number, self._posterior.columns, self._posterior.sums
        )
        note = hypothesis.rows[best].note
        if note:
            return [tr("Fits best in this form: {note}.", note=tr(note))]
        if hypothesis.kind != "root" or best == 0:
            return []
        share = 1 - self._scales.weights["neighbour_root"] * 2
        return [
            tr(
                "Only {share:.0%} of proven single roots fit their standard strip (Hong and Nam); "
                "the neighbouring strip fits here.",
                share=share,
            )
        ]

    def _by_area(self, candidate: "Candidate") -> tuple[list[str], list[str], list[str]]:
        territory, area = candidate.territory, self._area
        inside, near = territory.extent, territory.fringe
        share = candidate.explained_fraction
        area_told = _cm2(candidate.explained_cm2)
        for_ = [
            tr("Explains {share:.0%} of the altered skin ({area}).", share=share, area=area_told)
        ]
        core = float(self._drawn[territory.signature].sum())
        whole_core = float(area[territory.signature].sum())
        if whole_core > 0 and core / whole_core >= NOTABLE:
            words = tr("{share:.0%} of its signature skin is altered.", share=core / whole_core)
            for_.append(words)
        beside = self._normal * self._beside(inside)
        spared = np.where(inside | near, 0.0, beside)
        if spared.sum() >= LEAST_CM2 and self._named(spared):
            named = self._named(spared)
            for_.append(tr("Skin beside it was tested and is normal{named}.", named=named))
        against = []
        if candidate.unexplained_cm2 >= LEAST_CM2:
            outside = np.where(inside, 0.0, self._drawn)
            sentence = tr(
                "Leaves {area} unexplained{named}.",
                area=_cm2(candidate.unexplained_cm2), named=self._named(outside),
            )  # fmt: skip
            fringe = float(outside[near].sum())
            if fringe >= LEAST_CM2:
                sentence += " " + tr(
                    "Of this {area} lies where published maps let it reach.", area=_cm2(fringe)
                )
            against.append(sentence)
        conflict = np.where(inside, np.minimum(self._normal, area - self._drawn), 0.0)
        if conflict.sum() >= LEAST_CM2:
            against.append(
                tr(
                    "{area} of its skin was tested and found normal{named}.",
                    area=_cm2(float(conflict.sum())),
                    named=self._named(conflict),
                )
            )
        missing = []
        unknown = np.where(inside, self._untested, 0.0)
        if unknown.sum() >= LEAST_CM2:
            missing.append(
                tr(
                    "{area} of its skin is neither drawn nor marked as tested{named}.",
                    area=_cm2(float(unknown.sum())),
                    named=self._named(unknown),
                )
            )
        return for_, against, missing

    def _beside(self, inside: Mask) -> Floats:
        """1 for cells of body parts that a territory takes, else 0."""
        parts = self._scales.catalogue.spots.part
        taken = np.bincount(parts, np.where(inside, 1.0, 0.0)) > 0
        return np.asarray(taken[parts], dtype=np.float64)

    def _by_sign(self, candidate: "Candidate") -> list[tuple[bool, str]]:
        found = []
        chances = self._scales.sign_chances
        numbers = [self._scales.catalogue.by_id[part] for part in candidate.parts]
        elsewhere = self._scales.weights["sign_elsewhere"]
        for (sign, side), change in sorted(self._signs.found.items()):
            at = chances.number[sign, side]
            known = self._atlas.facts.signs[sign]
            words = f"{known.label}, {side.word}: {change.word}"
            if change is SignChange.NORMAL:
                lost = float(chances.lost[numbers, at].max())
                if 1 - lost < (1 - elsewhere) / 1.5:
                    found.append(
                        (False, tr("{sign}, though it would often be changed.", sign=words))
                    )
                elif lost < elsewhere:
                    found.append((True, tr("{sign}, as is characteristic.", sign=words)))
                continue
            table = chances.brisk if change is SignChange.BRISK else chances.lost
            chance = float(table[numbers, at].max())
            if chance >= TELLING * elsewhere:
                found.append((True, tr("{sign}, which it explains.", sign=words)))
            else:
                found.append((False, tr("{sign}, which it does not explain.", sign=words)))
        return found

    def _named(self, covered: Floats) -> str:
        regions = regions_in(self._atlas, np.minimum(covered, self._area))
        if not regions:
            return ""
        sides = {side for _, side, _ in regions}
        one_side = sides.pop() if len(sides) == 1 else None
        labels = [
            self._atlas.facts.regions[id_].label + ("" if one_side else f" ({side.word})")
            for id_, side, _ in regions
        ]
        shown = "; ".join(labels[:NAMED_AT_MOST])
        if len(labels) > NAMED_AT_MOST:
            count = len(labels) - NAMED_AT_MOST
            shown += " " + trn("and {count} more", "and {count} more", count)
        return f": {shown}" + (f" ({one_side.word})" if one_side else "")


def regions_in(
    atlas: Atlas, covered_cm2: Floats, least: float = NOTABLE
) -> list[tuple[str, Side, float]]:
    """Named regions covered by at least a share ``least``: (region id, side, share),
    largest covered area first."""
    names, area = list(atlas.facts.regions), atlas.cells.area_cm2
    keys = 2 * atlas.region_of_cell + atlas.cells.left
    covered = np.bincount(keys, covered_cm2, 2 * len(names))
    whole = np.bincount(keys, area, 2 * len(names))
    share = covered / np.where(whole > 0, whole, 1.0)
    found = np.flatnonzero((share >= least) & (covered > 0))
    return [
        (names[k // 2], Side.LEFT if k % 2 else Side.RIGHT, float(share[k]))
        for k in sorted(found.tolist(), key=lambda k: -covered[k])
    ]


def _cm2(area: float) -> str:
    return tr("{area:.0f} cm²", area=area) if area >= 10 else tr("{area:.1f} cm²", area=area)
