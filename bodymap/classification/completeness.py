"""Steps 4 and 5: sacral sparing, completeness and the impairment scale.

Sacral sparing is any sensation at S4-5 of either side, deep anal pressure, or voluntary
anal contraction; without it the injury is complete (booklet [S]).

A  complete.
B  sensory sacral sparing, no voluntary anal contraction, and no motor function more than
   three levels below the motor level of its own side.
C  motor function is spared: voluntary anal contraction, or sensory sacral sparing with
   motor function (1 or more in a key muscle, or any other muscle) more than three levels
   below the motor level; fewer than half of the key muscles below the neurological level,
   of both sides together, reach 3.
D  as C, but at least half reach 3. Below S1 there are no key muscles: 0 of 0 is at least
   half, so D [C, an inference].
E  all levels intact and voluntary anal contraction present, after a documented injury;
   without one the scale does not apply. Deep anal pressure is not asked for, since it
   need not be tested where S4-5 has sensation [M].

Motor levels decide B against C, the neurological level C against D (Kirshblum et al.,
J Spinal Cord Med 2014 [S]). A result carries a star where one that it is read from
does, or where a starred muscle counts as normal in it [C].
"""

from collections.abc import Iterator
from itertools import product

from bodymap.classification.levels import Possible, most_rostral
from bodymap.classification.scores import INTACT, SIDES, Record
from bodymap.classification.severity import Outcome, Outcomes, muscles_below, outcomes

Found = tuple[str, bool]
"""A result and whether it rests on a starred score."""


def tested_ways(finding: bool | None) -> tuple[bool, ...]:
    """A finding, or both that could stand in the place of NT."""
    return (True, False) if finding is None else (finding,)


def side_outcomes(record: Record) -> tuple[Outcomes, Outcomes]:
    """What both sides add, in every way it could be."""
    exact = any(half.starred for half in record.sides.values())
    right, left = (outcomes(record.sides[side], exact) for side in SIDES)
    return right, left


def sacral_sensory_sparing(record: Record) -> Possible:
    """Whether sensation is spared at S4-5 or deep in the anus: yes or no."""
    return _gathered(_spared(pressure, right, left) for pressure, right, left in _sacral(record))


def completeness(record: Record) -> Possible:
    """Complete or incomplete."""
    return _gathered(
        _complete(_spared(pressure, right, left), contraction)
        for pressure, right, left in _sacral(record)
        for contraction in tested_ways(record.voluntary_anal_contraction)
    )


def impairment_scale(record: Record) -> Possible:
    """The grade A to E, or NA where everything is normal and no injury is documented."""
    found: set[Found] = set()
    right, left = side_outcomes(record)
    ways = [
        (pressure, contraction)
        for pressure in tested_ways(record.deep_anal_pressure)
        for contraction in tested_ways(record.voluntary_anal_contraction)
    ]
    for (a, (fewest_a, most_a)), (b, (fewest_b, most_b)) in product(right.items(), left.items()):
        weak = {fewest_a + fewest_b, most_a + most_b}
        for pressure, contraction in ways:
            found |= _grades(a, b, weak, _spared(pressure, a, b), contraction)
    if not record.cord_injury:
        found = {("NA" if grade == "E" else grade, star) for grade, star in found}
    return _gathered(found)


def counted(record: Record, level: int) -> tuple[int, int] | None:
    """Key muscles below a neurological level that reach 3, and how many there are; None
    where that depends on muscles that were not tested."""
    right, left = side_outcomes(record)
    fewest = min(low for low, _ in right.values()) + min(low for low, _ in left.values())
    most = max(high for _, high in right.values()) + max(high for _, high in left.values())
    there = muscles_below(level)
    return (there - fewest, there) if fewest == most else None


def _sacral(record: Record) -> Iterator[tuple[bool, Outcome, Outcome]]:
    right, left = side_outcomes(record)
    ends = product(_by_sacral(right), _by_sacral(left))
    for (a, b), pressure in product(ends, tested_ways(record.deep_anal_pressure)):
        yield pressure, a, b


def _by_sacral(found: Outcomes) -> list[Outcome]:
    """One outcome for each way that S4-5 could be."""
    return list({outcome.sacral: outcome for outcome in found}.values())


def _spared(pressure: bool, right: Outcome, left: Outcome) -> Found:
    if pressure or right.sacral.present or left.sacral.present:
        return "yes", False
    assumed = right.sacral.assumed or left.sacral.assumed
    return ("yes", True) if assumed else ("no", False)


def _complete(spared: Found, contraction: bool) -> Found:
    if contraction:
        return "incomplete", False
    return ("incomplete", spared[1]) if spared[0] == "yes" else ("complete", False)


def _grades(
    right: Outcome, left: Outcome, weak: set[int], spared: Found, contraction: bool
) -> set[Found]:
    """The grades of two sides with the fewest and the most weak muscles."""
    kind, starred = _complete(spared, contraction)
    if kind == "complete":
        return {("A", False)}
    level, level_starred = most_rostral((right.level, right.starred), (left.level, left.starred))
    if contraction:
        if level == INTACT:
            return {("E", level_starred)}
    else:
        far = [side for side in (right, left) if side.far]
        if not far:
            return {("B", starred or right.motor_starred or left.motor_starred)}
        starred = starred or all(side.motor_starred for side in far)
    starred = starred or level_starred or max(right.taken_as_normal, left.taken_as_normal) > level
    there = muscles_below(level)
    return {("D" if 2 * count <= there else "C", starred) for count in weak}


def _gathered(found: Iterator[Found] | set[Found]) -> Possible:
    """Results in the order of their names, starred if any way to them is."""
    gathered: dict[str, bool] = {}
    for name, starred in sorted(found):
        gathered[name] = gathered.get(name, False) or starred
    return gathered
