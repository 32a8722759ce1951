"""How simulated persons and examiners behave, from their own table of figures."""

from dataclasses import dataclass
from functools import cached_property
from math import sqrt
from pathlib import Path

from bodymap.atlas.assets import table


@dataclass(frozen=True)
class Habits:
    """Figures of ``assets/localisation/simulation.csv`` by name."""

    folder: Path

    @cached_property
    def _values(self) -> dict[str, float]:
        rows = table(self.folder, "simulation", "localisation")
        return {r["name"]: float(r["value"]) for r in rows}

    def __getitem__(self, name: str) -> float:
        return self._values[name]

    @cached_property
    def error(self) -> float:
        """Share of answers that one examiner gets wrong."""
        return error_from_kappa(self["kappa"])


def error_from_kappa(kappa: float) -> float:
    """Error rate e of each of two examiners who agree with a kappa, where half of the
    spots are altered.

    Both are right or both wrong with (1-e)^2 + e^2; by chance they agree in one half;
    so kappa = ((1-e)^2 + e^2 - 1/2) / (1/2) = (1 - 2e)^2.

    >>> from bodymap.simulation.habits import error_from_kappa
    >>> round(error_from_kappa(0.53), 3)
    0.136
    """
    return (1 - sqrt(kappa)) / 2
