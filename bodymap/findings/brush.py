"""A brush stroke while it is being drawn.

During the stroke only what the newest movement adds is computed: a capsule (the
brush swept from one pointer position to the next) minus what the stroke already
covers. The drawing itself is recomputed exactly once, when the stroke ends.
"""

import numpy as np

from bodymap.atlas import Atlas
from bodymap.findings.seam import OTHER_SIDE, folded_on, over_the_seam
from bodymap.geometry import Floats, Skin, common, framed, mirrored, stroke, united, without
from bodymap.terms import View

ROUNDING = 1e-6
"""Less than this outside the outline is no skin, square view units."""


class BrushStroke:
    """One stroke that begins in one view, growing as the pointer moves.

    ``radius`` and positions are in view units. ``covered_cm2`` holds, for each
    cell of the atlas, the skin that the stroke covers so far, in cm²; with
    ``over_the_edge`` also what it covers on the other side of a limb.
    """

    def __init__(
        self, atlas: Atlas, view: View, radius: float, over_the_edge: bool = False
    ) -> None:
        self.view = view
        self.radius = radius
        self.over_the_edge = over_the_edge and view in OTHER_SIDE
        self.covered_cm2: Floats = np.zeros(len(atlas.cells))
        self._atlas = atlas
        self._swept: Skin | None = None
        self._waiting: Skin | None = None
        self._folded: list[Skin] = []
        self._last: tuple[float, float] | None = None

    def pieces(self) -> dict[View, Skin]:
        """What the stroke covers so far, by view, inside and outside the outlines."""
        if self._swept is None:
            return {}
        beyond = over_the_seam(self._atlas, self.view, self._swept) if self.over_the_edge else {}
        return {self.view: self._swept} | beyond

    def move_to(self, x: float, y: float) -> dict[View, Skin]:
        """Sweep the brush to a position; returns only the skin that this adds to its view,
        inside the outline."""
        points = [(x, y)] if self._last is None else [self._last, (x, y)]
        self._last = (x, y)
        added = without(stroke(points, self.radius), self._swept)
        if added is None:
            return {}
        self._swept = united(self._swept, added)
        covered = self._cover(self.view, added)
        if covered >= added.area - ROUNDING:
            return {self.view: added}
        outline = self._atlas.figures[self.view].edge.coarse
        near = framed(outline, added)
        inside = common(added, near)
        found = {} if inside is None else {self.view: inside}
        if self.over_the_edge:
            self._waiting = united(self._waiting, without(added, near))
        return found

    def go_beyond(self) -> dict[View, Skin]:
        """What has gathered outside the outline since this was asked last, on the other side
        of the limb. It costs more than a movement, so it is asked less often."""
        outside, self._waiting = self._waiting, None
        if outside is None:
            return {}
        found = {}
        assert self._swept is not None
        touched = [self._swept, *self._folded]
        for view, skin in folded_on(self._atlas, self.view, outside, touched).items():
            self._folded.append(mirrored(skin))
            inside = common(skin, framed(self._atlas.figures[view].edge.coarse, skin))
            if inside is not None:
                self._cover(view, inside)
                found[view] = inside
        return found

    def _cover(self, view: View, skin: Skin) -> float:
        """Count some skin as covered; returns how much of it lies on cells, square units."""
        indices, units = self._atlas.painted_units(view, skin)
        cells = self._atlas.cells
        # Movements are folded one by one; where they overlap, skin counts once at most.
        self.covered_cm2[indices] = np.minimum(
            self.covered_cm2[indices] + units * cells.cm2_per_unit[indices],
            cells.area_cm2[indices],
        )
        return float(units.sum())
