"""Where the parts of a plexus stand when it is drawn as a graph: in columns from the roots to
the nerves, in an order in which few links cross, with room for links that pass a column.
"""

from dataclasses import dataclass
from itertools import pairwise

from bodymap.localise.plexus_cut import Graph

PASSING = 0.6
"""Room for a link that passes a column, as a share of a part's."""

SWEEPS = 8
"""So often the order of each column follows its neighbours; it has settled long before."""

Entry = str | tuple[int, int]
"""A part by its id; or a link, by its number, and the column that it passes."""


@dataclass(frozen=True)
class Layout:
    """``heights`` (0 to 1, from above) of the parts, and for each link of the graph the column
    and height at each column that it passes, in order. ``rows`` of parts fill the fullest
    column."""

    heights: dict[str, float]
    passing: tuple[tuple[tuple[int, float], ...], ...]
    rows: float


def laid_out(graph: Graph) -> Layout:
    """The layout of a graph. Roots keep their order."""
    column = {node.id: node.column for node in graph.nodes}
    rows: dict[int, list[Entry]] = {c: [] for c in sorted(set(column.values()))}
    for node in graph.nodes:
        rows[node.column].append(node.id)
    chains: list[list[Entry]] = []
    for number, (start, end, _) in enumerate(graph.links):
        passed = [(number, c) for c in rows if column[start] < c < column[end]]
        for entry in passed:
            rows[entry[1]].append(entry)
        chains.append([start, *passed, end])
    before: dict[Entry, list[Entry]] = {}
    after: dict[Entry, list[Entry]] = {}
    for chain in chains:
        for one, other in pairwise(chain):
            after.setdefault(one, []).append(other)
            before.setdefault(other, []).append(one)
    order = list(rows)
    most = max(sum(map(_room, entries)) for entries in rows.values())
    heights: dict[Entry, float] = {}
    for entries in rows.values():
        heights |= _spread(entries, [(n + 0.5) / len(entries) for n in range(len(entries))], most)
    for sweep in range(SWEEPS):
        beside, way = (before, order[1:]) if sweep % 2 == 0 else (after, order[-2:0:-1])
        for c in way:
            wanted = {e: _mean(e, beside, heights) for e in rows[c]}
            rows[c].sort(key=lambda e: wanted[e])
            heights |= _spread(rows[c], [wanted[e] for e in rows[c]], most)
    return Layout(
        {e: h for e, h in heights.items() if isinstance(e, str)},
        tuple(
            tuple((e[1], heights[e]) for e in chain if not isinstance(e, str)) for chain in chains
        ),
        most,
    )


def _room(entry: Entry) -> float:
    return 1.0 if isinstance(entry, str) else PASSING


def _mean(entry: Entry, beside: dict[Entry, list[Entry]], heights: dict[Entry, float]) -> float:
    found = [heights[other] for other in beside.get(entry, ())]
    return sum(found) / len(found) if found else heights[entry]


def _spread(entries: list[Entry], wanted: list[float], most: float) -> dict[Entry, float]:
    """Heights as near to those wanted as order and room allow (least squares: neighbours that
    would be too near are moved together, as in isotonic regression). ``most`` parts fill a
    column."""
    offsets, at = [], 0.0
    for entry in entries:
        offsets.append((at + _room(entry) / 2) / most)
        at += _room(entry)
    spare = 1.0 - at / most
    blocks: list[tuple[float, int]] = []
    for height, offset in zip(wanted, offsets, strict=True):
        blocks.append((height - offset, 1))
        while len(blocks) > 1 and blocks[-2][0] >= blocks[-1][0]:
            (a, n), (b, m) = blocks[-2:]
            blocks[-2:] = [((a * n + b * m) / (n + m), n + m)]
    shifts = [min(max(shift, 0.0), spare) for shift, count in blocks for _ in range(count)]
    return {e: o + s for e, o, s in zip(entries, offsets, shifts, strict=True)}
