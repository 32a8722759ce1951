"""What the note calls normal, abnormal or not judged."""

from typing import Any

import pytest

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.localise.ranking import Scales
from bodymap.report.note import Form, Note, note
from bodymap.terms import Change, Modality, Side
from tests.report.note_cases import answer_to, lines_under, text_of

# What is neither normal nor abnormal


@pytest.mark.parametrize(
    ("right", "of", "state"),
    [(1, 1, "Not judged"), (0, 1, "Not judged"), (9, 9, "Not judged"), (8, 10, "Normal"),
     (7, 10, "Abnormal")],
)  # fmt: skip
def test_a_few_trials_of_sharp_or_dull_are_no_judgement(
    scales: Scales, right: int, of: int, state: str
) -> None:
    """8 of 10 (ISNCSCI 2019 booklet, from memory)."""
    run = [["sharp", "sharp"]] * right + [["sharp", "dull"]] * (of - right)
    record = {"sharp_dull": [{"side": "right", "point": "L5", "trials": run}]}
    answer = answer_to(scales, record)
    (line,) = [x for x in _lines_of(note(answer), "Small-fibre") if "sharp or dull" in x]
    assert line.startswith(f"{state}: sharp or dull told apart {right} of {of} times")
    assert ("fewer than 10 trials are no judgement" in line) is (of < 10)
    assert "by guessing: " in line
    assert "sharp or dull" in lines_under(note(answer, form=Form.SHORT), state).lower()


def _lines_of(made: Note, heading: str) -> list[str]:
    return [line for s in made.sections if s.heading.startswith(heading) for line in s.lines]


@pytest.mark.parametrize(
    ("romberg", "state", "words"),
    [
        ({"result": "sway", "seconds": 10}, "Not judged", "swayed with eyes closed for 10 s"),
        ({"result": "sway"}, "Not judged", "swayed with eyes closed (time not recorded)"),
        ({"result": "steady", "seconds": 10}, "Normal", "steady with eyes closed for 10 s"),
        ({"result": "steady"}, "Normal", "steady with eyes closed (time not recorded)"),
        ({"result": "steady", "seconds": 4}, "Not judged", "for 4 s (too short: 10 s are needed"),
        ({"result": "steady", "seconds": 9.97}, "Not judged", "for 9.97 s (too short"),
        ({"result": "lost balance", "seconds": 12}, "Abnormal", "lost balance after 12 s"),
    ],
)
def test_romberg_is_positive_where_balance_is_lost(
    scales: Scales, romberg: dict[str, Any], state: str, words: str
) -> None:
    """Sway without loss of balance is no positive sign (common practice, no source); ten
    seconds are needed (Bohannon 1984)."""
    answer = answer_to(scales, {"romberg": romberg})
    short = {s.heading: " ".join(s.lines) for s in note(answer, form=Form.SHORT).sections}
    for heading in ("Abnormal", "Normal", "Not judged"):
        assert ("Romberg" in short.get(heading, "")) is (heading == state)
    assert words in short[state].lower()
    assert words in text_of(answer).lower()


def test_a_reason_beside_a_result_is_not_told_as_untested(scales: Scales) -> None:
    """Yet it is not lost."""
    record = {
        "romberg": {"result": "steady", "seconds": 10},
        "pinprick": {"right": {"C6": "2", "C7": "NT"}, "left": {"C6": "NT"}},
        "reasons": {"romberg": "bedbound", "pinprick right C6": "dressing",
                    "pinprick C7": "scar", "pinprick left C6": "cast"},
    }  # fmt: skip
    made = note(answer_to(scales, record))
    left_out, remarks = lines_under(made, "Not tested"), lines_under(made, "Remarks")
    for words in ("bedbound", "dressing"):
        assert words not in left_out
        assert f"though a result is recorded: {words}." in remarks
    for words in ("scar", "cast"):
        assert words in left_out
        assert words not in remarks


def test_a_distance_that_is_not_whole_is_not_written_as_whole(scales: Scales) -> None:
    """Below 6 mm is normal at a fingertip (ASSH 1983, from memory)."""
    for mm, words in (
        (5.99, "from 5.99 mm at"), (6.04, "from 6.04 mm (fair)"), (5.5, "from 5.5 mm at"),
        (5.0, "from 5 mm at"), (6, "from 6 mm (fair)"),
    ):  # fmt: skip
        assert words in text_of(answer_to(scales, {"two_point": {"left": {"thumb": mm}}}))


def test_altered_on_one_side_only_needs_the_other_side_tested(atlas: Atlas, scales: Scales) -> None:
    record: dict[str, Any] = {
        "light_touch": {"right": {"C6": "1"}},
        "pinprick": {"right": {"C6": "2"}, "left": {"C6": "2"}},
    }
    said = lines_under(note(answer_to(scales, record)), "Distribution")
    assert "Altered on the right. What was tested on the left is normal (pinprick). " in said
    assert "Light touch was not tested on the left for comparison." in said
    assert "only" not in said
    record["light_touch"]["left"] = {"C6": "2"}
    said = lines_under(note(answer_to(scales, record)), "Distribution")
    assert "Altered on the right only." in said
    assert "for comparison" not in said
    del record["light_touch"]["left"]
    drawing = Drawing().with_region(
        atlas, Modality.LIGHT_TOUCH, Change.NORMAL, "thumb-palmar", Side.LEFT
    )
    said = lines_under(note(answer_to(scales, record, drawing)), "Distribution")
    assert "Altered on the right only." in said
