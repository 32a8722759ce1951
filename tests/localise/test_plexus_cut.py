"""Cutting a plexus: the skin and the muscles that answer."""

import numpy as np
import pytest

from bodymap.atlas import Atlas
from bodymap.localise.plexus_cut import PLEXUSES, Plexuses, plexus_graph
from bodymap.terms import Side


@pytest.fixture(scope="module")
def plexuses(atlas: Atlas) -> Plexuses:
    return Plexuses(atlas)


@pytest.mark.parametrize("plexus", list(PLEXUSES))
def test_graph_runs_from_the_roots_to_the_nerves(atlas: Atlas, plexus: str) -> None:
    graph = plexus_graph(atlas, plexus)
    ids = [n.id for n in graph.nodes]
    column = {n.id: n.column for n in graph.nodes}
    assert len(set(ids)) == len(ids)
    assert [n.id for n in graph.nodes if n.column == 0] == list(PLEXUSES[plexus])
    assert all(column[a] < column[b] for a, b, _ in graph.links)


@pytest.mark.parametrize(
    ("node", "lost", "kept", "weak", "strong"),
    [
        # Ferrante 1995; MRC 2010 (lesion-sites.csv, from memory): the upper trunk takes the
        # outer arm and forearm and the thumb, deltoid and biceps, and spares the rhomboids.
        ("upper-trunk", ["deltoid-lateral", "forearm-front-radial", "thumb-palmar"],
         ["little-palmar", "forearm-front-ulnar"], ["deltoid", "biceps", "infraspinatus"],
         ["rhomboids", "first-dorsal-interosseous"]),
        ("medial-cord", ["little-palmar", "forearm-front-ulnar"], ["thumb-palmar"],
         ["first-dorsal-interosseous"], ["extensor-indicis", "deltoid"]),
        ("posterior-cord", ["deltoid-lateral", "web-first-dorsal"], ["little-palmar"],
         ["deltoid", "triceps"], ["biceps"]),
        ("femoral", ["thigh-front-lower", "leg-front-medial"], ["thigh-lateral"],
         ["quadriceps"], ["hip-adductors"]),
        ("obturator", ["thigh-medial-lower"], ["thigh-front-lower"], ["hip-adductors"],
         ["quadriceps"]),
    ],
)  # fmt: skip
def test_a_cut_takes_what_the_table_of_lesions_says(
    atlas: Atlas, plexuses: Plexuses, node: str, lost: list[str], kept: list[str],
    weak: list[str], strong: list[str],
) -> None:  # fmt: skip
    cut = plexuses.cut(frozenset({node}))
    area = atlas.cells.area_cm2
    for regions, at_least, at_most in ((lost, 0.3, 1.0), (kept, 0.0, 0.25)):
        for region in regions:
            cells = atlas.cells_of_region(region, Side.RIGHT)
            share = area[cells & cut.lost].sum() / area[cells].sum()
            assert at_least <= share <= at_most, region
    assert set(weak) <= set(cut.muscles)
    assert not set(strong) & set(cut.muscles)
    assert not cut.lost[atlas.cells.left].any()


def test_cuts_add_up_and_nothing_cut_takes_nothing(plexuses: Plexuses) -> None:
    none = plexuses.cut(frozenset())
    assert not none.lost.any()
    assert none.muscles == ()
    one, other = (plexuses.cut(frozenset({n})) for n in ("upper-trunk", "lower-trunk"))
    both = plexuses.cut(frozenset({"upper-trunk", "lower-trunk"}))
    assert (both.lost >= (one.lost | other.lost)).all()
    assert set(one.muscles) | set(other.muscles) <= set(both.muscles)


def test_all_roots_cut_is_the_whole_plexus(atlas: Atlas, plexuses: Plexuses) -> None:
    cut = plexuses.cut(frozenset(PLEXUSES["Brachial plexus"]))
    whole = atlas.territory("brachial-plexus-whole", Side.RIGHT).extent
    area = atlas.cells.area_cm2
    assert area[whole & cut.lost].sum() / area[whole].sum() > 0.97
    assert np.isfinite(area[cut.lost]).all()


def test_a_cut_on_the_left_is_the_mirror_of_one_on_the_right(
    atlas: Atlas, plexuses: Plexuses
) -> None:
    right = plexuses.cut(frozenset({"lower-trunk"}), Side.RIGHT)
    left = plexuses.cut(frozenset({"lower-trunk"}), Side.LEFT)
    assert right.muscles == left.muscles
    assert not (right.lost & atlas.cells.left).any()
    assert not (left.lost & ~atlas.cells.left).any()
    area = atlas.cells.area_cm2
    for one, other in ((right.lost, left.lost), (right.in_part, left.in_part)):
        assert area[one].sum() == pytest.approx(area[other].sum(), rel=1e-9)
