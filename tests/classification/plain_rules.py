"""The same rules written anew for a record in which everything was tested.

The reference of the tests. It shares no code with the classification: it looks at plain
numbers, finds levels by trying every segment, and knows nothing of sets or walks. What
was not tested is filled in with every admissible value by ``by_substitution``.
"""

from dataclasses import replace
from itertools import product

from bodymap.classification.scores import HalfRecord, NonKey, Record, Score

NAMES = [
    "C1",
    *(f"C{n}" for n in range(2, 9)),
    *(f"T{n}" for n in range(1, 13)),
    *(f"L{n}" for n in range(1, 6)),
    "S1",
    "S2",
    "S3",
    "S4-5",
    "INT",
]
MUSCLE_AT = {4 + n: n for n in range(5)} | {21 + n: 5 + n for n in range(5)}


class Side:
    """A side with everything tested. ``numbers[segment]`` are touch, pin and muscle."""

    def __init__(self, half: HalfRecord) -> None:
        self.examined: list[tuple[int, int, int | None]] = [(2, 2, None)]
        self.as_normal: list[tuple[int, int, int | None]] = [(2, 2, None)]
        for segment in range(1, 29):
            scores = [half.light_touch[segment - 1], half.pinprick[segment - 1]]
            muscle = half.motor[MUSCLE_AT[segment]] if segment in MUSCLE_AT else None
            self.examined.append(
                (scores[0].value, scores[1].value, muscle.value if muscle else None)  # type: ignore
            )
            self.as_normal.append(
                (
                    2 if scores[0].starred else scores[0].value,
                    2 if scores[1].starred else scores[1].value,
                    (5 if muscle.starred else muscle.value) if muscle else None,
                )  # type: ignore[arg-type]
            )
        self.other = half.non_key.segment
        self.sensory, self.sensory_starred = self._level(self._sensory_walk)
        self.motor, self.motor_starred = self._level(self._motor_walk)

    def reading(self, level: int) -> list[tuple[int, int, int | None]]:
        """Starred scores above a level as normal, at or below it as examined."""
        return [
            self.as_normal[s] if s < level else self.examined[s] for s in range(len(self.examined))
        ]

    def _level(self, walk):  # type: ignore[no-untyped-def]
        """The lowest level that agrees with the reading it makes; starred if taking all
        scores as examined gives another."""
        found = max(level for level in range(30) if walk(self.reading(level)) == level)
        return found, found != walk(self.examined)

    @staticmethod
    def _sensory_walk(numbers: list[tuple[int, int, int | None]]) -> int:
        for segment in range(1, 29):
            if numbers[segment][:2] != (2, 2):
                return segment - 1
        return 29

    @staticmethod
    def _motor_walk(numbers: list[tuple[int, int, int | None]]) -> int:
        for segment in range(1, 29):
            touch, pin, muscle = numbers[segment]
            if muscle is None:
                if (touch, pin) != (2, 2):
                    return segment - 1
            elif muscle < 3:
                return segment - 1
            elif muscle < 5:
                return segment
        return 29

    @property
    def levels(self) -> list[tuple[int, bool]]:
        return [(self.sensory, self.sensory_starred), (self.motor, self.motor_starred)]

    @property
    def far(self) -> bool:
        muscles = [s for s in MUSCLE_AT if (self.examined[s][2] or 0) >= 1]
        muscles += [] if self.other is None else [self.other]
        return any(s > self.motor + 3 for s in muscles)

    def sacral(self) -> tuple[bool, bool]:
        """Sensation at S4-5, and whether it rests on a star."""
        examined = any(self.examined[28][:2])
        used = any(self.reading(self.sensory)[28][:2])
        return used, used and not examined

    def muscles(self) -> dict[int, int]:
        read = self.reading(self.motor)
        return {s: read[s][2] for s in MUSCLE_AT}  # type: ignore[misc]

    def sensory_zone(self) -> str:
        lowest = max([0, *(s for s in range(1, 29) if any(self.examined[s][:2]))])
        return self._zone(lowest, self.sensory, self.sensory_starred)

    def motor_zone(self) -> str:
        lowest = max([0, *(s for s in MUSCLE_AT if (self.examined[s][2] or 0) >= 1)])
        return self._zone(lowest, self.motor, self.motor_starred)

    @staticmethod
    def _zone(lowest: int, level: int, starred: bool) -> str:
        return NAMES[lowest] if lowest > level else NAMES[level] + "*" * starred


def plain(record: Record, right: Side, left: Side) -> dict[tuple[str, ...], str]:
    """Every result but the sums, of two sides in which everything was tested and the
    anal findings and injury of a record."""
    sides = {"right": right, "left": left}
    both = [right, left]
    pressure, contraction = record.deep_anal_pressure, record.voluntary_anal_contraction
    found: dict[tuple[str, ...], str] = {}
    for name, side in sides.items():
        found["sensory_level", name] = NAMES[side.sensory] + "*" * side.sensory_starred
        found["motor_level", name] = NAMES[side.motor] + "*" * side.motor_starred
        applies = not side.sacral()[0] and not pressure
        found["partial_preservation", "sensory", name] = side.sensory_zone() if applies else "NA"
        found["partial_preservation", "motor", name] = "NA" if contraction else side.motor_zone()
    levels = [level for side in both for level in side.levels]
    injury = min(level for level, _ in levels)
    injury_star = any(star for level, star in levels if level == injury)
    found["neurological_level",] = NAMES[injury] + "*" * injury_star
    spared = pressure or any(side.sacral()[0] for side in both)
    spared_star = (
        spared and not pressure and all(side.sacral()[1] or not side.sacral()[0] for side in both)
    )
    found["sacral_sensory_sparing",] = "yes" + "*" * spared_star if spared else "no"
    complete = not spared and not contraction
    complete_star = spared_star and not contraction
    found["completeness",] = "complete" if complete else "incomplete" + "*" * complete_star
    found["impairment_scale",] = _grade(both, record, complete, complete_star, injury, injury_star)
    return found


def _grade(
    both: list[Side], record: Record, complete: bool, star: bool, injury: int, injury_star: bool
) -> str:
    if complete:
        return "A"
    if record.voluntary_anal_contraction:
        if injury == 29:
            return ("E" if record.cord_injury else "NA") + "*" * injury_star
    else:
        if not any(side.far for side in both):
            return "B" + "*" * (star or any(side.motor_starred for side in both))
        star = star or all(side.motor_starred for side in both if side.far)
    below = [(side, s, grade) for side in both for s, grade in side.muscles().items() if s > injury]
    strong = sum(grade >= 3 for _, _, grade in below)
    star = star or injury_star
    star = star or any(grade >= 3 and (side.examined[s][2] or 0) < 3 for side, s, grade in below)
    return ("D" if strong >= len(below) / 2 else "C") + "*" * star


def by_substitution(record: Record) -> dict[tuple[str, ...], dict[str, bool]]:
    """Every result with all that it could be, by every way to fill in what is missing."""
    sides = []
    for half in (record.right, record.left):
        parts = [
            [s.possible(normal) for s in scores]
            for scores, normal in ((half.light_touch, 2), (half.pinprick, 2), (half.motor, 5))
        ]
        others = [half.non_key] if half.non_key.tested else _any_non_key()
        sides.append([
            Side(HalfRecord(*(_filled(half, values)), non_key))
            for values in product(*parts[0], *parts[1], *parts[2])
            for non_key in others
        ])  # fmt: skip
    found: dict[tuple[str, ...], dict[str, bool]] = {}
    pressures = [True, False] if record.deep_anal_pressure is None else [record.deep_anal_pressure]
    contractions = [record.voluntary_anal_contraction]
    if record.voluntary_anal_contraction is None:
        contractions = [True, False]
    for right, left, pressure, contraction in product(*sides, pressures, contractions):
        filled = replace(
            record, deep_anal_pressure=pressure, voluntary_anal_contraction=contraction
        )
        for field, printed in plain(filled, right, left).items():
            name = printed.removesuffix("*")
            results = found.setdefault(field, {})
            results[name] = results.get(name, False) or printed.endswith("*")
    return found


def _any_non_key() -> list[NonKey]:
    return [NonKey(index) for index in (None, *MUSCLE_AT)]


def _filled(half: HalfRecord, values: tuple[int, ...]) -> list[tuple[Score, ...]]:
    scores = [*half.light_touch, *half.pinprick, *half.motor]
    made = tuple(Score(v, s.starred) for v, s in zip(values, scores, strict=True))
    return [made[:28], made[28:56], made[56:]]
