"""Which lesions are taken for which, and whether anatomy or the program is to blame."""

from collections import Counter
from dataclasses import dataclass

from bodymap.atlas.territories import Mask
from bodymap.geometry import Floats
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.hypotheses import territory_of
from bodymap.localise.roots import SPINAL
from bodymap.localise.weights import CHANNELS
from bodymap.simulation.trial import NOTHING, Answer, Outcome

LISTED = 20

SAME, INSIDE, MUCH = 0.98, 0.85, 0.4
"""Shares of common skin from which two lesions count as the same, one as part of the
other, and as hard to part."""


@dataclass(frozen=True)
class Confusion:
    """How often one answer was given for another, and why."""

    truth: str
    given: str
    count: int
    anatomy: bool
    why: str


def confusions(catalogue: Catalogue, outcomes: list[Outcome]) -> list[Confusion]:
    """The commonest mix-ups, left and right counted together."""
    counts: Counter[tuple[str, str]] = Counter()
    example: dict[tuple[str, str], tuple[Answer, Answer]] = {}
    for o in outcomes:
        if not o.right:
            key = (_name(o.truth), _name(o.leading))
            counts[key] += 1
            example.setdefault(key, (o.truth, o.leading))
    found = []
    for key, count in counts.most_common(LISTED):
        anatomy, why = _blame(catalogue, *example[key])
        found.append(Confusion(*key, count, anatomy, why))
    return found


def _name(answer: Answer) -> str:
    return " + ".join(id_ for id_, _ in answer) if answer else "no single lesion"


def _blame(catalogue: Catalogue, truth: Answer, given: Answer) -> tuple[bool, str]:
    if given == NOTHING:
        return False, "The program hesitates: few spots were found, or some answers were wrong."
    if truth == NOTHING:
        return False, "Skin without a lesion happened to lie like one; the program was taken in."
    if len(truth) > 1 or len(given) > 1:
        return False, "One of two lesions gave too few spots to be believed; the program is slow."
    roots = [id_.removeprefix("root-").upper() for (id_, _) in (*truth, *given)]
    if all(r in SPINAL for r in roots) and abs(SPINAL.index(roots[0]) - SPINAL.index(roots[1])) < 3:
        return True, (
            "Anatomy: neighbouring roots; 37 % of proven roots do not fit the standard strip "
            "(Hong and Nam)."
        )
    first, second = (_extent(catalogue, answer) for answer in (truth, given))
    area = catalogue.atlas.cells.area_cm2
    shared = _area(area, first & second)
    less = min(_area(area, first), _area(area, second))
    more = max(_area(area, first), _area(area, second))
    if shared >= SAME * more:
        return True, "Anatomy: both take the same skin; muscles must part them."
    if less > 0 and shared >= INSIDE * less:
        return True, (
            "Anatomy: the one lies within the other, so a partial or border loss looks like both."
        )
    if less > 0 and shared >= MUCH * less:
        return (
            True,
            f"Anatomy for the most part: {shared / less:.0%} of the smaller skin is shared.",
        )
    share = shared / less if less else 0.0
    return False, f"Wrong answers misled the program: only {share:.0%} of the skin is shared."


def _extent(catalogue: Catalogue, answer: Answer) -> Mask:
    hypothesis = catalogue.hypotheses[catalogue.by_id[answer[0]]]
    return territory_of(hypothesis, hypothesis.rows[0], range(len(CHANNELS))).extent


def _area(area: Floats, mask: Mask) -> float:
    return float(area[mask].sum())
