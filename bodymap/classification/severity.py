"""What one side adds to completeness and to the impairment scale, in every way it could be.

Two facts keep the sets small and exact [C]. A key muscle below grade 3 lies below its
side's motor level, so below the neurological level: it is enough to count these, in all,
to know how many muscles below that level reach 3. And the scale asks only whether that
count passes half, so of alike outcomes the fewest and the most weak muscles will do.
"""

from functools import lru_cache
from typing import NamedTuple, TypeVar

from bodymap.classification.levels import higher
from bodymap.classification.scores import (
    INTACT,
    KEY_PLACES,
    SEGMENTS,
    HalfRecord,
    NonKey,
)
from bodymap.classification.walks import Feeling, Grip, Pass, Step, Walk, steps

LAST = len(SEGMENTS) - 1
FAR = 4
"""Segments below the motor level that are "more than three levels" below it: from C5,
T1 is and C8 is not."""

NOTHING = -1


Key = TypeVar("Key")


class Sacral(NamedTuple):
    """Sensation of S4-5 on a side; ``assumed`` where only starred scores deny it and
    everything above is intact."""

    present: bool = False
    assumed: bool = False


class Outcome(NamedTuple):
    """What a side adds: its higher level, motor function more than three levels below
    the motor level, the lowest weak muscle taken as normal, and S4-5."""

    level: int
    starred: bool
    far: bool
    motor_starred: bool
    taken_as_normal: int
    sacral: Sacral


Outcomes = dict[Outcome, tuple[int, int]]
"""Each outcome with the fewest and the most muscles below grade 3 that go with it."""


class _State(NamedTuple):
    sensory: Walk = Walk()
    motor: Walk = Walk()
    far: bool = False
    pending: int = 0
    taken: int = NOTHING
    to_take: int = NOTHING
    sacral: Sacral = Sacral()


def muscles_below(level: int) -> int:
    """Key muscles of both sides below a level: 20 below C4, 0 below S1."""
    return 2 * sum(index > level for index in KEY_PLACES)


ALIKE = (
    *(max(b for b in range(INTACT) if muscles_below(b) == muscles_below(a)) for a in range(INTACT)),
    INTACT,
)
"""For each level the lowest one with as many key muscles below it. Where nothing is
starred the scale knows no other difference between levels."""


def outcomes(half: HalfRecord, exact: bool) -> Outcomes:
    """Every outcome of a side. ``exact`` keeps levels apart that have the same muscles
    below; it is needed where any score of either side is starred."""
    return _outcomes(steps(half), half.non_key, exact)


@lru_cache(maxsize=512)
def _outcomes(path: tuple[Step, ...], non_key: NonKey, exact: bool) -> Outcomes:
    if not non_key.tested:
        # A more caudal function is further below any level, so the two ends will do.
        found: Outcomes = {}
        for choice in (NonKey(), NonKey(KEY_PLACES[-1])):
            for outcome, (fewest, most) in _outcomes(path, choice, exact).items():
                _widen(found, outcome, fewest, most)
        return found
    lowest_non_key = NOTHING if non_key.segment is None else non_key.segment
    keeps_sensory = any(feeling.passes is Pass.ASSUMED for feeling in path[-1].feelings)
    ends: Outcomes = {}
    for state, (fewest, most) in _states(path, lowest_non_key, keeps_sensory, exact).items():
        _widen(ends, _ended(state, exact), fewest, most)
    return ends


@lru_cache(maxsize=4096)
def _states(
    path: tuple[Step, ...], lowest_non_key: int, keeps_sensory: bool, exact: bool
) -> dict[_State, tuple[int, int]]:
    """Every state after a path. Paths that begin alike, as those of one record with one
    value changed, share the work."""
    if not path:
        return {_State(far=lowest_non_key - Walk().level >= FAR): (0, 0)}
    step = path[-1]
    found: dict[_State, tuple[int, int]] = {}
    before = _states(path[:-1], lowest_non_key, keeps_sensory, exact)
    for state, (fewest, most) in before.items():
        for feeling in step.feelings:
            for grip in step.grips:
                after, weak = _after(state, step.place, feeling, grip, lowest_non_key)
                if not keeps_sensory:
                    after = _alike(after, step.place, exact)
                _widen(found, after, fewest + weak, most + weak)
    return found


def _after(
    state: _State, index: int, feeling: Feeling, grip: Grip | None, lowest_non_key: int
) -> tuple[_State, int]:
    """The state after a segment, and how many weak muscles are now known to count."""
    sensory = state.sensory.felt(index, feeling)
    motor = state.motor.moved(index, feeling, grip)
    far, pending, taken, to_take = state.far, state.pending, state.taken, state.to_take
    weak = 0
    if grip is not None and grip.grade < 3:
        if motor.walking:
            pending, to_take = pending + 1, index
        else:
            weak = 1
    if motor.level != state.motor.level:
        # What was passed on the way lies above the level now: starred, so normal.
        far = lowest_non_key - motor.level >= FAR
        taken, to_take, pending = max(taken, to_take), NOTHING, 0
    if not motor.walking:
        weak, pending, to_take = weak + pending, 0, NOTHING
    if grip is not None and grip.grade >= 1 and index - motor.level >= FAR:
        far = True
    sacral = state.sacral
    if index == LAST:
        assumed = not feeling.preserved and feeling.passes is Pass.ASSUMED and sensory.walking
        sacral = Sacral(feeling.preserved, assumed)
    return _State(sensory, motor, far, pending, taken, to_take, sacral), weak


def _alike(state: _State, index: int, exact: bool) -> _State:
    """One state for all that can only end in the same outcome."""
    sensory, motor = state.sensory, state.motor
    if motor.walking or (sensory.walking and sensory.level <= motor.level):
        if not exact and not sensory.walking:
            return state._replace(sensory=sensory._replace(level=ALIKE[sensory.level]))
        return state
    level, starred = higher(sensory, motor)
    reach = LAST if state.far else max(motor.level, index + 1 - FAR)
    return state._replace(
        sensory=Walk(level if exact else ALIKE[level], starred, walking=False),
        motor=motor._replace(level=reach),
    )


def _ended(state: _State, exact: bool) -> Outcome:
    sensory, motor = state.sensory.ended(), state.motor.ended()
    level, starred = higher(sensory, motor)
    return Outcome(
        level if exact else ALIKE[level],
        starred,
        state.far and motor.level < INTACT,
        motor.starred,
        max(state.taken, state.to_take),
        state.sacral,
    )


def _widen(found: dict[Key, tuple[int, int]], key: Key, fewest: int, most: int) -> None:
    low, high = found.get(key, (fewest, most))
    found[key] = (min(low, fewest), max(high, most))
