"""Which names stand on the figure of the window and beside it, nearer and farther."""

from itertools import combinations

import shapely
from shapely.affinity import affine_transform

from bodymap.atlas import Atlas
from bodymap.gui.body_picture import BodyPicture, side_words
from bodymap.gui.camera import showing
from bodymap.gui.overlays import overlay_of, with_names_beside
from bodymap.gui.sheet_view import SHEET
from bodymap.language import ENGLISH, use
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import DERMATOMES, View


def test_the_whole_trunk_is_named_when_the_whole_body_is_shown(atlas: Atlas) -> None:
    """At 1280 by 800 the canvas has about 834 by 612 pixels for the whole sheet."""
    picture = BodyPicture(atlas)
    camera = showing(SHEET, 834, 612)
    for view in (View.FRONT, View.BACK):
        scale = camera.scale * BODY_LAYOUT[view].scale
        written = {fit.lines[0] for fit in picture.names.inside(view, "dermatomes", scale)}
        assert {*(f"T{n}" for n in range(2, 13)), "L1"} <= written
    # Nearer, each side has its own name again.
    near = [f.lines[0] for f in picture.names.inside(View.BACK, "dermatomes", 3 * scale)]
    assert near.count("T6") == 2


def test_every_dermatome_is_named_when_the_whole_body_is_shown(atlas: Atlas) -> None:
    """On it or beside it, front or back; S1 to C8 as on any chart of the whole body."""
    picture, overlay = BodyPicture(atlas), with_names_beside(atlas, overlay_of(atlas, "dermatomes"))
    camera = showing(SHEET, 834, 612)
    inside = {
        fit.lines[0]
        for view in View
        for fit in picture.names.inside(view, "dermatomes", camera.scale * BODY_LAYOUT[view].scale)
    }
    beside = [label.name for label in picture.names.beside(overlay, camera.scale)]
    drawn = {DERMATOMES[n] for n in atlas.cells.dermatome.tolist()}
    assert inside | set(beside) == drawn
    # The hand: each of its dermatomes on both hands, in front.
    assert {"C6", "C7", "C8"} <= set(beside)
    # Enlarged, names go back to their skin.
    assert len([*picture.names.beside(overlay, 4 * camera.scale)]) < len(beside) / 2


def test_names_beside_the_figure_touch_neither_it_nor_each_other(atlas: Atlas) -> None:
    outlines = []
    for view, placed in BODY_LAYOUT.items():
        a, b, c, d, e, f = placed.matrix
        outlines.append(affine_transform(atlas.figures[view].outline, [a, b, c, d, e, f]))
    labels = with_names_beside(atlas, overlay_of(atlas, "dermatomes")).beside
    assert len(labels) > 20
    for (view, name, _side), label in labels.items():
        assert label.points_at is not None
        place = atlas.place(view, *BODY_LAYOUT[view].to_view(*label.points_at))
        assert place is not None
        assert place.dermatome == name
        assert all(outline.disjoint(label.box) for outline in outlines), name
    for one, other in combinations(labels.values(), 2):
        assert one.box.disjoint(other.box), (one.name, other.name)
        lines = [shapely.LineString([la.points_at, la.foot_of_line()]) for la in (one, other)]
        assert not lines[0].crosses(lines[1]), (one.name, other.name)


def test_marks_of_the_sides_never_touch(qapp: object) -> None:
    """In words where there is room, by initials on a figure that is small beside large text;
    right and left stay on their sides."""
    words = dict.fromkeys(text for _, text in side_words(10.0, 0.512))
    assert list(words) == ["RIGHT", "LEFT"]
    small = side_words(10.0, 0.3)
    assert {(mark.side.value, text) for mark, text in small} == {("right", "R"), ("left", "L")}
    use("de")
    try:
        assert {text for _, text in side_words(10.0, 0.36)} == {"R", "L"}
        assert {text for _, text in side_words(10.0, 0.512)} == {"RECHTS", "LINKS"}
    finally:
        use(ENGLISH)
