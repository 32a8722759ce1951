"""What each root, lesion site and plexus part takes, as unions of cells.

A territory has three parts of skin. ``extent`` is the drawn territory: the skin a
complete lesion takes. ``signature`` is the part of it where loss is expected in
nearly every complete lesion (core, autonomous). ``fringe`` lies outside the
extent: overlap from a neighbour, or skin that only some published maps or some
lesions reach (the fringe rows of the tables, and branches marked variable).
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bodymap.atlas.cells import Cells
from bodymap.atlas.facts import Facts, LesionSite
from bodymap.atlas.nerve_tree import FibrePaths, plexus_parts
from bodymap.language import tr
from bodymap.terms import DERMATOMES, Side

Mask = npt.NDArray[np.bool_]

HALF = 0.5
"""Skin belongs to a plexus part if at least this share of its fibres pass there;
with a smaller share it is fringe. Judgement."""

KINDS = {"mononeuropathy": "nerve", "plexus": "plexus", "root": "root", "cauda": "cauda"}


@dataclass(frozen=True, eq=False)
class Territory:
    """One lesion on one side. Masks have one entry for each cell of the atlas."""

    id: str
    english: str
    kind: str
    side: Side
    extent: Mask
    signature: Mask
    fringe: Mask

    @property
    def name(self) -> str:
        """The lesion as it is read."""
        return tr(self.english)

    @property
    def has_skin(self) -> bool:
        """Whether a complete lesion takes any skin."""
        return bool(self.extent.any())


def all_territories(cells: Cells, facts: Facts) -> tuple[Territory, ...]:
    """Every root, lesion site and plexus part, left and right (or both), in table order.

    Lesions without skin (purely motor nerves) are among them, with empty masks.
    """
    roles = _Roles(cells, facts)
    paths = FibrePaths(facts)
    found: list[Territory] = []
    for site in facts.lesion_sites.values():
        masks = roles.of_root(site) if site.kind == "root" else roles.of_branches(site, facts)
        found += _on_sides(site.id, site.english, KINDS[site.kind], site.bilateral, masks, cells)
    named_sites = {s.plexus_node for s in facts.lesion_sites.values()} | set(facts.lesion_sites)
    for part, name in plexus_parts(facts).items():
        if part not in named_sites:
            masks = _fibres_through(part, paths, cells, facts)
            found += _on_sides(part, name, "plexus", False, masks, cells)
    return tuple(found)


def _on_sides(
    id_: str,
    name: str,
    kind: str,
    bilateral: bool,
    masks: tuple[Mask, Mask, Mask],
    cells: Cells,
) -> Iterable[Territory]:
    for side in (Side.BOTH,) if bilateral else (Side.LEFT, Side.RIGHT):
        here = cells.on_side(side)
        yield Territory(id_, name, kind, side, *(m & here for m in masks))


class _Roles:
    """The roles of the tables, spread over the cells."""

    def __init__(self, cells: Cells, facts: Facts) -> None:
        whole = [facts.parts[r].whole for r in cells.region_names]
        self._cells = cells
        self._wholes = list(facts.regions)
        self._region = np.array([self._wholes.index(w) for w in whole])[cells.region]
        self._segment = facts.segment_roles
        self._nerve = facts.nerve_roles

    def in_regions(self, regions: Iterable[str]) -> Mask:
        wanted = [self._wholes.index(r) for r in regions]
        return np.isin(self._region, wanted)

    def of_root(self, site: LesionSite) -> tuple[Mask, Mask, Mask]:
        extent = np.zeros(len(self._cells), dtype=bool)
        core, reach = extent.copy(), extent.copy()
        for segment in site.segments:
            extent |= self._cells.dermatome == DERMATOMES.index(segment)
            rows = {r: role for (r, s), role in self._segment.items() if s == segment}
            core |= self.in_regions(r for r, role in rows.items() if role == "core")
            reach |= self.in_regions(rows)
        return extent, extent & core, reach & ~extent

    def of_branches(self, site: LesionSite, facts: Facts) -> tuple[Mask, Mask, Mask]:
        extent = np.zeros(len(self._cells), dtype=bool)
        sure, reach = extent.copy(), extent.copy()
        for branch in site.affected:
            mine = self.of_branch(branch)
            extent |= mine
            rows = {r: role for (r, n), role in self._nerve.items() if n == branch}
            sure |= mine & self.in_regions(r for r, role in rows.items() if role == "autonomous")
            reach |= self.in_regions(rows)
        for branch in site.variable:
            reach |= self.of_branch(branch)
        nerve = facts.nerves.get(site.nerve)
        if nerve is not None:
            sure |= self.in_regions(nerve.autonomous_regions)
        return extent, extent & sure, reach & ~extent

    def of_branch(self, branch: str) -> Mask:
        names = self._cells.nerve_names
        if branch not in names:
            return np.zeros(len(self._cells), dtype=bool)
        return np.asarray(self._cells.nerve == names.index(branch))


def _fibres_through(
    part: str, paths: FibrePaths, cells: Cells, facts: Facts
) -> tuple[Mask, Mask, Mask]:
    extent = np.zeros(len(cells), dtype=bool)
    fringe, sure = extent.copy(), extent.copy()
    for number, branch in enumerate(cells.nerve_names):
        mean = paths.share_of_branch(part, branch)
        if mean <= 0:
            continue
        whole = [r for r in facts.regions if facts.nerve_roles.get((r, branch)) == "autonomous"]
        autonomous = np.array([facts.parts[r].whole in whole for r in cells.region_names])
        for segment_number, segment in enumerate(DERMATOMES):
            here = (cells.nerve == number) & (cells.dermatome == segment_number)
            if not here.any():
                continue
            known = paths.share(segment, part, branch)
            share = mean if known is None else known
            if share >= HALF:
                extent |= here
                sure |= here & autonomous[cells.region]
            elif share > 0:
                fringe |= here
    return extent, sure, fringe
