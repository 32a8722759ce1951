"""Everything on the skin that has a name, for those who search it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bodymap.atlas.territories import Mask
from bodymap.language import tr
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.hypotheses import territory_of
from bodymap.localise.weights import CHANNELS
from bodymap.terms import DERMATOMES, Side


@dataclass(frozen=True, eq=False)
class NamedPlace:
    """A region, dermatome, skin nerve or lesion: its kind, name, other words and skin."""

    kind: str
    name: str
    words: str
    skin: Mask


def named_places(catalogue: Catalogue) -> tuple[NamedPlace, ...]:
    """All named places with any skin, both sides together where they are mirrored."""
    return tuple(p for p in _all(catalogue) if p.skin.any())


def _all(catalogue: Catalogue) -> Iterator[NamedPlace]:
    atlas = catalogue.atlas
    cells, facts = atlas.cells, atlas.facts
    for region in facts.regions.values():
        skin = atlas.cells_of_region(region.id, Side.BOTH)
        yield NamedPlace(tr("region"), region.label, f"{region.id} {region.where}", skin)
    for number, dermatome in enumerate(DERMATOMES):
        skin = np.asarray(cells.dermatome == number)
        yield NamedPlace(
            tr("dermatome"), tr("{dermatome} dermatome", dermatome=dermatome), dermatome, skin
        )
    for number, id_ in enumerate(cells.nerve_names):
        nerve = facts.nerves[id_]
        words = f"{id_} {' '.join(nerve.segments)}"
        yield NamedPlace(tr("skin nerve"), nerve.name, words, np.asarray(cells.nerve == number))
    seen: dict[str, NamedPlace] = {}
    for hypothesis in catalogue.hypotheses[: catalogue.named]:
        known = atlas.territories_by_id.get((hypothesis.id, hypothesis.side))
        if known is None:
            known = territory_of(hypothesis, hypothesis.rows[0], range(len(CHANNELS)))
        before = seen.get(hypothesis.id)
        skin = known.extent if before is None else known.extent | before.skin
        seen[hypothesis.id] = NamedPlace(
            tr(hypothesis.kind), hypothesis.name, hypothesis.id, np.asarray(skin)
        )
    yield from seen.values()
