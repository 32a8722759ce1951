"""What can be recorded: segments, scores, grades, and the record as an immutable value.

Segments, key muscles and values after the booklet (see the package) [S]. C1 has no
skin and no key muscle; it and INT (everything intact) occur as results only.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

SEGMENTS = (
    "C1",
    *(f"C{n}" for n in range(2, 9)),
    *(f"T{n}" for n in range(1, 13)),
    *(f"L{n}" for n in range(1, 6)),
    *(f"S{n}" for n in range(1, 4)),
    "S4-5",
)
"""Head to foot; a segment is known by its place in this list."""

LEVELS = (*SEGMENTS, "INT")
"""What a level may be; INT counts as the lowest."""

INTACT = len(SEGMENTS)
POINTS = SEGMENTS[1:]
"""Segments with a key point: 28 on each side."""

ARM_MUSCLES = ("C5", "C6", "C7", "C8", "T1")
LEG_MUSCLES = ("L2", "L3", "L4", "L5", "S1")
KEY_MUSCLES = ARM_MUSCLES + LEG_MUSCLES
"""Segments with a key muscle: 10 on each side."""

PLACE = {name: index for index, name in enumerate(LEVELS)}
KEY_PLACES = tuple(PLACE[name] for name in KEY_MUSCLES)

NORMAL_SCORE, NORMAL_GRADE = 2, 5
SIDES = ("right", "left")


class Score(NamedTuple):
    """A score or grade. ``value`` is None where it was not tested (NT); ``starred`` says
    that a cause other than the cord injury has a part in it (section of the asterisk in
    the booklet [S])."""

    value: int | None = None
    starred: bool = False

    def __str__(self) -> str:
        """As it stands in a record: "1*"."""
        return ("NT" if self.value is None else str(self.value)) + "*" * self.starred

    def possible(self, normal: int) -> tuple[int, ...]:
        """The value, or every value that could stand in the place of NT."""
        return tuple(range(normal + 1)) if self.value is None else (self.value,)


NOT_TESTED = Score()


class NonKey(NamedTuple):
    """The most caudal muscle function outside the key muscles: the place of its segment,
    or None for none; ``tested`` is false where it is not known."""

    segment: int | None = None
    tested: bool = True


NO_NON_KEY = NonKey()


@dataclass(frozen=True)
class HalfRecord:
    """One side: key points in the order of POINTS, muscles in the order of KEY_MUSCLES."""

    light_touch: tuple[Score, ...] = (NOT_TESTED,) * len(POINTS)
    pinprick: tuple[Score, ...] = (NOT_TESTED,) * len(POINTS)
    motor: tuple[Score, ...] = (NOT_TESTED,) * len(KEY_MUSCLES)
    non_key: NonKey = NO_NON_KEY

    @property
    def starred(self) -> bool:
        """Whether any score carries a star."""
        return any(s.starred for s in (*self.light_touch, *self.pinprick, *self.motor))

    def with_score(self, part: str, place: int, score: Score) -> "HalfRecord":
        """The same side with one score put in place of another."""
        scores: list[Score] = list(getattr(self, part))
        scores[place] = score
        changed: dict[str, Any] = {part: tuple(scores)}
        return replace(self, **changed)


@dataclass(frozen=True)
class Record:
    """The whole record. The anal findings are None where they were not tested;
    ``cord_injury`` is true only where one is documented."""

    right: HalfRecord = HalfRecord()
    left: HalfRecord = HalfRecord()
    deep_anal_pressure: bool | None = None
    voluntary_anal_contraction: bool | None = None
    cord_injury: bool = False

    @property
    def sides(self) -> dict[str, HalfRecord]:
        """Both sides by name, right first."""
        return {"right": self.right, "left": self.left}

    @property
    def has_motor(self) -> bool:
        """Whether any key muscle was tested."""
        return any(s.value is not None for side in self.sides.values() for s in side.motor)


PARTS = {"light_touch": POINTS, "pinprick": POINTS, "motor": KEY_MUSCLES}
"""The graded parts of a side and the segments of their places."""

NORMALS = {"light_touch": NORMAL_SCORE, "pinprick": NORMAL_SCORE, "motor": NORMAL_GRADE}
ANAL = ("deep_anal_pressure", "voluntary_anal_contraction")


class Untested(NamedTuple):
    """A point that was not tested: a graded part with its side and place, an anal
    finding, or the non-key muscles of a side."""

    part: str
    side: str = ""
    place: int = 0

    def __str__(self) -> str:
        """The point in words: "light touch T7 right"."""
        words = self.part.replace("_", " ")
        if self.part in ANAL:
            return words
        if self.part == "non_key":
            return f"non-key muscles {self.side}"
        return f"{words} {PARTS[self.part][self.place]} {self.side}"


def untested(record: Record) -> Iterator[Untested]:
    """Every point that was not tested, the anal findings first."""
    for part in ANAL:
        if getattr(record, part) is None:
            yield Untested(part)
    for name, side in record.sides.items():
        for part, segments in PARTS.items():
            for place in range(len(segments)):
                if getattr(side, part)[place].value is None:
                    yield Untested(part, name, place)
        if not side.non_key.tested:
            yield Untested("non_key", name)


def settled(record: Record, point: Untested) -> Iterator[Record]:
    """The record with each admissible value in the place of an untested point."""
    if point.part in ANAL:
        ways: dict[str, list[Any]] = {point.part: [True, False]}
    elif point.part == "non_key":
        side = record.sides[point.side]
        known = (NonKey(index) for index in (None, *KEY_PLACES))
        ways = {point.side: [replace(side, non_key=non_key) for non_key in known]}
    else:
        side = record.sides[point.side]
        star = getattr(side, point.part)[point.place].starred
        scores = (Score(value, star) for value in range(NORMALS[point.part] + 1))
        ways = {point.side: [side.with_score(point.part, point.place, s) for s in scores]}
    for field, values in ways.items():
        for value in values:
            changed: dict[str, Any] = {field: value}
            yield replace(record, **changed)
