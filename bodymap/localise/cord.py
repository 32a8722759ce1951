"""Patterns of the spinal cord at every level, by pathway.

The dorsal columns (vibration, joint position, fine touch) climb on their own side;
the spinothalamic tract (pinprick, temperature, crude touch) crosses one to two
segments above where it enters. Sources: Hardy, Continuum 2021;27:12-29; the
chances at the upper border are judgement.
"""

from collections.abc import Iterator

import numpy as np

from bodymap.atlas import Atlas
from bodymap.geometry import Floats
from bodymap.language import later, phrase
from bodymap.localise.grading import Grades
from bodymap.localise.hypotheses import Hypothesis, Row, mirrored_rows
from bodymap.localise.roots import SPINAL
from bodymap.localise.weights import CORE, DISTAL, EDGE, FRINGE, OUTSIDE, Weights
from bodymap.terms import DERMATOMES, Side

LOWEST = SPINAL.index("S2")
"""Below S2 the cord ends in the conus, which is a lesion site of its own."""

SACRAL = SPINAL.index("S3")

LONGEST_SUSPENDED = 12
"""Segments of the longest suspended band that is told by both its ends."""


def cord_hypotheses(atlas: Atlas, weights: Weights) -> list[Hypothesis]:
    """Transverse, hemicord, central, anterior and posterior patterns."""
    return list(_Levels(atlas, weights).all())


class _Levels:
    def __init__(self, atlas: Atlas, weights: Weights) -> None:
        self.atlas = atlas
        self.prior = weights.priors
        first = len(DERMATOMES) - len(SPINAL)
        self.level = atlas.cells.dermatome.astype(np.int64) - first
        self.left = atlas.cells.left
        self.share = _shares_of_segments(atlas)
        self.none = np.zeros(len(self.level), dtype=np.int8)

    def all(self) -> Iterator[Hypothesis]:
        for level in range(LOWEST + 1):
            name = SPINAL[level]
            below = self.below(level)
            yield self.made("transverse", name, later("Whole cord at {level}"), (below,) * 3)
            yield self.made("anterior", name, later("Front of the cord at {level}"), *(
                (below, touch, self.none) for touch in self.touch(below)))  # fmt: skip
            yield self.made("posterior", name, later("Back of the cord at {level}"), *(
                (self.none, touch, below) for touch in self.touch(below)))  # fmt: skip
            yield from self.hemi(level)
        for start in range(SPINAL.index("T8") + 1):
            last = min(start + LONGEST_SUSPENDED, SACRAL)
            for end in sorted({*range(start + 1, last), LOWEST}):
                band = self.band(start, end)
                id_ = f"cord-central-{SPINAL[start]}-{SPINAL[end]}".lower()
                yield Hypothesis(
                    id_, phrase(
                        "Centre of the cord, {first} to {last}",
                        first=SPINAL[start], last=SPINAL[end],
                    ), "cord", Side.BOTH, "pattern", self.prior["cord-central"],
                    (Row(0.0, (band, self.none, self.none)),), SPINAL[start : end + 1],
                )  # fmt: skip

    def weight(self, form: str, level: int) -> float:
        """Prior weight of a pattern at a level."""
        low = self.prior["cord-below-l1"] if level >= SPINAL.index("L2") else 1.0
        return self.prior[f"cord-{form}"] * low

    def touch(self, grades: Grades) -> tuple[Grades, Grades]:
        """Touch has two pathways: it is spared, or taken half the time."""
        return self.none, np.where(grades >= EDGE, EDGE, OUTSIDE).astype(np.int8)

    def made(self, form: str, at: str, name: str, *ways: tuple[Grades, ...]) -> Hypothesis:
        rows = tuple(Row(-float(np.log(len(ways))), grades) for grades in ways)
        return Hypothesis(
            f"cord-{form}-{at}".lower(), phrase(name, level=at), "cord", Side.BOTH, "pattern",
            self.weight(form, SPINAL.index(at)), rows, SPINAL[SPINAL.index(at) :],
        )  # fmt: skip

    def hemi(self, level: int) -> Iterator[Hypothesis]:
        """Lesion of the left half, then of the right half."""
        rows = []
        below = self.below(level)
        for crossed_at, weight in ((1, 0.4), (2, 0.4), (3, 0.2)):
            small = np.where(~self.left, self.below(level + crossed_at), self.none)
            # At the segment itself fibres are hit before they cross: a narrow band.
            small = np.where(self.left & (self.level == level), EDGE, small)
            deep = np.where(self.left, below, OUTSIDE)
            for way in self.touch(below):
                touch = np.where(self.left, way, OUTSIDE)
                grades = tuple(g.astype(np.int8) for g in (small, touch, deep))
                rows.append(Row(float(np.log(weight / 2)), grades))
        at = SPINAL[level]
        for side, these in (
            (Side.LEFT, tuple(rows)),
            (Side.RIGHT, mirrored_rows(self.atlas, rows)),
        ):
            yield Hypothesis(
                f"cord-hemi-{at}".lower(), phrase("Half of the cord at {level}", level=at), "cord",
                side, "pattern", self.weight("hemi", level), these, SPINAL[level:],
            )  # fmt: skip

    def below(self, level: int) -> Grades:
        """Grades of all segments from a level down, soft at the upper border."""
        return self.graded(level, len(SPINAL))

    def band(self, start: int, end: int) -> Grades:
        """Grades of a suspended band, soft at both borders."""
        return self.graded(start, end)

    def graded(self, start: int, end: int) -> Grades:
        """Grades of segments from ``start`` to ``end``.

        Where the map and the tables agree that skin belongs to these segments the
        grade is core; where a region has segments on both sides of a border, less.
        """
        drawn = (self.level >= start) & (self.level <= end)
        known = self.share[:, max(start, 0) : end + 1].sum(axis=1)[self.atlas.region_of_cell]
        sure = (drawn + known) / 2
        # Neighbouring strips overlap: the first strip outside is fringe.
        beside = (self.level == start - 1) | (self.level == end + 1)
        steps = [sure < 0.1, sure < 0.35, sure < 0.65, sure < 0.85]
        found = np.select(steps, [OUTSIDE, FRINGE, EDGE, DISTAL], CORE)
        return np.where(beside, np.maximum(found, FRINGE), found).astype(np.int8)


def _shares_of_segments(atlas: Atlas) -> Floats:
    """How the tables share each region among the segments, (regions, segments)."""
    regions = list(atlas.facts.regions)
    found = np.zeros((len(regions), len(SPINAL)))
    for (region, segment), role in atlas.facts.segment_roles.items():
        if segment in SPINAL and role != "fringe":
            found[regions.index(region), SPINAL.index(segment)] = 2.0 if role == "core" else 1.0
    total = found.sum(axis=1, keepdims=True)
    return np.asarray(found / np.where(total > 0, total, 1.0))
