"""Pictures: exact skin, the patient's sides, readable in every sense, caution on each."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.report.appearance import CHANGE_STYLES, REMAINDER_STYLES, THEMES, Theme
from bodymap.report.colour import channels, contrast, over
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS
from bodymap.report.picture import PictureOptions, draw_svg
from bodymap.terms import Change, Modality, Side, View

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def drawing(atlas: Atlas) -> Drawing:
    return (
        Drawing()
        .painted(atlas, Modality.PINPRICK, Change.REDUCED, View.FRONT,
                 shapely.Point(60, 400).buffer(40))
        .painted(atlas, Modality.LIGHT_TOUCH, Change.TINGLING, View.BACK,
                 shapely.Point(50, 640).buffer(18))
        .with_region(atlas, Modality.PINPRICK, Change.NORMAL, "heel-lateral", Side.RIGHT)
    )  # fmt: skip


def _grounds(svg: str) -> float:
    """Area of all marked grounds, sheet units, read back from the SVG alone."""
    total = 0.0
    for path in ElementTree.fromstring(svg.encode()).iter(f"{SVG}path"):
        if path.get("class") == "ground":
            for ring in re.findall(r"M([^Z]*)Z", path.get("d", "")):
                points = np.array([p.split(",") for p in ring.split()], dtype=float)
                total += shapely.Polygon(points).area
    return total


def test_drawn_skin_keeps_its_area(atlas: Atlas, drawing: Drawing) -> None:
    """Within 0.1 % of the drawing, measured from the file as any program would."""
    expected = 0.0
    for _, _, layer in drawing:
        for view in View:
            skin = layer.skin(atlas, view)
            if skin is not None:
                expected += skin.area * BODY_LAYOUT[view].scale ** 2
    # Swatches of the legend are marks as well: three of 30 by 16.
    swatches = 3 * 30 * 16
    found = _grounds(draw_svg(atlas, drawing, PictureOptions()))
    assert found - swatches == pytest.approx(expected, rel=1e-3)


def test_sides_are_named_where_the_patient_has_them(atlas: Atlas) -> None:
    for mark in SIDE_MARKS:
        indices = atlas.cells.in_view(mark.view)
        centre = np.array([atlas.cells.polygons[i].centroid.x for i in indices])
        left = atlas.cells.left[indices]
        if left.all() or not left.any():
            assert left.all() == (mark.side is Side.LEFT)
            continue
        here = left if mark.side is Side.LEFT else ~left
        assert np.sign(centre[here].mean()) == np.sign(mark.x)


@pytest.mark.parametrize("map_name", [None, "dermatomes", "nerves", "regions"])
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
def test_legend_caution_and_sides_are_on_every_picture(
    atlas: Atlas, drawing: Drawing, map_name: str | None, theme: Theme
) -> None:
    options = PictureOptions(map_name=map_name, theme=theme)  # type: ignore[arg-type]
    svg = draw_svg(atlas, drawing, options)
    said = " ".join(t.text or "" for t in ElementTree.fromstring(svg.encode()).iter(f"{SVG}text"))
    for words in ("reduced: pinprick (P)", "tingling: light touch (T)", "normal: pinprick (P)",
                  "does not diagnose", "RIGHT", "LEFT", "Sides are the patient's"):  # fmt: skip
        assert words in said, words
    if map_name == "dermatomes":
        assert {"V1", "C6", "T10", "L5", "S4"} <= set(said.split())
    assert "clip-path" not in svg


def test_a_candidate_shows_three_remainders(atlas: Atlas, drawing: Drawing) -> None:
    territory = atlas.territory("root-l2", Side.LEFT)
    svg = draw_svg(atlas, drawing, PictureOptions(candidate=territory))
    for style in REMAINDER_STYLES.values():
        assert style.label in svg
    assert territory.name in svg


def test_saddle_findings_bring_the_emergency_caution(atlas: Atlas, drawing: Drawing) -> None:
    assert "cauda equina" not in draw_svg(atlas, drawing, PictureOptions())
    saddle = drawing.with_region(atlas, Modality.PINPRICK, Change.ABSENT, "perianal", Side.BOTH)
    assert "emergency" in draw_svg(atlas, saddle, PictureOptions())


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
class TestContrast:
    """WCAG 2.1, success criteria 1.4.3 (text 4.5:1) and 1.4.11 (marks 3:1)."""

    def test_text(self, theme: Theme) -> None:
        for ink in (theme.text, theme.muted_text, theme.warning):
            for ground in (theme.canvas, theme.panel):
                assert contrast(ink, ground) >= 4.5
        assert contrast(theme.territory_text, theme.skin) >= 4.5
        assert contrast(theme.accent_text, theme.accent) >= 4.5

    def test_marks_on_skin(self, theme: Theme) -> None:
        for style in (*CHANGE_STYLES.values(), *REMAINDER_STYLES.values()):
            assert contrast(style.colour(theme), theme.skin) >= 3.0, style.label
        assert contrast(theme.outline, theme.canvas) >= 3.0

    def test_the_formula_is_that_of_the_standard(self, theme: Theme) -> None:
        """WCAG 2.1: black on white is 21:1; #767676 on white is 4.54:1."""
        assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
        assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def test_no_two_marks_share_a_texture() -> None:
    """Colour is never the only signal."""
    for styles in (CHANGE_STYLES, REMAINDER_STYLES):
        textures = [style.texture for style in styles.values()]
        assert len(set(textures)) == len(textures)


def test_colours_are_the_published_ones() -> None:
    """Okabe and Ito 2008 (vermillion 213, 94, 0) and Tol 2021 (vibrant blue 0, 119, 187;
    muted indigo 51, 34, 136; muted purple 170, 68, 153; muted green 17, 119, 51), from
    memory."""
    published = {
        Change.REDUCED: (0, 119, 187),
        Change.ABSENT: (51, 34, 136),
        Change.INCREASED: (213, 94, 0),
        Change.TINGLING: (170, 68, 153),
        Change.NORMAL: (17, 119, 51),
    }
    for change, values in published.items():
        found = channels(CHANGE_STYLES[change].colour_light)
        assert tuple(round(255 * c) for c in found) == values


def test_names_of_territories_stand_out_from_their_fills(atlas: Atlas) -> None:
    from bodymap.report.territory_colours import territory_colours

    for theme in THEMES.values():
        for map_name in ("dermatomes", "nerves", "regions"):
            for fill in territory_colours(atlas, map_name, theme).values():
                seen = over(fill, theme.territory_opacity, theme.skin)
                assert contrast(theme.territory_text, seen) >= 4.5
