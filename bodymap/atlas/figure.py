"""The whole figure: every view with both sides, from the authored halves.

One half (or one sole, one side of the head) is authored; the other is its mirror.
Sides are the patient's. A sole seen from below with its toes up and its great toe
towards the left of the picture is a left sole, as the thumb of a left hand held
before one's face points left.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bodymap.atlas.drawing_file import DrawnView
from bodymap.folding import Edge
from bodymap.geometry import Floats, Skin, mirrored, moved, union_of
from bodymap.terms import Side, View

SOLE_OFFSET = 26.0
"""Distance of a sole's axis from the midline of the pair, foot length/100."""

STATURE_UNITS: dict[View, float] = {
    View.FRONT: 1.0,
    View.BACK: 1.0,
    View.SOLES: 1.52,
    View.HEAD_LEFT: 1.30,
    View.HEAD_RIGHT: 1.30,
    View.SADDLE: 1.0,
}
"""Length of a view's unit in stature/1000: foot length .152 and head height .130
of stature (Drillis and Contini 1966, from memory). The saddle is a schematic."""


@dataclass(frozen=True)
class Placement:
    """Where an authored half goes: view, patient's side, mirrored or not, shift in x."""

    authored: str
    view: View
    side: Side
    mirror: bool
    shift: float = 0.0

    def skin(self, skin: Skin) -> Skin:
        """Authored skin in the coordinates of the view."""
        if self.shift:
            skin = moved(skin, self.shift, 0.0)
        return mirrored(skin) if self.mirror else skin

    def points(self, points: Floats) -> Floats:
        """Authored points (n, 2) in the coordinates of the view."""
        result = points + np.array([self.shift, 0.0])
        if self.mirror:
            result = result * np.array([-1.0, 1.0])
        return np.asarray(result, dtype=np.float64)


PLACEMENTS: tuple[Placement, ...] = (
    Placement("front", View.FRONT, Side.LEFT, False),
    Placement("front", View.FRONT, Side.RIGHT, True),
    Placement("back", View.BACK, Side.LEFT, True),
    Placement("back", View.BACK, Side.RIGHT, False),
    Placement("sole", View.SOLES, Side.LEFT, False, SOLE_OFFSET),
    Placement("sole", View.SOLES, Side.RIGHT, True, SOLE_OFFSET),
    Placement("head-side", View.HEAD_LEFT, Side.LEFT, True),
    Placement("head-side", View.HEAD_RIGHT, Side.RIGHT, False),
    Placement("saddle", View.SADDLE, Side.LEFT, False),
    Placement("saddle", View.SADDLE, Side.RIGHT, True),
)


@dataclass(frozen=True)
class Stroke:
    """An inner contour line: points (n, 2) in view units, weight in view units."""

    points: Floats
    weight: float


@dataclass(frozen=True)
class SoftShape:
    """A soft shape under the lines: ring (n, 2) and kind (nail, lip, areola, shadow, light)."""

    ring: Floats
    kind: str


@dataclass(frozen=True)
class Figure:
    """What one view looks like, both sides."""

    view: View
    outline: Skin
    lines: tuple[Stroke, ...]
    shapes: tuple[SoftShape, ...]

    @cached_property
    def edge(self) -> Edge:
        """The edge of the outline."""
        return Edge(self.outline)


def side_at(view: View, x: float) -> Side:
    """The patient's side at a place of a view."""
    if view is View.HEAD_LEFT:
        return Side.LEFT
    if view is View.HEAD_RIGHT:
        return Side.RIGHT
    return Side.LEFT if (x >= 0) != (view is View.BACK) else Side.RIGHT


def sides_of(view: View) -> tuple[Side, ...]:
    """The sides of the patient that a view shows."""
    return tuple(p.side for p in PLACEMENTS if p.view is view)


def positive_side(view: View) -> Side:
    """The patient's side at x > 0 (views of both sides), or the only side shown."""
    return side_at(view, 1.0)


def assembled(drawn: dict[str, DrawnView]) -> dict[View, Figure]:
    """The figure of every view from the authored halves."""
    figures: dict[View, Figure] = {}
    for view in View:
        placements = [p for p in PLACEMENTS if p.view is view]
        outline = union_of(p.skin(drawn[p.authored].outline) for p in placements)
        assert outline is not None
        lines = tuple(_lines(placements, drawn))
        shapes = tuple(
            SoftShape(p.points(s.ring), s.kind)
            for p in placements
            for s in drawn[p.authored].shades
        )
        figures[view] = Figure(view, outline, lines, shapes)
    return figures


def _lines(placements: list[Placement], drawn: dict[str, DrawnView]) -> Iterator[Stroke]:
    for number, placement in enumerate(placements):
        for line in drawn[placement.authored].lines:
            if not (line.once and number):
                yield Stroke(placement.points(line.points), line.weight)
