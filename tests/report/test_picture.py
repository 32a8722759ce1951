"""Pictures: exact skin, the patient's sides, readable in every sense, caution on each."""

import re
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.report.appearance import CHANGE_STYLES, REMAINDER_STYLES, THEMES, Remainder, Theme
from bodymap.report.colour import channels, contrast, difference, over, spelled
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


def _grounds(svg: str, title: str | None = None) -> float:
    """Area of the marked grounds (of a title), sheet units, read back from the SVG alone.

    Rings are summed by the even-odd rule: a ring inside another counts against it.
    """
    total = 0.0
    for group in ElementTree.fromstring(svg.encode()).iter(f"{SVG}g"):
        path, named = group.find(f"{SVG}path"), group.find(f"{SVG}title")
        if path is None or path.get("class") != "ground":
            continue
        if title is not None and (named is None or named.text != title):
            continue
        rings = [
            shapely.Polygon(np.array([p.split(",") for p in ring.split()], dtype=float))
            for ring in re.findall(r"M([^Z]*)Z", path.get("d", ""))
        ]
        for ring in rings:
            inside = ring.representative_point()
            depth = sum(o is not ring and o.contains(inside) for o in rings)
            total += ring.area if depth % 2 == 0 else -ring.area
    return total


def _said(root: ElementTree.Element) -> str:
    return " ".join(t.text or "" for t in root.iter(f"{SVG}text"))


def test_drawn_skin_keeps_its_area(atlas: Atlas, drawing: Drawing) -> None:
    """Within 0.1 % of the drawing, measured from the file as any program would."""
    expected = 0.0
    for _, _, layer in drawing:
        for view in View:
            skin = layer.skin(atlas, view)
            if skin is not None:
                expected += skin.area * BODY_LAYOUT[view].scale ** 2
    found = _grounds(draw_svg(atlas, drawing, PictureOptions()))
    assert found == pytest.approx(expected, rel=1e-3)


def test_remainders_keep_their_area(atlas: Atlas, drawing: Drawing) -> None:
    """Explained and unexplained are the altered drawing; explained and spared the territory."""
    territory = atlas.territory("root-l2", Side.LEFT)
    svg = draw_svg(atlas, drawing, PictureOptions(candidate=territory))
    area = {kind: _grounds(svg, style.label) for kind, style in REMAINDER_STYLES.items()}
    drawn = taken = 0.0
    for view in View:
        scale = BODY_LAYOUT[view].scale ** 2
        skin = drawing.altered_skin(atlas, view)
        drawn += skin.area * scale if skin is not None else 0.0
        whole = atlas.skin_of(territory.extent, view)
        taken += whole.area * scale if whole is not None else 0.0
    explained = area[Remainder.EXPLAINED]
    assert explained > 0
    assert explained + area[Remainder.UNEXPLAINED] == pytest.approx(drawn, rel=1e-3)
    assert explained + area[Remainder.SPARED] == pytest.approx(taken, rel=1e-3)


def test_legend_names_what_is_drawn_and_nothing_else(atlas: Atlas, drawing: Drawing) -> None:
    root = ElementTree.fromstring(draw_svg(atlas, drawing, PictureOptions()).encode())
    titles = {"ground": set(), "swatch": set()}
    for group in root.iter(f"{SVG}g"):
        path = group.find(f"{SVG}path")
        title = group.find(f"{SVG}title")
        if path is not None and title is not None and path.get("class") in titles:
            titles[path.get("class", "")].add((title.text, path.get("fill")))
    drawn = {text for text, _ in titles["ground"]}
    assert drawn == {"reduced: pinprick", "tingling: light touch", "normal: pinprick"}
    assert {c for _, c in titles["ground"]} == {c for _, c in titles["swatch"]}
    words = _said(root)
    for text in drawn:
        assert f"{text} (" in words
    assert "increased" not in words.replace("Needs urgent", "")


def test_legend_tells_the_area_of_skin(atlas: Atlas, drawing: Drawing) -> None:
    reduced = drawing.layer(Modality.PINPRICK, Change.REDUCED).painted_cm2(atlas)
    words = _said(ElementTree.fromstring(draw_svg(atlas, drawing, PictureOptions()).encode()))
    assert f"left {reduced.sum():.0f} cm²" in words


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
    options = PictureOptions(maps=(map_name,) if map_name else (), theme=theme)  # type: ignore[arg-type]
    svg = draw_svg(atlas, drawing, options)
    said = _said(ElementTree.fromstring(svg.encode()))
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
    muted indigo 51, 34, 136; muted purple 170, 68, 153; dark green 34, 85, 34), from
    memory."""
    published = {
        Change.REDUCED: (0, 119, 187),
        Change.ABSENT: (51, 34, 136),
        Change.INCREASED: (213, 94, 0),
        Change.TINGLING: (170, 68, 153),
        Change.NORMAL: (34, 85, 34),
    }
    for change, values in published.items():
        found = channels(CHANGE_STYLES[change].colour_light)
        assert tuple(round(255 * c) for c in found) == values


DEUTERANOPIA = (
    (0.367322, 0.860646, -0.227968),
    (0.280085, 0.672501, 0.047413),
    (-0.011820, 0.042940, 0.968881),
)
PROTANOPIA = (
    (0.152286, 1.052583, -0.204868),
    (0.114503, 0.786281, 0.099216),
    (-0.003882, -0.048116, 1.051998),
)
"""Machado, Oliveira and Fernandes, IEEE Trans Vis Comput Graph 2009;15:1291, severity 1,
for linear RGB; from memory."""


def _seen(colour: str, matrix: tuple[tuple[float, ...], ...]) -> str:
    rgb = np.array(channels(colour))
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    seen = np.clip(np.array(matrix) @ linear, 0.0, 1.0)
    coded = np.where(seen <= 0.0031308, 12.92 * seen, 1.055 * seen ** (1 / 2.4) - 0.055)
    return spelled(*coded.tolist())


@pytest.mark.parametrize("matrix", [DEUTERANOPIA, PROTANOPIA], ids=["deutan", "protan"])
@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
def test_colours_stay_apart_for_the_colour_blind(
    theme: Theme, matrix: tuple[tuple[float, ...], ...]
) -> None:
    """Any two marks that can meet stay 7 apart (OKLab times 100; 2 is just seen, judgement),
    besides having textures of their own."""
    # The matrices keep greys, as those of any dichromat do.
    assert difference(_seen("#808080", matrix), "#808080") < 0.5
    # Vermillion and a green that was refused merge: the test can fail.
    assert difference(_seen("#d55e00", PROTANOPIA), _seen("#117733", PROTANOPIA)) < 7
    for styles in (CHANGE_STYLES, REMAINDER_STYLES):
        for one, other in combinations(styles.values(), 2):
            seen = [_seen(style.colour(theme), matrix) for style in (one, other)]
            assert difference(*seen) >= 7, (one.label, other.label)


def test_names_of_territories_stand_out_from_their_fills(atlas: Atlas) -> None:
    from bodymap.report.territory_colours import territory_colours

    for theme in THEMES.values():
        for map_name in ("dermatomes", "nerves", "regions"):
            for fill in territory_colours(atlas, map_name, theme).values():
                seen = over(fill, theme.territory_opacity, theme.skin)
                assert contrast(theme.territory_text, seen) >= 4.5


def test_several_maps_are_told_apart_without_colour(atlas: Atlas, drawing: Drawing) -> None:
    options = PictureOptions(maps=("nerves", "dermatomes", "regions"), views=(View.FRONT,))
    root = ElementTree.fromstring(draw_svg(atlas, drawing, options).encode())
    dashes = [
        path.get("stroke-dasharray")
        for path in root.iter(f"{SVG}path")
        if (path.get("class") or "").startswith("borders-")
    ]
    assert len(dashes) == len(set(dashes)) == 3
    said = " ".join(t.text or "" for t in root.iter(f"{SVG}text"))
    assert "Overlay: nerves" in said
    assert "borders of dermatomes" in said
    assert "borders of named regions" in said
