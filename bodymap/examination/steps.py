"""What is asked, one step after another, given what is answered already.

Points are compared side against side. A ladder begins at the most distal place of a limb
and goes up on the sides where it was not normal, until it is.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from bodymap.atlas.assets import assets_folder
from bodymap.atlas.facts import Facts, KeyPoint
from bodymap.classification.scores import POINTS
from bodymap.examination.parts import Part, methods
from bodymap.findings.record import BedsideRecord, Path
from bodymap.findings.sites import Site, ladder, site
from bodymap.language import capital, tr
from bodymap.terms import Side

SCREENING = (
    "C4", "C5", "C6", "C7", "C8", "T1", "T4", "T6", "T8", "T10", "L2", "L3", "L4", "L5", "S1",
)  # fmt: skip
"""Key points of the limbs, and the trunk by T4 and T10 with equal bands between: what a
bedside examination goes through. Common practice, no source."""

BOTH = (Side.RIGHT, Side.LEFT)
CHEEK = "cheek"


class Kind(StrEnum):
    """How a step is answered."""

    COMPARE = "compare"
    """Side against side: normal, or what is different."""
    REFERENCE = "reference"
    """The cheek, with which everything is compared."""
    TRIALS = "trials"
    """A run of forced choices."""
    ROMBERG = "romberg"
    COUNT = "count"
    """Touches felt, of three."""
    DISTANCE = "distance"
    """mm on each side."""


@dataclass(frozen=True)
class Step:
    """One question. ``place`` is a segment, or the id of a place; ``where`` says in words
    where to touch; ``sides`` are those still to be asked."""

    part: Part
    kind: Kind
    place: str
    label: str
    where: str
    sides: tuple[Side, ...] = BOTH

    @property
    def key(self) -> str:
        """The step in a word or two, as remarks name it: "pinprick C6"."""
        return f"{self.part.value.replace('-', ' ')} {self.place}".strip()

    def key_of(self, side: Side) -> str:
        """The step on one side, as reasons name it: "pinprick right C6"."""
        return f"{self.part.value.replace('-', ' ')} {side.value} {self.place}".strip()

    def path(self, side: Side) -> Path:
        """The place of its answer in the record."""
        if self.kind is Kind.REFERENCE:
            return ("reference", self.part.field)
        if self.kind is Kind.ROMBERG or self.kind is Kind.TRIALS:
            return (self.part.field,)
        return (self.part.field, side.value, self.place)

    def answered(self, record: BedsideRecord) -> bool:
        """Whether the record holds an answer for every side that is asked."""
        return all(record.at(*self.path(side)) is not None for side in self.sides)

    @property
    def site(self) -> Site | None:
        """The place of the ladder, if it is one."""
        return site(self.part.value, self.place)


@cache
def key_points() -> dict[str, KeyPoint]:
    """The 28 key points by segment."""
    return {point.dermatome: point for point in Facts(assets_folder()).key_points}


@dataclass(frozen=True)
class Plan:
    """Which parts in which order, whether every segment is asked or the usual ones, and at
    which key points temperature is asked besides its ladder."""

    parts: tuple[Part, ...]
    every_segment: bool = False
    temperature_at: tuple[str, ...] = ()

    @classmethod
    def usual(cls) -> "Plan":
        """The parts that belong to every examination, in the usual order."""
        return cls(tuple(part for part, method in methods().items() if method.usual))

    def steps(self, record: BedsideRecord) -> tuple[Step, ...]:
        """Every step, as far as the answers tell which there are."""
        return tuple(step for part in self.parts for step in self.steps_of(part, record))

    def steps_of(self, part: Part, record: BedsideRecord) -> tuple[Step, ...]:
        """The steps of one part."""
        title = part.method.title
        if part in (Part.LIGHT_TOUCH, Part.PINPRICK):
            points = POINTS if self.every_segment else SCREENING
            cheek = Step(part, Kind.REFERENCE, CHEEK, tr("Cheek"), tr("cheek, to compare with"), ())
            return (cheek, *(_point_step(part, name) for name in points))
        if part is Part.SHARP_DULL:
            return (Step(part, Kind.TRIALS, "", title, tr("one spot"), ()),)
        if part is Part.ROMBERG:
            return (Step(part, Kind.ROMBERG, "", title, tr("standing"), ()),)
        if part in (Part.MONOFILAMENT, Part.TWO_POINT):
            kind = Kind.COUNT if part is Part.MONOFILAMENT else Kind.DISTANCE
            limb = "leg" if part is Part.MONOFILAMENT else "arm"
            return tuple(_site_step(part, kind, s) for s in ladder(part.value, limb))
        rungs = (*_rungs(part, "leg", record), *_rungs(part, "arm", record))
        if part is Part.TEMPERATURE:
            return (*rungs, *(_point_step(part, p) for p in self._cold_points(record)))
        return rungs

    def _cold_points(self, record: BedsideRecord) -> list[str]:
        """Key points where temperature is to be asked, or was."""
        asked = {p for side in BOTH for p in record.at("temperature", side.value) or ()}
        return [p for p in POINTS if p in asked or p in self.temperature_at]

    def next_step(
        self, record: BedsideRecord, passed: frozenset[str] = frozenset(), after: str = ""
    ) -> Step | None:
        """The first step behind ``after`` (a key) that is neither answered nor passed
        over, then one from the beginning, or None when all is done."""
        steps = self.steps(record)
        keys = [step.key for step in steps]
        start = keys.index(after) + 1 if after in keys else 0
        for step in (*steps[start:], *steps[:start]):
            if step.key not in passed and not is_done(step, record):
                return step
        return None

    def progress(self, part: Part, record: BedsideRecord) -> tuple[int, int]:
        """Steps of a part that are answered, and all of them as far as known."""
        steps = self.steps_of(part, record)
        return sum(is_done(step, record) for step in steps), len(steps)


def is_done(step: Step, record: BedsideRecord) -> bool:
    """Whether nothing more need be asked at a step."""
    if step.sides:
        return step.answered(record)
    return record.at(*step.path(Side.RIGHT)) is not None


def _point_step(part: Part, name: str) -> Step:
    return Step(part, Kind.COMPARE, name, name, tr(key_points()[name].location))


def _site_step(part: Part, kind: Kind, place: Site, sides: tuple[Side, ...] = BOTH) -> Step:
    return Step(part, kind, place.id, capital(place.label), place.label, sides)


def _rungs(part: Part, limb: str, record: BedsideRecord) -> Iterator[Step]:
    """The rungs of a ladder that are known to be asked."""
    sides: tuple[Side, ...] = BOTH
    places = ladder(part.value, limb)
    for number, place in enumerate(places):
        yield _site_step(part, Kind.COMPARE, place, sides)
        found = {side: felt(record, part, side, place.id) for side in sides}
        sides = tuple(side for side in sides if found[side] not in (None, "normal"))
        # An answer farther up that is not needed any more can still be reached and cleared.
        above = places[number + 1 :]
        kept = tuple(
            side for side in BOTH
            if side in sides or any(felt(record, part, side, p.id) for p in above)
        )  # fmt: skip
        if not kept:
            return
        if not sides:
            held = [p for p in above if any(felt(record, part, s, p.id) for s in BOTH)]
            for p in held:
                at = tuple(s for s in BOTH if felt(record, part, s, p.id))
                yield _site_step(part, Kind.COMPARE, p, at)
            return


def felt(record: BedsideRecord, part: Part, side: Side, place: str) -> str | None:
    """What was found at a place of a ladder: a word of the record, or None."""
    value = record.at(part.field, side.value, place)
    if part is Part.TEMPERATURE or value is None:
        return value if isinstance(value, str) else None
    word = value.get("felt")
    return word if isinstance(word, str) else None
