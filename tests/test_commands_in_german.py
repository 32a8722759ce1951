"""The command line in German: what is read is German, what programs read is English, what is
dictated stays as it was typed, and searches take the names of both languages."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from bodymap.atlas import Atlas
from bodymap.atlas.assets import assets_folder, table
from bodymap.cli import main
from bodymap.findings.samples import sample_file, sample_files
from bodymap.language import ENGLISH, Phrase, language, tr, use
from bodymap.localise.catalogue import Catalogue
from bodymap.report.places import named_places
from bodymap.report.skin_sentences import drawing_said, findings_said
from bodymap.wording.describe import described
from bodymap.wording.segments import LANDMARKS
from bodymap.wording.understand import understood
from bodymap.wording.vocabulary import vocabulary
from tests.english import english_in, english_texts, speaking
from tests.messages import marked

CTS = str(sample_file("carpal-tunnel"))

PHRASES = (
    "vibration absent to the ankles", "vibration absent to the knees",
    "vibration absent to the groin", "vibration absent to the wrists and mid-shins",
    "vibration absent to the elbows", "vibration absent to the shoulder",
    "cold reduced to the mid-thigh", "cold reduced to mid-forearm",
    "numb stocking", "numb sock", "numb glove", "numb below T10", "numb from the waist down",
    "numb tip of the right index", "numb palmar tip of the right index",
    "numb tip of the left great toe",
    "numb right 4th toe", "numb patch on the right palm", "numb part of the right palm",
    "numb 2nd web space of the right foot", "numb over the right 3rd MTP",
    "numb over the right 2nd PIP joint of the hand", "numb right PIP",
    "right thumb and index finger on the left numb", "numb ulnar edge of the right forearm",
    *(f"numb from the {place} down" for place in LANDMARKS),
)  # fmt: skip
"""Phrases of which something has to be assumed."""


@pytest.fixture(autouse=True)
def _english_again(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("BODYMAP_LANGUAGE", "de")
    yield
    use(ENGLISH)


def _said(capfd: pytest.CaptureFixture[str], *arguments: str) -> str:
    capfd.readouterr()
    assert main(list(arguments)) == 0
    assert language() == "de"
    return capfd.readouterr().out


def _without_ids(text: str) -> str:
    """A table without the ids that its lines begin with, on one line for each row."""
    rows = re.sub(r"\n {3,}", " ", text).splitlines()
    return "\n".join(re.sub(r"^ {0,2}[a-z0-9]+(-[a-z0-9]+)* {2,}", "", row) for row in rows)


@pytest.mark.parametrize("command", ["regions", "signs", "sample"])
def test_lists_are_german(command: str, capfd: pytest.CaptureFixture[str]) -> None:
    said = _without_ids(_said(capfd, command))
    assert len(said.splitlines()) > 10
    found = english_in(re.sub(r" {2,}", "; ", said), english_texts("de"))
    assert not found, found
    use(ENGLISH)


@pytest.mark.parametrize("command", ["regions", "signs", "sample"])
def test_the_same_look_finds_english_in_english_lists(
    command: str, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("BODYMAP_LANGUAGE")
    assert main([command]) == 0
    said = _without_ids(capfd.readouterr().out)
    assert english_in(re.sub(r" {2,}", "; ", said), english_texts("de"))


@pytest.mark.parametrize(
    "arguments", [["regions"], ["signs"], ["dictate", "numb tip of the right index"]], ids=" ".join
)
def test_what_programs_read_is_english(
    arguments: list[str], capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    german = json.loads(_said(capfd, *arguments, "--format", "json"))
    monkeypatch.delenv("BODYMAP_LANGUAGE")
    assert main([*arguments, "--format", "json"]) == 0
    assert json.loads(capfd.readouterr().out) == german


@pytest.mark.parametrize(
    ("arguments", "id_"),
    [
        (["regions", "Daumen", "palmar"], "thumb-palmar"),
        (["regions", "thumb", "palmar"], "thumb-palmar"),
        (["regions", "thumb-palmar"], "thumb-palmar"),
        (["regions", "FUSSRÜCKEN"], "foot-dorsum-middle"),
        (["regions", "fussrücken", "front"], "foot-dorsum-middle"),
        (["regions", "fußrücken", "vorn"], "foot-dorsum-middle"),
        (["regions", "medianus"], "thenar"),
        (["regions", "median"], "thenar"),
        (["signs", "Trizepssehne"], "triceps-reflex"),
        (["signs", "triceps", "tendon"], "triceps-reflex"),
        (["signs", "Muskel", "Streckung", "Ellenbogen"], "triceps"),
    ],
    ids=" ".join,
)
def test_words_of_both_languages_are_found(
    arguments: list[str], id_: str, capfd: pytest.CaptureFixture[str]
) -> None:
    assert id_ in _said(capfd, *arguments).split()


def test_a_german_word_that_is_misspelt_is_answered_with_a_german_one(
    capfd: pytest.CaptureFixture[str],
) -> None:
    assert main(["regions", "Dauemn"]) == 2
    assert capfd.readouterr().err.endswith("vielleicht „Daumen“?\n")
    assert main(["regions", "thumb-palmer"]) == 2
    assert capfd.readouterr().err.endswith("vielleicht „thumb-palmar“?\n")


def test_every_place_answers_to_its_names_in_both_languages(atlas: Atlas) -> None:
    catalogue = Catalogue(atlas)
    english = named_places(catalogue)
    with speaking("de"):
        german = named_places(catalogue)
    assert len(english) == len(german) > 200
    told_apart = 0
    for one, other in zip(english, german, strict=True):
        told_apart += one.name != other.name
        for words in (one.name, other.name, one.kind, other.kind, one.words):
            assert all(w in other.words for w in words.casefold().split()), words
    assert told_apart > 150


def test_a_region_answers_to_its_id_and_its_place(atlas: Atlas) -> None:
    with speaking("de"):
        words = {p.name: p.words for p in named_places(Catalogue(atlas))}
    row = next(r for r in table(assets_folder(), "skin-regions") if r["id"] == "thenar")
    use("de")
    for text in (row["id"], row["where"], tr(row["where"]), tr(row["label"])):
        assert text.casefold() in words[tr(row["label"])]


@pytest.mark.parametrize("path", sample_files(), ids=lambda p: p.stem)
def test_a_described_case_is_german(path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    said = _said(capfd, "describe", str(path)).strip()
    assert not english_in(said, english_texts("de"))
    assert re.match(r"[A-ZÄÖÜ].*\.$", said)
    assert re.search(r"rechts|links|beidseits", said)


def test_described_words_keep_change_side_and_what_is_normal(
    capfd: pytest.CaptureFixture[str],
) -> None:
    said = _said(capfd, "describe", CTS)
    touch = "Leichte Berührung normal: Daumenballen und radialer Teil des Handrückens, rechts."
    assert touch in said
    assert "Kribbeln auf leichte Berührung: Daumen palmar, Zeigefinger palmar" in said
    assert "links" not in said


def test_english_sentences_are_those_of_the_dictation(atlas: Atlas) -> None:
    from bodymap.examination.exchange import opened

    for path in sample_files():
        drawing = opened(str(path), atlas).drawing
        assert drawing_said(atlas, drawing) == described(atlas, drawing)


def test_every_group_of_skin_is_told_in_german(atlas: Atlas) -> None:
    english = english_texts("de")
    for group in vocabulary(atlas.facts).groups.values():
        for name in (group.spoken, *group.aliases):
            got = understood(f"numb right {name}", atlas)
            with speaking("de"):
                told = [findings_said(atlas, got.findings), *map(tr, got.notes)]
            # What was typed stands in a note as it was typed.
            plain = " ".join(told).replace(f"„{name}“", "")
            assert not english_in(plain, english), plain


@pytest.mark.parametrize("phrase", PHRASES)
def test_notes_of_the_dictation_are_german(phrase: str, atlas: Atlas) -> None:
    got = understood(phrase, atlas)
    assert got.notes
    with speaking("de"):
        assert understood(phrase, atlas).notes == got.notes
        told = [tr(note) for note in got.notes]
    for note, said in zip(got.notes, told, strict=True):
        assert said != note
        plain = re.sub("„[^“]*“", "", said)
        assert not english_in(plain, english_texts("de")), said


NOTING = ("extents", "near", "places", "segments", "understand")
"""Modules of the dictation that say what had to be assumed."""


def test_these_phrases_call_forth_every_note(atlas: Atlas) -> None:
    called: set[object] = set()
    for phrase in PHRASES:
        for note in understood(phrase, atlas).notes:
            called |= {note.template, *note.values.values()} if isinstance(note, Phrase) else {note}
    said = {text for text, place in marked() if place in {f"wording/{n}.py" for n in NOTING}}
    assert len(said) > 25
    assert said - called == set()


def test_a_dictation_is_echoed_in_german(capfd: pytest.CaptureFixture[str]) -> None:
    said = _said(capfd, "dictate", "reduced pinprick tip of the right index since Tuesday")
    assert said.splitlines() == [
        "Nadelstich vermindert: Zeigefinger palmar und Zeigefinger dorsal jenseits des "
        "PIP-Gelenks, rechts.",
        "Hinweis: Eine Fingerkuppe ist als Finger palmar und dorsal jenseits des PIP-Gelenks "
        "eingezeichnet.",
        "Nicht verstanden: since tuesday.",
    ]


def test_german_that_is_dictated_is_answered_in_one_sentence_of_what_is_read(
    capfd: pytest.CaptureFixture[str],
) -> None:
    first, *rest = _said(capfd, "dictate", "Taubheit am rechten Daumen").splitlines()
    assert first == "Es wurde kein Befund verstanden; das Diktat versteht nur Englisch."
    assert rest == ["Nicht verstanden: taubheit am rechten daumen."]
    with pytest.raises(SystemExit):
        main(["dictate", "--help"])
    assert "Nur Englisch wird verstanden" in " ".join(capfd.readouterr().out.split())
