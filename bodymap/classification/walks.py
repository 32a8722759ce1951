"""Walks down the segments that carry every state they could be in.

A segment matters to the classification only by the class of its sensation and of its
key muscle. A score that was not tested has several classes; a walk goes on with each,
and states that are alike are one state, so the work grows with the segments and not
with the ways to fill in what is missing.

The asterisk (booklet [S], reading [C]): a starred score above the level counts as
normal, at or below the level as examined. So a walk passes a segment that only starred
scores mar, but the level moves past it only if a segment further down is found intact;
then the level rests on an assumption and is starred itself. A segment that is not
intact as examined is never the level.
"""

from collections.abc import Callable, Hashable, Iterable
from enum import IntEnum
from functools import cache
from itertools import product
from typing import NamedTuple, TypeVar

from bodymap.classification.scores import (
    INTACT,
    KEY_MUSCLES,
    NORMAL_GRADE,
    NORMAL_SCORE,
    POINTS,
    HalfRecord,
    Score,
)

FIRST = 0
"""Index of C1, where every walk stands before it begins."""


class Pass(IntEnum):
    """Whether a walk goes on past a segment."""

    NO = 0
    ASSUMED = 1
    YES = 2


class Feeling(NamedTuple):
    """The class of the sensation of a segment: light touch and pinprick together."""

    passes: Pass
    preserved: bool


class Grip(NamedTuple):
    """The class of a key muscle: one grade stands for its kind (0; 1 or 2; 3 or 4; 5)."""

    grade: int
    starred: bool

    @property
    def passes(self) -> Pass:
        """Whether the walk goes on past this muscle."""
        if self.grade == NORMAL_GRADE:
            return Pass.YES
        return Pass.ASSUMED if self.starred else Pass.NO


class Step(NamedTuple):
    """A segment, by its place, with every class that it could have."""

    place: int
    feelings: tuple[Feeling, ...]
    grips: tuple[Grip | None, ...]


State = TypeVar("State", bound=Hashable)


@cache
def feelings(light_touch: Score, pinprick: Score) -> tuple[Feeling, ...]:
    """The classes that two scores could have together."""
    found = set()
    for values in product(light_touch.possible(NORMAL_SCORE), pinprick.possible(NORMAL_SCORE)):
        stars = (light_touch.starred, pinprick.starred)
        marred = {star for value, star in zip(values, stars, strict=True) if value < NORMAL_SCORE}
        passes = Pass.NO if False in marred else Pass.ASSUMED if marred else Pass.YES
        found.add(Feeling(passes, any(values)))
    return tuple(sorted(found))


@cache
def grips(score: Score) -> tuple[Grip, ...]:
    """The classes that a grade could have."""
    kinds = {(0, 1, 1, 3, 3, 5)[grade] for grade in score.possible(NORMAL_GRADE)}
    return tuple(Grip(kind, score.starred and kind < NORMAL_GRADE) for kind in sorted(kinds))


def steps(half: HalfRecord) -> tuple[Step, ...]:
    """The segments of a side from C2 to S4-5."""
    made = []
    for place, name in enumerate(POINTS):
        muscle: tuple[Grip | None, ...] = (None,)
        if name in KEY_MUSCLES:
            muscle = grips(half.motor[KEY_MUSCLES.index(name)])
        felt = feelings(half.light_touch[place], half.pinprick[place])
        made.append(Step(place + 1, felt, muscle))
    return tuple(made)


def reached(
    start: State,
    path: Iterable[Step],
    advance: Callable[[State, int, Feeling, Grip | None], State],
) -> set[State]:
    """Every state in which a walk along the path can end."""
    states = {start}
    for step in path:
        ways = list(product(step.feelings, step.grips))
        states = {advance(s, step.place, feeling, grip) for s in states for feeling, grip in ways}
    return states


class Walk(NamedTuple):
    """A walk to a level: the lowest segment found intact so far, whether it rests on an
    assumption, and whether anything was assumed since."""

    level: int = FIRST
    starred: bool = False
    pending: bool = False
    walking: bool = True

    def past(self, index: int, intact: bool, passes: Pass) -> "Walk":
        """The walk after a segment that may be the level (``intact``) and may be passed."""
        if not self.walking:
            return self
        level, starred, pending = self.level, self.starred, self.pending
        if intact:
            level, starred, pending = index, starred or pending, False
        if passes is Pass.NO:
            return Walk(level, starred, False, False)
        return Walk(level, starred, pending or passes is Pass.ASSUMED)

    def ended(self) -> "Walk":
        """The walk at its end: what was never stopped is intact."""
        if not self.walking:
            return self
        return Walk(INTACT, self.starred or self.pending, False, False)

    def felt(self, index: int, feeling: Feeling) -> "Walk":
        """The walk to a sensory level, after one segment: both modalities 2, or it ends."""
        return self.past(index, feeling.passes is Pass.YES, feeling.passes)

    def moved(self, index: int, feeling: Feeling, grip: Grip | None) -> "Walk":
        """The walk to a motor level, after one segment. 5 goes on, 3 or 4 is the level,
        less ends above; without a key muscle, sensation speaks for motor function."""
        if grip is None:
            return self.felt(index, feeling)
        return self.past(index, grip.grade >= 3, grip.passes)
