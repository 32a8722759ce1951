"""The bedside records of two visits held against each other: answers that are others now,
the first place of a ladder that is felt, and levels that moved.

Only what was answered at both visits is compared; what was not asked again is counted, and
what could not be tested now is named. A reading counts only where both visits have it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from bodymap.classification.classify import UNDETERMINED, classify
from bodymap.classification.scores import LEVELS, SIDES, Record
from bodymap.examination.answers_said import (
    ALTERED,
    FELT,
    QUALITIES,
    Place,
    Said,
    answered,
    answers_of,
)
from bodymap.examination.levels import UNTESTED, modality_level
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import ladder
from bodymap.language import later, phrase
from bodymap.terms import Change

LADDERS = ("vibration", "joint_position")
NOWHERE = "nowhere"
"""No place of a ladder was felt."""

INTACT = {later("intact"): "INT"}


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
    """What two records differ in. ``both`` and ``not_again`` count answers, and
    ``untestable`` are those of then that could not be had now; ``scale`` is the impairment
    scale then and now, where both are classified."""

    both: int = 0
    not_again: int = 0
    untestable: tuple[Place, ...] = ()
    answers: tuple[Moved, ...] = ()
    first_felt: tuple[FirstFelt, ...] = ()
    levels: tuple[LevelMoved, ...] = ()
    scale: tuple[str, str] | None = None


def records_moved(then: BedsideRecord, now: BedsideRecord) -> RecordsMoved:
    """Hold the record of a later visit against that of an earlier one."""
    before, after = answered(then), dict(answers_of(now))
    shared = [place for place in before if place in after and after[place].words]
    untestable = tuple(place for place in before if place in after and not after[place].words)
    levels, scale = _levels(then.scores, now.scores)
    return RecordsMoved(
        both=len(shared),
        not_again=len(before) - len(shared) - len(untestable),
        untestable=untestable,
        answers=tuple(
            _changed(p, before[p], after[p]) for p in shared if before[p].differs(after[p])
        ),
        first_felt=tuple(_first_felt(then, now)),
        levels=levels,
        scale=scale,
    )


def _changed(where: Place, then: Said, now: Said) -> Moved:
    words = [then.words, now.words]
    if then.word.rstrip("*")[:1] == now.word.rstrip("*")[:1] == ALTERED and where.part in QUALITIES:
        # Without a word a score of 1 is reduced; it is said where the quality changed.
        words = [
            phrase("{score} ({quality})", score=w, quality=str(Change.REDUCED))
            if "(" not in w
            else w
            for w in words
        ]
    return Moved(where, words[0], words[1], then.better(now))


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
