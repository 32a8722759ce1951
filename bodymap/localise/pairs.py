"""Two separate lesions, sought only where one will not do.

Each of the two keeps the look (row and extent) that fits what it can explain; a
spot is spared only if both spare it. Two lesions are charged for being two: the
prior is the product of both priors times ``pair_charge``.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bodymap.geometry import Floats
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.evidence import LOSS, NORMAL, SYMPTOM
from bodymap.localise.likelihood import Likelihoods
from bodymap.localise.weights import GRADES, OUTSIDE

if TYPE_CHECKING:
    from bodymap.localise.posterior import Posterior

TRIED = 64
"""Most hypotheses that are tried with each other; 64 give 2,016 pairs."""

FIRST, LEADERS, SECOND = 20, 4, 10
"""Best single hypotheses that are tried, how many of them are taken away to see what
is left, and how many are tried that explain the rest."""

HALF = 0.5
"""Skin with at least this chance counts as explained by a leader."""

KEPT = 12
"""Pairs that are kept."""

PAIRED_KINDS = ("root", "nerve", "plexus", "polyneuropathy")
"""Kinds that come in pairs; cord, cauda and brain lesions explain both sides alone."""


@dataclass(frozen=True)
class Pair:
    """Two hypotheses by number, in head-to-foot order, and their joint log probability."""

    members: tuple[int, int]
    joint: float


def search_pairs(
    catalogue: Catalogue,
    likelihoods: Likelihoods,
    posterior: "Posterior",
    cancelled: Callable[[], bool] = lambda: False,
) -> tuple[Pair, ...]:
    """The best pairs, best first; none if cancelled."""
    columns = posterior.columns
    altered = columns[:, [LOSS, SYMPTOM]].sum(axis=1)
    numbers, inside, prior = _tried(catalogue, likelihoods, posterior, altered)
    if len(numbers) < 2 or cancelled():
        return ()
    noise = catalogue.weights["outside_loss_careful"]
    scale = 1 - noise - catalogue.weights["near_loss_careful"]
    seen = np.flatnonzero(columns.any(axis=(0, 1)))
    loss, normal = altered[:, seen], columns[:, NORMAL][:, seen]
    spared = 1 - inside[:, :, seen]
    tempering = likelihoods.tempering
    found: list[Pair] = []

    def signs(first: int, second: int) -> float:
        # A sign is explained if either lesion explains it.
        return float(max(posterior.of_signs[first], posterior.of_signs[second]))

    charge = float(np.log(catalogue.weights["pair_charge"]))
    for a in range(len(numbers) - 1):
        if cancelled():
            return ()
        chance = noise + scale * (1 - spared[a][None] * spared[a + 1 :])
        score = (np.log(chance) * loss).sum(axis=(1, 2))
        score += (np.log1p(-chance) * normal).sum(axis=(1, 2))
        joint = tempering * score + prior[a] + prior[a + 1 :] + charge
        for b in np.flatnonzero(joint > joint.max() - 6):
            pair = (numbers[a], numbers[a + 1 + int(b)])
            if separate(catalogue, *pair):
                ordered = tuple(sorted(pair, key=lambda n: _height(catalogue, n)))
                found.append(Pair((ordered[0], ordered[1]), float(joint[b]) + signs(*pair)))
    found.sort(key=lambda p: -p.joint)
    return tuple(found[:KEPT])


def _tried(
    catalogue: Catalogue, likelihoods: Likelihoods, posterior: "Posterior", altered: Floats
) -> tuple[list[int], Floats, Floats]:
    """Numbers of the hypotheses to pair, their chance inside (numbers, channels, cells)
    and their log priors, with how often they look like that.

    Tried are the best single hypotheses, and for some of them those that best explain
    what they leave.
    """
    named = posterior.named
    may = np.array([h.kind in PAIRED_KINDS for h in catalogue.hypotheses[:named]])
    joint = np.where(may, posterior.joint[:named], -np.inf)
    chosen = _first(joint, FIRST)
    leaders: list[int] = []
    for number in chosen:
        if len(leaders) < LEADERS and all(separate(catalogue, number, o) for o in leaders):
            leaders.append(number)
    leaders = list(dict.fromkeys([*leaders, *chosen[: LEADERS // 2]]))
    for leader in leaders:
        explained = _best_look(likelihoods, posterior, leader)[0] > HALF
        columns = posterior.columns.copy()
        columns[:, [LOSS, SYMPTOM]] *= ~explained[:, None, :]
        rest = likelihoods.of_all(columns)[:named] + posterior.log_prior[:named]
        chosen += _first(np.where(may, rest, -np.inf), SECOND)
    chosen = list(dict.fromkeys(chosen))[:TRIED]
    looks = [_best_look(likelihoods, posterior, n) for n in chosen]
    inside = np.array([chance for chance, _ in looks]).reshape(len(chosen), *altered.shape)
    weight = posterior.log_prior[chosen] + np.array([log_weight for _, log_weight in looks])
    return chosen, inside, weight


def _first(scores: Floats, count: int) -> list[int]:
    order = np.argsort(-scores, kind="stable")[:count]
    return [int(n) for n in order if np.isfinite(scores[n])]


def _best_look(
    likelihoods: Likelihoods, posterior: "Posterior", number: int
) -> tuple[Floats, float]:
    """The look (row and extent) of a hypothesis that gains most by its own skin: chance
    inside (channels, cells) without noise, and the log of how often it looks like that."""
    family, first, last = likelihoods.place(number)
    states = family.states
    noise = float(states.altered[0, 0, OUTSIDE])
    score = np.zeros((last - first, len(states.names)))
    for channel in range(states.altered.shape[1]):
        sums = posterior.sums[family.vectors[first:last, channel], :, channel]
        logs = family.log_chance[:, channel]
        gained = logs[:, 1:] - logs[:, [OUTSIDE]]
        score += np.tensordot(sums, gained, axes=((1, 2), (1, 2)))
    look = family.log_weight[first:last, None] + states.log_share[None, :]
    row, state = np.unravel_index(int((likelihoods.tempering * score + look).argmax()), score.shape)
    vectors = family.vectors[first + int(row)]
    chance = np.array(
        [states.altered[state, c][likelihoods.grades[v]] for c, v in enumerate(vectors)]
    )
    return np.clip((chance - noise) / (1 - noise), 0.0, 1.0), float(look[row, state])


def separate(catalogue: Catalogue, a: int, b: int) -> bool:
    """Whether two hypotheses do not mostly take the same skin."""
    first, second = (
        np.array(catalogue.hypotheses[n].rows[0].grades[0]) >= GRADES.index("proximal")
        for n in (a, b)
    )
    shared = float((catalogue.spots.weight * (first & second)).sum())
    less = min(float((catalogue.spots.weight * m).sum()) for m in (first, second))
    return less > 0 and shared < 0.3 * less


def _height(catalogue: Catalogue, number: int) -> tuple[int, int]:
    """Head to foot: by the highest dermatome taken, then by number."""
    grades = catalogue.hypotheses[number].rows[0].grades[0]
    taken = catalogue.atlas.cells.dermatome[grades >= GRADES.index("proximal")]
    return (int(taken.min()) if len(taken) else 0, number)
