"""Textures and ribbons: on the skin only, as dense as their tile says."""

import numpy as np
import pytest
import shapely

from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.strokes import THIN, tapered
from bodymap.report.textures import TEXTURES, marks
from bodymap.terms import View


def _inked(name: str) -> float:
    """Share of a tile that its marks cover, by hand: length times width, circle areas."""
    kind = TEXTURES[name]
    inked = sum(
        kind.width * np.hypot(*np.diff(np.array(line), axis=0).T).sum() for line in kind.lines
    )
    inked += sum(np.pi * r**2 for _, _, r in kind.dots)
    inked += sum(2 * np.pi * r * kind.width for _, _, r in kind.rings)
    return float(inked / kind.size**2)


@pytest.mark.parametrize("view", [View.FRONT, View.SOLES])
@pytest.mark.parametrize("name", list(TEXTURES))
def test_density_is_that_of_the_tile(name: str, view: View) -> None:
    placed = BODY_LAYOUT[view]
    skin = shapely.Point(11.0, 37.0).buffer(150.0 / placed.scale)
    found = marks(name, skin, placed)
    assert found is not None
    # Polygons stand in for circles; a lattice crosses itself; a disc cuts tiles in two.
    inked = sum(part.area for part in found.geoms) if name == "cross" else found.area
    assert inked / skin.area == pytest.approx(_inked(name), rel=0.06)
    assert skin.buffer(1e-6).contains(shapely.MultiPoint(shapely.get_coordinates(found)))


def test_a_shifted_texture_falls_between_the_other() -> None:
    placed = BODY_LAYOUT[View.FRONT]
    skin = shapely.box(0, 0, 60, 60)
    first, second = marks("dots", skin, placed), marks("dots", skin, placed, 0.5)
    assert first is not None
    assert second is not None
    assert first.intersection(second).area < 0.02 * first.area


def test_a_ribbon_is_full_in_the_middle_and_thin_at_its_ends() -> None:
    line = np.column_stack([np.linspace(0, 100, 21), np.zeros(21)])
    ribbon = shapely.Polygon(tapered(line, 2.0))
    assert ribbon.is_valid
    width = {x: ribbon.intersection(shapely.LineString([(x, -9), (x, 9)])).length
             for x in (0.0, 50.0, 100.0)}  # fmt: skip
    assert width[50.0] == pytest.approx(2.0)
    assert width[0.0] == width[100.0] == pytest.approx(2.0 * THIN)
