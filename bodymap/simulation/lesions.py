"""What a simulated lesion really takes: one person's skin, channel by channel.

Lesions of roots, nerves and plexuses take the drawn territory of the atlas; persons
differ in where its border runs. Patterns of cord, brain and length-dependent
neuropathy are written here anew from their anatomy.
"""

import re
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bodymap.atlas import Atlas
from bodymap.geometry import Floats
from bodymap.localise.limb_distance import LimbDistance
from bodymap.simulation.habits import Habits
from bodymap.terms import DERMATOMES, Side

Mask = npt.NDArray[np.bool_]

SPINE = [d for d in DERMATOMES if not d.startswith("V")]


RUN = re.compile(r"roots?-([ctls]\d+)(?:-([ctls]\d+))?")
"""Ids of a root and of a run of roots."""


@dataclass(frozen=True)
class Lesion:
    """A lesion by the id and side of the ranking."""

    id: str
    side: Side


class Bodies:
    """Truth for lesions on the skin of an atlas. Masks are (channels, cells)."""

    def __init__(self, atlas: Atlas, habits: Habits) -> None:
        self.atlas = atlas
        self.habits = habits
        self.limbs = LimbDistance(atlas)
        self.left = atlas.cells.left
        first = len(DERMATOMES) - len(SPINE)
        self.level = atlas.cells.dermatome.astype(np.int64) - first

    def skin(self, lesion: Lesion, chance: np.random.Generator) -> Mask:
        """The skin that a whole lesion takes in one person."""
        id_, side = lesion.id, lesion.side
        if id_.startswith("cord-"):
            return self._cord(id_, side, chance)
        if id_ == "polyneuropathy":
            return self._neuropathy(chance)
        if id_ == "hemisensory":
            return np.tile(self._side(side), (3, 1))
        if id_ == "lateral-medulla":
            return self._medulla(side, chance)
        if id_ == "cheiro-oral":
            return self._mouth_and_hand(side, chance)
        return np.tile(self._focal(id_, side, chance), (3, 1))

    def roots_of(self, lesion: Lesion) -> set[str]:
        """The roots whose muscles a lesion weakens: of a root or run those named, of a
        cord lesion all from its level down, else none."""
        run = RUN.fullmatch(lesion.id)
        if run:
            start = SPINE.index(run[1].upper())
            end = SPINE.index(run[2].upper()) if run[2] else start
            return set(SPINE[start : end + 1])
        if lesion.id.startswith("cord-") and not lesion.id.startswith("cord-posterior"):
            _, form, *levels = lesion.id.split("-")
            start = SPINE.index(levels[0].upper())
            end = SPINE.index(levels[1].upper()) if form == "central" else len(SPINE) - 1
            return set(SPINE[start : end + 1])
        return set()

    def _side(self, side: Side) -> Mask:
        return self.atlas.cells.on_side(side)

    def _focal(self, id_: str, side: Side, chance: np.random.Generator) -> Mask:
        run = RUN.fullmatch(id_)
        if run:
            start = SPINE.index(run[1].upper())
            end = SPINE.index(run[2].upper()) if run[2] else start
            if not run[2] and side is not Side.BOTH:
                start = end = self._shifted(start, chance)
            return (self.level >= start) & (self.level <= end) & self._side(side)
        site = self.atlas.facts.lesion_sites.get(id_)
        names = self.atlas.cells.nerve_names
        if site is None and id_.startswith("intercostal-"):
            mine = [
                n for n, name in enumerate(names) if name in (f"{id_}-lateral", f"{id_}-anterior")
            ]
            return np.isin(self.atlas.cells.nerve, mine) & self._side(side)
        if site is None:
            return self.atlas.territory(id_, side).extent
        taken = [n for n, name in enumerate(names) if name in site.affected]
        for branch in site.variable:
            if branch in names and chance.random() < self.habits["variable_branch"]:
                taken.append(names.index(branch))
        return np.isin(self.atlas.cells.nerve, taken) & self._side(side)

    def _shifted(self, level: int, chance: np.random.Generator) -> int:
        """The strip that a root supplies in this person: its own, or a neighbour's."""
        if chance.random() < self.habits["standard_dermatome"]:
            return level
        return int(np.clip(level + chance.choice([-1, 1]), 0, len(SPINE) - 1))

    def _cord(self, id_: str, side: Side, chance: np.random.Generator) -> Mask:
        _, form, *levels = id_.split("-")
        start = SPINE.index(levels[0].upper())
        below = self.level >= start
        none = np.zeros_like(below)
        touch = below if chance.random() < 0.5 else none
        if form == "transverse":
            return np.array([below, below, below])
        if form == "anterior":
            return np.array([below, touch, none])
        if form == "posterior":
            return np.array([none, touch, below])
        if form == "central":
            band = below & (self.level <= SPINE.index(levels[1].upper()))
            return np.array([band, none, none])
        same, other = self._side(side), self._side(side.opposite)
        crossed = self.level >= start + chance.integers(1, 3)
        return np.array([crossed & other, touch & same, below & same])

    def _neuropathy(self, chance: np.random.Generator) -> Mask:
        cut = chance.triangular(8.0, 30.0, 90.0)
        legs = (self.limbs.limb == 2) & (self.limbs.distance < cut)
        arms = (self.limbs.limb == 1) & (self.limbs.distance < cut - chance.normal(57, 6))
        both = legs | arms
        none = np.zeros_like(both)
        form = chance.choice(3, p=[0.6, 0.2, 0.2])
        return np.array([(both,) * 3, (both, none, none), (none, both, both)][form])

    def _medulla(self, side: Side, chance: np.random.Generator) -> Mask:
        face = self.level < 0
        form = chance.choice(5, p=np.array([13, 12, 9, 10, 4]) / 48)
        same, other = self._side(side), self._side(side.opposite)
        faces = (same, same | other, other, np.zeros_like(same), same)[form]
        start = chance.choice([0, 3, 8, 12], p=[0.5, 0.2, 0.2, 0.1])
        body = (self.level >= start) & other & (form != 4)
        none = np.zeros_like(same)
        return np.array([(face & faces) | body, none, none])

    def _mouth_and_hand(self, side: Side, chance: np.random.Generator) -> Mask:
        parts = self.atlas.facts.body_parts
        regions = list(self.atlas.facts.regions)
        hand = [n for n, r in enumerate(regions) if parts[r] == "hand"]
        digits = [n for n in hand if any(w in regions[n] for w in DIGITS)]
        taken = digits if chance.random() < 0.6 else hand
        mouth = [regions.index(r) for r in ("upper-lip", "lower-lip")]
        if chance.random() < 0.5:
            mouth.append(regions.index("chin"))
        here = np.isin(self.atlas.region_of_cell, [*taken, *mouth]) & self._side(side)
        return np.tile(here, (3, 1))

    def distance(self) -> Floats:
        """Distance (cm) of every cell from the tip of its limb."""
        return self.limbs.distance


DIGITS = ("thumb", "index", "middle", "ring", "little")
