"""Everything on the skin that has a name, for those who search it."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bodymap.atlas.territories import Mask
from bodymap.language import later, phrase, searchable, tr
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.hypotheses import territory_of
from bodymap.localise.weights import CHANNELS
from bodymap.terms import DERMATOMES, Side


@dataclass(frozen=True, eq=False)
class NamedPlace:
    """A region, dermatome, skin nerve or lesion: its kind, name and skin. ``words`` are all
    that it answers to, as a search reads them."""

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
        yield _named(skin, later("region"), region.english, region.id, region.where)
    for number, dermatome in enumerate(DERMATOMES):
        skin = np.asarray(cells.dermatome == number)
        name = phrase("{dermatome} dermatome", dermatome=dermatome)
        yield _named(skin, later("dermatome"), name)
    for number, id_ in enumerate(cells.nerve_names):
        nerve = facts.nerves[id_]
        skin = np.asarray(cells.nerve == number)
        yield _named(skin, later("skin nerve"), nerve.english, id_, *nerve.segments)
    seen: dict[str, NamedPlace] = {}
    for hypothesis in catalogue.hypotheses[: catalogue.named]:
        known = atlas.territories_by_id.get((hypothesis.id, hypothesis.side))
        if known is None:
            known = territory_of(hypothesis, hypothesis.rows[0], range(len(CHANNELS)))
        before = seen.get(hypothesis.id)
        skin = known.extent if before is None else known.extent | before.skin
        seen[hypothesis.id] = _named(
            np.asarray(skin), hypothesis.kind, hypothesis.english, hypothesis.id
        )
    yield from seen.values()


def _named(skin: Mask, kind: str, name: str, *words: str) -> NamedPlace:
    """A place by its English kind, name and other words."""
    return NamedPlace(tr(kind), tr(name), searchable(name, *words, kind), skin)
