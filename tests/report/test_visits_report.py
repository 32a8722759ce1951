"""What is told of two visits: the same numbers in words, JSON and the picture."""

import json
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.examination.exchange import drawn_from_record
from bodymap.examination.visits_compared import VisitsCompared, visits_compared
from bodymap.findings.case_file import Case, open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Progress
from bodymap.findings.record import BedsideRecord
from bodymap.findings.samples import sample_file
from bodymap.report.appearance import DARK, LIGHT, Theme
from bodymap.report.course_marks import area, course_pieces, share
from bodymap.report.lettering import text_width
from bodymap.report.picture import PictureOptions, draw_svg
from bodymap.report.visits_report import as_json, as_text, since_last
from bodymap.terms import Change, Modality, Side, View

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def drawing(atlas: Atlas) -> Drawing:
    return open_case(sample_file("neuropathy-visits"), atlas).drawing


@pytest.fixture(scope="module")
def found(atlas: Atlas, drawing: Drawing) -> VisitsCompared:
    return visits_compared(atlas, drawing.earlier[-1].drawing, drawing)


def test_the_chart_gets_sentences_with_the_figures_of_the_json(
    atlas: Atlas, drawing: Drawing, found: VisitsCompared
) -> None:
    told = since_last(atlas, drawing)
    assert told[0].startswith("Since 18 November 2024, light touch: ")
    said = " ".join(told)
    skin = {row["modality"]: row for row in as_json(atlas, drawing, found)["skin"]}
    assert f"{skin['light-touch']['new']['cm2']:.0f} cm²" in said
    assert f"{skin['pinprick']['gone']['cm2']:.0f} cm²" in said
    assert "Temperature was not examined again" in said
    assert skin["temperature"]["gone"]["cm2"] == 0
    assert "ankle reflex on both sides absent, now reduced" in said.lower()
    assert "pinprick L5 on both sides 0, now 1" in said
    assert "first felt at the tibial tuberosity then, at the medial malleolus now" in said
    assert "judgement" in told[-1]
    for sentence in told:
        assert sentence[0].isupper()
        assert sentence.endswith((".", ")"))


def test_without_an_earlier_visit_there_is_nothing_to_tell(atlas: Atlas) -> None:
    one = open_case(sample_file("root-c6"), atlas).drawing
    assert since_last(atlas, one) == ()
    assert as_text(atlas, one, None).count("\n") == 1
    told = as_json(atlas, one, None)
    assert told["between"] is None
    assert len(told["visits"]) == 1


def test_skin_taken_over_is_told_as_such_and_nothing_is_new(atlas: Atlas) -> None:
    then = Drawing().with_region(atlas, Modality.PINPRICK, Change.REDUCED, "thenar", Side.LEFT)
    found = visits_compared(atlas, replace(then, date="2026-01-01"), then)
    text = as_text(atlas, then, found)
    assert "exactly the skin drawn then" in text
    assert "taken over" in text
    assert "newly altered" not in text


def test_visits_without_anything_in_common_say_so(atlas: Atlas) -> None:
    found = visits_compared(atlas, Drawing(date="2026-01-01"), Drawing(date="2026-02-01"))
    assert "Nothing was examined at both visits." in as_text(atlas, Drawing(), found)


def test_a_visit_with_a_record_alone_is_compared_by_its_answers(atlas: Atlas) -> None:
    """The thumb altered in the record then and drawn now is the same finding: C6 has its
    key point on the thumb (ISNCSCI 2019)."""
    record = BedsideRecord({"pinprick": {"right": {"C6": "1"}}})
    then = Drawing(record=record, date="2026-01-01")
    now = replace(drawn_from_record(atlas, then), date="2026-02-01", record=BedsideRecord())
    assert now.layers
    found = visits_compared(atlas, then, now)
    course = found.of(Modality.PINPRICK)
    assert course is not None
    assert not course.new
    assert not course.gone
    assert course.unchanged.cm2 > 1
    first = as_json(atlas, replace(now, earlier=(Case(then),)), found)["visits"][0]
    assert first["cm2"] == pytest.approx(course.unchanged.cm2)


def _course(atlas: Atlas, then: Drawing, now: Drawing, modality: Modality) -> Progress:
    then, now = replace(then, date="2026-01-01"), replace(now, date="2026-02-01")
    found = visits_compared(atlas, then, now).of(modality)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("now", "state"),
    [
        ({"right": {"C6": "NT", "C7": "2"}}, "not_again"),
        ({"right": {"C6": "nt*", "C7": "2"}}, "not_again"),
        ({"left": {"C6": "2"}}, "not_again"),
        ({"right": {"C6": "2", "C7": "2"}}, "gone"),
    ],
)
def test_a_point_that_was_not_tested_again_is_not_gone(
    atlas: Atlas, now: dict[str, dict[str, str]], state: str
) -> None:
    """C6 absent on the right then; the sentence, the table and the JSON say the same."""
    then = Drawing(record=BedsideRecord({"light_touch": {"right": {"C6": "0"}}}))
    later = Drawing(record=BedsideRecord({"light_touch": now}), date="2026-02-01")
    found = visits_compared(atlas, replace(then, date="2026-01-01"), later)
    course = _course(atlas, then, later, Modality.LIGHT_TOUCH)
    spot = float(drawn_from_record(atlas, then).altered_cm2(atlas).sum())
    assert getattr(course, state).cm2 == pytest.approx(spot)
    gone = state == "gone"
    assert bool(course.gone) is gone
    said = as_text(atlas, later, found)
    assert ("no longer altered" in said) is gone
    assert said.count("not examined again") == (0 if gone else 3), said
    (row,) = [r for r in as_json(atlas, later, found)["skin"] if r["modality"] == "light-touch"]
    assert row["not_examined_again"]["right_cm2"] == pytest.approx(0 if gone else spot)
    styles = [style.label for style, _ in course_pieces(course)]
    assert ("altered then, not examined again" in styles) is not gone


def test_what_could_not_be_tested_now_is_told_with_its_reason(atlas: Atlas) -> None:
    fields = {"pinprick": {"right": {"C6": "1"}, "left": {"C6": "1"}}}
    then = Drawing(record=BedsideRecord(fields | {"romberg": {"result": "steady"}}))
    now = Drawing(
        record=BedsideRecord(
            {
                "pinprick": {"right": {"C6": "NT"}, "left": {"C6": "NT"}},
                "romberg": {"result": "not done", "reason": "bedbound"},
                "reasons": {"pinprick C6": "burn dressing"},
            }
        ),
        date="2026-02-01",
    )
    found = visits_compared(atlas, replace(then, date="2026-01-01"), now)
    said = " ".join(as_text(atlas, now, found).split())
    assert (
        "Could not be tested now: pinprick C6 on both sides (burn dressing); Romberg (bedbound)."
    ) in said
    assert "asked again" not in said
    assert len(as_json(atlas, now, found)["record"]["could_not_be_tested"]) == 3


def test_a_dermatome_whose_point_is_not_testable_now_is_not_gone(atlas: Atlas) -> None:
    """The whole of C6 was painted then; a dressing covers its key point today."""
    mask = atlas.cells_of_dermatome("C6", Side.RIGHT)
    then = Drawing()
    for view in View:
        skin = atlas.skin_of(mask, view)
        if skin is not None:
            then = then.painted(atlas, Modality.PINPRICK, Change.ABSENT, view, skin)
    now = Drawing(record=BedsideRecord({"pinprick": {"right": {"C6": "NT", "C7": "2"}}}))
    course = _course(atlas, then, now, Modality.PINPRICK)
    assert course.not_again.cm2 + course.gone_normal.cm2 == pytest.approx(course.then.cm2, rel=1e-3)
    assert course.not_again.cm2 > 0.9 * course.then.cm2


def test_a_place_of_a_ladder_that_cannot_be_tested_now_is_not_gone(atlas: Atlas) -> None:
    rungs = {"great-toe": {"felt": "absent"}, "ankle": {"felt": "normal"}}
    then = Drawing(record=BedsideRecord({"joint_position": {"left": rungs}}))
    rungs = rungs | {"great-toe": {"felt": "NT"}}
    now = Drawing(record=BedsideRecord({"joint_position": {"left": rungs}}))
    course = _course(atlas, then, now, Modality.JOINT_POSITION)
    assert not course.gone
    assert course.not_again.cm2 == pytest.approx(course.then.cm2)


@pytest.mark.parametrize("turned", [False, True])
def test_a_visit_that_is_drawn_in_part_is_completed_from_its_record(
    atlas: Atlas, turned: bool
) -> None:
    """Both record C6 and L5 as absent; one of them has a painted toe besides, so that toe
    alone is another."""
    record = BedsideRecord({"pinprick": {"right": {"C6": "0", "L5": "0"}}})
    plain = Drawing(record=record)
    toe = plain.with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "great-toe-plantar", Side.RIGHT
    )
    then, now = (toe, plain) if turned else (plain, toe)
    course = _course(atlas, then, now, Modality.PINPRICK)
    painted = float(toe.altered_cm2(atlas).sum())
    recorded = float(drawn_from_record(atlas, plain).altered_cm2(atlas).sum())
    assert course.unchanged.cm2 == pytest.approx(recorded)
    other, none = (course.gone, course.new) if turned else (course.new, course.gone)
    assert other.cm2 == pytest.approx(painted)
    assert none.cm2 == 0


def test_what_is_drawn_on_the_spot_of_an_answer_stays_as_it_is(atlas: Atlas) -> None:
    """A spot that was trimmed by hand is not filled up again from the record."""
    record = BedsideRecord({"pinprick": {"right": {"C6": "1"}}})
    whole = drawn_from_record(atlas, Drawing(record=record))
    view = next(v for v in View if whole.altered_skin(atlas, v) is not None)
    skin = whole.altered_skin(atlas, view)
    assert skin is not None
    x0, y0, x1, y1 = skin.bounds
    half = shapely.box(x0, y0, x1, (y0 + y1) / 2)
    trimmed = whole.erased(atlas, Modality.PINPRICK, view, half)
    course = _course(atlas, whole, trimmed, Modality.PINPRICK)
    assert course.now.cm2 == pytest.approx(trimmed.altered_cm2(atlas).sum())
    assert course.gone.cm2 > 0.1


def test_json_is_json_and_text_is_narrow(
    atlas: Atlas, drawing: Drawing, found: VisitsCompared
) -> None:
    told = as_json(atlas, drawing, found)
    assert json.loads(json.dumps(told, allow_nan=False)) == told
    assert told["between"] == ["2024-11-18", "2025-06-02"]
    for row in told["skin"]:
        for name in ("new", "gone", "unchanged", "then", "now"):
            assert row[name]["cm2"] == pytest.approx(row[name]["right_cm2"] + row[name]["left_cm2"])
            # ICRP Publication 89 (2002), from memory: 17,800 cm² are all skin.
            assert row[name]["percent"] == pytest.approx(row[name]["cm2"] / 178)
    text = as_text(atlas, drawing, found)
    assert max(map(len, text.splitlines())) <= 96
    assert "does not diagnose" in " ".join(text.split())


@pytest.mark.parametrize(
    ("cm2", "words"), [(0.0, "0 cm²"), (0.5, "0.5 cm²"), (9.94, "9.9 cm²"), (288.4, "288 cm²")]
)
def test_areas_in_words(cm2: float, words: str) -> None:
    assert area(cm2) == words


@pytest.mark.parametrize(
    ("percent", "words"),
    [(0.0, "0 %"), (0.004, "under 0.01 %"), (0.07, "0.07 %"), (1.62, "1.6 %"), (100.0, "100.0 %")],
)
def test_shares_in_words(percent: float, words: str) -> None:
    assert share(percent) == words


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda t: t.name)
def test_the_picture_tells_the_kinds_of_skin_apart_without_colour(
    atlas: Atlas, drawing: Drawing, found: VisitsCompared, theme: Theme
) -> None:
    course = found.of(Modality.LIGHT_TOUCH)
    assert course is not None
    svg = draw_svg(atlas, drawing, PictureOptions(course=course, theme=theme))
    root = ElementTree.fromstring(svg)
    words = " ".join(t.text or "" for t in root.iter(f"{SVG}text"))
    for kind in ("new: altered now", "gone: altered then", "unchanged: altered then and now"):
        assert kind in words
    assert "Light touch: 18 November 2024" in words
    assert f"right {area(course.new.on(atlas, Side.RIGHT))}" in words
    styles = [style for style, _ in course_pieces(course)]
    assert len({s.texture for s in styles}) == 3
    assert len({s.colour(theme) for s in styles}) == 3


def test_the_legend_stays_in_the_picture(
    atlas: Atlas, drawing: Drawing, found: VisitsCompared
) -> None:
    """Widths of letters are those of the font DejaVu Sans, one of the widest."""
    for course in found.skin:
        svg = draw_svg(atlas, drawing, PictureOptions(course=course))
        root = ElementTree.fromstring(svg)
        left, _, width, _ = map(float, root.attrib["viewBox"].split())
        legend = next(g for g in root.iter(f"{SVG}g") if g.findtext(f"{SVG}title") == "Legend")
        written = [t for t in legend.iter(f"{SVG}text") if t.text]
        assert len(written) > 4
        for text in written:
            size = float(re.sub("[a-z]", "", text.attrib["font-size"]))
            end = float(text.attrib["x"]) + text_width(text.text or "", size)
            assert end < left + width, text.text


def test_skin_examined_once_is_marked_as_that(
    atlas: Atlas, drawing: Drawing, found: VisitsCompared
) -> None:
    course = found.of(Modality.TEMPERATURE)
    assert course is not None
    svg = draw_svg(atlas, drawing, PictureOptions(course=course))
    assert "altered then, not" in svg
    assert "gone: altered then" not in svg
