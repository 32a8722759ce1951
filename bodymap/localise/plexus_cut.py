"""Cutting a plexus: which skin and which muscles lose their fibres.

The graph of a plexus runs from the roots through trunks, divisions and cords to the
nerves. Fibres of one segment to one branch run along paths; a cut takes those that
pass through it. Weights are rough ranks (see ``plexus.csv``), so "half" is a word and
not a measurement.
"""

from collections import defaultdict
from dataclasses import dataclass
from functools import cache

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.nerve_tree import plexus_parts
from bodymap.atlas.territories import Mask
from bodymap.language import tr
from bodymap.terms import DERMATOMES, Side

PLEXUSES: dict[str, tuple[str, ...]] = {
    "Brachial plexus": ("C5", "C6", "C7", "C8", "T1"),
    "Lumbosacral plexus": ("L1", "L2", "L3", "L4", "L5", "S1", "S2", "S3"),
}
"""Roots of the plexuses that are drawn as graphs."""

HALF = 0.5
"""Skin or a muscle that loses at least this share of its fibres counts as lost."""

LEAST_WEIGHT = 0.2
"""Links thinner than this are inconstant and not drawn."""


@dataclass(frozen=True)
class Node:
    """A part of the graph: id, name, and its column (roots are column 0)."""

    id: str
    english: str
    column: int

    @property
    def name(self) -> str:
        """The part as it is read."""
        return tr(self.english)


@dataclass(frozen=True)
class Graph:
    """Nodes in drawing order, and links (start, end, weight)."""

    nodes: tuple[Node, ...]
    links: tuple[tuple[str, str, float], ...]


@dataclass(frozen=True, eq=False)
class Cut:
    """What a cut takes: skin wholly (or mostly) and skin in part, and muscles by id."""

    lost: Mask
    in_part: Mask
    muscles: tuple[str, ...]


def plexus_graph(atlas: Atlas, plexus: str) -> Graph:
    """The graph of a plexus, from its roots to the nerves that leave it."""
    facts = atlas.facts
    inner = plexus_parts(facts)
    start = PLEXUSES[plexus]
    column = dict.fromkeys(start, 0)
    links: list[tuple[str, str, float]] = []
    frontier = list(start)
    while frontier:
        node = frontier.pop(0)
        for link in facts.plexus:
            if link.start != node or link.weight < LEAST_WEIGHT or link.kind == "dorsal":
                continue
            links.append((node, link.end, link.weight))
            column[link.end] = max(column.get(link.end, 0), column[node] + 1)
            if link.end in inner:
                frontier.append(link.end)
    # A nerve stands in the last column, whatever it leaves from.
    last = max(column.values())
    nodes = []
    for id_, at in column.items():
        nerve = facts.nerves.get(id_)
        name = id_ if id_ in start else inner.get(id_) or (nerve.english if nerve else id_)
        nodes.append(Node(id_, name, at if id_ in start or id_ in inner else last))
    order = {id_: n for n, id_ in enumerate(column)}
    nodes.sort(key=lambda n: (n.column, order[n.id]))
    return Graph(tuple(nodes), tuple(dict.fromkeys(links)))


class Plexuses:
    """Cuts through the plexuses of an atlas, on either side."""

    def __init__(self, atlas: Atlas) -> None:
        self._atlas = atlas
        facts = atlas.facts
        self._links: dict[str, list[tuple[str, float]]] = defaultdict(list)
        for link in facts.plexus:
            self._links[link.start].append((link.end, link.weight))
        for nerve in facts.nerves.values():
            if nerve.parent:
                self._links[nerve.parent].append((nerve.id, 1.0))

    def cut(self, nodes: frozenset[str], side: Side = Side.RIGHT) -> Cut:
        """The skin of a side and the muscles that a cut through some nodes takes."""
        atlas = self._atlas
        cells, facts = atlas.cells, atlas.facts
        lost = np.zeros(len(cells), dtype=bool)
        part = lost.copy()
        on_side = cells.on_side(side)
        for number, branch in enumerate(cells.nerve_names):
            for segment_number, segment in enumerate(DERMATOMES):
                here = (cells.nerve == number) & (cells.dermatome == segment_number) & on_side
                if not here.any():
                    continue
                share = self._taken(nodes, branch, segment)
                if share >= HALF:
                    lost |= here
                elif share > 0:
                    part |= here
        muscles = tuple(
            sign.id
            for sign in facts.signs.values()
            if sign.kind == "muscle" and self._muscle(nodes, sign.main_roots, sign.nerves) >= HALF
        )
        return Cut(lost, part, muscles)

    def _taken(self, nodes: frozenset[str], branch: str, segment: str) -> float:
        """Share of the fibres to skin of a branch and segment that a cut takes."""
        known = self._atlas.facts.nerves[branch].segments
        if segment in known:
            share = self._share(nodes, segment, branch)
            if share is not None:
                return share
        # Skin drawn in a strip that does not supply the branch: the branch's own roots.
        shares = [self._share(nodes, s, branch) for s in known]
        found = [s for s in shares if s is not None]
        return sum(found) / len(found) if found else 0.0

    def _share(self, nodes: frozenset[str], segment: str, branch: str) -> float | None:
        whole = self._weight(frozenset(), segment, branch)
        if whole <= 0:
            return None
        return 1.0 - self._weight(nodes, segment, branch) / whole

    def _muscle(
        self, nodes: frozenset[str], roots: tuple[str, ...], nerves: tuple[str, ...]
    ) -> float:
        shares = [self._share(nodes, root, nerve) for root in roots for nerve in nerves]
        found = [s for s in shares if s is not None]
        return sum(found) / len(found) if found else 0.0

    def _weight(self, cut: frozenset[str], start: str, end: str) -> float:
        """Weight of all paths from a root to a nerve that avoid the cut."""

        @cache
        def weight(node: str) -> float:
            if node in cut:
                return 0.0
            if node == end:
                return 1.0
            return sum(w * weight(next_) for next_, w in self._links.get(node, ()))

        return weight(start)
