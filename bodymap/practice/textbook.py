"""The textbook skin of every lesion: what a whole loss takes, and how two lesions compare.

Roots, nerves and plexus parts take the drawn territory of the atlas in every modality;
patterns of cord, brain and neuropathy their likeliest look, pathway by pathway.
"""

from functools import cached_property

import numpy as np

from bodymap.atlas.territories import Mask
from bodymap.errors import RequestError
from bodymap.geometry import Floats
from bodymap.language import tr
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.hypotheses import Row, territory_of
from bodymap.localise.weights import CHANNELS
from bodymap.simulation.patients import Clinic
from bodymap.terms import Side

MOSTLY = 0.5
"""A spot is altered where this much of it is."""

LEAST_SPOTS = 2
"""Lesions that take fewer spots are not asked for: one touch would tell nothing more."""

NAMED_PART = {"upper-arm": "upper arm", "perineum": "saddle area", "leg": "lower leg"}
"""Body parts that patients call otherwise."""


class Textbook:
    """Whole losses by number of the catalogue, in cells and in spots of the clinic."""

    def __init__(self, catalogue: Catalogue, clinic: Clinic) -> None:
        self.catalogue = catalogue
        self.clinic = clinic
        self._area = catalogue.atlas.cells.area_cm2
        self._whole = np.bincount(clinic.spot_of_cell, self._area, len(clinic.spots))
        self._skins: dict[int, Mask] = {}
        facts = catalogue.atlas.facts
        self.part_of_spot: tuple[str, ...] = tuple(
            facts.body_parts[facts.parts[id_].whole] for id_, _ in clinic.spots
        )

    def number(self, id_: str, side: Side) -> int:
        """Number of a lesion by id and side (both counts for either side).

        Raises RequestError if there is none.
        """
        known = self.catalogue.by_id
        found = known.get((id_, side), known.get((id_, Side.BOTH)))
        if found is None:
            raise RequestError(
                tr("There is no lesion or pattern '{id}' ({side}).", id=id_, side=side.word)
            )
        return found

    def name(self, number: int) -> str:
        """A lesion with its side, as it is listed."""
        hypothesis = self.catalogue.hypotheses[number]
        side = tr("both sides") if hypothesis.side is Side.BOTH else hypothesis.side.word
        return f"{hypothesis.name}, {side}"

    def skin(self, number: int) -> Mask:
        """Cells of a whole loss, (channels, cells)."""
        if number not in self._skins:
            rows = self.catalogue.hypotheses[number].rows
            self._skins[number] = self.look(number, max(rows, key=lambda r: r.log_weight))
        return self._skins[number]

    def look(self, number: int, row: Row) -> Mask:
        """Cells of a whole loss that looks like one of its rows, (channels, cells)."""
        hypothesis = self.catalogue.hypotheses[number]
        atlas = self.catalogue.atlas
        known = atlas.territories_by_id.get((hypothesis.id, hypothesis.side))
        if known is not None:
            return np.tile(known.extent, (len(CHANNELS), 1))
        return np.array([territory_of(hypothesis, row, (c,)).extent for c in range(len(CHANNELS))])

    def spots(self, skin: Mask) -> Mask:
        """Spots that are mostly inside some skin, (channels, spots)."""
        return np.array([self._share(mask) >= MOSTLY for mask in skin])

    @cached_property
    def usable(self) -> tuple[int, ...]:
        """Numbers of the lesions that take enough spots to be practised."""
        counts = [int(self.spots(self.skin(n)).any(axis=0).sum()) for n in self._named]
        return tuple(n for n in self._named if counts[n] >= LEAST_SPOTS)

    @property
    def _named(self) -> range:
        return range(self.catalogue.named)

    def common(self, first: int, second: int) -> float:
        """Skin that two lesions share, as a share of the larger; 1 for the same skin."""
        a, b = self.skin(first), self.skin(second)
        larger = max(self._cm2(a), self._cm2(b))
        return self._cm2(a & b) / larger if larger > 0 else 0.0

    def complaints(self, number: int) -> dict[tuple[str, Side], float]:
        """Where a whole loss would be complained of: see ``complaints``."""
        return complaints(self.part_of_spot, self.clinic, self.spots(self.skin(number)))

    def _share(self, mask: Mask) -> Floats:
        inside = np.bincount(self.clinic.spot_of_cell, self._area * mask, len(self._whole))
        return np.asarray(inside / self._whole)

    def _cm2(self, skin: Mask) -> float:
        return float((skin * self._area).sum())


def complaints(
    parts: tuple[str, ...], clinic: Clinic, altered: Mask
) -> dict[tuple[str, Side], float]:
    """How likely a patient complains of each body part and side: as often as altered spots
    lie there. A part that is altered on both sides is complained of as both."""
    counts: dict[tuple[str, Side], int] = {}
    for at in np.flatnonzero(altered.any(axis=0)).tolist():
        key = (parts[at], clinic.spots[at][1])
        counts[key] = counts.get(key, 0) + 1
    found: dict[tuple[str, Side], float] = {}
    for (part, side), count in counts.items():
        both = (part, side.opposite) in counts
        key = (part, Side.BOTH if both else side)
        found[key] = found.get(key, 0.0) + count / sum(counts.values())
    return found


def complained(part: str, side: Side) -> str:
    """A complaint in the words of a patient."""
    words = NAMED_PART.get(part, part)
    if part in ("head", "neck", "trunk", "perineum"):
        where = f"on both sides of my {words}" if side is Side.BOTH else (
            f"on the {side} side of my {words}")  # fmt: skip
    elif side is Side.BOTH:
        plural = {"foot": "feet", "thigh": "thighs", "buttocks": "buttocks"}
        where = f"in both {plural.get(part, f'{words}s')}"
    else:
        where = f"in my {side} {words.removesuffix('s') if part == 'buttocks' else words}"
    return f"It feels wrong {where}."
