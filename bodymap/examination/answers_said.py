"""Every answer of a bedside record in words, with what makes it the same answer as another."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from bodymap.classification.scores import ANAL, PARTS, SIDES, Score
from bodymap.findings.record import BedsideRecord
from bodymap.language import later, phrase
from bodymap.terms import Change

FELT = {"absent": 0, "reduced": 1, "normal": 2}
"""Words for what was felt, the least first; increased and tingling have no place here."""

BALANCE = (
    later("cannot stand with open eyes"),
    later("lost balance"),
    later("sway"),
    later("steady"),
)
"""Results of Romberg, the worst first."""

QUALITIES = ("light_touch", "pinprick")
ALTERED = "1"
"""A score that is told apart further by a word for its quality."""


class Place(NamedTuple):
    """Where something was asked: a part of the record, a side and a place, as in the file."""

    part: str
    side: str = ""
    place: str = ""


@dataclass(frozen=True)
class Said:
    """An answer. ``words`` tell all of it, to be read in any language with ``tr``, and are
    empty where it could not be tested;
    ``word`` is what must be the same at both visits for the answer to be, and ``readings``
    are its numbers by kind, the higher the better. ``rank`` of the word is higher for
    better, None where it has none."""

    words: str
    word: str = ""
    rank: float | None = None
    readings: Mapping[str, float] = field(default_factory=dict)

    def differs(self, other: "Said") -> bool:
        """Whether this is another answer: another word, or another number where both
        have one."""
        return self.word != other.word or bool(self._directions(other))

    def better(self, other: "Said") -> bool | None:
        """Whether another answer is better; None where that cannot be said, as where one
        number rose and another fell."""
        ways = self._directions(other)
        if self.word != other.word:
            if self.rank is None or other.rank is None or self.rank == other.rank:
                return None
            # What was felt goes before the numbers that were read beside it.
            return other.rank > self.rank
        return ways.pop() if len(ways) == 1 else None

    def _directions(self, other: "Said") -> set[bool]:
        shared = self.readings.keys() & other.readings.keys()
        return {
            other.readings[kind] > self.readings[kind]
            for kind in shared
            if other.readings[kind] != self.readings[kind]
        }


def answered(record: BedsideRecord) -> dict[Place, Said]:
    """Every answer of a record, in the order of the examination; not what is NT."""
    return {place: said for place, said in answers_of(record) if said.words}


def answers_of(record: BedsideRecord) -> Iterator[tuple[Place, Said]]:
    """Every answer in the order of the examination; one without words could not be had."""
    scores = record.scores
    for part, segments in PARTS.items():
        for side, half in scores.sides.items():
            named = record.at(part, side) or {}
            for segment, score in zip(segments, getattr(half, part), strict=True):
                if score.value is not None:
                    yield Place(part, side, segment), _score(record, part, side, segment, score)
                elif segment in named:
                    yield Place(part, side, segment), Said("")
    for name in ANAL:
        found = getattr(scores, name)
        if found is not None:
            word = "yes" if found else "no"
            yield Place(name), Said(word, word, found)
        elif record.at(name) is not None:
            yield Place(name), Said("")
    for part, say in (
        ("temperature", _felt), ("vibration", _rung), ("joint_position", _rung),
        ("monofilament", _filament), ("two_point", _distance),
    ):  # fmt: skip
        for side in SIDES:
            for place, value in (record.at(part, side) or {}).items():
                yield Place(part, side, place), say(value)
    romberg = record.at("romberg")
    if romberg:
        yield Place("romberg"), _romberg(romberg)


def _score(record: BedsideRecord, part: str, side: str, segment: str, score: Score) -> Said:
    """A score or grade; a score of 1 with the word that says how it is altered."""
    quality = record.at("quality", part, side, segment) if str(score.value) == ALTERED else None
    if quality in (None, Change.REDUCED) or part not in QUALITIES:
        return Said(str(score), str(score), score.value)
    words = phrase("{score} ({quality})", score=str(score), quality=str(quality))
    return Said(words, str(words))


def _felt(word: str) -> Said:
    return Said("") if word == "NT" else Said(word, word, FELT.get(word))


def _rung(rung: Mapping[str, Any]) -> Said:
    said = _felt(rung["felt"])
    if not said.words:
        return said
    told, readings = [], {}
    if "eighths" in rung:
        readings["eighths"] = rung["eighths"]
        told.append(phrase("{eighths:g}/8", eighths=rung["eighths"]))
    if "seconds" in rung:
        readings["seconds"] = round(rung["seconds"], 1)
        told.append(phrase("felt for {seconds:g} s", seconds=readings["seconds"]))
    if rung.get("trials") and "correct" in rung:
        readings["right"] = rung["correct"] / rung["trials"]
        told.append(
            phrase("{correct} of {trials} right", correct=rung["correct"], trials=rung["trials"])
        )
    if not told:
        return replace(said, readings=readings)
    numbers = told[0]
    for one in told[1:]:
        numbers = phrase("{first}, {second}", first=numbers, second=one)
    words = phrase("{felt} ({numbers})", felt=said.words, numbers=numbers)
    return replace(said, words=words, readings=readings)


def _filament(found: Mapping[str, int]) -> Said:
    if not found["of"]:
        return Said("")
    share = {"felt": found["felt"] / found["of"]}
    words = phrase("{felt} of {touches}", felt=found["felt"], touches=found["of"])
    return Said(words, readings=share)


def _distance(mm: float) -> Said:
    return Said(phrase("{mm:g} mm", mm=mm), readings={"mm": -mm})


def _romberg(found: Mapping[str, Any]) -> Said:
    """The seconds until balance was lost; those of who stood say how long it was watched."""
    result = found["result"]
    if result not in BALANCE:
        return Said("")
    rank = BALANCE.index(result)
    if "seconds" not in found:
        return Said(result, result, rank)
    seconds = round(found["seconds"], 1)
    lost = result == "lost balance"
    words = phrase("{result} for {seconds:g} s", result=result, seconds=seconds)
    if lost:
        words = phrase("lost balance after {seconds:g} s", seconds=seconds)
    return Said(words, result, rank, {"seconds": seconds} if lost else {})
