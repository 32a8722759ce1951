"""Supports after the evidence: of single hypotheses, of pairs, of something else."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from bodymap.findings.signs import Signs
from bodymap.geometry import Floats
from bodymap.localise.evidence import Evidence
from bodymap.localise.pairs import Pair


@dataclass(frozen=True, eq=False)
class Posterior:
    """Joint log probabilities and the evidence they come from.

    ``joint`` holds log prior plus log likelihood of every hypothesis, those that name
    a lesion (the first ``named``) before the rings, of which ``of_signs`` is the part
    of muscles and reflexes; ``calibration`` is the power that all joint probabilities
    are raised to before they are scaled to sum to one; ``nothing`` the same for altered
    skin without structure. ``columns`` and ``sums`` are as in ``likelihood``.
    """

    named: int
    joint: Floats
    log_prior: Floats
    of_signs: Floats
    nothing: float
    evidence: Evidence
    columns: Floats
    sums: Floats
    signs: Signs
    calibration: float
    pairs: tuple[Pair, ...] = ()

    @cached_property
    def _log_total(self) -> float:
        parts = np.r_[self.joint, self.nothing, [p.joint for p in self.pairs]]
        return float(np.logaddexp.reduce(self.calibration * parts))

    @cached_property
    def single(self) -> Floats:
        """Support of every hypothesis."""
        return np.asarray(np.exp(self.calibration * self.joint - self._log_total))

    @cached_property
    def something_else(self) -> float:
        """Support of rings and of skin without structure together."""
        rings = float(self.single[self.named :].sum())
        return rings + float(np.exp(self.calibration * self.nothing - self._log_total))

    def support(self, pair: Pair) -> float:
        """Support of two separate lesions."""
        return float(np.exp(self.calibration * pair.joint - self._log_total))

    def with_pairs(self, pairs: tuple[Pair, ...]) -> "Posterior":
        """The supports when pairs of lesions are thought of as well."""
        return replace(self, pairs=pairs)

    def ordered(self, most: int) -> Iterator[tuple[int | Pair, float]]:
        """The first ``most`` of hypotheses (by number) and pairs, with their supports."""
        known = self.single[: self.named]
        # Equal supports keep the order of the tables: the commoner site stands first.
        first = np.argsort(-known, kind="stable")[:most]
        entries: list[tuple[int | Pair, float]] = [(int(n), float(known[n])) for n in first]
        entries += [(p, self.support(p)) for p in self.pairs]
        yield from sorted(entries, key=lambda e: -e[1])[:most]
