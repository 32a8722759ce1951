"""A brush stroke while it is being drawn.

During the stroke only what the newest movement adds is computed: a capsule (the
brush swept from one pointer position to the next) minus what the stroke already
covers. The drawing itself is recomputed exactly once, when the stroke ends.
"""

import numpy as np

from bodymap.atlas import Atlas
from bodymap.geometry import Floats, Skin, stroke, united, without
from bodymap.terms import View


class BrushStroke:
    """One stroke in one view, growing as the pointer moves.

    ``radius`` and positions are in view units. ``covered_cm2`` holds, for each
    cell of the atlas, the skin that the stroke covers so far, in cm².
    """

    def __init__(self, atlas: Atlas, view: View, radius: float) -> None:
        self.view = view
        self.radius = radius
        self.covered_cm2: Floats = np.zeros(len(atlas.cells))
        self._atlas = atlas
        self._skin: Skin | None = None
        self._last: tuple[float, float] | None = None

    @property
    def skin(self) -> Skin | None:
        """What the stroke covers so far, inside and outside the outline."""
        return self._skin

    def move_to(self, x: float, y: float) -> Skin | None:
        """Sweep the brush to a position; returns only the skin that this adds."""
        points = [(x, y)] if self._last is None else [self._last, (x, y)]
        self._last = (x, y)
        added = without(stroke(points, self.radius), self._skin)
        if added is None:
            return None
        self._skin = united(self._skin, added)
        indices, units = self._atlas.painted_units(self.view, added)
        self.covered_cm2[indices] += units * self._atlas.cells.cm2_per_unit[indices]
        return added
