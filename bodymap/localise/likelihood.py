"""How probable the findings are under every hypothesis.

Theory. A spot that lies in grade g of a hypothesis is found altered with the chance
p(g, e, c), where e is the extent of the lesion (slight, signature, distal, ...) and
c the channel (small-fibre, touch, deep). The chances stand in the table of extent
states. With a the altered and n the normal evidence in spots (see ``evidence``),

    log L(h, e) = t * sum over cells and channels of [a log p + n log(1 - p)]
    L(h)        = sum over rows r and extents e of weight(r) * share(e) * L(h, r, e)

and L(h, e) is multiplied by the chance that not every altered spot is a stray answer,
for somebody is examined because something is wrong. Lesions are seldom whole, so the
extent is summed out and not assumed. The factor t (``tempering``) says how independent
two spots are; it is fitted on simulated patients.

"Something else" has a likelihood of its own: a share q of altered skin
that knows no territory, summed over all q from 0 to 1, which is a beta function,

    log L(something else) = t * sum over channels of log B(a + 1, n + 1),

together with rings around limbs. Support is prior times likelihood over the sum of
all, so the supports of all hypotheses and of "something else" add up to one.

Worked example. Two nerves, two spots, one extent; the first spot is altered, the
second was found normal. Nerve A takes the first spot, nerve B both; p is 0.9 inside
and 0.1 outside, t is 1, and nothing else is possible:

    L(A) = 0.9 * (1 - 0.1) = 0.81        L(B) = 0.9 * (1 - 0.9) = 0.09

so equal priors give A 0.81 / (0.81 + 0.09) = 0.9.

>>> import numpy as np
>>> from bodymap.localise.likelihood import log_likelihood, support
>>> altered, normal = np.array([1.0, 0.0]), np.array([0.0, 1.0])
>>> a = log_likelihood(altered, normal, np.array([0.9, 0.1]))
>>> b = log_likelihood(altered, normal, np.array([0.9, 0.9]))
>>> [round(float(x), 2) for x in support(np.array([a, b]), np.log([0.5, 0.5]))]
[0.9, 0.1]
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from bodymap.geometry import Floats
from bodymap.localise.evidence import LOSS, NORMAL, SYMPTOM, Spots
from bodymap.localise.hypotheses import Hypothesis
from bodymap.localise.weights import CHANNELS, EDGE, GRADES, NEAR, OUTSIDE, ExtentStates, Weights

INSIDE = len(GRADES) - 1
"""Grades other than outside."""

LEAST_EXPLAINED = 1e-3
"""Factor on a look that explains nothing of what is altered. Someone is examined for a
complaint, so at least one altered spot is taken to be no stray answer. Judgement."""

TOUCHED = 0.5
"""Spots of a body part that a lesion must take before the rest of it is near. Judgement."""


def log_likelihood(altered: Floats, normal: Floats, chance: Floats) -> float:
    """Log probability of altered and normal evidence (in spots) under given chances."""
    return float((altered * np.log(chance) + normal * np.log1p(-chance)).sum())


def support(log_likelihoods: Floats, log_priors: Floats) -> Floats:
    """Posterior probabilities from log likelihoods and log priors, summing to one."""
    joint = log_likelihoods + log_priors
    weight = np.exp(joint - joint.max())
    return np.asarray(weight / weight.sum())


@dataclass(frozen=True, eq=False)
class Family:
    """Rows of all hypotheses that share extent states. ``vectors`` (rows, channels)
    points to unique grade vectors, ``starts`` to each hypothesis' first row, and
    ``members`` to the hypotheses, in order."""

    states: ExtentStates
    log_chance: Floats
    log_stray: Floats
    vectors: npt.NDArray[np.int64]
    log_weight: Floats
    starts: npt.NDArray[np.int64]
    members: npt.NDArray[np.int64]

    @cached_property
    def logs(self) -> Floats:
        """``log_chance`` of all states, then ``log_stray``: (2 states, channels, grades, 3)."""
        return np.concatenate([self.log_chance, self.log_stray])


class Likelihoods:
    """All rows of all hypotheses, ready to be held against evidence."""

    def __init__(self, hypotheses: Sequence[Hypothesis], weights: Weights, spots: Spots) -> None:
        self.hypotheses = tuple(hypotheses)
        self.tempering = weights["tempering"]
        vectors: dict[bytes, int] = {}
        unique: list[npt.NDArray[np.int8]] = []
        rows: dict[str, list[tuple[int, float, list[int]]]] = {}
        for number, hypothesis in enumerate(self.hypotheses):
            for row in hypothesis.rows:
                point = []
                for grades in row.grades:
                    key = grades.tobytes()
                    if key not in vectors:
                        vectors[key] = len(unique)
                        unique.append(grades)
                    point.append(vectors[key])
                rows.setdefault(hypothesis.family, []).append((number, row.log_weight, point))
        self.grades = _with_near(np.array(unique), spots)
        self._index()
        self.families = [
            _family(weights.families[name], these) for name, these in sorted(rows.items())
        ]

    def _index(self) -> None:
        """Sparse form of the grades: for each (vector, grade) the cells that have it."""
        vector, cell = np.nonzero(self.grades)
        key = vector * INSIDE + self.grades[vector, cell] - 1
        order = np.argsort(key, kind="stable")
        self._keys, self._starts = np.unique(key[order], return_index=True)
        self._cells = cell[order]
        by_cell = np.argsort(cell, kind="stable")
        self._of_cell = key[by_cell]
        self._last_keys: tuple[bytes, npt.NDArray[np.int64], npt.NDArray[np.int64]] | None = None
        self._cell_starts = np.searchsorted(cell[by_cell], np.arange(self.grades.shape[1] + 1))

    @property
    def rows(self) -> int:
        """Number of rows of all hypotheses."""
        return sum(len(f.vectors) for f in self.families)

    def sums(self, columns: Floats) -> Floats:
        """Evidence summed by grade: (vectors, inside grades, channels, 3).

        ``columns`` is the weighed evidence (channels, 3, cells).
        """
        flat = np.ascontiguousarray(columns.reshape(-1, columns.shape[-1]).T)
        found = np.zeros((len(self.grades) * INSIDE, flat.shape[1]))
        used = np.flatnonzero(flat.any(axis=0))
        if len(self._keys) and len(used):
            picked = flat[:, used][self._cells]
            found[np.ix_(self._keys, used)] = np.add.reduceat(picked, self._starts, axis=0)
        return found.reshape(len(self.grades), INSIDE, *columns.shape[:2])

    def add_change(self, sums: Floats, change: Floats) -> None:
        """Bring ``sums`` up to date after the evidence changed by ``change`` (like
        ``columns``) in some cells."""
        cells = np.flatnonzero(change.any(axis=(0, 1)))
        if not len(cells):
            return
        length, keys = self._keys_of(cells)
        flat = sums.reshape(-1, change.shape[0] * change.shape[1])
        rows = change.reshape(-1, change.shape[-1])
        for column in np.flatnonzero(rows[:, cells].any(axis=1)):
            values = np.repeat(rows[column, cells], length)
            flat[:, column] += np.bincount(keys, values, len(flat))

    def _keys_of(
        self, cells: npt.NDArray[np.int64]
    ) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
        """How many sums each cell enters, and which, cell by cell. A stroke asks about much
        the same cells again and again, so the last answer is kept."""
        asked = cells.tobytes()
        known = self._last_keys
        if known is None or known[0] != asked:
            starts = self._cell_starts[cells]
            length = self._cell_starts[cells + 1] - starts
            index = np.repeat(starts - np.r_[0, np.cumsum(length)[:-1]], length)
            known = asked, length, self._of_cell[index + np.arange(length.sum())]
            self._last_keys = known
        return known[1], known[2]

    def joint(self, family: Family, sums: Floats, total: Floats) -> Floats:
        """Log of share times tempered likelihood, (rows, states) of a family.

        ``total`` (channels, 3) is the evidence of all cells together.
        """
        states = len(family.states.names)
        both = np.zeros((len(family.vectors), 2 * states))
        for channel in np.flatnonzero(total.any(axis=1)):
            columns = np.flatnonzero(total[channel])
            here = np.ascontiguousarray(sums[:, :, channel][..., columns])
            inside = here.reshape(len(here), -1)[family.vectors[:, channel]]
            logs = family.logs[:, channel][..., columns]
            # Skin outside is all skin less what lies inside, so inside counts by what it
            # says more than outside.
            more = (logs[:, 1:] - logs[:, :1]).reshape(2 * states, -1)
            both += inside @ more.T + total[channel, columns] @ logs[:, 0].T
        both *= self.tempering
        found, unexplained = both[:, :states], np.exp(both[:, states:])
        found += np.log(np.maximum(1 - unexplained, LEAST_EXPLAINED))
        found += family.states.log_share[None, :] + family.log_weight[:, None]
        return np.asarray(found)

    def of_all(self, columns: Floats, sums: Floats | None = None) -> Floats:
        """Log likelihood of every hypothesis, in their order."""
        if sums is None:
            sums = self.sums(columns)
        total = columns.sum(axis=-1)
        found = np.empty(len(self.hypotheses))
        for family in self.families:
            joint = self.joint(family, sums, total)
            top = joint.max(axis=1)
            rows = top + np.log(np.exp(joint - top[:, None]).sum(axis=1))
            found[family.members] = np.logaddexp.reduceat(rows, family.starts)
        return found

    def chances(self, member: int, columns: Floats, sums: Floats | None = None) -> Floats:
        """Chance (channels, cells) that a spot is altered under one hypothesis, its rows
        and extents weighed by how well they fit the evidence so far."""
        if sums is None:
            sums = self.sums(columns)
        family, first, last = self.place(member)
        joint = self.joint(_part(family, first, last), sums, columns.sum(axis=-1))
        weight = np.exp(joint - joint.max())
        weight /= weight.sum()
        found = np.zeros((len(CHANNELS), self.grades.shape[1]))
        for row, vectors in enumerate(family.vectors[first:last]):
            by_grade = np.tensordot(weight[row], family.states.altered, axes=(0, 0))
            for channel, vector in enumerate(vectors):
                found[channel] += by_grade[channel][self.grades[vector]]
        return found

    def best_row(self, member: int, columns: Floats, sums: Floats | None = None) -> int:
        """The row of a hypothesis that fits the evidence best."""
        if sums is None:
            sums = self.sums(columns)
        family, first, last = self.place(member)
        joint = self.joint(_part(family, first, last), sums, columns.sum(axis=-1))
        return int(np.logaddexp.reduce(joint, axis=1).argmax())

    def place(self, member: int) -> tuple[Family, int, int]:
        """The family of a hypothesis, and its first and past-the-last row there."""
        for family in self.families:
            at = np.flatnonzero(family.members == member)
            if len(at):
                first = int(family.starts[at[0]])
                ends = np.r_[family.starts[1:], len(family.vectors)]
                return family, first, int(ends[at[0]])
        raise IndexError(member)


def scattered(columns: Floats) -> float:
    """Untempered log likelihood of altered skin that knows no territory."""
    found = 0.0
    for channel in columns:
        altered = float(channel[LOSS].sum() + channel[SYMPTOM].sum())
        normal = float(channel[NORMAL].sum())
        if altered + normal > 0:
            found += _log_beta(altered + 1, normal + 1)
    return found


def _with_near(grades: npt.NDArray[np.int8], spots: Spots) -> npt.NDArray[np.int8]:
    """Grades with outside skin told apart: near skin shares a body part with what is taken."""
    taken = (grades >= EDGE) * spots.weight
    parts = np.eye(int(spots.part.max()) + 1)[spots.part]
    touched = taken @ parts >= TOUCHED
    near = (grades == OUTSIDE) & touched[:, spots.part]
    return np.where(near, NEAR, grades).astype(np.int8)


def _log_beta(a: float, b: float) -> float:
    from math import lgamma

    return lgamma(a) + lgamma(b) - lgamma(a + b)


def _family(states: ExtentStates, rows: list[tuple[int, float, list[int]]]) -> Family:
    numbers = np.array([r[0] for r in rows])
    members, starts = np.unique(numbers, return_index=True)
    log_chance = np.stack(
        [np.log(states.altered), np.log(states.symptomatic), np.log1p(-states.altered)], axis=-1
    )
    # Log chance that altered skin is a stray answer, given that it is altered.
    log_stray = np.zeros_like(log_chance)
    for column, chance in ((LOSS, states.altered), (SYMPTOM, states.symptomatic)):
        log_stray[..., column] = np.log(
            chance[..., [NEAR]] / np.maximum(chance, chance[..., [NEAR]])
        )
    return Family(
        states=states,
        log_chance=log_chance,
        log_stray=log_stray,
        vectors=np.array([r[2] for r in rows]),
        log_weight=np.array([r[1] for r in rows]),
        starts=starts,
        members=members,
    )


def _part(family: Family, first: int, last: int) -> Family:
    return replace(
        family,
        vectors=family.vectors[first:last],
        log_weight=family.log_weight[first:last],
        starts=family.starts[:1],
        members=family.members[:1],
    )
