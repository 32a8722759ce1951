"""Every number the localisation rests on, read from the tables of assets/localisation.

Each row of the tables names its source or the word "judgement". Nothing in the code
beside them weighs evidence.
"""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np

from bodymap.atlas.assets import table
from bodymap.errors import AssetError
from bodymap.geometry import Floats

GRADES = ("outside", "near", "fringe", "edge", "proximal", "distal", "core", "variable")
"""How surely a complete lesion takes a piece of skin, by name. Near skin is not taken,
but lies in a body part that is."""

OUTSIDE, NEAR, FRINGE, EDGE, PROXIMAL, DISTAL, CORE, VARIABLE = range(len(GRADES))

CHANNELS = ("small-fibre", "touch", "deep")
"""Pinprick and temperature; light touch; vibration and joint position."""

SMALL, TOUCH, DEEP = range(len(CHANNELS))


EXAMINATIONS = ("careful", "noisy")
"""Every extent is thought of with few and with many wrong answers."""


@dataclass(frozen=True)
class ExtentStates:
    """How lesions of one family fill their territory, from slight to whole.

    ``log_share`` (states,) is the log of how often each state occurs; ``altered``
    (states, channels, grades) the chance that skin of a grade is found altered, and
    ``symptomatic`` the chance that it tingles or is oversensitive.
    """

    names: tuple[str, ...]
    log_share: Floats
    altered: Floats
    symptomatic: Floats


@dataclass(frozen=True)
class Weights:
    """The tables of one assets folder."""

    folder: Path

    @cached_property
    def values(self) -> dict[str, float]:
        """Single numbers by name."""
        return {r["name"]: float(r["value"]) for r in table(self.folder, "weights", TOPIC)}

    def __getitem__(self, name: str) -> float:
        if name not in self.values:
            raise AssetError(f"weights.csv has no row '{name}'; add one.")
        return self.values[name]

    @cached_property
    def priors(self) -> dict[str, float]:
        """Relative weights before any finding, by hypothesis id or group."""
        return {r["id"]: float(r["weight"]) for r in table(self.folder, "priors", TOPIC)}

    @cached_property
    def families(self) -> dict[str, ExtentStates]:
        """The extent states of each family of lesions."""
        rows: dict[str, list[dict[str, str]]] = {}
        for row in table(self.folder, "extent-states", TOPIC):
            rows.setdefault(row["family"], []).append(row)
        return {family: self._states(family, found) for family, found in rows.items()}

    def _states(self, family: str, rows: list[dict[str, str]]) -> ExtentStates:
        share = np.array([float(r["share"]) for r in rows])
        inside = np.array([[float(r[g]) for g in GRADES[FRINGE:]] for r in rows])
        factor = np.ones(len(CHANNELS))
        if family == "root":
            factor[TOUCH], factor[DEEP] = self["touch_in_roots"], self["deep_in_roots"]
        chance = np.zeros((len(rows), len(CHANNELS), len(GRADES)))
        chance[:, :, FRINGE:] = inside[:, None, :] * factor[None, :, None]
        noisy = self["share_noisy"]
        log_share = np.log(share / share.sum())
        return ExtentStates(
            tuple(f"{r['state']}, {how}" for how in EXAMINATIONS for r in rows),
            np.concatenate([log_share + np.log(1 - noisy), log_share + np.log(noisy)]),
            np.concatenate([self._with_noise(chance, "loss", how) for how in EXAMINATIONS]),
            np.concatenate([self._with_noise(chance, "symptom", how) for how in EXAMINATIONS]),
        )

    def _with_noise(self, chance: Floats, column: str, how: str) -> Floats:
        # A wrong answer makes skin outside altered, and skin inside normal, alike.
        near, miss = self[f"near_{column}_{how}"], self[f"near_loss_{how}"]
        found = near + (1 - near - miss) * chance
        found[..., OUTSIDE] = self[f"outside_{column}_{how}"]
        return np.asarray(found)


TOPIC = "localisation"
"""The folder of the tables within assets/."""
