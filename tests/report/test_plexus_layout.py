"""The plexus as a graph: parts do not overlap, links pass between them, few cross."""

from itertools import combinations, pairwise

import pytest

from bodymap.atlas import Atlas
from bodymap.localise.plexus_cut import PLEXUSES, Graph, plexus_graph
from bodymap.report.plexus_layout import PASSING, Layout, laid_out

BOTH = pytest.mark.parametrize("plexus", list(PLEXUSES))


def _columns(graph: Graph, layout: Layout) -> dict[int, list[tuple[float, float]]]:
    """Middle and room of every part, by column; the fullest column has parts of size one."""
    found: dict[int, list[tuple[float, float]]] = {}
    for node in graph.nodes:
        found.setdefault(node.column, []).append((layout.heights[node.id], 1.0))
    for passing in layout.passing:
        for column, height in passing:
            found.setdefault(column, []).append((height, PASSING))
    return found


@BOTH
def test_parts_do_not_overlap_and_links_pass_between_them(atlas: Atlas, plexus: str) -> None:
    graph = plexus_graph(atlas, plexus)
    layout = laid_out(graph)
    columns = _columns(graph, layout)
    most = max(sum(room for _, room in entries) for entries in columns.values())
    for entries in columns.values():
        entries.sort()
        for (low, a), (high, b) in pairwise(entries):
            assert high - low >= (a + b) / 2 / most - 1e-9
        assert entries[0][0] - entries[0][1] / 2 / most >= -1e-9
        assert entries[-1][0] + entries[-1][1] / 2 / most <= 1 + 1e-9


@BOTH
def test_every_link_passes_each_column_between_its_ends_once(atlas: Atlas, plexus: str) -> None:
    graph = plexus_graph(atlas, plexus)
    at = {node.id: node.column for node in graph.nodes}
    used = set(at.values())
    for (start, end, _), passing in zip(graph.links, laid_out(graph).passing, strict=True):
        between = [c for c in sorted(used) if at[start] < c < at[end]]
        assert [column for column, _ in passing] == between


@BOTH
def test_roots_keep_their_order_and_fewer_links_cross(atlas: Atlas, plexus: str) -> None:
    graph = plexus_graph(atlas, plexus)
    layout = laid_out(graph)
    roots = [layout.heights[root] for root in PLEXUSES[plexus]]
    assert roots == sorted(roots)
    plain: dict[str, float] = {}
    for column in {node.column for node in graph.nodes}:
        here = [node.id for node in graph.nodes if node.column == column]
        plain |= {id_: (n + 0.5) / len(here) for n, id_ in enumerate(here)}
    assert _crossings(graph, layout.heights) < _crossings(graph, plain)


def _crossings(graph: Graph, heights: dict[str, float]) -> int:
    """Pairs of links between the same two columns that change places on the way."""
    at = {node.id: node.column for node in graph.nodes}
    return sum(
        (at[a], at[b]) == (at[c], at[d])
        and (heights[a] - heights[c]) * (heights[b] - heights[d]) < 0
        for (a, b, _), (c, d, _) in combinations(graph.links, 2)
    )
