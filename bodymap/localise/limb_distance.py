"""How far along its limb a piece of skin lies, from the tip of the limb, in cm.

Length-dependent loss climbs from the longest fibres, and a cut through the skin at
one distance is a ring around the limb. Distances are measured along straight limb
axes of the figure of a reference adult; folds and foreshortening make them rough
(a few cm), which the soft border of every cut allows for.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely import affinity

from bodymap.atlas import Atlas
from bodymap.geometry import Floats, shared_areas
from bodymap.terms import View

STATURE_CM = 170.0
"""Reference adult: mean of 176 cm (man) and 163 cm (woman), ICRP Publication 89
(2002), from memory."""

CM = STATURE_CM / 1000
"""cm for each view unit of front and back."""

FOOT_CM = 26.0
"""Foot length: .152 of stature (Drillis and Contini 1966, from memory)."""

FINGERTIP = (307.0, 406.0)
SHOULDER = (130.0, 800.0)
"""Ends of the axis of the hanging arm of the figure, |x| and y in view units."""

ANKLE = 50.0
TOE = -70.0
"""Height of the ankle, and of the toe tips of the foreshortened foot in front."""

STEP = 2.0
"""Distance between two cuts of a profile, cm."""

ARM_PARTS = ("upper-arm", "forearm", "hand")
LEG_PARTS = ("thigh", "leg", "foot")


@dataclass(frozen=True)
class LimbDistance:
    """Distances along the limbs for every cell of an atlas."""

    atlas: Atlas

    @cached_property
    def limb(self) -> npt.NDArray[np.int8]:
        """For every cell 1 on an arm, 2 on a leg, 0 elsewhere."""
        parts = [self.atlas.facts.body_parts[r] for r in self.atlas.facts.regions]
        kind = np.array([(p in ARM_PARTS) + 2 * (p in LEG_PARTS) for p in parts], dtype=np.int8)
        saddle = self.atlas.cells.view == list(View).index(View.SADDLE)
        return np.where(saddle, 0, kind[self.atlas.region_of_cell]).astype(np.int8)

    @cached_property
    def distance(self) -> Floats:
        """Distance (cm) of the middle of every cell from the tip of its limb; 0 off limbs."""
        middle = np.array([self._along(c)[0] for c in range(len(self.atlas.cells))])
        return np.asarray(middle)

    @cached_property
    def cuts(self) -> Floats:
        """Distances (cm) at which ``profile`` knows the share of each cell below."""
        return np.arange(0.0, 110.0, STEP)

    @cached_property
    def profile(self) -> Floats:
        """Share of every cell that lies nearer to the tip than each cut, (cells, cuts).

        Cells off the limbs have 0 throughout.
        """
        found = np.zeros((len(self.atlas.cells), len(self.cuts)))
        for cell in np.flatnonzero(self.limb).tolist():
            _, straight = self._along(cell)
            low, high = straight.bounds[1], straight.bounds[3]
            found[cell, self.cuts >= high] = 1.0
            inner = np.flatnonzero((self.cuts > low) & (self.cuts < high))
            if len(inner):
                left, right = straight.bounds[0] - 1, straight.bounds[2] + 1
                boxes = shapely.box(left, low - 1, right, self.cuts[inner])
                found[cell, inner] = shared_areas(straight, boxes) / straight.area
        return found

    def _along(self, cell: int) -> tuple[float, shapely.Polygon]:
        """Middle of a cell along its limb, and the cell with y as distance in cm."""
        cells = self.atlas.cells
        polygon = cells.polygons[cell]
        view, limb = tuple(View)[int(cells.view[cell])], self.limb[cell]
        if limb == 0:
            return 0.0, polygon
        if limb == 1:
            (x1, y1), (x2, y2) = FINGERTIP, SHOULDER
            length = float(np.hypot(x2 - x1, y2 - y1))
            ux, uy = (x2 - x1) / length, (y2 - y1) / length
            sign = -1.0 if polygon.centroid.x < 0 else 1.0
            straight = affinity.affine_transform(
                polygon,
                [uy * sign * CM, -ux * CM, ux * sign * CM, uy * CM, 0, -(ux * x1 + uy * y1) * CM],
            )
        elif view is View.SOLES:
            straight = _scaled(polygon, -0.9 * FOOT_CM / 100, 0.9 * FOOT_CM)
        elif polygon.centroid.y < ANKLE and view is View.FRONT:
            factor = 0.92 * FOOT_CM / (ANKLE - TOE)
            straight = _scaled(polygon, factor, -TOE * factor)
        else:
            straight = _scaled(polygon, CM, 0.92 * FOOT_CM - ANKLE * CM)
        return float(straight.centroid.y), straight


def _scaled(polygon: shapely.Polygon, factor: float, shift: float) -> shapely.Polygon:
    return affinity.affine_transform(polygon, [1, 0, 0, factor, 0, shift])
