"""Step 6: the zone of partial preservation, four independent values.

Rules of the 2019 revision: Schuld et al., Spinal Cord 2024 [S]; Kirshblum et al.,
Spinal Cord 2022;60:11-17 [S].

Motor, both sides: only without voluntary anal contraction, whatever the grade; the most
caudal key muscle of grade 1 or more. Other muscles are not used [M], and sensation in
segments without key muscles does not extend it [M].
Sensory, each side: only if its S4-5 has neither light touch nor pinprick and deep anal
pressure is absent; the most caudal segment with any of the two.
Where nothing is preserved below the level, the level itself is entered.

Where the level itself is entered and carries a star, so does the zone [C].
"""

from functools import lru_cache
from typing import NamedTuple

from bodymap.classification.completeness import tested_ways
from bodymap.classification.levels import Level, Possible, named
from bodymap.classification.walks import FIRST, Feeling, Grip, Pass, Step, Walk, reached

NOT_APPLICABLE = "NA"
ENDED = Walk(walking=False)


class _Trace(NamedTuple):
    """A walk to the level and the lowest segment below it where anything is preserved."""

    walk: Walk = Walk()
    lowest: int = FIRST

    def after(self, walk: Walk, index: int, preserved: bool) -> "_Trace":
        """The trace after a segment, without what no longer matters: the level if
        something is preserved below it, else the lowest."""
        lowest = index if preserved else self.lowest
        if walk.walking:
            return _Trace(walk, lowest)
        return _Trace(ENDED, lowest) if lowest > walk.level else _Trace(walk, FIRST)

    @property
    def zone(self) -> Level:
        """Where the zone ends, with the star of the level if that is entered."""
        below = self.lowest > self.walk.level
        return (self.lowest, False) if below else (self.walk.level, self.walk.starred)


@lru_cache(maxsize=1024)
def sensory_zone(pressure: bool | None, path: tuple[Step, ...]) -> Possible:
    """The sensory zone of a side, in every way it could be with this deep anal pressure."""

    def advance(trace: _Trace, index: int, feeling: Feeling, _: Grip | None) -> _Trace:
        return trace.after(trace.walk.felt(index, feeling), index, feeling.preserved)

    pressures = tested_ways(pressure)
    zones: set[Level] = set()
    spared = True in pressures
    for trace in reached(_Trace(), path[:-1], advance) if False in pressures else ():
        for feeling in path[-1].feelings:
            if feeling.preserved or (trace.walk.walking and feeling.passes is Pass.ASSUMED):
                spared = True
            else:
                zones.add(trace.zone)
    return _printed(zones, spared)


@lru_cache(maxsize=1024)
def motor_zone(contraction: bool | None, path: tuple[Step, ...]) -> Possible:
    """The motor zone of a side, in every way it could be with this anal contraction."""

    def advance(trace: _Trace, index: int, feeling: Feeling, grip: Grip | None) -> _Trace:
        walk = trace.walk.moved(index, feeling, grip)
        return trace.after(walk, index, grip is not None and grip.grade >= 1)

    contractions = tested_ways(contraction)
    zones: set[Level] = set()
    for trace in reached(_Trace(), path, advance) if False in contractions else ():
        zones.add(trace._replace(walk=trace.walk.ended()).zone)
    return _printed(zones, True in contractions)


def _printed(zones: set[Level], may_not_apply: bool) -> Possible:
    return {**({NOT_APPLICABLE: False} if may_not_apply else {}), **named(zones)}
