"""Two visits laid over each other: areas against shapely alone, worked examples, laws."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Examined, Progress, progress
from bodymap.findings.record import BedsideRecord
from bodymap.terms import Change, Modality, Side, View

PIN, TOUCH = Modality.PINPRICK, Modality.LIGHT_TOUCH
REDUCED, ABSENT, NORMAL = Change.REDUCED, Change.ABSENT, Change.NORMAL


def _with(atlas: Atlas, *boxes: tuple[Change, tuple[float, float, float, float]]) -> Drawing:
    drawing = Drawing()
    for change, corners in boxes:
        drawing = drawing.painted(atlas, PIN, change, View.FRONT, shapely.box(*corners))
    return drawing


def _of(found: tuple[Progress, ...], modality: Modality | None) -> Progress:
    return next(p for p in found if p.modality is modality)


def _sides(found: Progress) -> tuple[float, float, float]:
    return found.new.cm2, found.gone.cm2, found.unchanged.cm2


def test_a_worked_example_on_the_thigh(atlas: Atlas) -> None:
    """Worked on paper: a patch 30 wide and 20 high moves down by 5, so a quarter of it is
    gone, as much is new, and three quarters stay. The thigh has one factor, so areas
    stand as the drawn ones do."""
    then = _with(atlas, (REDUCED, (40, 400, 70, 420)))
    now = _with(atlas, (REDUCED, (40, 395, 70, 415)))
    found = _of(progress(atlas, then, now), PIN)
    assert found.new.skins[View.FRONT].area == pytest.approx(30 * 5)
    assert found.gone.skins[View.FRONT].area == pytest.approx(30 * 5)
    assert found.unchanged.skins[View.FRONT].area == pytest.approx(30 * 15)
    assert found.new.cm2 == pytest.approx(found.gone.cm2)
    assert found.unchanged.cm2 == pytest.approx(3 * found.gone.cm2)


def _direct_cm2(atlas: Atlas, shape: shapely.Geometry) -> float:
    """Area of a shape in front, with shapely alone, cell by cell."""
    cells = atlas.cells
    front = cells.view == list(View).index(View.FRONT)
    shared = shapely.area(shapely.intersection(cells.polygons[front], shape))
    return float(shared @ cells.cm2_per_unit[front])


@pytest.mark.parametrize("seed", range(6))
def test_areas_agree_with_shapely_alone(atlas: Atlas, seed: int) -> None:
    """shapely's own set operations on discs anywhere on the trunk and legs; the heels were
    examined at both visits, so that both sides were."""
    random = np.random.default_rng(seed)
    outline = atlas.figures[View.FRONT].outline
    shapes = []
    for _ in range(2):
        discs = [
            shapely.Point(random.uniform(-80, 80), random.uniform(330, 560)).buffer(
                random.uniform(25, 60)
            )
            for _ in range(5)
        ]
        shapes.append(shapely.intersection(shapely.union_all(discs), outline))
    heels = Drawing().with_region(atlas, PIN, NORMAL, "heel-lateral", Side.BOTH)
    then, now = (heels.painted(atlas, PIN, REDUCED, View.FRONT, s) for s in shapes)
    found = _of(progress(atlas, then, now), PIN)
    expected = (
        _direct_cm2(atlas, shapely.difference(shapes[1], shapes[0])),
        _direct_cm2(atlas, shapely.difference(shapes[0], shapes[1])),
        _direct_cm2(atlas, shapely.intersection(*shapes)),
    )
    assert _sides(found) == pytest.approx(expected, rel=1e-6, abs=1e-6)
    assert min(expected) > 1


def test_drawn_skin_over_part_of_named_regions_agrees_with_shapely(atlas: Atlas) -> None:
    """Then a named region, now a hand-drawn patch over its edge."""
    then = Drawing().with_region(atlas, PIN, REDUCED, "thigh-front-middle", Side.LEFT)
    whole = atlas.skin_of(atlas.cells_of_region("thigh-front-middle", Side.LEFT), View.FRONT)
    assert whole is not None
    x0, y0, x1, y1 = whole.bounds
    patch = shapely.box(x0 - 4, y0 - 9, (x0 + x1) / 2, (y0 + y1) / 2)
    patch = shapely.intersection(patch, atlas.figures[View.FRONT].outline)
    now = Drawing().painted(atlas, PIN, REDUCED, View.FRONT, patch)
    found = _of(progress(atlas, then, now), PIN)
    kept = _direct_cm2(atlas, shapely.intersection(whole, patch))
    assert found.unchanged.cm2 == pytest.approx(kept, rel=1e-6)
    assert found.new.cm2 == pytest.approx(_direct_cm2(atlas, patch) - kept, rel=1e-6)


def test_all_skin_is_the_published_body_surface(atlas: Atlas) -> None:
    """17,800 cm²: mean of the reference adults of ICRP Publication 89 (2002), from memory.
    Front, back, soles and both views of the head together count every part once."""
    normal, altered = Drawing(), Drawing()
    for view in View:
        outline = atlas.figures[view].outline
        normal = normal.painted(atlas, TOUCH, NORMAL, view, outline)
        altered = altered.painted(atlas, TOUCH, REDUCED, view, outline)
    found = _of(progress(atlas, normal, altered), TOUCH)
    assert found.new.cm2 == pytest.approx(17_800, rel=0.005)
    assert found.new.percent == pytest.approx(100, rel=0.005)
    back = _of(progress(atlas, altered, normal), TOUCH)
    assert back.gone.percent == back.gone_normal.percent == pytest.approx(found.new.percent)


def test_the_skin_of_one_palm_is_about_one_percent(atlas: Atlas) -> None:
    """A palm with fingers is measured at .77 to .87 % of body surface (Perry 1996, as in
    the tests of the atlas) and taught as 1 % (rule of nines)."""
    palm = [
        r for r in atlas.facts.regions
        if "palm" in r or r in ("thenar", "thumb-palmar")
    ]  # fmt: skip
    then, now = Drawing(), Drawing()
    for region in palm:
        then = then.with_region(atlas, PIN, REDUCED, region, Side.RIGHT)
        now = now.with_region(atlas, PIN, NORMAL, region, Side.RIGHT)
    found = _of(progress(atlas, then, now), PIN)
    assert 0.6 < found.gone.percent < 1.25
    assert found.gone_normal.cm2 == pytest.approx(found.gone.cm2)
    assert found.gone.on(atlas, Side.LEFT) == 0


def test_a_deeper_loss_is_unchanged_skin_and_told_as_a_degree(atlas: Atlas) -> None:
    """Worked on paper: of a patch 40 high the lower 10 become absent."""
    then = _with(atlas, (REDUCED, (40, 380, 70, 420)))
    now = _with(atlas, (REDUCED, (40, 390, 70, 420)), (ABSENT, (40, 380, 70, 390)))
    found = _of(progress(atlas, then, now), PIN)
    assert not found.new
    assert not found.gone
    (degree,) = found.degrees
    assert (degree.then, degree.now, degree.deeper) == (REDUCED, ABSENT, True)
    assert degree.skin.cm2 == pytest.approx(found.unchanged.cm2 / 4)
    (back,) = _of(progress(atlas, now, then), PIN).degrees
    assert back.deeper is False


def test_what_was_not_examined_again_is_not_gone(atlas: Atlas) -> None:
    then = _with(atlas, (REDUCED, (40, 380, 70, 420)))
    found = progress(atlas, then, Drawing())
    pin = _of(found, PIN)
    assert pin.examined is Examined.THEN
    assert not pin.gone
    assert pin.gone.cm2 == 0
    assert pin.then.cm2 > 10
    assert _of(found, None).examined is Examined.NEITHER
    back = _of(progress(atlas, Drawing(), then), PIN)
    assert back.examined is Examined.NOW
    assert back.new.cm2 == 0


@pytest.mark.parametrize("marked", [NORMAL, REDUCED])
def test_a_side_that_was_left_out_today_is_neither_gone_nor_new(
    atlas: Atlas, marked: Change
) -> None:
    """Altered on the right then; today only the left foot was looked at."""
    then = Drawing().with_region(atlas, PIN, REDUCED, "thenar", Side.RIGHT)
    now = Drawing().with_region(atlas, PIN, marked, "great-toe-plantar", Side.LEFT)
    found = progress(atlas, then, now)
    for modality in (PIN, None):
        one = _of(found, modality)
        assert one.gone.cm2 == one.new.cm2 == 0
        assert not one.gone
        assert one.not_again.cm2 == pytest.approx(then.altered_cm2(atlas).sum())
        assert one.not_before.cm2 == pytest.approx(now.altered_cm2(atlas).sum())
    # Anything drawn on the right today: the right side was looked at, so the skin is gone.
    now = now.with_region(atlas, PIN, NORMAL, "heel-lateral", Side.RIGHT)
    one = _of(progress(atlas, then, now), PIN)
    assert not one.not_again
    assert one.gone.cm2 == pytest.approx(then.altered_cm2(atlas).sum())


def test_what_could_not_be_tested_is_not_gone_save_where_it_is_marked_normal(atlas: Atlas) -> None:
    """Two named regions altered then: the place of one could not be tested today, then
    it was after all and is marked normal."""
    then = Drawing().with_region(atlas, PIN, REDUCED, "thenar", Side.RIGHT)
    then = then.with_region(atlas, PIN, REDUCED, "thumb-palmar", Side.RIGHT)
    now = Drawing().with_region(atlas, PIN, NORMAL, "heel-lateral", Side.RIGHT)
    place = atlas.cells_of_region("thenar", Side.RIGHT)
    whole, rest = (
        float(atlas.cells.area_cm2[atlas.cells_of_region(r, Side.RIGHT)].sum())
        for r in ("thenar", "thumb-palmar")
    )
    one = _of(progress(atlas, then, now, ({}, {PIN: place})), PIN)
    assert (one.not_again.cm2, one.gone.cm2) == pytest.approx((whole, rest))
    back = _of(progress(atlas, now, then, ({PIN: place}, {})), PIN)
    assert (back.not_before.cm2, back.new.cm2) == pytest.approx((whole, rest))
    tested = now.with_region(atlas, PIN, NORMAL, "thenar", Side.RIGHT)
    one = _of(progress(atlas, then, tested, ({}, {PIN: place})), PIN)
    assert not one.not_again
    assert one.gone_normal.cm2 == pytest.approx(whole)


def test_all_together_is_not_gone_where_one_modality_was_left_out(atlas: Atlas) -> None:
    """The thenar is normal to pinprick now, and was not touched on that side."""
    then = Drawing()
    for modality in (PIN, TOUCH):
        then = then.with_region(atlas, modality, REDUCED, "thenar", Side.RIGHT)
    now = Drawing().with_region(atlas, PIN, NORMAL, "thenar", Side.RIGHT)
    now = now.with_region(atlas, TOUCH, NORMAL, "thenar", Side.LEFT)
    found = progress(atlas, then, now)
    assert _of(found, PIN).gone.cm2 > 1
    assert not _of(found, None).gone
    assert _of(found, None).not_again.cm2 == pytest.approx(_of(found, TOUCH).not_again.cm2)


def test_an_answer_in_the_record_is_an_examination(atlas: Atlas) -> None:
    """Normal key points alone: the modality was examined, so what was drawn is gone."""
    then = _with(atlas, (REDUCED, (40, 380, 70, 420)))
    for value, state in (("2", Examined.BOTH), ("NT", Examined.THEN)):
        record = BedsideRecord().with_value(("pinprick", "left", "L3"), value)
        found = _of(progress(atlas, then, Drawing(record=record)), PIN)
        assert found.examined is state
        assert (found.gone.cm2 > 0) is (state is Examined.BOTH)


def test_all_together_counts_only_what_was_examined_twice(atlas: Atlas) -> None:
    patch = shapely.box(40, 380, 70, 420)
    then = _with(atlas, (REDUCED, patch.bounds))
    now = then.painted(atlas, TOUCH, REDUCED, View.FRONT, shapely.box(40, 420, 70, 460))
    assert _of(progress(atlas, then, now), None).new.cm2 == 0
    then = then.painted(atlas, TOUCH, NORMAL, View.FRONT, patch)
    together = _of(progress(atlas, then, now), None)
    assert together.new.cm2 == pytest.approx(_of(progress(atlas, then, now), TOUCH).new.cm2)
    # Altered in two modalities, the skin still counts once.
    both = now.painted(atlas, TOUCH, ABSENT, View.FRONT, patch)
    assert _of(progress(atlas, then, both), None).unchanged.cm2 == pytest.approx(
        together.unchanged.cm2
    )


boxes = st.tuples(
    st.sampled_from([REDUCED, ABSENT, Change.TINGLING, NORMAL]),
    st.tuples(st.integers(-90, 60), st.integers(200, 700), st.integers(5, 90), st.integers(5, 90)),
).map(lambda b: (b[0], (b[1][0], b[1][1], b[1][0] + b[1][2], b[1][1] + b[1][3])))
drawings = st.lists(boxes, min_size=1, max_size=4)


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck),
          derandomize=True)  # fmt: skip
@given(drawings, drawings)
def test_laws(atlas: Atlas, first: list, second: list) -> None:  # type: ignore[type-arg]
    """Swapped visits swap new and gone, and what was left out at one of them; what is altered
    now is new, unchanged or was not examined before; a visit against itself is the same;
    degrees lie in unchanged skin."""
    then, now = _with(atlas, *first), _with(atlas, *second)
    assume(then.layers and now.layers)
    there, back = progress(atlas, then, now), progress(atlas, now, then)
    for modality in (PIN, None):
        one, other = _of(there, modality), _of(back, modality)
        if one.examined is not Examined.BOTH:
            continue
        assert _sides(one) == pytest.approx(
            (other.gone.cm2, other.new.cm2, other.unchanged.cm2), abs=1e-6
        )
        assert one.not_again.cm2 == pytest.approx(other.not_before.cm2, abs=1e-6)
        told = one.new.cm2 + one.unchanged.cm2 + one.not_before.cm2
        assert told == pytest.approx(one.now.cm2, abs=1e-6)
        told = one.gone.cm2 + one.unchanged.cm2 + one.not_again.cm2
        assert told == pytest.approx(one.then.cm2, abs=1e-6)
        assert one.now.cm2 == pytest.approx(now.altered_cm2(atlas).sum(), abs=1e-6)
        assert one.gone_normal.cm2 <= one.gone.cm2 + 1e-6
        assert sum(d.skin.cm2 for d in one.degrees) <= one.unchanged.cm2 + 1e-6
        for piece in (one.new, one.gone, one.unchanged, one.not_again, one.not_before):
            assert piece.cm2 == pytest.approx(
                sum(_direct_cm2(atlas, skin) for skin in piece.skins.values()), abs=1e-5
            )
    same = _of(progress(atlas, then, replace(then, date="2026-11-25")), PIN)
    assert same.same
    assert not same.new
    assert not same.gone
    assert same.new.cm2 == same.gone.cm2 == 0
