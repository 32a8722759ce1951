"""Visits over time in German: no English, the numbers and sides of the English text, and
the same JSON."""

import re
from collections import Counter
from dataclasses import replace
from itertools import permutations

import pytest

from bodymap.atlas import Atlas
from bodymap.examination.visits_compared import VisitsCompared, visits_compared
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.findings.visits import visits
from bodymap.language import ENGLISH
from bodymap.report.visits_report import as_json, as_text, sentences, since_last
from tests.english import english_in, english_texts, speaking
from tests.report.german_cases import RECORDS, drawings, translated

Compared = dict[str, VisitsCompared]

SIDES = {"right": r"\b(rechts|rechte[rns]?)\b", "left": r"\b(links|linke[rns]?)\b"}


@pytest.fixture(scope="module")
def compared(atlas: Atlas) -> Compared:
    """Pairs of visits of the sample, each turned on one side, and pairs of unlike cases."""
    course = visits(open_case(sample_file("neuropathy-visits"), atlas).drawing)
    others = {
        name: translated(open_case(sample_file(name), atlas).drawing)
        for name in ("stocking-record", "thoracic-level", "saddle", "root-c6")
    }
    pairs = {f"visits {a} {b}": (course[a], course[b]) for a, b in permutations(range(3), 2)}
    pairs |= {f"{a}, {b}": (others[a], others[b]) for a, b in permutations(others, 2)}
    pairs |= {f"{name}, turned": (one, one.mirrored()) for name, one in others.items()}
    records = drawings(atlas)
    pairs |= {f"{name}, turned": (records[name], records[name].mirrored()) for name in RECORDS}
    rombergs = [name for name in RECORDS if name.startswith("Romberg")]
    pairs |= {f"{a}, {b}": (records[a], records[b]) for a, b in permutations(rombergs, 2)}
    pairs["other readings"] = records["ladders"], _other_readings(records["ladders"])
    pairs["nothing twice"] = Drawing(), Drawing()
    return {
        name: visits_compared(
            atlas, replace(then, date="2026-01-31"), replace(now, date="2026-11-02")
        )
        for name, (then, now) in pairs.items()
    }


def _other_readings(drawing: Drawing) -> Drawing:
    """The same places with other numbers, and some that could not be tested now."""
    record = drawing.record
    for side, place, rung in (
        ("left", "great-toe", {"felt": "normal", "eighths": 6, "seconds": 9.5}),
        ("right", "great-toe", {"felt": "NT"}),
        ("left", "ulnar-styloid", {"felt": "absent", "eighths": 0}),
    ):
        record = record.with_value(("vibration", side, place), rung)
    reasons = {"vibration right great-toe": "Verband"}
    return drawing.with_record(record.with_value(("reasons",), reasons))


def _texts(atlas: Atlas, found: VisitsCompared, code: str) -> list[str]:
    with speaking(code):
        return [as_text(atlas, found.now, found), *sentences(atlas, found)]


def test_no_text_of_visits_in_german_is_english(atlas: Atlas, compared: Compared) -> None:
    english, told = english_texts("de"), 0
    for name, found in compared.items():
        for text in _texts(atlas, found, "de"):
            for line in " ".join(text.split()).split(". "):
                told += 1
                assert not english_in(line, english), (name, line)
    assert told > 400


def test_the_same_look_at_english_finds_every_text(atlas: Atlas, compared: Compared) -> None:
    english = english_texts("de")
    for found in compared.values():
        assert english_in(_texts(atlas, found, ENGLISH)[0], english)


def test_numbers_and_sides_are_those_of_the_english_text(atlas: Atlas, compared: Compared) -> None:
    checked: Counter[str] = Counter()
    for name, found in compared.items():
        pairs = zip(*(_texts(atlas, found, c) for c in (ENGLISH, "de")), strict=True)
        for english, german in pairs:
            numbers = [
                Counter(re.findall(r"\d+(?:\.\d+)?", text))
                for text in (
                    english.replace(",", "").replace("10 g", ""),
                    re.sub(r"\.(?=\d{3})", "", german).replace(",", ".").replace("10-g", ""),
                )
            ]
            assert numbers[0] == numbers[1], (name, english, german)
            english = re.sub(r"of\s+\d+\s+right", "", english)  # as against wrong
            for side, stem in SIDES.items():
                told = len(re.findall(rf"\b{side}\b", english, re.I))
                assert told == len(re.findall(stem, german, re.I)), (name, english, german)
                checked[side] += told
    assert min(checked.values()) > 20


def test_a_column_is_as_wide_as_its_longest_name(atlas: Atlas, compared: Compared) -> None:
    lines = _texts(atlas, compared["visits 1 2"], "de")[0].splitlines()
    heads = next(line for line in lines if line.split() == ["neu", "verschwunden", "unverändert"])
    row = next(line for line in lines if line.startswith("leichte Berührung "))
    assert len(row) == len(heads)
    assert max(map(len, lines)) <= 100


def test_programs_read_the_same_in_german(atlas: Atlas, compared: Compared) -> None:
    for found in compared.values():
        made = []
        for code in (ENGLISH, "de"):
            with speaking(code):
                made.append(as_json(atlas, found.now, found))
        assert made[0] == made[1]


def test_the_note_gets_german_sentences(atlas: Atlas) -> None:
    drawing = open_case(sample_file("neuropathy-visits"), atlas).drawing
    with speaking("de"):
        told = since_last(atlas, drawing)
    assert told[0].startswith("Seit dem 18. November 2024: leichte Berührung: 288 cm² (1,6 %")
    for sentence in told:
        assert sentence[0].isupper()
        assert sentence.endswith((".", ")"))


def test_one_visit_is_told_in_german(atlas: Atlas) -> None:
    drawing = open_case(sample_file("root-c6"), atlas).drawing
    with speaking("de"):
        told = as_text(atlas, drawing, None)
    assert told.startswith("Dieser Fall enthält einen Termin")
    assert told.count("\n") == 1
