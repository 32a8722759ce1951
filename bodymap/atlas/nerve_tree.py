"""What lies downstream: skin branches of a trunk, fibre paths through the plexus.

The territory of a trunk or plexus part is never drawn. A trunk takes the skin
branches below it in the nerve tree. A plexus part takes the skin whose fibres
pass through it: for skin of segment d and branch n, the paths from root d to n
in the plexus graph and nerve tree, each weighing the product of its links'
weights (rough ranks, not fibre counts: see the tables' notes).
"""

from collections import defaultdict
from functools import cache

from bodymap.atlas.facts import Facts


class FibrePaths:
    """Paths from roots through plexus parts to skin branches."""

    def __init__(self, facts: Facts) -> None:
        self._links: dict[str, list[tuple[str, float]]] = defaultdict(list)
        for link in facts.plexus:
            self._links[link.start].append((link.end, link.weight))
        for nerve in facts.nerves.values():
            if nerve.parent:
                self._links[nerve.parent].append((nerve.id, 1.0))
        self._nerves = facts.nerves
        self._weight = cache(self._weight_between)

    def _weight_between(self, start: str, end: str) -> float:
        if start == end:
            return 1.0
        return sum(w * self._weight(next_, end) for next_, w in self._links.get(start, ()))

    def below(self, node: str) -> tuple[str, ...]:
        """All nerves that can be reached from a node, itself included, in table order."""
        return tuple(n for n in self._nerves if self._weight(node, n) > 0)

    def share(self, segment: str, part: str, branch: str) -> float | None:
        """Share (0 to 1) of the fibres of a segment to a branch that pass through a part.

        None where the segment does not supply the branch: no path, or a path that
        the branch's own list of segments does not confirm.
        """
        nerve = self._nerves[branch]
        whole = self._weight(segment, branch)
        if segment not in nerve.segments or whole <= 0:
            return None
        return min(1.0, self._weight(segment, part) * self._weight(part, branch) / whole)

    def share_of_branch(self, part: str, branch: str) -> float:
        """Mean share over all segments that supply the branch."""
        shares = [self.share(s, part, branch) for s in self._nerves[branch].segments]
        known = [s for s in shares if s is not None]
        return sum(known) / len(known) if known else 0.0


def plexus_parts(facts: Facts) -> dict[str, str]:
    """Inner nodes of the plexus graph (trunks, divisions, cords, roots of the median)
    by id, with their names. Roots, nerves, cord and cauda are not among them."""
    nodes = {n for link in facts.plexus for n in (link.start, link.end)}
    inner = [
        n for n in dict.fromkeys(n for link in facts.plexus for n in (link.start, link.end))
        if n in nodes and n not in facts.nerves and not _is_segment(n)
        and n not in ("conus-medullaris", "cauda-equina")
    ]  # fmt: skip
    return {n: _name(n) for n in inner}


def _is_segment(node: str) -> bool:
    return (node[0] in "CTLSV" and node[1:].isdigit()) or node.startswith("Co")


def _name(node: str) -> str:
    trunk, _, division = node.rpartition("-")
    if division in ("anterior", "posterior"):
        return f"{division.capitalize()} division of the {trunk.replace('-', ' ')}"
    words = node.replace("-", " ")
    if words.startswith("median "):
        return f"{words.removeprefix('median ').capitalize()} of the median nerve"
    if words.endswith(" division"):
        plexus, direction, _ = words.split()
        return f"{direction.capitalize()} divisions of the {plexus} plexus"
    return words.capitalize()
