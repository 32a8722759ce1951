"""Skin by view with its area, and what two pieces of it share."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.body_surface import BODY_SURFACE_CM2
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.territories import Mask
from bodymap.geometry import Floats, Skin, common, union_of, without
from bodymap.terms import Side, View

Skins = Mapping[View, Skin]

WHOLE = 1e-9
"""A cell is taken whole if no larger share of it is missing; rounding leaves less."""


@dataclass(frozen=True, eq=False)
class Piece:
    """Some skin by view, and its area in every cell of the atlas, cm²."""

    skins: Skins
    by_cell: Floats

    @classmethod
    def of(cls, atlas: Atlas, skins: Skins) -> "Piece":
        """The skin with its areas."""
        return cls(skins, atlas.painted_cm2(dict(skins)))

    def __bool__(self) -> bool:
        return bool(self.skins)

    @cached_property
    def cm2(self) -> float:
        """Area, cm²."""
        return float(np.sum(self.by_cell))

    @property
    def percent(self) -> float:
        """Area, percent of body surface."""
        return self.cm2 / BODY_SURFACE_CM2 * 100

    def on(self, atlas: Atlas, side: Side) -> float:
        """Area on a side of the patient, cm²."""
        return float(self.by_cell[atlas.cells.on_side(side)].sum())


Operation = Callable[[Skin | None, Skin | None], Skin | None]


def each(operation: Operation, one: Skins, other: Skins) -> dict[View, Skin]:
    """An operation in every view; without skin there is no view."""
    return present({view: operation(one.get(view), other.get(view)) for view in VIEWS})


def present(found: Mapping[View, Skin | None]) -> dict[View, Skin]:
    """The views that have skin."""
    return {view: skin for view, skin in found.items() if skin is not None}


def parted(atlas: Atlas, piece: Piece, unseen: Skins) -> tuple[Piece, Piece]:
    """A piece without what one visit did not examine, and that."""
    once = Piece.of(atlas, each(common, piece.skins, unseen))
    if not once:
        return piece, once
    return Piece(each(without, piece.skins, once.skins), rest(piece.by_cell, once.by_cell)), once


def together(pieces: Iterable[Piece]) -> Skins:
    """All skin of some pieces."""
    found = list(pieces)
    return present({view: union_of(p.skins.get(view) for p in found) for view in VIEWS})


def skins_of(atlas: Atlas, mask: Mask) -> Skins:
    """The cells of a mask as skin."""
    return present({view: atlas.skin_of(mask, view) for view in VIEWS}) if mask.any() else {}


def shared_cm2(atlas: Atlas, then: Floats, now: Floats, skins: Skins) -> Floats:
    """Area of every cell that is altered at both visits, cm².

    Where one visit takes a cell whole, what it shares is what the other takes of it;
    only where both take a part is the shared skin measured.
    """
    whole = atlas.cells.area_cm2 * (1 - WHOLE)
    found = np.where(then >= whole, now, np.where(now >= whole, then, 0.0))
    parts = (then > 0) & (now > 0) & (then < whole) & (now < whole)
    if parts.any():
        found[parts] = atlas.painted_cm2(dict(skins))[parts]
    return found


def rest(of: Floats, shared: Floats) -> Floats:
    """What of an area is not shared; rounding may not make it less than nothing."""
    return np.maximum(of - shared, 0.0)
