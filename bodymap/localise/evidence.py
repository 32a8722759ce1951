"""From a drawing to evidence: what every cell says in each channel, and how loudly.

A cell speaks with the weight of the spots it holds, not with its area: a named
region counts as one spot, so a finger is not drowned by a thigh; a wide region of
the trunk counts once for each dermatome that has a fair share of it. Skin that was
not marked is weak evidence for normal where its body part was looked at, and next to
none elsewhere.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Floats
from bodymap.localise.weights import CHANNELS, DEEP, SMALL, TOUCH, Weights
from bodymap.terms import Change, Modality

CHANNEL_OF = {
    Modality.LIGHT_TOUCH: TOUCH,
    Modality.PINPRICK: SMALL,
    Modality.TEMPERATURE: SMALL,
    Modality.VIBRATION: DEEP,
    Modality.JOINT_POSITION: DEEP,
}

LOSS, SYMPTOM, NORMAL = range(3)
"""Columns of the evidence: reduced or absent; increased or tingling; normal."""

FAIR_SHARE = 0.15
"""A dermatome with at least this share of a region has a spot of its own there.
Judgement: a third of a three-band region is far above it, a sliver below."""

BANDED = ("trunk", "buttocks", "perineum")
"""Body parts whose regions are examined level by level."""

BESIDE = {
    "head": ("neck",),
    "neck": ("head", "trunk"),
    "trunk": ("neck", "upper-arm", "buttocks", "thigh"),
    "upper-arm": ("trunk", "forearm"),
    "forearm": ("upper-arm", "hand"),
    "hand": ("forearm",),
    "buttocks": ("trunk", "thigh", "perineum"),
    "perineum": ("buttocks", "thigh"),
    "thigh": ("trunk", "buttocks", "perineum", "leg"),
    "leg": ("thigh", "foot"),
    "foot": ("leg",),
}
"""Which body parts touch which."""


class Spots:
    """How the cells of an atlas are grouped into testing spots and body parts."""

    def __init__(self, atlas: Atlas, weights: Weights) -> None:
        self.atlas = atlas
        self.weights = weights
        self.weight = _spot_weights(atlas)
        self.area = atlas.cells.area_cm2
        spot = (2 * atlas.region_of_cell + atlas.cells.left) * 64 + atlas.cells.dermatome
        self.spot = np.unique(spot, return_inverse=True)[1]
        self._spot_area = np.bincount(self.spot, self.area)
        parts = tuple(BESIDE)
        by_region = [parts.index(atlas.facts.body_parts[r]) for r in atlas.facts.regions]
        side = atlas.cells.left.astype(np.int64)
        self.part = 2 * np.array(by_region)[atlas.region_of_cell] + side
        self._size = np.bincount(self.part, self.weight, 2 * len(parts))
        self._reach = np.zeros((2 * len(parts), 2 * len(parts)))
        for a, name in enumerate(parts):
            beside = [parts.index(other) for other in BESIDE[name]]
            for left in (0, 1):
                here = 2 * a + left
                self._reach[here, here] = weights["own_untested"]
                self._reach[2 * a + 1 - left, here] = weights["opposite_untested"]
                for other in beside:
                    share = weights["adjacent_untested"] / len(beside)
                    self._reach[2 * other + left, here] = share

    def loudness(self, altered: Floats) -> Floats:
        """Factor on altered evidence in every cell, from the altered share of each.

        A patch that covers a share s of its spot is still a finding: it counts as
        s to the power ``patch_power`` of a spot.
        """
        covered = np.bincount(self.spot, altered * self.area)
        share = np.clip(covered / self._spot_area, 1e-4, 1.0)
        factor: Floats = share ** (self.weights["patch_power"] - 1)
        return factor[self.spot]

    def attention(self, altered: Floats) -> Floats:
        """For every cell, how much unmarked skin there says 'normal' (0 to 1).

        ``altered`` is the altered share of each cell. Each altered spot lends a little
        weight to the unmarked skin of its body part, of the parts beside it and of the
        same part of the other side: in all less than half a spot, so that no finding
        can weaken the lesion that predicts it.
        """
        found = np.bincount(self.part, altered * self.weight, len(self._size))
        lent = self._reach @ found / np.where(self._size > 0, self._size, 1.0)
        far, near = self.weights["far_untested"], self.weights["near_untested"]
        reach: Floats = np.minimum(far + lent, near)
        return reach[self.part]


@dataclass(frozen=True, eq=False)
class Evidence:
    """What a drawing says, before it is weighed.

    ``shares`` maps each tested modality to an array (3, cells): the share (0 to 1)
    of every cell that is lost, symptomatic or normal.
    """

    spots: Spots
    shares: dict[Modality, Floats]

    @classmethod
    def of(cls, spots: Spots, drawing: Drawing) -> "Evidence":
        """The evidence of a drawing."""
        atlas = spots.atlas
        shares: dict[Modality, Floats] = {}
        for modality, change, layer in drawing:
            share = layer.painted_cm2(atlas) / atlas.cells.area_cm2
            found = shares.setdefault(modality, np.zeros((3, len(share))))
            column = _column(change)
            found[column] = np.maximum(found[column], share)
        return cls(spots, shares)

    def with_painted(
        self, modality: Modality, change: Change | None, painted_cm2: Floats
    ) -> "Evidence":
        """The evidence after more skin was painted (or erased, without a change).

        ``painted_cm2`` holds the painted area of every cell.
        """
        share = np.minimum(painted_cm2 / self.spots.atlas.cells.area_cm2, 1.0)
        before = self.shares.get(modality)
        after = np.zeros((3, len(share))) if before is None else before * (1 - share)
        if change is not None:
            column = _column(change)
            after[column] = np.minimum(1.0, after[column] + share)
        return Evidence(self.spots, {**self.shares, modality: after})

    @cached_property
    def altered(self) -> Floats:
        """Share of every cell that is altered in a channel, (channels, cells)."""
        found = np.zeros((len(CHANNELS), len(self.spots.weight)))
        for modality, share in self.shares.items():
            channel = CHANNEL_OF[modality]
            here = np.minimum(share[LOSS] + share[SYMPTOM], 1.0)
            found[channel] = np.maximum(found[channel], here)
        return found

    @cached_property
    def columns(self) -> Floats:
        """Weighed evidence, (channels, 3, cells): loss, symptom, normal in spots.

        Modalities of one channel are averaged; where k channels were tested on the same
        skin they count as k to the power (1 - ``several_modalities``) together.
        """
        weights = self.spots.weights
        found = np.zeros((len(CHANNELS), 3, len(self.spots.weight)))
        tested = np.zeros(len(self.spots.weight))
        for channel in range(len(CHANNELS)):
            mine = [s for m, s in self.shares.items() if CHANNEL_OF[m] == channel and s.any()]
            if not mine:
                continue
            share = np.mean(mine, axis=0)
            touched = np.minimum(share.sum(axis=0), 1.0)
            altered = np.minimum(share[:2].sum(axis=0), 1.0)
            tested += touched
            quiet = 1.0 if channel != DEEP else weights["deep_untested"]
            # What is altered in another modality was looked at there, not here.
            free = 1 - np.maximum(touched, self.altered.max(axis=0))
            unmarked = free * self.spots.attention(altered) * quiet
            found[channel] = share
            found[channel, :2] *= self.spots.loudness(altered)
            found[channel, SYMPTOM] *= weights["symptom_weight"]
            found[channel, NORMAL] += unmarked
        found *= np.maximum(tested, 1.0) ** -weights["several_modalities"]
        return np.asarray(found * self.spots.weight)


def _column(change: Change) -> int:
    if change is Change.NORMAL:
        return NORMAL
    return LOSS if change in (Change.REDUCED, Change.ABSENT) else SYMPTOM


def _spot_weights(atlas: Atlas) -> Floats:
    """Spots that each cell holds: its share of its region times the region's spots."""
    cells, area = atlas.cells, atlas.cells.area_cm2
    region = 2 * atlas.region_of_cell + cells.left
    whole = np.bincount(region, area)
    levels = int(cells.dermatome.max()) + 1
    band = np.bincount(region * levels + cells.dermatome, area, len(whole) * levels)
    share = band.reshape(len(whole), levels) / np.where(whole > 0, whole, 1.0)[:, None]
    spots = np.maximum((share >= FAIR_SHARE).sum(axis=1), 1)
    parts = [atlas.facts.body_parts[r] for r in atlas.facts.regions]
    banded = np.repeat([part in BANDED for part in parts], 2)
    spots = np.where(banded[: len(spots)], spots, 1)
    found: Floats = area / whole[region] * spots[region]
    return found
