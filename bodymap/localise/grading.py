"""How surely each lesion takes each cell: the grades that the chances are read from.

Two sources meet in a grade. The map says where the border runs, as one line; the
tables say which regions belong to a segment or branch, and how surely. Where both
agree the grade is high, where only one of them says so the skin is an edge.
"""

from collections.abc import Iterable
from functools import cached_property

import numpy as np
import numpy.typing as npt

from bodymap.atlas import Atlas
from bodymap.atlas.facts import LesionSite
from bodymap.atlas.territories import Territory
from bodymap.geometry import Floats
from bodymap.localise.limb_distance import LimbDistance
from bodymap.localise.weights import (
    CORE,
    DISTAL,
    EDGE,
    FRINGE,
    OUTSIDE,
    PROXIMAL,
    VARIABLE,
)
from bodymap.terms import DERMATOMES, Side

Grades = npt.NDArray[np.int8]
"""One grade for every cell (index into ``weights.GRADES``)."""

LONG_CM = 8.0
"""A territory shorter than this along its limb has no proximal part. Judgement."""


class Grading:
    """Grades of roots, branches and drawn territories over the cells of an atlas."""

    def __init__(self, atlas: Atlas, spot_weight: Floats) -> None:
        self.atlas = atlas
        self.limbs = LimbDistance(atlas)
        self._weight = spot_weight
        regions = list(atlas.facts.regions)
        self._number = {r: n for n, r in enumerate(regions)}
        self._segment = _by_second(atlas.facts.segment_roles)
        self._nerve = _by_second(atlas.facts.nerve_roles)

    @cached_property
    def _segments(self) -> dict[str, Grades]:
        return {s: self._one(self._drawn_segment(s), self._segment.get(s, {})) for s in DERMATOMES}

    @cached_property
    def _branches(self) -> dict[str, Grades]:
        names = self.atlas.facts.cutaneous
        return {n: self._one(self._drawn_branch(n), self._nerve.get(n, {})) for n in names}

    def of_segments(self, segments: Iterable[str], side: Side) -> Grades:
        """Skin of one or more roots on a side or both."""
        found = np.max([self._segments[s] for s in segments], axis=0)
        return self._split(found, side)

    def of_site(self, site: LesionSite, side: Side) -> Grades:
        """Skin of a lesion site that is described by its branches."""
        found = np.zeros(len(self.atlas.cells), dtype=np.int8)
        for branch in site.affected:
            found = np.maximum(found, self._branches[branch])
        nerve = self.atlas.facts.nerves.get(site.nerve)
        if nerve is not None:
            sure = self._in_regions(nerve.autonomous_regions)
            found[sure & (found >= PROXIMAL)] = CORE
        for branch in site.variable:
            mine = self._branches[branch]
            found[(mine >= EDGE) & (found < EDGE)] = VARIABLE
            found[(mine == FRINGE) & (found == 0)] = FRINGE
        # Fringe skin that belongs to a branch which is characteristically spared is spared.
        for branch in site.spared:
            main = [r for r, role in self._nerve.get(branch, {}).items() if role != "fringe"]
            found[(found == FRINGE) & self._in_regions(main)] = OUTSIDE
        return self._split(found, side)

    def of_territory(self, territory: Territory) -> Grades:
        """Skin of a territory that is known by its masks only (a part of a plexus)."""
        found = np.zeros(len(self.atlas.cells), dtype=np.int8)
        found[territory.fringe] = VARIABLE
        found[territory.extent] = PROXIMAL
        found[territory.signature] = CORE
        return self._split(found, territory.side)

    def _one(self, drawn: npt.NDArray[np.bool_], roles: dict[str, str]) -> Grades:
        by_role: dict[str, list[str]] = {}
        for region, role in roles.items():
            by_role.setdefault(role, []).append(region)
        sure = self._in_regions([*by_role.get("core", ()), *by_role.get("autonomous", ())])
        usual = self._in_regions(by_role.get("usual", ()))
        fringe = self._in_regions(by_role.get("fringe", ()))
        found = np.zeros(len(drawn), dtype=np.int8)
        found[fringe] = FRINGE
        found[drawn | usual | sure] = EDGE
        found[drawn & usual] = PROXIMAL
        found[sure & drawn] = CORE
        return found

    def _split(self, found: Grades, side: Side) -> Grades:
        """Only one side, with the far half of the territory told from the near half."""
        found = np.where(self.atlas.cells.on_side(side), found, 0).astype(np.int8)
        body = found == PROXIMAL
        if not body.any():
            return found
        distance, limb = self.limbs.distance, self.limbs.limb
        on_limb = body & (limb > 0)
        found[body & (limb == 0)] = DISTAL
        if on_limb.any():
            span = np.ptp(distance[on_limb])
            middle = np.average(distance[on_limb], weights=self._weight[on_limb])
            far = on_limb & ((distance <= middle) | (span < LONG_CM))
            found[far] = DISTAL
            # What lies on the trunk is the near part of a territory that enters a limb.
            if self._weight[on_limb].sum() > self._weight[body].sum() / 2:
                found[body & (limb == 0)] = PROXIMAL
        return found

    def _drawn_segment(self, name: str) -> npt.NDArray[np.bool_]:
        return np.asarray(self.atlas.cells.dermatome == DERMATOMES.index(name))

    def _drawn_branch(self, name: str) -> npt.NDArray[np.bool_]:
        cells = self.atlas.cells
        if name not in cells.nerve_names:
            return np.zeros(len(cells), dtype=bool)
        return np.asarray(cells.nerve == cells.nerve_names.index(name))

    def _in_regions(self, regions: Iterable[str]) -> npt.NDArray[np.bool_]:
        return np.isin(self.atlas.region_of_cell, [self._number[r] for r in regions])


def _by_second(roles: dict[tuple[str, str], str]) -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = {}
    for (region, name), role in roles.items():
        found.setdefault(name, {})[region] = role
    return found
