"""Which side each named place is on: "right hand and left foot", "palm and sole, left"."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from bodymap.terms import Modality, Side
from bodymap.wording.places import Place

Spot = tuple[str, Side | None]
"""A region and its side: left or right, or None where no side was said."""


@dataclass(frozen=True)
class Sided:
    """A place with the side that was said for it, if any."""

    place: Place
    side: Side | None

    def spots(self, otherwise: Side | None, test: Modality) -> frozenset[Spot]:
        """Its regions for a test on each side; ``otherwise`` where none was said."""
        side = self.side or otherwise or (Side.BOTH if self.place.both else None)
        sides: tuple[Side | None, ...] = (side,)
        if side is Side.BOTH:
            sides = (Side.LEFT, Side.RIGHT)
        return frozenset((r, s) for r in self.place.for_test(test).regions for s in sides)


def sided(skin: Iterable[Side | Place]) -> tuple[list[Sided], Side | None]:
    """Places with their sides, and the one side that was said without any place.

    A side before places is that of all that follow; behind them, of all since the last.
    """
    meaning = list(skin)
    said = {s for s in meaning if isinstance(s, Side)}
    alone = said.pop() if len(said) == 1 else None
    places = [p for p in meaning if isinstance(p, Place)]
    if not places:
        return [], alone
    if isinstance(meaning[0], Side):
        return _before(meaning), None
    return _behind(meaning), None


def two_sides(skin: Iterable[Side | Place]) -> bool:
    """Whether a side is said that belongs to no place, or two to the same, as in "right
    thumb and index finger on the left": nobody can know which is meant for what."""
    meaning = list(skin)
    if not any(isinstance(part, Place) for part in meaning):
        return False
    match meaning:
        case [Side() as before, Place(), Side() as behind] if before is not behind:
            return True
    return any(
        isinstance(one, Side) and isinstance(other, Side) and one is not other
        for one, other in pairwise(meaning)
    )


def _before(meaning: list[Side | Place]) -> list[Sided]:
    found: list[Sided] = []
    side: Side | None = None
    for number, part in enumerate(meaning):
        if isinstance(part, Place):
            found.append(Sided(part, side))
        elif number == len(meaning) - 1 and found:
            # "right thumb, and the index finger on the left"
            found[-1] = Sided(found[-1].place, part)
        else:
            side = part
    return found


def _behind(meaning: list[Side | Place]) -> list[Sided]:
    found: list[Sided] = []
    waiting: list[Place] = []
    side: Side | None = None
    for part in meaning:
        if isinstance(part, Place):
            waiting.append(part)
        else:
            side = part
            found += [Sided(p, side) for p in waiting]
            waiting = []
    return found + [Sided(p, side) for p in waiting]
