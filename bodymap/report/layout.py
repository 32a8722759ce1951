"""Where everything stands on the sheet that the window and the pictures share.

Sheet units: x to the right, y DOWN; one sheet unit is one view unit of front and
back, which stand side by side at the same scale. Heads, soles and saddle are
insets between them, enlarged. Sides are the patient's: front and soles show the
patient's right on the left of the sheet, back shows it on the right.
"""

from dataclasses import dataclass

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.figure import STATURE_UNITS
from bodymap.atlas.territories import Mask
from bodymap.language import later
from bodymap.terms import Side, View

Box = tuple[float, float, float, float]
"""x from, y from, x to, y to."""

SHEET_WIDTH = 1520.0
SHEET_HEIGHT = 1172.0

TITLE_SIZE = 19.0
"""Height of the titles of the views, sheet units."""

SIDE_SIZE = 15.0
"""Height of the marks RIGHT and LEFT, sheet units."""


@dataclass(frozen=True)
class Placed:
    """A view on the sheet: sheet x = dx + scale·x, sheet y = dy - scale·y.

    ``title`` stands centred at ``title_at`` (baseline, sheet units).
    """

    view: View
    scale: float
    dx: float
    dy: float
    title: str
    title_at: tuple[float, float]

    def to_sheet(self, x: float, y: float) -> tuple[float, float]:
        """The place on the sheet of a place of the view."""
        return self.dx + self.scale * x, self.dy - self.scale * y

    def to_view(self, x: float, y: float) -> tuple[float, float]:
        """The place of the view that stands at a place of the sheet."""
        return (x - self.dx) / self.scale, (self.dy - y) / self.scale

    def box_to_sheet(self, box: Box) -> Box:
        """A box of the view (y up) as a box of the sheet (y down)."""
        left, bottom = self.to_sheet(box[0], box[1])
        right, top = self.to_sheet(box[2], box[3])
        return left, top, right, bottom

    @property
    def matrix(self) -> tuple[float, float, float, float, float, float]:
        """a, b, c, d, e, f of the affine map view to sheet, as in SVG's matrix()."""
        return self.scale, 0.0, 0.0, -self.scale, self.dx, self.dy

    @property
    def enlargement(self) -> float:
        """How much larger than on front and back the same skin is drawn here."""
        return self.scale / STATURE_UNITS[self.view]


BODY_LAYOUT: dict[View, Placed] = {
    p.view: p
    for p in (
        Placed(View.FRONT, 1.0, 370.0, 1068.0, later("Front"), (370.0, 44.0)),
        Placed(View.BACK, 1.0, 1150.0, 1068.0, later("Back"), (1150.0, 44.0)),
        Placed(View.HEAD_RIGHT, 2.0, 652.0, 292.0, later("Head, right side"), (652.0, 72.0)),
        Placed(View.HEAD_LEFT, 2.0, 868.0, 292.0, later("Head, left side"), (868.0, 72.0)),
        Placed(View.SOLES, 2.75, 645.0, 1014.0, later("Soles"), (645.0, 716.0)),
        Placed(View.SADDLE, 1.6, 912.0, 887.0, later("Saddle (schematic)"), (912.0, 716.0)),
    )
}
"""The sheet. Order: the order in which views are drawn and asked for a place."""

INSETS = (View.HEAD_RIGHT, View.HEAD_LEFT, View.SOLES, View.SADDLE)
"""Views that stand in the space between front and back."""


@dataclass(frozen=True)
class SideMark:
    """The word RIGHT or LEFT (of the patient) centred at a place of a view."""

    view: View
    side: Side
    x: float
    y: float

    @property
    def text(self) -> str:
        """The word."""
        return self.side.word.upper()

    @property
    def on_sheet(self) -> tuple[float, float]:
        """Baseline middle on the sheet."""
        return BODY_LAYOUT[self.view].to_sheet(self.x, self.y)


SIDE_MARKS: tuple[SideMark, ...] = (
    SideMark(View.FRONT, Side.RIGHT, -104.0, 900.0),
    SideMark(View.FRONT, Side.LEFT, 104.0, 900.0),
    SideMark(View.BACK, Side.LEFT, -104.0, 900.0),
    SideMark(View.BACK, Side.RIGHT, 104.0, 900.0),
    SideMark(View.SOLES, Side.RIGHT, -26.0, -9.0),
    SideMark(View.SOLES, Side.LEFT, 26.0, -9.0),
    SideMark(View.HEAD_RIGHT, Side.RIGHT, 0.0, -43.0),
    SideMark(View.HEAD_LEFT, Side.LEFT, 0.0, -43.0),
    SideMark(View.SADDLE, Side.RIGHT, -44.0, -107.0),
    SideMark(View.SADDLE, Side.LEFT, 44.0, -107.0),
)
"""Each view names its sides, the patient's, beside the skin of that side."""


@dataclass(frozen=True)
class CloseUp:
    """A part of a view to look at enlarged. ``box`` in view units, y up."""

    id: str
    label: str
    view: View
    box: Box

    @property
    def on_sheet(self) -> Box:
        """The box on the sheet, y down."""
        return BODY_LAYOUT[self.view].box_to_sheet(self.box)


_CLOSE_UPS: tuple[tuple[str, str, View, Side, tuple[str, ...]], ...] = (
    ("right-palm", later("Right hand, palm"), View.FRONT, Side.RIGHT, ("hand",)),
    ("left-palm", later("Left hand, palm"), View.FRONT, Side.LEFT, ("hand",)),
    ("right-hand-back", later("Right hand, back"), View.BACK, Side.RIGHT, ("hand",)),
    ("left-hand-back", later("Left hand, back"), View.BACK, Side.LEFT, ("hand",)),
    ("feet-top", later("Feet from the front"), View.FRONT, Side.BOTH, ("foot",)),
    ("feet-back", later("Heels from behind"), View.BACK, Side.BOTH, ("foot",)),
    ("soles", later("Soles"), View.SOLES, Side.BOTH, ()),
    ("face", later("Face and neck"), View.FRONT, Side.BOTH, ("head", "neck")),
    ("head-back", later("Back of the head"), View.BACK, Side.BOTH, ("head", "neck")),
    ("head-right", later("Head, right side"), View.HEAD_RIGHT, Side.BOTH, ()),
    ("head-left", later("Head, left side"), View.HEAD_LEFT, Side.BOTH, ()),
    ("saddle", later("Saddle area (schematic)"), View.SADDLE, Side.BOTH, ()),
)
"""id, label, view, side, parts of the body (all skin of the view where none is named)."""

MARGIN = 0.12
"""Room around the skin of a close-up, share of its larger side."""


def close_ups(atlas: Atlas) -> dict[str, CloseUp]:
    """The close-ups by id, around the skin as the atlas draws it."""
    cells = atlas.cells
    parts = np.array(
        [atlas.facts.body_parts[atlas.facts.parts[r].whole] for r in cells.region_names]
    )
    found: dict[str, CloseUp] = {}
    for id_, label, view, side, wanted in _CLOSE_UPS:
        indices = cells.in_view(view)
        inside = cells.on_side(side)[indices]
        if wanted:
            inside = inside & np.isin(parts[cells.region[indices]], wanted)
        bounds = np.array([p.bounds for p in cells.polygons[indices[inside]]])
        x0, y0 = bounds[:, :2].min(axis=0)
        x1, y1 = bounds[:, 2:].max(axis=0)
        room = MARGIN * max(x1 - x0, y1 - y0)
        box = (float(x0 - room), float(y0 - room), float(x1 + room), float(y1 + room))
        found[id_] = CloseUp(id_, label, view, box)
    return found


def view_at(atlas: Atlas, x: float, y: float, reach: float = 12.0) -> View | None:
    """The view whose drawing surrounds a place of the sheet, insets first.

    ``reach`` is how far outside the bounds of its skin a view still answers, sheet
    units. None between the views.
    """
    for view in (*INSETS, View.FRONT, View.BACK):
        placed = BODY_LAYOUT[view]
        left, top, right, bottom = placed.box_to_sheet(atlas.figures[view].outline.bounds)
        if left - reach <= x <= right + reach and top - reach <= y <= bottom + reach:
            return view
    return None


def sheet_box(atlas: Atlas, mask: Mask, margin: float = 30.0) -> Box | None:
    """The part of the sheet round a mask of cells in the view that shows most of one
    side of it; None where that is most of the sheet anyway."""
    best: tuple[float, Box] | None = None
    for view, placed in BODY_LAYOUT.items():
        cells = atlas.cells.in_view(view)
        skin = atlas.skin_of(mask & ~atlas.cells.left, view) or atlas.skin_of(mask, view)
        if skin is None:
            continue
        area = float(atlas.cells.area_units[cells] @ mask[cells]) * placed.scale**2
        left, top, right, bottom = placed.box_to_sheet(skin.bounds)
        if best is None or area > best[0]:
            best = area, (left - margin, top - margin, right + margin, bottom + margin)
    if best is None or best[1][2] - best[1][0] > SHEET_WIDTH / 2:
        return None
    return best[1]
