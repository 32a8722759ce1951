"""What is told of two visits: the same numbers in words, JSON and the picture."""

import json
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from bodymap.atlas import Atlas
from bodymap.examination.exchange import drawn_from_record
from bodymap.examination.visits_compared import VisitsCompared, visits_compared
from bodymap.findings.case_file import Case, open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.samples import sample_file
from bodymap.report.appearance import DARK, LIGHT, Theme
from bodymap.report.course_marks import area, course_pieces, share
from bodymap.report.lettering import text_width
from bodymap.report.picture import PictureOptions, draw_svg
from bodymap.report.visits_report import as_json, as_text, since_last
from bodymap.terms import Change, Modality, Side

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
