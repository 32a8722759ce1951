"""What one candidate explains, leaves unexplained and would have taken as well.

The three remainders are given twice: as skin, for the canvas and for pictures,
and as facts in words. Everything follows from areas; nothing here claims a cause.
"""

from dataclasses import dataclass

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.territories import Territory
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Floats, Skin, common, without
from bodymap.localise.ranking import Candidate
from bodymap.terms import Side, View

NOTABLE = 0.25
"""A region is named in a reason if at least this share of it is concerned. Judgement."""

NAMED_AT_MOST = 4
"""So many regions are named in one reason; the rest is counted."""


@dataclass(frozen=True)
class Remainders:
    """Skin of one view: explained, unexplained and spared (None where there is none)."""

    explained: Skin | None
    unexplained: Skin | None
    spared: Skin | None


@dataclass(frozen=True)
class Reasons:
    """Sentences for and against a candidate, and what it would have taken as well."""

    in_favour: tuple[str, ...]
    against: tuple[str, ...]
    missing: tuple[str, ...]


def remainders(atlas: Atlas, drawing: Drawing, territory: Territory) -> dict[View, Remainders]:
    """The drawing held against a territory, as geometry, view by view."""
    found = {}
    for view in VIEWS:
        drawn = drawing.altered_skin(atlas, view)
        taken = atlas.skin_of(territory.extent, view)
        if drawn is not None or taken is not None:
            found[view] = Remainders(
                common(drawn, taken), without(drawn, taken), without(taken, drawn)
            )
    return found


def reasons(atlas: Atlas, drawn_cm2: Floats, normal_cm2: Floats, candidate: Candidate) -> Reasons:
    """Facts for and against, from the altered and the normal skin of each cell in cm²."""
    territory = candidate.territory
    area = atlas.cells.area_cm2
    inside = territory.extent
    share = candidate.explained_fraction
    for_ = [f"Explains {share:.0%} of the drawn skin ({_cm2(candidate.explained_cm2)})."]
    core = float(drawn_cm2[territory.signature].sum())
    whole_core = float(area[territory.signature].sum())
    if whole_core > 0 and core / whole_core >= NOTABLE:
        for_.append(f"{core / whole_core:.0%} of its signature skin is altered.")
    against = []
    if candidate.unexplained_cm2 >= 0.05:
        outside = np.where(inside, 0.0, drawn_cm2)
        where = _named(atlas, outside, area)
        fringe = float(outside[territory.fringe].sum())
        sentence = f"Leaves {_cm2(candidate.unexplained_cm2)} unexplained{where}."
        if fringe >= 0.05:
            sentence += f" Of this {_cm2(fringe)} lies where published maps let it reach."
        against.append(sentence)
    conflict = np.where(inside, np.minimum(normal_cm2, area - drawn_cm2), 0.0)
    if conflict.sum() >= 0.05:
        against.append(
            f"{_cm2(float(conflict.sum()))} of its skin was tested and found normal"
            f"{_named(atlas, conflict, area)}."
        )
    missing = []
    if candidate.spared_cm2 >= 0.05:
        spared = np.where(inside, area - drawn_cm2, 0.0)
        missing.append(
            f"{_cm2(candidate.spared_cm2)} of its skin is not drawn{_named(atlas, spared, area)}."
        )
    return Reasons(tuple(for_), tuple(against), tuple(missing))


def regions_in(
    atlas: Atlas, covered_cm2: Floats, least: float = NOTABLE
) -> list[tuple[str, Side, float]]:
    """Named regions covered by at least a share ``least``: (region id, side, share),
    largest covered area first."""
    names, area = list(atlas.facts.regions), atlas.cells.area_cm2
    keys = 2 * atlas.region_of_cell + atlas.cells.left
    covered = np.bincount(keys, covered_cm2, 2 * len(names))
    whole = np.bincount(keys, area, 2 * len(names))
    share = covered / np.where(whole > 0, whole, 1.0)
    found = np.flatnonzero((share >= least) & (covered > 0))
    return [
        (names[k // 2], Side.LEFT if k % 2 else Side.RIGHT, float(share[k]))
        for k in sorted(found.tolist(), key=lambda k: -covered[k])
    ]


def _named(atlas: Atlas, covered: Floats, area: Floats) -> str:
    regions = regions_in(atlas, np.minimum(covered, area))
    if not regions:
        return ""
    sides = {side for _, side, _ in regions}
    one_side = sides.pop() if len(sides) == 1 else None
    labels = [
        atlas.facts.regions[id_].label + ("" if one_side else f" ({side})")
        for id_, side, _ in regions
    ]
    shown = "; ".join(labels[:NAMED_AT_MOST])
    if len(labels) > NAMED_AT_MOST:
        shown += f" and {len(labels) - NAMED_AT_MOST} more"
    return f": {shown}" + (f" ({one_side})" if one_side else "")


def _cm2(area: float) -> str:
    return f"{area:.0f} cm²" if area >= 10 else f"{area:.1f} cm²"
