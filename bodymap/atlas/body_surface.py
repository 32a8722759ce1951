"""How many cm² of skin a drawn square unit stands for.

A picture foreshortens what curves away, so drawn area misleads: each body part of
each view has one factor that makes the parts' sums agree with the published
shares of body surface in ``body-surface.csv``. Where a part is seen in several
views that show the same skin (the head from in front and from the side), one
factor serves them all, so that its sum over the views is the published share and
nothing counts twice in total.
"""

from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from bodymap.atlas.assets import listed, table
from bodymap.atlas.figure import STATURE_UNITS
from bodymap.errors import AssetError
from bodymap.terms import View

BODY_SURFACE_CM2 = 17_800.0
"""Skin of the reference adult: mean of 1.90 m² (man) and 1.66 m² (woman), ICRP
Publication 89 (2002), from memory."""


@dataclass(frozen=True)
class Share:
    """Percent of body surface, both sides together, of one part in some views."""

    part: str
    views: tuple[View, ...]
    percent: float


def read_shares(folder: Path) -> tuple[Share, ...]:
    """The rows of ``body-surface.csv``."""
    return tuple(
        Share(row["part"], tuple(View(v) for v in listed(row["views"])), float(row["percent"]))
        for row in table(folder, "body-surface")
    )


def cm2_per_unit(
    shares: tuple[Share, ...], drawn: dict[tuple[str, View], float]
) -> dict[tuple[str, View], float]:
    """The factor cm² per square view unit for each (part, view) that is drawn.

    ``drawn`` holds drawn areas of both sides, square view units. Skin of a part in
    a view for which no share is stated (the inner thigh at the rim of the saddle)
    takes the factor of the part that owns that view, and what it takes is taken
    off its own part's first share, so that parts keep their published sums.
    """
    owner = {v: s for v in View for s in shares if s.views == (v,) and _sole_owner(v, shares)}
    stated = {(share.part, view) for share in shares for view in share.views}
    strays = [key for key in drawn if key not in stated]
    factor: dict[tuple[str, View], float] = {}

    def settle(share: Share, percent: float) -> None:
        scaled = sum(drawn.get((share.part, v), 0.0) * STATURE_UNITS[v] ** 2 for v in share.views)
        if scaled <= 0:
            raise AssetError(f"body-surface.csv: part '{share.part}' is drawn in no such view.")
        for view in share.views:
            density = percent / 100 * BODY_SURFACE_CM2 / scaled
            factor[share.part, view] = density * STATURE_UNITS[view] ** 2

    owed: dict[str, float] = defaultdict(float)
    for part, view in strays:
        host = owner.get(view)
        if host is None:
            raise AssetError(f"body-surface.csv states no share of '{part}' in view {view}.")
        settle(host, host.percent)
        factor[part, view] = factor[host.part, view]
        owed[part] += drawn[part, view] * factor[part, view] / BODY_SURFACE_CM2 * 100
    for share in shares:
        settle(share, share.percent - owed.pop(share.part, 0.0))
    return factor


def _sole_owner(view: View, shares: tuple[Share, ...]) -> bool:
    return sum(view in share.views for share in shares) == 1
