"""Two visits laid over each other: which skin is new, gone, or altered as before.

Skin is compared in each modality and view by exact geometry; its area follows from the
cells, so that skin seen in two views counts once (``atlas.body_surface``). Only what was
examined at both visits is compared: on a side where a modality has nothing at all at one
of them, and where a place could not be tested, nothing became new or went away, it was not
examined. On a side that was, skin that is no longer marked counts as gone; how much of
that was marked normal is told, because only this was certainly tested again.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.territories import Mask
from bodymap.findings.contradiction import LEAST_CM2
from bodymap.findings.drawing import Drawing, Kind
from bodymap.findings.pieces import (
    Piece,
    Skins,
    each,
    parted,
    present,
    rest,
    shared_cm2,
    skins_of,
    together,
)
from bodymap.geometry import common, union_of, without
from bodymap.terms import Change, Modality, Side

DEPTH = {Change.NORMAL: 0, Change.REDUCED: 1, Change.ABSENT: 2}
"""How much is lost. Increased and tingling are no loss, so they have no place here."""

SIDES = (Side.RIGHT, Side.LEFT)


class Examined(StrEnum):
    """At which of two visits something was examined."""

    BOTH = "both"
    THEN = "then"
    NOW = "now"
    NEITHER = "neither"


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
    ``new``, ``gone`` and ``unchanged`` are empty unless it was examined at both. Even then
    some skin may have been examined once: ``not_again`` was altered then, ``not_before``
    is altered now, and the other visit left it out, so that it is neither new nor gone.
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
    not_again: Piece
    not_before: Piece
    degrees: tuple[Degree, ...] = ()
    same: bool = False


Untested = Mapping[Modality, Mask]
"""Cells that belong to places where a modality was begun and could not be tested."""


def progress(
    atlas: Atlas,
    then: Drawing,
    now: Drawing,
    untested: tuple[Untested, Untested] = ({}, {}),
) -> tuple[Progress, ...]:
    """Every modality that was examined at one of the visits, then all together.

    The skin of all together is that of the modalities examined at both visits, and
    counts once however many of them it is altered in; where one of them was not examined
    at one of the visits, it is not known to be free. ``untested`` is for each visit what
    could not be tested.
    """
    single = tuple(
        _of_modality(atlas, then, now, m, untested) for m in Modality if _state(then, now, m)
    )
    both = [p for p in single if p.examined is Examined.BOTH]
    kept = [p.modality for p in both if p.modality]
    state = Examined.BOTH if both else Examined.NEITHER
    not_again = together(p.not_again for p in both)
    not_before = together(p.not_before for p in both)
    frame = _Frame(atlas, None, (then.date, now.date), state)
    return (*single, frame.held(then.only(kept), now.only(kept), not_again, not_before))


def examined(drawing: Drawing, modality: Modality) -> bool:
    """Whether a visit has anything in a modality: skin, also normal, or an answer."""
    if any(m is modality for m, _, _ in drawing):
        return True
    return any(_answered(drawing, modality, side) for side in SIDES)


def _left_out(atlas: Atlas, drawing: Drawing, modality: Modality, untested: Untested) -> Mask:
    """Cells that a visit did not examine in a modality: a side with neither skin nor an
    answer, and what could not be tested."""
    cells = atlas.cells
    found = np.zeros(len(cells), dtype=bool)
    found |= untested.get(modality, found)
    drawn = [layer.painted_cm2(atlas) for m, _, layer in drawing if m is modality]
    for side in SIDES:
        here = any(float(cm2[cells.on_side(side)].sum()) > LEAST_CM2 for cm2 in drawn)
        if not here and not _answered(drawing, modality, side):
            found |= cells.on_side(side)
    return found


def _answered(drawing: Drawing, modality: Modality, side: Side) -> bool:
    """Whether the record holds an answer of a modality on a side."""
    found = drawing.record.at(modality.value.replace("-", "_"), side.value) or {}
    return any(_answer(value) not in ("", "NT", "NT*") for value in found.values())


def _answer(value: object) -> str:
    found = value.get("felt", "") if isinstance(value, Mapping) else value
    return str(found).strip().upper()


def _state(then: Drawing, now: Drawing, modality: Modality) -> Examined | None:
    before, after = examined(then, modality), examined(now, modality)
    if before and after:
        return Examined.BOTH
    return Examined.THEN if before else Examined.NOW if after else None


def _of_modality(
    atlas: Atlas,
    then: Drawing,
    now: Drawing,
    modality: Modality,
    untested: tuple[Untested, Untested],
) -> Progress:
    state = _state(then, now, modality) or Examined.NEITHER
    one, other = then.only([modality]), now.only([modality])
    not_again, not_before = (
        skins_of(atlas, _left_out(atlas, visit, modality, places))
        for visit, places in zip((now, then), reversed(untested), strict=True)
    )
    frame = _Frame(atlas, modality, (then.date, now.date), state)
    held = frame.held(
        one,
        other,
        each(without, not_again, _normal(atlas, other)),
        each(without, not_before, _normal(atlas, one)),
    )
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

    def held(self, then: Drawing, now: Drawing, unseen_now: Skins, unseen_then: Skins) -> Progress:
        """The skin of two drawings held against each other. ``unseen_now`` was not examined
        at the later visit, ``unseen_then`` not at the earlier one."""
        atlas, at_both = self.atlas, self.examined is Examined.BOTH
        before, after = then.altered_cm2(atlas), now.altered_cm2(atlas)
        was, is_ = _altered(atlas, then), _altered(atlas, now)
        nothing = Piece({}, np.zeros_like(before))
        kept = each(common, was, is_) if at_both else {}
        shared = shared_cm2(atlas, before, after, kept) if at_both else nothing.by_cell
        new = gone = not_before = not_again = nothing
        if at_both:
            new = Piece(each(without, is_, was), rest(after, shared))
            gone = Piece(each(without, was, is_), rest(before, shared))
            new, not_before = parted(atlas, new, unseen_then)
            gone, not_again = parted(atlas, gone, unseen_now)
        return Progress(
            self.modality,
            self.dates,
            self.examined,
            then=Piece(was, before),
            now=Piece(is_, after),
            new=new,
            gone=gone,
            unchanged=Piece(kept, shared),
            gone_normal=Piece.of(atlas, each(common, gone.skins, _normal(atlas, now))),
            not_again=not_again,
            not_before=not_before,
        )


def _degrees(atlas: Atlas, then: Drawing, now: Drawing, modality: Modality) -> Iterator[Degree]:
    """Skin whose change is another one; what was found in both ways at one visit is none."""
    changes = [c for c in Change if c.altered]
    was = {c: _of_kind(atlas, then, (modality, c)) for c in changes}
    is_ = {c: _of_kind(atlas, now, (modality, c)) for c in changes}
    for before in changes:
        for after in changes:
            if before is not after and was[before] and is_[after]:
                moved = each(common, was[before], is_[after])
                moved = each(without, each(without, moved, was[after]), is_[before])
                if moved:
                    yield Degree(before, after, Piece.of(atlas, moved))


def _altered(atlas: Atlas, drawing: Drawing) -> Skins:
    return present({view: drawing.altered_skin(atlas, view) for view in VIEWS})


def _of_kind(atlas: Atlas, drawing: Drawing, kind: Kind) -> Skins:
    layer = drawing.layer(*kind)
    return present({view: layer.skin(atlas, view) for view in VIEWS})


def _normal(atlas: Atlas, drawing: Drawing) -> Skins:
    """Skin that is marked normal in some modality."""
    layers = [layer for _, change, layer in drawing if not change.altered]
    return present({view: union_of(la.skin(atlas, view) for la in layers) for view in VIEWS})
