"""Weak muscles and changed reflexes that were noted beside the sensory findings."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from bodymap.language import tr
from bodymap.terms import Side


class SignChange(StrEnum):
    """What was found. Muscles are weak or normal; reflexes reduced, absent, brisk or
    normal."""

    WEAK = "weak"
    REDUCED = "reduced"
    ABSENT = "absent"
    BRISK = "brisk"
    NORMAL = "normal"

    @property
    def word(self) -> str:
        """The answer as it is read."""
        return {
            SignChange.WEAK: tr("weak"),
            SignChange.REDUCED: tr("reduced"),
            SignChange.ABSENT: tr("absent"),
            SignChange.BRISK: tr("brisk"),
            SignChange.NORMAL: tr("normal"),
        }[self]


MUSCLE_CHANGES = (SignChange.WEAK, SignChange.NORMAL)
REFLEX_CHANGES = (SignChange.REDUCED, SignChange.ABSENT, SignChange.BRISK, SignChange.NORMAL)

CHANGES = {"muscle": MUSCLE_CHANGES, "reflex": REFLEX_CHANGES}
"""Which words each kind of sign may take."""

SignKey = tuple[str, Side]
"""Id of a sign (``Facts.signs``) and the side, left or right."""


@dataclass(frozen=True)
class Signs:
    """All noted signs; the last answer for a muscle or reflex counts."""

    found: Mapping[SignKey, SignChange] = field(default_factory=lambda: MappingProxyType({}))

    def __bool__(self) -> bool:
        return bool(self.found)

    def noted(self, sign: str, side: Side, change: SignChange | None) -> "Signs":
        """The signs with one more answer, or without one (None)."""
        sides = (Side.LEFT, Side.RIGHT) if side is Side.BOTH else (side,)
        found = {k: v for k, v in self.found.items() if k[0] != sign or k[1] not in sides}
        if change is not None:
            found |= {(sign, s): change for s in sides}
        return Signs(MappingProxyType(found))

    def mirrored(self) -> "Signs":
        """The same signs on the other side."""
        return Signs(MappingProxyType({(n, s.opposite): c for (n, s), c in self.found.items()}))
