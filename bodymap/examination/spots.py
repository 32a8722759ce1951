"""The skin that one answer stands for.

A key point is touched at one place, but the answer is drawn on the whole testing spot that
it stands for: the part of its named region that lies in its segment. Places of a ladder
stand for the named regions of their table row.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.assets import table
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.facts import KeyPoint
from bodymap.atlas.territories import Mask
from bodymap.findings.drawing import Drawing
from bodymap.findings.sites import Site
from bodymap.terms import Change, Modality, Side, View

WHOLE = 0.95
"""From this share of its region on a spot is drawn as the named region. Judgement."""

LEAST = 0.1
"""A region with less of the segment than this is not where its point is drawn: the point
of T12 lies on a border whose groin side belongs to L1."""


@dataclass(frozen=True)
class Spot:
    """Skin of one side: named regions, or else cells of the atlas."""

    side: Side
    regions: tuple[str, ...] = ()
    cells: Mask | None = None

    def noted(
        self, atlas: Atlas, drawing: Drawing, modality: Modality, change: Change | None
    ) -> Drawing:
        """The drawing with this answer on the spot, in place of an older one; None leaves
        the spot unmarked."""
        for region in self.regions:
            if change is None:
                drawing = drawing.without_region(atlas, modality, region, self.side)
            else:
                drawing = drawing.with_region(atlas, modality, change, region, self.side)
        if self.cells is not None:
            for view in VIEWS:
                skin = atlas.skin_of(self.cells, view)
                if skin is not None and change is None:
                    drawing = drawing.erased(atlas, modality, view, skin)
                elif skin is not None and change is not None:
                    drawing = drawing.painted(atlas, modality, change, view, skin)
        return drawing


def segments_of(point: str) -> tuple[str, ...]:
    """The dermatomes of a key point: S4-5 is tested as one."""
    return ("S4", "S5") if point == "S4-5" else (point,)


def point_spot(atlas: Atlas, point: KeyPoint, side: Side) -> Spot:
    """The spot of a key point."""
    segment = np.any(
        [atlas.cells_of_dermatome(s, side) for s in segments_of(point.dermatome)], axis=0
    )
    area = atlas.cells.area_cm2
    for region in (point.region, *point.alternative_regions):
        whole = atlas.cells_of_region(region, side)
        mine = whole & segment
        share = area[mine].sum() / area[whole].sum()
        if share >= WHOLE:
            return Spot(side, (region,))
        if share >= LEAST:
            return Spot(side, cells=mine)
    return Spot(side, cells=segment)


def site_spot(site: Site, side: Side) -> Spot:
    """The spot of a place of a ladder."""
    return Spot(side, site.regions)


@cache
def _places(atlas: Atlas) -> dict[tuple[str, Side], tuple[View, float, float]]:
    found = {}
    for row in table(atlas.facts.folder, "key-point-places"):
        view, x, y = View(row["view"]), float(row["x"]), float(row["y"])
        here = atlas.place(view, x, y)
        for side in (Side.RIGHT, Side.LEFT):
            mirrored = here is not None and here.side is not side
            found[row["dermatome"], side] = (view, -x if mirrored else x, y)
    return found


def point_place(atlas: Atlas, point: str, side: Side) -> tuple[View, float, float]:
    """Where a key point lies: a view, and x and y in its units."""
    return _places(atlas)[point, side]


def region_place(atlas: Atlas, region: str, side: Side) -> tuple[View, float, float]:
    """Where to touch a named region: a place inside its largest piece of skin."""
    mask = atlas.cells_of_region(region, side)
    pieces = [(view, atlas.skin_of(mask, view)) for view in VIEWS]
    view, skin = max(
        ((view, skin) for view, skin in pieces if skin is not None), key=lambda p: p[1].area
    )
    middle = skin.representative_point()
    return view, middle.x, middle.y
