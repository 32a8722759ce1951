"""What the ranking is worth as a whole, with a sentence that says why."""

from enum import StrEnum
from typing import TYPE_CHECKING

from bodymap.language import later, phrase
from bodymap.localise.catalogue import Catalogue
from bodymap.terms import Side

if TYPE_CHECKING:
    from bodymap.localise.posterior import Posterior
    from bodymap.localise.ranking import Candidate


class Verdict(StrEnum):
    """What the ranking is worth as a whole."""

    RANKED = "ranked"
    INSUFFICIENT = "insufficient"
    CONTRADICTORY = "contradictory"
    NO_SINGLE_EXPLANATION = "no-single-explanation"


CLOSE = 0.5
"""A second candidate with at least this share of the first's support is named with
it. Judgement."""

ALL = 0.995
"""From this share on all of the altered skin is reached: the rest rounds to 0 %."""


WHERE = {
    ("arm", Side.BOTH): later("both arms"),
    ("arm", Side.LEFT): later("the left arm"),
    ("arm", Side.RIGHT): later("the right arm"),
    ("leg", Side.LEFT): later("the left leg"),
    ("leg", Side.RIGHT): later("the right leg"),
}
"""Limbs that a ring can lie around."""


def judged(
    catalogue: Catalogue,
    posterior: "Posterior",
    candidates: "tuple[Candidate, ...]",
    contradictory: bool,
) -> tuple[Verdict, str]:
    """The verdict on a drawing that holds enough to be ranked."""
    if contradictory:
        return (
            Verdict.CONTRADICTORY,
            later(
                "Some skin is marked both altered and normal in the same modality: test it again."
            ),
        )
    weights = catalogue.weights
    ring = _ring(catalogue, posterior)
    explained = _reached(posterior, candidates[0]) if candidates else 0.0
    leading = candidates[0].support if candidates else 0.0
    if posterior.something_else >= weights["no_single_support"] * leading:
        if ring is not None:
            return Verdict.NO_SINGLE_EXPLANATION, ring
        if explained >= ALL:
            return (
                Verdict.NO_SINGLE_EXPLANATION,
                later(
                    "No single root, nerve, plexus part or other pattern that bodymap knows "
                    "stands out: the closest reaches all of the altered skin, but would be "
                    "expected to take more. That excludes no disease."
                ),
            )
        return (
            Verdict.NO_SINGLE_EXPLANATION,
            phrase(
                "The altered skin follows no single root, nerve, plexus part or other pattern "
                "that bodymap knows: the closest leaves {share:.0%} of it unexplained. That "
                "excludes no disease.",
                share=1 - explained,
            ),
        )
    if explained < weights["no_single_explained"]:
        return (
            Verdict.NO_SINGLE_EXPLANATION,
            phrase(
                "No single lesion fits: the closest leaves {share:.0%} of the altered skin "
                "unexplained. That excludes no disease.",
                share=1 - explained,
            ),
        )
    return Verdict.RANKED, _ranked(candidates)


def _reached(posterior: "Posterior", candidate: "Candidate") -> float:
    """Share of the altered spots that lie where the candidate may reach."""
    spots = posterior.columns[:, :2].sum(axis=(0, 1))
    reach = candidate.territory.extent | candidate.territory.fringe
    total = float(spots.sum())
    return float(spots[reach].sum()) / total if total > 0 else 0.0


def _ring(catalogue: Catalogue, posterior: "Posterior") -> str | None:
    """The sentence for a ring around a limb, if that is what "something else" is."""
    rings = posterior.single[posterior.named :]
    if rings.sum() < posterior.something_else / 2:
        return None
    hypothesis = catalogue.hypotheses[posterior.named + int(rings.argmax())]
    limb = hypothesis.id.removeprefix("ring-")
    where = WHERE[limb, hypothesis.side]
    altered = posterior.columns[:, :2].sum(axis=(0, 1))
    limbs = catalogue.grading.limbs
    mine = limbs.limb == {"arm": 1, "leg": 2}[limb]
    mine &= catalogue.atlas.cells.on_side(hypothesis.side)
    share = float((altered[mine] > 0).mean())
    if share > 0.9:
        return phrase(
            "The altered skin takes the whole of {limb}, front and back, and follows no "
            "single root, nerve or plexus part. That excludes no disease.",
            limb=where,
        )
    return phrase(
        "The altered skin ends in a ring around {limb} and follows no single root, nerve or "
        "plexus part. That excludes no disease.",
        limb=where,
    )


def _ranked(candidates: "tuple[Candidate, ...]") -> str:
    first = candidates[0]
    near = [c for c in candidates[1:4] if c.support >= CLOSE * first.support]
    if first.support >= 0.5:
        sentence = phrase("{first} fits best", first=first.territory.english)
    elif near:
        several: str = first.territory.english
        for c in near[:-1]:
            several = phrase("{first}, {second}", first=several, second=c.territory.english)
        last = near[-1].territory.english
        sentence = phrase("{several} and {last} fit about equally well", several=several, last=last)
    else:
        sentence = phrase("{first} fits best, but not by much", first=first.territory.english)
    if len(first.parts) > 1:
        return phrase(
            "No single lesion explains the altered skin; two together do: {sentence}.",
            sentence=sentence,
        )
    return phrase("{sentence}.", sentence=sentence)
