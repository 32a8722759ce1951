"""The chart note: the approved texts of all samples, and what no note may do.

The approved texts stand in ``tests/report/notes``; each was read as its receiver would read
it. A text that changes must be read again before it is approved: run this file with
APPROVE=1 in the environment, read what has changed, and commit it.
"""

import os
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bodymap.atlas import Atlas
from bodymap.cli import main
from bodymap.examination.exchange import drawn_from_record
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.samples import sample_file
from bodymap.findings.signs import SignChange
from bodymap.localise.answer import Answer, answered
from bodymap.localise.ranking import Scales
from bodymap.report.note import Form, note
from bodymap.report.note_results import ranges, sided
from bodymap.report.note_text import as_text
from bodymap.report.visits_report import since_last
from bodymap.terms import Change, Modality, Side
from tests.report.note_cases import NOTES, SAMPLES, answer_to, lines_under, text_of

# The approved texts


@pytest.mark.parametrize("form", list(Form))
@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_the_note_of_a_sample_is_the_approved_one(
    path: Path, form: Form, atlas: Atlas, sample_answers: dict[str, Answer]
) -> None:
    answer = sample_answers[path.stem]
    drawing = answer.drawing
    made = as_text(note(answer, drawing.date, form, since_last(atlas, drawing)))
    approved = NOTES / f"{path.stem}-{form}.txt"
    if os.environ.get("APPROVE"):
        approved.write_text(made, encoding="utf-8")
    assert made == approved.read_text(encoding="utf-8")


def test_no_approved_text_is_left_over() -> None:
    expected = {f"{p.stem}-{form}.txt" for p in SAMPLES for form in Form}
    assert {p.name for p in NOTES.glob("*.txt")} == expected


def test_sections_stand_in_the_order_of_the_trade(sample_answers: dict[str, Answer]) -> None:
    """Method, small fibre, large fibre, other tests, distribution, levels, localisation, red
    flags and limits, what next: common practice of a sensory note, no source."""
    order = [
        "Method", "Small-fibre", "Large-fibre", "Other", "Romberg", "Muscles", "Remarks",
        "Not tested", "Distribution", "Levels", "Since", "Localisation", "Red flags", "Limits",
        "Next",
    ]  # fmt: skip
    for answer in sample_answers.values():
        found = [s.heading for s in note(answer, since=("Unchanged.",)).sections]
        places = [next(n for n, o in enumerate(order) if h.startswith(o)) for h in found]
        assert places == sorted(places)
        assert all(s.lines for s in note(answer).sections)


FORBIDDEN = ("grossly intact", "full neuro", "diagnosed", "proves", "rules out", "confirms",
             "excluded", "within normal limits")  # fmt: skip
"""Words that claim what nobody examined, or more than skin can tell. Common practice, no
source."""


@pytest.mark.parametrize("form", list(Form))
def test_no_note_claims_too_much(sample_answers: dict[str, Answer], form: Form) -> None:
    for answer in sample_answers.values():
        said = text_of(answer, form).lower()
        assert not [words for words in FORBIDDEN if words in said]
        assert "does not diagnose" in said
        if answer.ranking.verdict == "ranked":
            assert "consistent with" in said
            assert "support" in said
            assert "not a diagnosis" in said


def test_the_short_form_is_a_few_lines(sample_answers: dict[str, Answer]) -> None:
    for answer in sample_answers.values():
        assert 4 <= len(note(answer, form=Form.SHORT).sections) <= 9


# Nothing appears that was not examined

PARTS: dict[str, tuple[Any, str]] = {
    "light_touch": ({"right": {"C6": "1"}}, "light touch reduced at C6, right"),
    "pinprick": ({"left": {"T4": "0"}}, "pinprick absent at T4, left"),
    "temperature": ({"right": {"foot": "absent"}},
                    "temperature (cold) absent at the top of the foot, right"),
    "vibration": ({"left": {"great-toe": {"felt": "reduced", "eighths": 2.5}}},
                  "vibration reduced at the interphalangeal joint of the great toe, "
                  "left (2.5/8)"),
    "joint_position": ({"right": {"ankle": {"felt": "absent", "correct": 5, "trials": 10}}},
                       "joint position absent at the ankle, right (5 of 10 moves right)"),
    "sharp_dull": ([{"side": "left", "point": "L5", "trials": [["sharp", "dull"]]}],
                   "told apart 0 of 1 times at L5, left"),
    "monofilament": ({"right": {"hallux": {"felt": 1, "of": 3}}},
                     "1/3 at the pulp of the great toe, right"),
    "two_point": ({"left": {"thumb": 9.0}}, "9 mm (fair) at the pulp of the thumb, left"),
    "romberg": ({"result": "lost balance", "seconds": 4}, "ost balance after 4 s"),
    "motor": ({"right": {"L5": "3"}}, "key muscles 3/5 at L5, right"),
    "deep_anal_pressure": ("no", "deep anal pressure not felt"),
    "voluntary_anal_contraction": ("yes", "voluntary anal contraction present"),
    "remarks": ({"pinprick T4": "a scar of an operation"}, "a scar of an operation"),
    "reliability": ("drowsy", "drowsy"),
    "examiner": ("N. N.", "Examiner: N. N."),
    "age": (61, "61 years"),
}  # fmt: skip
"""Each part of a record with a value and the words that it alone may bring."""


@given(parts=st.sets(st.sampled_from(sorted(PARTS))))
def test_a_note_says_what_is_recorded_and_nothing_else(scales: Scales, parts: set[str]) -> None:
    answer = answer_to(scales, {p: PARTS[p][0] for p in sorted(parts)})
    for form in Form:
        said = text_of(answer, form)
        for part, (_, words) in PARTS.items():
            if form is Form.SHORT and part in ("remarks", "reliability"):
                continue
            assert (words.lower() in said.lower()) == (part in parts), (part, words)


TESTS = {
    "light_touch": "light touch", "pinprick": "pinprick", "temperature": "temperature",
    "vibration": "vibration", "joint_position": "joint position", "romberg": "Romberg",
}  # fmt: skip


@given(parts=st.sets(st.sampled_from(sorted(TESTS))))
def test_a_usual_test_is_either_told_or_named_as_not_tested(
    scales: Scales, parts: set[str]
) -> None:
    made = note(answer_to(scales, {p: PARTS[p][0] for p in sorted(parts)}))
    whole = re.split(r"[.] ", lines_under(made, "Not tested"))[0]
    for part, label in TESTS.items():
        assert (label.lower() in whole.lower()) == (part not in parts), (part, whole)


def test_not_tested_is_never_normal(scales: Scales) -> None:
    """NT, a missing point and an untested side stand under "Not tested" alone."""
    record = {
        "pinprick": {"right": {"C5": "2", "C6": "NT", "C7": "2"}},
        "vibration": {
            "right": {"great-toe": {"felt": "NT"}, "medial-malleolus": {"felt": "normal"}}
        },
        "reasons": {"pinprick right C6": "burn dressing", "vibration great-toe": "amputated"},
    }  # fmt: skip
    made = note(answer_to(scales, record))
    normal = [line for s in made.sections for line in s.lines if line.startswith("Normal")]
    assert "Normal: pinprick at C5 and C7, right." in normal
    assert not any("C5 to C7" in line or "great toe" in line for line in normal)
    left_out = lines_under(made, "Not tested")
    assert "C6 (burn dressing), right" in left_out
    assert "great toe (amputated), right" in left_out
    assert "left side, in any modality" in left_out
    assert "vibration in the arms" in left_out.lower()


def test_no_reason_is_lost(scales: Scales) -> None:
    """Also one that belongs to a test that was done, or to none that is known."""
    record = {
        "pinprick": {"right": {"C6": "2"}},
        "romberg": {"result": "not done", "reason": "in bed"},
        "motor": {"left": {"C5": "NT", "C6": "5"}},
        "reasons": {
            "pinprick": "only the arm was free", "joint position": "no time",
            "motor left C5": "fracture", "smell": "not asked for",
        },
    }  # fmt: skip
    left_out = lines_under(note(answer_to(scales, record)), "Not tested")
    for words in ("joint position (no time)", "Romberg (in bed)", "C5 (fracture)",
                  "only the arm was free", "not asked for"):  # fmt: skip
        assert words in left_out, words


def test_stars_are_explained(scales: Scales) -> None:
    """A star: a cause other than the cord injury (ISNCSCI 2019)."""
    made = note(answer_to(scales, {"pinprick": {"right": {"C6": "1*", "C7": "1", "C8": "NT*"}}}))
    assert "pinprick reduced* at C6, right" in lines_under(made, "Small-fibre")
    assert "pinprick reduced at C7, right" in lines_under(made, "Small-fibre")
    assert "* For a cause other than the cord injury." in lines_under(made, "Levels")
    assert "C8*" in lines_under(made, "Not tested")


@pytest.mark.parametrize(
    "record",
    [{"light_touch": {"right": {"C7": "2", "C8": "NT*"}}},
     {"motor": {"right": {"C7": "5", "C8": "NT*"}}}],
)  # fmt: skip
def test_a_star_of_what_was_not_tested_is_kept_and_explained(
    scales: Scales, record: dict[str, Any]
) -> None:
    answer = answer_to(scales, record)
    for form in Form:
        made = note(answer, form=form)
        assert "C8*" in lines_under(made, "Not tested")
        assert "* For a cause other than the cord injury." in lines_under(made, "Levels")
    plain = {k: {"right": {"C7": v["right"]["C7"], "C8": "NT"}} for k, v in record.items()}
    assert "*" not in text_of(answer_to(scales, plain))


def test_a_range_never_spans_a_gap() -> None:
    assert ranges(["C5", "C7"]) == "C5 and C7"
    assert ranges(["T12", "L1", "L2", "S3", "S4-5"]) == "T12 to L2, S3 and S4-5"
    assert sided({"right": "C6", "left": "C6"}) == "C6, both sides"
    assert sided({"left": "C6", "right": ""}) == "C6, left"


@pytest.mark.parametrize("side", ["right", "left"])
def test_the_wrong_side_never_appears_as_a_finding(atlas: Atlas, scales: Scales, side: str) -> None:
    """All is recorded on one side; the other is named only as not tested (and in what is
    still to be tested)."""
    other = {"right": "left", "left": "right"}[side]
    sided_parts = {
        "pinprick": {side: {"C5": "2", "C6": "1"}},
        "temperature": {side: {"C6": "reduced"}},
        "vibration": {side: {"index-finger": {"felt": "normal", "seconds": 14}}},
        "motor": {side: {"C6": "4"}},
    }
    drawing = Drawing().with_region(
        atlas, Modality.LIGHT_TOUCH, Change.TINGLING, "thumb-palmar", Side(side)
    )
    drawing = drawing.with_signs(
        drawing.signs.noted("brachioradialis-reflex", Side(side), SignChange.REDUCED)
    )
    made = note(answer_to(scales, sided_parts, drawing))
    for section in made.sections:
        if section.heading.startswith(("Not tested", "Distribution")):
            assert any(other in line for line in section.lines)
        elif section.heading != "Next step":
            assert not any(re.search(rf"\b{other}\b", line) for line in section.lines), section


def test_mirroring_a_sample_mirrors_its_findings(sample_answers: dict[str, Answer],
                                                 scales: Scales) -> None:  # fmt: skip
    answer = sample_answers["carpal-tunnel"]
    turned = answered(scales, answer.drawing.mirrored())
    first, second = (lines_under(note(a), "Small-fibre") for a in (answer, turned))
    assert first.replace("right", "left") == second


def test_contradictory_skin_is_not_localised(atlas: Atlas, scales: Scales) -> None:
    drawing = Drawing().with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "thumb-palmar", Side.RIGHT
    )
    layer = drawing.layer(Modality.PINPRICK, Change.REDUCED)
    drawing = drawing.with_layer(Modality.PINPRICK, Change.NORMAL, layer)
    said = text_of(answered(scales, drawing))
    assert "Not attempted. Some skin is marked both altered and normal" in said
    assert "support" not in said.lower().replace("supports a trained", "")


def test_what_lies_wholly_in_a_lesion_is_not_called_unexplained(scales: Scales) -> None:
    """One altered point among normal ones: too little for a lesion, but none of it is left
    over by the closest."""
    points = dict.fromkeys(("C4", "C5", "C7", "C8", "T1"), "2")
    record = {"pinprick": {"right": points | {"C6": "1"}, "left": points | {"C6": "2"}}}
    drawing = drawn_from_record(scales.atlas, Drawing().with_record(BedsideRecord(record)))
    assert " 0% of it unexplained" not in text_of(answered(scales, drawing))


def test_record_and_figure_that_disagree_are_told(atlas: Atlas, scales: Scales) -> None:
    """The key point of S1 lies on the outer heel (ISNCSCI 2019)."""
    drawing = Drawing().with_region(
        atlas, Modality.PINPRICK, Change.NORMAL, "heel-lateral", Side.LEFT
    )
    for form in Form:
        told = text_of(answer_to(scales, {"pinprick": {"left": {"S1": "1"}}}, drawing), form)
        assert "disagree: pinprick at S1, left, is reduced in the record and normal on" in told
        told = text_of(answer_to(scales, {"pinprick": {"left": {"S1": "2"}}}, drawing), form)
        assert "disagree" not in told


def test_grade_and_sign_that_disagree_are_told(scales: Scales) -> None:
    """C7 is the elbow extensors, so the triceps (ISNCSCI 2019 booklet, from memory)."""
    weak, normal = (
        Drawing().with_signs(Drawing().signs.noted("triceps", Side.LEFT, change))
        for change in (SignChange.WEAK, SignChange.NORMAL)
    )
    for grade, drawing, told in (
        ("5", weak, "5/5 in the record and weak among the signs, left"),
        ("4", normal, "4/5 in the record and normal among the signs, left"),
        ("4", weak, ""),
        ("5", normal, ""),
        ("NT", weak, ""),
    ):
        for form in Form:
            said = text_of(answer_to(scales, {"motor": {"left": {"C7": grade}}}, drawing), form)
            assert ("signs disagree: C7 (elbow extensors; triceps" in said) is bool(told)
            assert told in said
    other = {"motor": {"right": {"C7": "5"}, "left": {"C6": "5"}}}
    assert "disagree" not in text_of(answer_to(scales, other, weak))


@pytest.mark.parametrize(
    ("age", "place", "rung", "told"),
    [
        (50, "great-toe", {"felt": "normal", "eighths": 1},
         "normal with 1/8 (lower limit at 50 years: 4/8), left"),
        (50, "great-toe", {"felt": "normal", "eighths": 4}, ""),
        (50, "great-toe", {"felt": "absent", "eighths": 8}, "absent with 8/8, left"),
        (50, "great-toe", {"felt": "reduced", "eighths": 8}, "reduced with 8/8, left"),
        # Less than on the other side, though within the limits of the age.
        (50, "great-toe", {"felt": "reduced", "eighths": 6}, ""),
        (50, "great-toe", {"felt": "reduced", "eighths": 0}, "reduced with 0/8, left"),
        (50, "great-toe", {"felt": "absent", "eighths": 0}, ""),
        # No norm: at another place, in a child, at an unknown age.
        (50, "iliac-spine", {"felt": "normal", "eighths": 3}, ""),
        (17, "great-toe", {"felt": "normal", "eighths": 3}, ""),
        (None, "great-toe", {"felt": "normal", "eighths": 3}, ""),
        (None, "iliac-spine", {"felt": "absent", "eighths": 3}, "absent with 3/8, left"),
        (50, "ulnar-styloid", {"felt": "normal", "eighths": 5},
         "normal with 5/8 (lower limit at 50 years: 6/8), left"),
        (None, "great-toe", {"felt": "normal", "seconds": 3}, "normal with 3 s, left"),
        (None, "ulnar-styloid", {"felt": "normal", "seconds": 3}, ""),
        (None, "ulnar-styloid", {"felt": "absent", "seconds": 3}, "absent with 3 s, left"),
        (None, "great-toe", {"felt": "normal", "seconds": 12}, ""),
        (50, "great-toe", {"felt": "NT", "eighths": 8}, ""),
    ],
)  # fmt: skip
def test_word_and_reading_that_disagree_are_told(
    scales: Scales, age: int | None, place: str, rung: dict[str, Any], told: str
) -> None:
    """Lower limits at 50 years: 4 of 8 on the leg, 6 of 8 on the arm (Martina 1998, from
    memory); 8 s or less at the great toe is reduced (Oyer 2007)."""
    record: dict[str, Any] = {"vibration": {"left": {place: rung}}}
    answer = answer_to(scales, record | ({} if age is None else {"age": age}))
    for form in Form:
        said = text_of(answer, form)
        assert ("Word and reading disagree: vibration at the " in said) is bool(told)
        assert told in said


def test_limits_are_told_only_where_there_are_norms(scales: Scales) -> None:
    """Martina 1998 measured no iliac spine and no child (from memory)."""
    rung = {"felt": "reduced", "eighths": 3}
    for age, place, told in ((50, "great-toe", True), (50, "iliac-spine", False),
                             (12, "great-toe", False)):  # fmt: skip
        said = text_of(answer_to(scales, {"age": age, "vibration": {"right": {place: rung}}}))
        assert ("lower limit" in said) is told


# Levels and classification


def test_the_classification_needs_a_recorded_injury(sample_answers: dict[str, Answer],
                                                    scales: Scales) -> None:  # fmt: skip
    answer = sample_answers["thoracic-level"]
    # Sensory incomplete, no motor function below: B (ISNCSCI 2019).
    assert "impairment scale B" in text_of(answer)
    record = {k: v for k, v in answer.drawing.record.fields.items() if k != "spinal_cord_injury"}
    without = text_of(answer_to(scales, record, answer.drawing))
    assert "impairment scale" not in without
    assert "from T11 downward, last normal segment T10" in without


def test_normal_skin_below_is_no_level(scales: Scales) -> None:
    """A single root is altered: nobody would call that a sensory level (common practice)."""
    points = {"C5": "2", "C6": "1", "C7": "2"}
    made = note(answer_to(scales, {"pinprick": {"right": points}}))
    assert "no sensory level (altered at C6, normal below at C7)" in lines_under(made, "Levels")


def test_untested_points_between_are_told(scales: Scales) -> None:
    points = {"T8": "2", "T10": "1", "L2": "0"}
    levels = lines_under(note(answer_to(scales, {"pinprick": {"right": points}})), "Levels")
    assert "absent or reduced from T10" in levels or "reduced or absent from T10" in levels
    assert "last normal segment T8 (T9 not tested)" in levels
    assert "L2 being the lowest tested" in levels


def test_readings_have_units_and_limits(scales: Scales) -> None:
    """Lower limit of the graduated fork at 70 years: 3.5 of 8 on the leg (Martina 1998, from
    memory); 8 of 10 by guessing: 56/1024 = 5.5 % (binomial tail, by hand)."""
    run = [["sharp", "sharp"]] * 8 + [["sharp", "dull"]] * 2
    record = {
        "age": 70,
        "vibration": {"right": {"great-toe": {"felt": "reduced", "eighths": 3}}},
        "sharp_dull": [{"side": "right", "point": "L5", "trials": run}],
    }
    said = text_of(answer_to(scales, record))
    assert "right (3/8) (lower limit at 70 years: 3.5/8 in the leg)" in said
    assert "8 of 10 times at L5, right (chance of so many or more by guessing: 5%)" in said


def test_consent_is_asked_for_where_perianal_skin_was_examined(scales: Scales) -> None:
    points = {"right": {"S4-5": "2"}, "left": {"S4-5": "2"}}
    record: dict[str, Any] = {"pinprick": points}
    assert "consent and chaperone are not recorded" in text_of(answer_to(scales, record))
    record["remarks"] = {"pinprick S4-5": "consent given, chaperone declined"}
    said = text_of(answer_to(scales, record))
    assert "are not recorded" not in said.replace("Date and examiner: not recorded", "")
    assert "Pinprick S4-5: consent given, chaperone declined." in said
    record = {"pinprick": {"right": {"C6": "2"}}}
    assert "chaperone" not in text_of(answer_to(scales, record))


def test_the_date_is_the_case_s_or_none(sample_answers: dict[str, Answer]) -> None:
    answer = sample_answers["carpal-tunnel"]
    assert not re.search(r"\d{4}-\d{2}", text_of(answer))
    assert "Date: 2026-01-31" in text_of(answer, date="2026-01-31")


def test_since_the_last_visit_has_a_place_of_its_own(sample_answers: dict[str, Answer]) -> None:
    answer = sample_answers["carpal-tunnel"]
    for form in Form:
        made = note(answer, None, form, since=("Tingling of the thumb is new.",))
        assert lines_under(made, "Since the last visit") == "Tingling of the thumb is new."
        assert not lines_under(note(answer, None, form), "Since the last visit")


def test_the_command_tells_what_changed_since_the_last_visit(
    capsys: pytest.CaptureFixture[str], atlas: Atlas
) -> None:
    case = sample_file("neuropathy-visits")
    assert main(["note", str(case)]) == 0
    told = " ".join(capsys.readouterr().out.split())
    expected = since_last(atlas, open_case(case, atlas).drawing)
    assert expected
    for sentence in expected:
        assert sentence in told


def test_an_empty_case_says_only_what_was_not_tested(scales: Scales) -> None:
    made = note(answer_to(scales, {}))
    assert [s.heading for s in made.sections] == ["Not tested", "Localisation", "Next step"]
    assert "Not attempted" in lines_under(made, "Localisation")
    assert "vibration" in lines_under(made, "Not tested")
