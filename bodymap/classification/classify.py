"""The classification as a whole: each field as the exact set of what it could be.

The order is that of the booklet: sensory levels, motor levels, neurological level,
completeness, impairment scale, zones of partial preservation; with the sums before.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from bodymap.classification import completeness, preservation
from bodymap.classification.levels import (
    Possible,
    higher_levels,
    motor_levels,
    named,
    neurological_levels,
    sensory_levels,
)
from bodymap.classification.possible import settling
from bodymap.classification.scores import PLACE, SIDES, Record
from bodymap.classification.sums import FIELDS as SUMS
from bodymap.classification.sums import added
from bodymap.classification.walks import steps
from bodymap.language import later

UNDETERMINED = "ND"

Field = tuple[str, ...]
"""The place of a result in the JSON: ("sensory_level", "right")."""

NO_INJURY = later(
    "Everything is normal and no spinal cord injury is documented: the impairment scale "
    "does not apply."
)
NO_MUSCLES = later("No key muscle was tested.")
NO_KEY_MUSCLES_BELOW = later(
    "No key muscles lie below the neurological level: 0 of 0 is taken as at least half "
    "(an inference, not a printed rule)."
)


@dataclass(frozen=True)
class Classification:
    """Every result with what it could be, in the order of the JSON."""

    record: Record
    results: Mapping[Field, Possible]

    def result(self, *field: str) -> str:
        """A result as it is printed: a value, with * where it rests on a starred score,
        or ND."""
        return printed(self.results[field])

    def possible(self, field: Field) -> tuple[str, ...]:
        """All that a field could be, as it would be printed."""
        found = self.results[field]
        return tuple(starred(name, found) for name in found)

    @property
    def muscles(self) -> tuple[int, int] | None:
        """Key muscles below the neurological level that reach 3, and how many there are,
        which tells C from D; None where that is undetermined."""
        level = self.result("neurological_level").rstrip("*")
        if level == UNDETERMINED:
            return None
        return completeness.counted(self.record, PLACE[level])

    @property
    def undetermined(self) -> tuple[Field, ...]:
        """The fields that untested points leave open."""
        return tuple(field for field, found in self.results.items() if len(found) > 1)

    def settle(self, field: Field) -> tuple[str, ...]:
        """The untested points that bear on an undetermined field, in words."""
        return tuple(str(p) for p in settling(self.record, RESULTS[field]))

    @property
    def notes(self) -> tuple[str, ...]:
        """What a reader should know beside the results."""
        notes = []
        scale = self.results["impairment_scale",]
        if "NA" in scale:
            notes.append(NO_INJURY)
        level = self.result("neurological_level").rstrip("*")
        if "D" in scale and PLACE.get(level, 0) in (PLACE["S1"], PLACE["S2"], PLACE["S3"]):
            notes.append(NO_KEY_MUSCLES_BELOW)
        if not self.record.has_motor:
            notes.append(NO_MUSCLES)
        return tuple(notes)


def classify(record: Record) -> Classification:
    """The classification of a record."""
    return Classification(record, {field: find(record) for field, find in RESULTS.items()})


def as_json(classification: Classification) -> dict[str, Any]:
    """The classification for other programs. ``possible`` holds, at the place of each
    undetermined field, what it could be, and under ``settle`` at the same place the
    untested points of which some value would narrow that."""
    document: dict[str, Any] = {}
    possible: dict[str, Any] = {}
    settle: dict[str, Any] = {}
    for field, found in classification.results.items():
        number = field[0] in SUMS
        value = printed(found)
        _put(document, field, int(value) if number and value != UNDETERMINED else value)
        if len(found) > 1:
            values = [int(v) if number else v for v in classification.possible(field)]
            _put(possible, field, values)
            _put(settle, field, list(classification.settle(field)))
    document["possible"] = possible | ({"settle": settle} if settle else {})
    return document


def printed(found: Possible) -> str:
    """The one result that is possible, or ND."""
    if len(found) != 1:
        return UNDETERMINED
    return starred(next(iter(found)), found)


def starred(name: str, found: Possible) -> str:
    """A result with its star, if it carries one."""
    return f"{name}*" if found[name] else name


def _put(document: dict[str, Any], field: Field, value: Any) -> None:
    for name in field[:-1]:
        document = document.setdefault(name, {})
    document[field[-1]] = value


def _sensory_level(record: Record, side: str) -> Possible:
    return named(sensory_levels(steps(record.sides[side])))


def _motor_level(record: Record, side: str) -> Possible:
    return named(motor_levels(steps(record.sides[side])))


def _neurological_level(record: Record) -> Possible:
    right, left = (higher_levels(steps(record.sides[side])) for side in SIDES)
    return named(neurological_levels(right, left))


def _sensory_zone(record: Record, side: str) -> Possible:
    return preservation.sensory_zone(record.deep_anal_pressure, steps(record.sides[side]))


def _motor_zone(record: Record, side: str) -> Possible:
    return preservation.motor_zone(record.voluntary_anal_contraction, steps(record.sides[side]))


RESULTS: dict[Field, Callable[[Record], Possible]] = {
    **{("sensory_level", side): partial(_sensory_level, side=side) for side in SIDES},
    **{("motor_level", side): partial(_motor_level, side=side) for side in SIDES},
    ("neurological_level",): _neurological_level,
    **{
        (field, which): partial(added, field=field, which=which)
        for field in SUMS
        for which in (*SIDES, "total")
    },
    ("sacral_sensory_sparing",): completeness.sacral_sensory_sparing,
    ("completeness",): completeness.completeness,
    ("impairment_scale",): completeness.impairment_scale,
    **{
        ("partial_preservation", kind, side): partial(zone, side=side)
        for kind, zone in (("sensory", _sensory_zone), ("motor", _motor_zone))
        for side in SIDES
    },
}
"""How each field is found, in the order of the JSON."""
