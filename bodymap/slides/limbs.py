"""Parts of the body that a slide shows by themselves: a limb, the head, the trunk."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask
from bodymap.geometry import Floats
from bodymap.language import later, tr
from bodymap.report.layout import CloseUp
from bodymap.terms import Side, View

ARM = ("upper-arm", "forearm", "hand")
LEG = ("buttocks", "thigh", "leg", "foot")

EDGE = 14.0
"""Room beside a limb, view units."""

HELD = 0.9
"""The smallest part that holds this share of some skin is shown."""


@dataclass(frozen=True)
class Part:
    """A part of the body: its name, its pieces, and the views that show it best.

    ``one_side`` says that one side of it is shown alone.
    """

    name: str
    pieces: tuple[str, ...]
    views: tuple[View, ...]
    one_side: bool = True


PARTS: tuple[Part, ...] = (
    Part("hand", ("hand",), (View.FRONT, View.BACK)),
    Part("foot", ("foot",), (View.FRONT, View.SOLES)),
    Part(
        "saddle, buttocks and back of the thighs",
        ("perineum", "buttocks", "thigh"),
        (View.SADDLE, View.BACK),
        one_side=False,
    ),
    Part("head and neck", ("head", "neck"), (View.FRONT, View.HEAD_RIGHT, View.HEAD_LEFT), False),
    Part("arm", ARM, (View.FRONT, View.BACK)),
    Part("leg", LEG, (View.FRONT, View.BACK)),
    Part("trunk", ("trunk", "neck"), (View.FRONT, View.BACK), one_side=False),
)
"""From small to large: the first that holds nearly all of some skin is the one to show."""


def pieces_of(atlas: Atlas, pieces: tuple[str, ...]) -> Mask:
    """The cells of some parts of the body, on both sides."""
    known = np.array([atlas.facts.body_parts[r] for r in atlas.facts.regions])
    here: Mask = np.isin(known[atlas.region_of_cell], pieces)
    return here


def part_of(atlas: Atlas, covered_cm2: Floats) -> tuple[Part, Side, Mask]:
    """The part of the body where some skin (cm² by cell) lies, the side that has more of it,
    and its cells: those of that side alone where one side is shown alone."""
    left, right = (
        float(covered_cm2[atlas.cells.on_side(s)].sum()) for s in (Side.LEFT, Side.RIGHT)
    )
    side = Side.LEFT if left > right else Side.RIGHT
    mine = np.where(atlas.cells.on_side(side), covered_cm2, 0.0)
    shares = []
    for part in PARTS:
        shown = _shown(atlas, part, side)
        shares.append((float(mine[shown].sum()) / float(mine.sum()), part, shown))
    best = next((s for s in shares if s[0] >= HELD), None) or max(shares, key=lambda s: s[0])
    return best[1], side, best[2]


def _shown(atlas: Atlas, part: Part, side: Side) -> Mask:
    cells = atlas.cells
    views = np.zeros(len(cells), dtype=bool)
    for view in views_of(part, side):
        views[cells.in_view(view)] = True
    here: Mask = pieces_of(atlas, part.pieces) & views
    return here & cells.on_side(side) if part.one_side else here


def place_words(part: Part, side: Side) -> str:
    """A part of the body as it is read, with its side where one side is shown alone: in other
    languages than English as it stands by itself, after a colon ("rechter Arm")."""
    return tr(f"{side.value} {part.name}" if part.one_side else part.name, "of the body")


def views_of(part: Part, side: Side) -> tuple[View, ...]:
    """The views that show a part; of the head, the side that is asked for."""
    other = View.HEAD_RIGHT if side is Side.LEFT else View.HEAD_LEFT
    return tuple(v for v in part.views if v is not other)


_LIMBS: tuple[tuple[str, str, View, Side, tuple[str, ...]], ...] = (
    ("right-arm-front", later("Right arm, front"), View.FRONT, Side.RIGHT, ARM),
    ("right-arm-back", later("Right arm, back"), View.BACK, Side.RIGHT, ARM),
    ("left-arm-front", later("Left arm, front"), View.FRONT, Side.LEFT, ARM),
    ("left-arm-back", later("Left arm, back"), View.BACK, Side.LEFT, ARM),
    ("right-leg-front", later("Right leg, front"), View.FRONT, Side.RIGHT, LEG),
    ("right-leg-back", later("Right leg, back"), View.BACK, Side.RIGHT, LEG),
    ("left-leg-front", later("Left leg, front"), View.FRONT, Side.LEFT, LEG),
    ("left-leg-back", later("Left leg, back"), View.BACK, Side.LEFT, LEG),
)
"""id, label, view, side, parts of the body."""


def limb_close_ups(atlas: Atlas) -> Iterator[CloseUp]:
    """Each arm and leg by itself, from the front and from behind."""
    for id_, label, view, side, pieces in _LIMBS:
        cells = atlas.cells.in_view(view)
        mine = cells[(pieces_of(atlas, pieces) & atlas.cells.on_side(side))[cells]]
        bounds = np.array([p.bounds for p in atlas.cells.polygons[mine]])
        x0, y0 = (float(edge) for edge in bounds[:, :2].min(axis=0))
        x1, y1 = (float(edge) for edge in bounds[:, 2:].max(axis=0))
        # No room towards the midline: there the trunk or the other leg would be seen.
        x0, x1 = (x0, x1 + EDGE) if x0 + x1 > 0 else (x0 - EDGE, x1)
        yield CloseUp(id_, label, view, (x0, y0 - EDGE, x1, y1 + EDGE))
