"""Patterns of altered skin that need urgent thought, whatever ranks first.

Each rule looks at skin and record alone and errs on the side of warning. The shares are
judgement; the patterns are those of the usual teaching (Hardy, Continuum 2021;27:
12-29; for the cauda equina see Venkatesan 2019).
"""

from enum import StrEnum

import numpy as np
import numpy.typing as npt

from bodymap.atlas import Atlas
from bodymap.classification.scores import KEY_MUSCLES, LEG_MUSCLES, NORMAL_GRADE
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Floats
from bodymap.terms import DERMATOMES, View

LEAST_CM2 = 0.05
"""Less altered skin than a pin's head is no finding."""

FACE = ("V1", "V2", "V3")
TRUNK = (*(f"T{n}" for n in range(3, 13)), "L1")
SADDLE_SEGMENTS = ("S3", "S4", "S5")
LIPS = ("upper-lip", "lower-lip", "chin")
PARTS = ("face", "arm", "trunk", "leg")


class RedFlag(StrEnum):
    """A pattern that needs urgent thought."""

    SADDLE = "saddle"
    SENSORY_LEVEL = "sensory-level"
    CROSSED = "crossed"
    HALF_OF_BODY = "half-of-body"
    MOUTH_AND_HAND = "mouth-and-hand"
    BOTH_LEGS = "both-legs"
    SPHINCTER = "sphincter"
    WEAK_LEGS = "weak-legs"


def red_flags(atlas: Atlas, drawing: Drawing) -> tuple[RedFlag, ...]:
    """The red flags of a drawing and its record, the most pressing first."""
    recorded = tuple(flag for flag, raised in _recorded(drawing) if raised)
    altered = drawing.altered_cm2(atlas)
    if altered.sum() < LEAST_CM2:
        return recorded
    skin = _Skin(atlas, altered)
    checks = (
        (RedFlag.SADDLE, skin.saddle()),
        (RedFlag.SENSORY_LEVEL, skin.level()),
        (RedFlag.CROSSED, skin.crossed()),
        (RedFlag.HALF_OF_BODY, skin.half()),
        (RedFlag.MOUTH_AND_HAND, skin.mouth_and_hand()),
        (RedFlag.BOTH_LEGS, skin.both_legs()),
    )
    return (*recorded, *(flag for flag, raised in checks if raised))


def _recorded(drawing: Drawing) -> tuple[tuple[RedFlag, bool], ...]:
    """What the record raises whatever the skin shows: no anal sensation or contraction, and
    weak key muscles or muscles of both legs."""
    record = drawing.record
    anal = (record.at("deep_anal_pressure"), record.at("voluntary_anal_contraction"))
    lost = any(str(found).strip().lower() == "no" for found in anal)
    weak = {
        side
        for side, half in record.scores.sides.items()
        for segment, grade in zip(KEY_MUSCLES, half.motor, strict=True)
        if segment in LEG_MUSCLES and grade.value is not None and grade.value < NORMAL_GRADE
    }
    return (RedFlag.SPHINCTER, lost), (RedFlag.WEAK_LEGS, len(weak) == 2)


class _Skin:
    """Altered shares of body parts and segments, right and left."""

    def __init__(self, atlas: Atlas, altered: Floats) -> None:
        cells = atlas.cells
        self._area, self._altered, self._left = cells.area_cm2, altered, cells.left
        self._dermatome = cells.dermatome
        self._saddle = cells.view == list(View).index(View.SADDLE)
        regions = list(atlas.facts.regions)
        self._lips = np.isin(atlas.region_of_cell, [regions.index(r) for r in LIPS])
        part = np.array([atlas.facts.body_parts[r] for r in regions])[atlas.region_of_cell]
        self._part = {
            "face": self._segments(FACE),
            "arm": np.isin(part, ["upper-arm", "forearm", "hand"]),
            "trunk": self._segments(TRUNK) & np.isin(part, ["trunk", "buttocks"]),
            "leg": np.isin(part, ["thigh", "leg", "foot"]),
            "hand": part == "hand",
            "foot": part == "foot",
            "shin": part == "leg",
        }

    def _segments(self, names: tuple[str, ...]) -> npt.NDArray[np.bool_]:
        return np.isin(self._dermatome, [DERMATOMES.index(n) for n in names])

    def _share(self, mask: npt.NDArray[np.bool_]) -> tuple[float, float]:
        """Altered share of a mask, right and left."""
        found = []
        for side in (False, True):
            here = mask & (self._left == side)
            found.append(float(self._altered[here].sum() / self._area[here].sum()))
        return found[0], found[1]

    def saddle(self) -> bool:
        skin = self._segments(SADDLE_SEGMENTS) | self._saddle
        return float(self._altered[skin].sum()) >= LEAST_CM2

    def level(self) -> bool:
        """Neighbouring trunk segments of both sides, or many of one side."""
        shares = np.array([self._share(self._segments((s,))) for s in TRUNK])
        both: npt.NDArray[np.bool_] = np.asarray((shares >= 0.3).all(axis=1))
        one: npt.NDArray[np.bool_] = shares.max(axis=1) >= 0.4
        thighs = min(self._share(self._segments(("L1", "L2", "L3")))) >= 0.4
        return bool((both[1:] & both[:-1]).any() or _longest(one) >= 4 or thighs)

    def half(self) -> bool:
        """Three of face, arm, trunk and leg on one side, and little on the other."""
        shares = np.array([self._share(self._part[p]) for p in PARTS])
        here = (shares >= 0.25).sum(axis=0)
        there = (shares >= 0.1).sum(axis=0)
        return bool((here[0] >= 3 and there[1] == 0) or (here[1] >= 3 and there[0] == 0))

    def crossed(self) -> bool:
        """The face of one side with arm, trunk or leg of the other."""
        face = np.array(self._share(self._part["face"]))
        body = np.array([self._share(self._part[p]) for p in PARTS[1:]]).max(axis=0)
        return any(face[a] >= 0.15 and body[1 - a] >= 0.25 and body[a] < 0.1 for a in (0, 1))

    def mouth_and_hand(self) -> bool:
        lips, hand = self._share(self._lips), self._share(self._part["hand"])
        return any(m >= 0.2 and h >= 0.15 for m, h in zip(lips, hand, strict=True))

    def both_legs(self) -> bool:
        """Both feet, and more than their tips."""
        return min(self._share(self._part["foot"])) >= 0.4


def _longest(run: npt.NDArray[np.bool_]) -> int:
    best = here = 0
    for flag in run:
        here = here + 1 if flag else 0
        best = max(best, here)
    return best
