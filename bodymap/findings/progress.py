"""Two visits laid over each other: which skin is new, gone, or altered as before.

Skin is compared in each modality and view by exact geometry; its area follows from the
cells, so that skin seen in two views counts once (``atlas.body_surface``). Only what was
examined at both visits is compared: where a modality has nothing at all at one of them,
nothing became new or went away, it was not examined. Within a modality that was, skin
that is no longer marked counts as gone; how much of that was marked normal is told,
because only this was certainly tested again.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.body_surface import BODY_SURFACE_CM2
from bodymap.atlas.cells import VIEWS
from bodymap.findings.drawing import Drawing, Kind
from bodymap.geometry import Floats, Skin, common, union_of, without
from bodymap.terms import Change, Modality, Side, View

Skins = Mapping[View, Skin]

DEPTH = {Change.NORMAL: 0, Change.REDUCED: 1, Change.ABSENT: 2}
"""How much is lost. Increased and tingling are no loss, so they have no place here."""


WHOLE = 1e-9
"""A cell is taken whole if no larger share of it is missing; rounding leaves less."""


class Examined(StrEnum):
    """At which of two visits something was examined."""

    BOTH = "both"
    THEN = "then"
    NOW = "now"
    NEITHER = "neither"


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


@dataclass(frozen=True, eq=False)
class Degree:
    """Skin that is altered at both visits, in another way."""

    then: Change
    now: Change
    skin: Piece

    @property
    def deeper(self) -> bool | None:
        """Whether more is lost than before, or less; None where that cannot be said."""
        if self.then not in DEPTH or self.now not in DEPTH:
            return None
        return DEPTH[self.now] > DEPTH[self.then]


@dataclass(frozen=True, eq=False)
class Progress:
    """What became of the altered skin between two visits, in one modality or (None) in
    all that were examined at both.

    ``dates`` are those of the visits; ``then`` and ``now`` are all altered skin of each.
    ``new``, ``gone`` and ``unchanged`` are empty unless it was examined at both.
    ``gone_normal`` is what of the gone skin is marked as tested and normal. ``same`` says
    that the drawing is exactly the same: taken over from the visit before, or found so.
    """

    modality: Modality | None
    dates: tuple[str | None, str | None]
    examined: Examined
    then: Piece
    now: Piece
    new: Piece
    gone: Piece
    unchanged: Piece
    gone_normal: Piece
    degrees: tuple[Degree, ...] = ()
    same: bool = False


def progress(atlas: Atlas, then: Drawing, now: Drawing) -> tuple[Progress, ...]:
    """Every modality that was examined at one of the visits, then all together.

    The skin of all together is that of the modalities examined at both visits, and
    counts once however many of them it is altered in.
    """
    single = tuple(_of_modality(atlas, then, now, m) for m in Modality if _state(then, now, m))
    both = [p.modality for p in single if p.examined is Examined.BOTH and p.modality]
    state = Examined.BOTH if both else Examined.NEITHER
    frame = _Frame(atlas, None, (then.date, now.date), state)
    return (*single, frame.held(then.only(both), now.only(both)))


def examined(drawing: Drawing, modality: Modality) -> bool:
    """Whether a visit has anything in a modality: skin, also normal, or an answer."""
    if any(m is modality for m, _, _ in drawing):
        return True
    sides = drawing.record.at(modality.value.replace("-", "_")) or {}
    return any(
        _answer(value) not in ("", "NT", "NT*")
        for side in ("right", "left")
        for value in (sides.get(side) or {}).values()
    )


def _answer(value: object) -> str:
    found = value.get("felt", "") if isinstance(value, Mapping) else value
    return str(found).strip().upper()


def _state(then: Drawing, now: Drawing, modality: Modality) -> Examined | None:
    before, after = examined(then, modality), examined(now, modality)
    if before and after:
        return Examined.BOTH
    return Examined.THEN if before else Examined.NOW if after else None


def _of_modality(atlas: Atlas, then: Drawing, now: Drawing, modality: Modality) -> Progress:
    state = _state(then, now, modality) or Examined.NEITHER
    one, other = then.only([modality]), now.only([modality])
    held = _Frame(atlas, modality, (then.date, now.date), state).held(one, other)
    if state is not Examined.BOTH:
        return held
    degrees = tuple(_degrees(atlas, one, other, modality))
    same = bool(one.layers) and dict(one.layers) == dict(other.layers)
    return replace(held, degrees=degrees, same=same)


@dataclass(frozen=True)
class _Frame:
    """What a comparison of skin is about."""

    atlas: Atlas
    modality: Modality | None
    dates: tuple[str | None, str | None]
    examined: Examined

    def held(self, then: Drawing, now: Drawing) -> Progress:
        """The skin of two drawings held against each other."""
        atlas, at_both = self.atlas, self.examined is Examined.BOTH
        before, after = then.altered_cm2(atlas), now.altered_cm2(atlas)
        was, is_ = _altered(atlas, then), _altered(atlas, now)
        kept = _each(common, was, is_) if at_both else {}
        shared = _shared_cm2(atlas, before, after, kept) if at_both else np.zeros_like(before)
        gone = _each(without, was, is_) if at_both else {}
        nothing = Piece({}, np.zeros_like(before))
        return Progress(
            self.modality,
            self.dates,
            self.examined,
            then=Piece(was, before),
            now=Piece(is_, after),
            new=Piece(_each(without, is_, was), _rest(after, shared)) if at_both else nothing,
            gone=Piece(gone, _rest(before, shared)) if at_both else nothing,
            unchanged=Piece(kept, shared),
            gone_normal=Piece.of(atlas, _each(common, gone, _normal(atlas, now))),
        )


def _shared_cm2(atlas: Atlas, then: Floats, now: Floats, skins: Skins) -> Floats:
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


def _rest(of: Floats, shared: Floats) -> Floats:
    """What of an area is not shared; rounding may not make it less than nothing."""
    return np.maximum(of - shared, 0.0)


def _degrees(atlas: Atlas, then: Drawing, now: Drawing, modality: Modality) -> Iterator[Degree]:
    """Skin whose change is another one; what was found in both ways at one visit is none."""
    changes = [c for c in Change if c.altered]
    was = {c: _of_kind(atlas, then, (modality, c)) for c in changes}
    is_ = {c: _of_kind(atlas, now, (modality, c)) for c in changes}
    for before in changes:
        for after in changes:
            if before is not after and was[before] and is_[after]:
                moved = _each(common, was[before], is_[after])
                moved = _each(without, _each(without, moved, was[after]), is_[before])
                if moved:
                    yield Degree(before, after, Piece.of(atlas, moved))


Operation = Callable[[Skin | None, Skin | None], Skin | None]


def _each(operation: Operation, one: Skins, other: Skins) -> dict[View, Skin]:
    """An operation in every view; without skin there is no view."""
    found = {view: operation(one.get(view), other.get(view)) for view in VIEWS}
    return {view: skin for view, skin in found.items() if skin is not None}


def _altered(atlas: Atlas, drawing: Drawing) -> dict[View, Skin]:
    found = {view: drawing.altered_skin(atlas, view) for view in VIEWS}
    return {view: skin for view, skin in found.items() if skin is not None}


def _of_kind(atlas: Atlas, drawing: Drawing, kind: Kind) -> dict[View, Skin]:
    layer = drawing.layer(*kind)
    return {v: s for v in VIEWS if (s := layer.skin(atlas, v)) is not None}


def _normal(atlas: Atlas, drawing: Drawing) -> dict[View, Skin]:
    """Skin that is marked normal in some modality."""
    layers = [layer for _, change, layer in drawing if not change.altered]
    found = {view: union_of(la.skin(atlas, view) for la in layers) for view in VIEWS}
    return {view: skin for view, skin in found.items() if skin is not None}
