"""The sheet: nothing overlaps, places map there and back, close-ups hold what they name."""

from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely.affinity import affine_transform

from bodymap.atlas import Atlas
from bodymap.report.layout import (
    BODY_LAYOUT,
    SHEET_HEIGHT,
    SHEET_WIDTH,
    SIDE_MARKS,
    SIDE_SIZE,
    TITLE_SIZE,
    close_ups,
    view_at,
)
from bodymap.report.lettering import text_width
from bodymap.terms import View


def _outlines(atlas: Atlas) -> dict[View, shapely.Geometry]:
    found = {}
    for view, placed in BODY_LAYOUT.items():
        a, b, c, d, e, f = placed.matrix
        found[view] = affine_transform(atlas.figures[view].outline, [a, b, c, d, e, f])
    return found


def test_views_titles_and_side_marks_do_not_overlap(atlas: Atlas) -> None:
    things = {view.value: outline for view, outline in _outlines(atlas).items()}
    for placed in BODY_LAYOUT.values():
        x, y = placed.title_at
        half = text_width(placed.title, TITLE_SIZE) * 0.57  # bold is wider
        things[placed.title] = shapely.box(x - half, y - TITLE_SIZE, x + half, y + 4)
    for mark in SIDE_MARKS:
        x, y = mark.on_sheet
        half = text_width(mark.text, SIDE_SIZE) * 0.57
        things[f"{mark.view} {mark.text}"] = shapely.box(x - half, y - SIDE_SIZE, x + half, y + 3)
    sheet = shapely.box(0, 0, SHEET_WIDTH, SHEET_HEIGHT)
    for name, shape in things.items():
        assert sheet.contains(shape), name
    for (one, a), (other, b) in combinations(things.items(), 2):
        assert a.distance(b) > 3.0, (one, other)


@pytest.mark.parametrize("view", list(View))
def test_places_map_there_and_back(view: View) -> None:
    placed = BODY_LAYOUT[view]
    assert placed.to_view(*placed.to_sheet(12.5, -3.75)) == pytest.approx((12.5, -3.75))
    # Up on the body is up on the sheet, where y runs down.
    assert placed.to_sheet(0.0, 10.0)[1] < placed.to_sheet(0.0, 0.0)[1]


def test_front_and_back_have_one_scale_and_insets_are_enlarged() -> None:
    assert BODY_LAYOUT[View.FRONT].scale == BODY_LAYOUT[View.BACK].scale == 1.0
    for view in (View.SOLES, View.HEAD_LEFT, View.HEAD_RIGHT, View.SADDLE):
        assert BODY_LAYOUT[view].enlargement > 1.4


def test_view_at_finds_the_view_of_every_cell(atlas: Atlas) -> None:
    for cell in range(0, len(atlas.cells), 7):
        view = list(View)[int(atlas.cells.view[cell])]
        point = atlas.cells.polygons[cell].representative_point()
        assert view_at(atlas, *BODY_LAYOUT[view].to_sheet(point.x, point.y)) is view
    assert view_at(atlas, 760.0, 430.0) is None


def test_close_ups_hold_the_hands_and_feet_they_name(atlas: Atlas) -> None:
    found = close_ups(atlas)
    parts = np.array([atlas.facts.body_parts[atlas.facts.parts[r].whole]
                      for r in atlas.cells.region_names])[atlas.cells.region]  # fmt: skip
    for id_, part, left in (
        ("left-palm", "hand", True), ("right-palm", "hand", False),
        ("left-hand-back", "hand", True), ("right-hand-back", "hand", False),
    ):  # fmt: skip
        up = found[id_]
        frame = shapely.box(*up.box)
        for cell in atlas.cells.in_view(up.view):
            mine = parts[cell] == part and bool(atlas.cells.left[cell]) is left
            if mine:
                assert frame.contains(atlas.cells.polygons[cell])
            elif parts[cell] == "hand":
                assert frame.disjoint(atlas.cells.polygons[cell])
