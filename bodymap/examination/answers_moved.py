"""The bedside records of two visits held against each other: answers that are others now,
the first place of a ladder that is felt, and levels that moved.

Only what was answered at both visits is compared; what was not asked again is counted.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from bodymap.classification.classify import UNDETERMINED, classify
from bodymap.classification.scores import ANAL, LEVELS, PARTS, SIDES, Record
from bodymap.examination.levels import UNTESTED, modality_level
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import ladder

FELT = {"absent": 0, "reduced": 1, "normal": 2}
"""Words for what was felt, the least first; increased and tingling have no place here."""

BALANCE = ("cannot stand with open eyes", "lost balance", "sway", "steady")
"""Results of Romberg, the worst first."""

LADDERS = ("vibration", "joint_position")
NOWHERE = "nowhere"
"""No place of a ladder was felt."""

INTACT = {"intact": "INT"}


class Place(NamedTuple):
    """Where something was asked: a part of the record, a side and a place, as in the file."""

    part: str
    side: str = ""
    place: str = ""


class Said(NamedTuple):
    """An answer in words, and its rank: the higher the better, None where none is."""

    words: str
    rank: tuple[float, ...] | None = None


@dataclass(frozen=True)
class Moved:
    """One answer that is another one now. ``better`` is None where that cannot be said."""

    where: Place
    then: str
    now: str
    better: bool | None


@dataclass(frozen=True)
class FirstFelt:
    """The most distal place of a ladder that was felt (id, or ``NOWHERE``), then and now.
    ``places`` is how many places it moved towards the trunk (more is lost), or back (less
    than 0)."""

    part: str
    limb: str
    side: str
    then: str
    now: str
    places: int


@dataclass(frozen=True)
class LevelMoved:
    """A level then and now. ``down`` is how many segments it moved towards the feet, less
    than 0 towards the head; "intact" lies below the last segment."""

    what: str
    side: str
    then: str
    now: str
    down: int

    @property
    def counted(self) -> bool:
        """Whether both are segments, so that ``down`` counts segments of the body."""
        return not {"intact", "INT"} & {self.then, self.now}


@dataclass(frozen=True)
class RecordsMoved:
    """What two records differ in. ``both`` and ``not_again`` count answers; ``scale`` is
    the impairment scale then and now, where both are classified."""

    both: int = 0
    not_again: int = 0
    answers: tuple[Moved, ...] = ()
    first_felt: tuple[FirstFelt, ...] = ()
    levels: tuple[LevelMoved, ...] = ()
    scale: tuple[str, str] | None = None


def records_moved(then: BedsideRecord, now: BedsideRecord) -> RecordsMoved:
    """Hold the record of a later visit against that of an earlier one."""
    before, after = answered(then), answered(now)
    shared = [place for place in before if place in after]
    levels, scale = _levels(then.scores, now.scores)
    return RecordsMoved(
        both=len(shared),
        not_again=len(before) - len(shared),
        answers=tuple(
            Moved(p, before[p].words, after[p].words, _better(before[p], after[p]))
            for p in shared
            if before[p].words != after[p].words
        ),
        first_felt=tuple(_first_felt(then, now)),
        levels=levels,
        scale=scale,
    )


def answered(record: BedsideRecord) -> dict[Place, Said]:
    """Every answer of a record, in the order of the examination; not what is NT."""
    return {place: said for place, said in _answers(record) if said.words}


def _answers(record: BedsideRecord) -> Iterator[tuple[Place, Said]]:
    scores = record.scores
    for part, segments in PARTS.items():
        for side, half in scores.sides.items():
            for segment, score in zip(segments, getattr(half, part), strict=True):
                if score.value is not None:
                    yield Place(part, side, segment), Said(str(score), (score.value,))
    for name in ANAL:
        found = getattr(scores, name)
        if found is not None:
            yield Place(name), Said("yes" if found else "no", (found,))
    for part, say in (
        ("temperature", _felt), ("vibration", _rung), ("joint_position", _rung),
        ("monofilament", _filament), ("two_point", _distance),
    ):  # fmt: skip
        for side in SIDES:
            for place, value in (record.at(part, side) or {}).items():
                yield Place(part, side, place), say(value)
    result = record.at("romberg", "result")
    if result in BALANCE:
        yield Place("romberg"), Said(result, (BALANCE.index(result),))


def _felt(word: str) -> Said:
    if word == "NT":
        return Said("")
    return Said(word, (FELT[word],) if word in FELT else None)


def _rung(rung: Mapping[str, Any]) -> Said:
    words, rank = _felt(rung["felt"])
    if words and "eighths" in rung:
        words += f" ({rung['eighths']:g}/8)"
        rank = (*rank, rung["eighths"]) if rank else None
    if words and rung.get("trials"):
        words += f" ({rung.get('correct', 0)} of {rung['trials']} right)"
        rank = (*rank, rung.get("correct", 0) / rung["trials"]) if rank else None
    return Said(words, rank)


def _filament(found: Mapping[str, int]) -> Said:
    if not found["of"]:
        return Said("")
    return Said(f"{found['felt']} of {found['of']}", (found["felt"] / found["of"],))


def _distance(mm: float) -> Said:
    return Said(f"{mm:g} mm", (-mm,))


def _better(then: Said, now: Said) -> bool | None:
    if then.rank is None or now.rank is None:
        return None
    # A reading that one visit lacks (eighths of a fork) tells nothing.
    shared = min(len(then.rank), len(now.rank))
    one, other = then.rank[:shared], now.rank[:shared]
    return None if one == other else other > one


def _first_felt(then: BedsideRecord, now: BedsideRecord) -> Iterator[FirstFelt]:
    for part in LADDERS:
        for limb in ("leg", "arm"):
            places = [s.id for s in ladder(part.replace("_", "-"), limb)]
            for side in SIDES:
                before, after = (_lowest(record, part, side, places) for record in (then, now))
                if before is not None and after is not None:
                    order = [*places, NOWHERE]
                    steps = order.index(after) - order.index(before)
                    yield FirstFelt(part, limb, side, before, after, steps)


def _lowest(record: BedsideRecord, part: str, side: str, places: list[str]) -> str | None:
    """The most distal place that was felt; None where a place before it was not tested."""
    for place in places:
        felt = record.at(part, side, place, "felt")
        if felt not in FELT:
            return None
        if felt != "absent":
            return place
    return NOWHERE


def _levels(then: Record, now: Record) -> tuple[tuple[LevelMoved, ...], tuple[str, str] | None]:
    found = []
    for part in ("light_touch", "pinprick"):
        for side in SIDES:
            before, after = (modality_level(record.sides[side], part) for record in (then, now))
            if before and after and UNTESTED not in (before, after):
                found.append(_moved(part, side, before, after))
    scale = None
    # Level of injury and scale mean something only where a cord injury is documented.
    if then.cord_injury and now.cord_injury:
        one, other = classify(then), classify(now)
        field = "neurological_level"
        before, after = one.result(field).rstrip("*"), other.result(field).rstrip("*")
        if UNDETERMINED not in (before, after):
            found.append(_moved(field, "", before, after))
        before, after = (c.result("impairment_scale").rstrip("*") for c in (one, other))
        if UNDETERMINED not in (before, after):
            scale = before, after
    return tuple(found), scale


def _moved(what: str, side: str, then: str, now: str) -> LevelMoved:
    before, after = (LEVELS.index(INTACT.get(level, level)) for level in (then, now))
    return LevelMoved(what, side, then, now, after - before)
