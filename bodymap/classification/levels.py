"""Steps 1 to 3: sensory levels, motor levels, and the neurological level of injury.

Sensory level: the most caudal segment whose light touch and pinprick are both 2, with
every more rostral segment the same (booklet [S]).

Motor level: the lowest key muscle of grade 3 or more with everything above intact;
segments without a key muscle are judged by sensation (booklet [M]). Two readings of
this are published (Schuld et al., Top Spinal Cord Inj Rehabil 2025;31(3):37-47 [S]).
Here motor *function* follows sensory function segment by segment (MFSF). In the other,
the motor *level* follows the sensory *level*; the two differ only where all key muscles
of an arm are 5 and sensation is abnormal within their segments.

Neurological level: the most rostral of the four; INT counts as the lowest.
"""

from collections.abc import Collection, Iterable, Mapping
from functools import lru_cache

from bodymap.classification.scores import LEVELS
from bodymap.classification.walks import Feeling, Grip, Step, Walk, reached
from bodymap.language import later

READING = later(
    "Motor level: in segments without a key muscle, motor function is taken to follow "
    "sensory function of the same segment (MFSF)."
)
"""Which of the two published readings this is."""

Level = tuple[int, bool]
"""Index of a level, and whether it rests on a starred score."""

Possible = Mapping[str, bool]
"""What a result could be, and whether that rests on a starred score."""


@lru_cache(maxsize=1024)
def sensory_levels(path: tuple[Step, ...]) -> frozenset[Level]:
    """Every sensory level that a side could have."""

    def advance(walk: Walk, index: int, feeling: Feeling, _: Grip | None) -> Walk:
        return walk.felt(index, feeling)

    return frozenset((w.level, w.starred) for w in map(Walk.ended, reached(Walk(), path, advance)))


@lru_cache(maxsize=1024)
def motor_levels(path: tuple[Step, ...]) -> frozenset[Level]:
    """Every motor level that a side could have."""
    walks = map(Walk.ended, reached(Walk(), path, Walk.moved))
    return frozenset((w.level, w.starred) for w in walks)


@lru_cache(maxsize=1024)
def higher_levels(path: tuple[Step, ...]) -> frozenset[Level]:
    """The more rostral of sensory and motor level of a side, in every way it could be:
    the two depend on the same segments, so they are walked together."""

    def advance(
        walks: tuple[Walk, Walk], index: int, feeling: Feeling, grip: Grip | None
    ) -> tuple[Walk, Walk]:
        return joined(walks[0].felt(index, feeling), walks[1].moved(index, feeling, grip))

    ends = reached((Walk(), Walk()), path, advance)
    return frozenset(higher(a.ended(), b.ended()) for a, b in ends)


def joined(sensory: Walk, motor: Walk) -> tuple[Walk, Walk]:
    """The two walks of a side, with alike states made one: a walk that stands below the
    end of the other no longer decides which is the higher."""
    if not motor.walking and sensory.level > motor.level:
        return motor, motor
    if not sensory.walking and motor.level > sensory.level:
        return sensory, sensory
    return sensory, motor


def higher(sensory: Walk, motor: Walk) -> Level:
    """The more rostral of two levels; starred if either of two equal ones is."""
    level = min(sensory.level, motor.level)
    return level, any(w.starred for w in (sensory, motor) if w.level == level)


def neurological_levels(right: Iterable[Level], left: Collection[Level]) -> set[Level]:
    """The most rostral level of both sides, in every way it could be."""
    return {most_rostral(a, b) for a in right for b in left}


def most_rostral(right: Level, left: Level) -> Level:
    """The more rostral level; starred if a level that stands there is."""
    level = min(right[0], left[0])
    return level, any(star for at, star in (right, left) if at == level)


def named(levels: Iterable[Level]) -> Possible:
    """Levels by name, head to foot."""
    found: dict[str, bool] = {}
    for index, starred in sorted(levels):
        found[LEVELS[index]] = found.get(LEVELS[index], False) or starred
    return found
