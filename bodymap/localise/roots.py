"""Roots, runs of neighbouring roots, and roots of both sides.

In 62.6 % of proven single cervical roots the loss fits the standard dermatome
(Hong and Nam); otherwise it is taken to lie in a neighbour's strip. So each root
has three rows, and no drawing alone lifts a single root much above that figure.
"""

import math
from collections.abc import Iterator

from bodymap.atlas import Atlas
from bodymap.language import phrase
from bodymap.localise.grading import Grading
from bodymap.localise.hypotheses import Hypothesis, Row
from bodymap.localise.weights import Weights
from bodymap.terms import DERMATOMES, Side

SPINAL = tuple(d for d in DERMATOMES if not d.startswith("V"))

LONGEST_RUN = 4
"""Roots in the longest run. Judgement: more are a plexus, a cauda or a cord."""


def root_hypotheses(atlas: Atlas, grading: Grading, weights: Weights) -> list[Hypothesis]:
    """All single roots and runs, of the left, the right and both sides."""
    return [
        *_single(atlas, grading, weights),
        *_runs(grading, weights),
    ]


def _single(atlas: Atlas, grading: Grading, weights: Weights) -> Iterator[Hypothesis]:
    beside = weights["neighbour_root"]
    for territory in atlas.territories:
        site = atlas.facts.lesion_sites.get(territory.id)
        if site is None or site.kind != "root":
            continue
        here = SPINAL.index(site.segments[0])
        others = [n for n in (here - 1, here + 1) if 0 <= n < len(SPINAL)]
        own = 1 - beside * len(others)
        rows = [Row.same(grading.of_segments(site.segments, territory.side), math.log(own))]
        for other in others:
            grades = grading.of_segments((SPINAL[other],), territory.side)
            rows.append(Row.same(grades, math.log(beside)))
        prior = weights.priors.get(site.id, weights.priors["default-root"])
        yield Hypothesis(
            site.id, site.english, "root", territory.side, "root", prior, tuple(rows), site.segments
        )


def _runs(grading: Grading, weights: Weights) -> Iterator[Hypothesis]:
    for length in range(1, LONGEST_RUN + 1):
        for start in range(len(SPINAL) - length + 1):
            segments = SPINAL[start : start + length]
            first, last = segments[0], segments[-1]
            for side in Side:
                if length == 1 and side is not Side.BOTH:
                    continue
                prior = weights.priors["roots-both" if side is Side.BOTH else "roots-run"]
                id_ = f"root-{first}" if length == 1 else f"roots-{first}-{last}"
                name = (
                    phrase("{first} nerve roots", first=first)
                    if length == 1
                    else phrase("{first} to {last} nerve roots", first=first, last=last)
                )
                grades = grading.of_segments(segments, side)
                yield Hypothesis(
                    id_.lower(), name, "root", side, "plexus", prior, (Row.same(grades),), segments
                )
