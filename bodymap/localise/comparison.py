"""Two or three lesions held against each other: shared skin, skin of each alone, and the
spots, muscles and reflexes that tell them apart."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from bodymap.atlas.assets import table
from bodymap.atlas.territories import Mask, Territory
from bodymap.errors import RequestError
from bodymap.language import tr
from bodymap.localise.ranking import Scales
from bodymap.localise.tie_breakers import Difference, TieBreaking
from bodymap.terms import Side

TOLD = 6
"""Spots and signs that are named for each of two lesions."""

MOST = 3
"""Lesions that can be compared at once."""


@dataclass(frozen=True, eq=False)
class Comparison:
    """Lesions side by side.

    ``shared`` is skin that all of them take; ``alone`` the skin of each that no other
    takes; areas follow from the cells. ``differences`` has one entry for each pair.
    """

    members: tuple[Territory, ...]
    shared: Mask
    alone: tuple[Mask, ...]
    differences: tuple[tuple[int, int, Difference], ...]

    @property
    def by_two(self) -> Mask:
        """Skin that two of three take."""
        taken = np.logical_or.reduce([t.extent for t in self.members])
        return np.asarray(taken & ~self.shared & ~np.logical_or.reduce(self.alone))


@dataclass(frozen=True)
class Confusable:
    """A row of the table of classic confusions."""

    first: str
    second: str


def compared(scales: Scales, chosen: tuple[tuple[str, Side], ...]) -> Comparison:
    """Compare two or three lesions by id and side.

    Raises RequestError for an unknown lesion, one named twice, or another number.
    """
    if not 2 <= len(chosen) <= MOST:
        raise RequestError(tr("Compare two or three lesions, not {count}.", count=len(chosen)))
    catalogue = scales.catalogue
    known = tuple(key if key in catalogue.by_id else (key[0], Side.BOTH) for key in chosen)
    members = tuple(catalogue.territory(id_, side) for id_, side in chosen)
    if len(set(known)) < len(known):
        raise RequestError(
            tr("{lesion} is named twice; name another lesion.", lesion=members[0].name)
        )
    breaking = TieBreaking(scales)
    differences = tuple(
        (a, b, breaking.between((known[a],), (known[b],), TOLD))
        for a, b in combinations(range(len(members)), 2)
    )
    return laid_together(members, differences)


def laid_together(
    members: tuple[Territory, ...], differences: tuple[tuple[int, int, Difference], ...]
) -> Comparison:
    """Territories laid over each other, with what is known to tell them apart."""
    extents = [t.extent for t in members]
    shared = np.logical_and.reduce(extents)
    alone = tuple(
        extent & ~np.logical_or.reduce([e for e in extents if e is not extent])
        for extent in extents
    )
    return Comparison(members, shared, alone, differences)


def classic_confusions(scales: Scales) -> tuple[Confusable, ...]:
    """The pairs that are easily confused (pairs.csv), whose lesions are both known."""
    ids = {id_ for id_, _ in scales.catalogue.by_id}
    rows = table(scales.atlas.facts.folder, "pairs")
    return tuple(Confusable(r["a"], r["b"]) for r in rows if r["a"] in ids and r["b"] in ids)
