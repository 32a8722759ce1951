"""Territories computed from the maps, the nerve tree and the plexus graph."""

import numpy as np
import pytest

from bodymap.atlas import Atlas
from bodymap.atlas.nerve_tree import FibrePaths, plexus_parts
from bodymap.errors import RequestError
from bodymap.terms import DERMATOMES, Side

MOTOR_ONLY = {
    "anterior-interosseous",
    "ulnar-deep-palm",
    "posterior-interosseous",
    "suprascapular-notch",
    "long-thoracic",
    "dorsal-scapular",
}
"""Nerves without dependable skin: Stewart 2010 and MRC 2010 as cited in lesion-sites.csv."""


def _branches(atlas: Atlas, id_: str) -> set[str]:
    extent = atlas.territory(id_, Side.LEFT).extent
    return {atlas.cells.nerve_names[n] for n in atlas.cells.nerve[extent]}


def test_every_lesion_site_but_the_motor_ones_has_skin(atlas: Atlas) -> None:
    assert {t.id for t in atlas.territories if not t.has_skin} == MOTOR_ONLY


def test_sides_are_mirror_images(atlas: Atlas) -> None:
    for territory in atlas.territories:
        if territory.side is Side.LEFT:
            other = atlas.territory(territory.id, Side.RIGHT)
            for name in ("extent", "signature", "fringe"):
                mask = getattr(territory, name)
                assert np.array_equal(mask[atlas.cells.twin], getattr(other, name))


def test_parts_of_a_territory_do_not_contradict(atlas: Atlas) -> None:
    for territory in atlas.territories:
        assert not (territory.signature & ~territory.extent).any()
        assert not (territory.fringe & territory.extent).any()


def test_carpal_tunnel_spares_the_palm_and_the_arm_lesion_takes_it(atlas: Atlas) -> None:
    """The palmar cutaneous branch leaves above the wrist: Stewart 2010; MRC 2010."""
    assert "median-palmar-cutaneous" not in _branches(atlas, "median-wrist")
    assert "median-palmar-cutaneous" in _branches(atlas, "median-elbow")


def test_ulnar_wrist_spares_the_back_of_the_hand(atlas: Atlas) -> None:
    """The dorsal branch leaves above the wrist: Stewart 2010; MRC 2010."""
    assert "ulnar-dorsal" in _branches(atlas, "ulnar-elbow")
    assert "ulnar-dorsal" not in _branches(atlas, "ulnar-wrist")


def test_cords_take_the_skin_of_their_nerves(atlas: Atlas) -> None:
    """Posterior cord: axillary and radial skin. Medial cord: the medial cutaneous nerves
    and the ulnar (Gray 1918; Standring 2020)."""
    posterior = _branches(atlas, "posterior-cord")
    assert posterior == {
        "upper-lateral-cutaneous-arm",
        "posterior-cutaneous-arm",
        "lower-lateral-cutaneous-arm",
        "posterior-cutaneous-forearm",
        "superficial-radial",
    }
    medial = _branches(atlas, "medial-cord")
    assert {"medial-cutaneous-arm", "medial-cutaneous-forearm", "ulnar-dorsal"} <= medial


def test_divisions_are_computed_from_the_graph(atlas: Atlas) -> None:
    """Divisions of trunks part flexor from extensor skin (Gray 1918): what the posterior
    divisions take is skin of the posterior cord, the anterior ones take the rest."""
    posterior = _branches(atlas, "posterior-cord")
    for trunk in ("upper", "middle", "lower"):
        back = _branches(atlas, f"{trunk}-trunk-posterior")
        front = _branches(atlas, f"{trunk}-trunk-anterior")
        assert back
        assert back <= posterior
        assert front
        assert not front & posterior


def test_a_part_takes_only_skin_of_roots_that_reach_it(atlas: Atlas) -> None:
    extent = atlas.territory("middle-trunk-posterior", Side.LEFT).extent
    assert {DERMATOMES[d] for d in atlas.cells.dermatome[extent]} == {"C7"}


def test_plexus_parts_are_inner_nodes_only(atlas: Atlas) -> None:
    parts = plexus_parts(atlas.facts)
    assert {"upper-trunk", "lateral-cord", "lumbosacral-trunk", "pudendal-plexus"} <= set(parts)
    assert not {"C5", "median", "radial", "cauda-equina"} & set(parts)


def test_tibial_and_fibular_parts_come_from_their_divisions(atlas: Atlas) -> None:
    """Tibial from the anterior, common fibular from the posterior divisions of the sacral
    plexus (Gray 1918; Standring 2020)."""
    anterior = _branches(atlas, "sacral-anterior-division")
    posterior = _branches(atlas, "sacral-posterior-division")
    assert {"medial-plantar", "lateral-plantar", "medial-calcaneal"} <= anterior
    assert "deep-fibular-cutaneous" in posterior
    assert not anterior & posterior


def test_fibre_shares(atlas: Atlas) -> None:
    paths = FibrePaths(atlas.facts)
    assert paths.share("C7", "middle-trunk", "superficial-radial") == 1.0
    assert paths.share("C6", "middle-trunk", "superficial-radial") == 0.0
    # A path from C5 to the radial nerve exists, but the superficial branch carries C6 to C8.
    assert paths.share("C5", "upper-trunk", "superficial-radial") is None
    assert "medial-plantar" in paths.below("tibial")


def test_bilateral_lesions_take_both_sides(atlas: Atlas) -> None:
    cauda = atlas.territory("cauda-lower", Side.LEFT)
    assert cauda.side is Side.BOTH
    assert np.array_equal(cauda.extent, cauda.extent[atlas.cells.twin])


def test_unknown_names_are_refused_with_a_suggestion(atlas: Atlas) -> None:
    with pytest.raises(RequestError, match="did you mean 'thenar'"):
        atlas.cells_of_region("tenar", Side.LEFT)
    with pytest.raises(RequestError, match="root-c99"):
        atlas.territory("root-c99", Side.LEFT)


def test_union_of_parts_is_the_whole_region(atlas: Atlas) -> None:
    for whole in atlas.facts.regions:
        parts = [p.id for p in atlas.facts.parts.values() if p.whole == whole]
        union = sum(atlas.cells_of_region(p, Side.RIGHT).astype(int) for p in parts)
        assert np.array_equal(union, atlas.cells_of_region(whole, Side.RIGHT).astype(int))
