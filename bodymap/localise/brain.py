"""Patterns of the brainstem and brain: crossed, half of the body, mouth and hand.

Shares of the lateral medullary variants: Kim 1997 (n 50). The forms of pure sensory
stroke: Arboix 2005 (n 99 of 2500).
"""

import math

import numpy as np

from bodymap.atlas import Atlas
from bodymap.language import later
from bodymap.localise.grading import Grades
from bodymap.localise.hypotheses import Hypothesis, Row, mirrored_rows
from bodymap.localise.weights import CORE, DISTAL, EDGE, OUTSIDE, PROXIMAL, Weights
from bodymap.terms import DERMATOMES, Side

MEDULLA = (
    (later("face of the lesion's side, body of the other"), 0.26, "same", True),
    (later("both sides of the face, body of the other"), 0.24, "both", True),
    (later("face and body of the other side"), 0.18, "other", True),
    (later("body of the other side"), 0.20, "none", True),
    (later("face of the lesion's side"), 0.08, "same", False),
)
"""Variants of Kim 1997: words, share, side of the face, whether the body is taken."""

BODY_FROM = (("C2", 0.4), ("C5", 0.25), ("T2", 0.2), ("T6", 0.15))
"""Upper border on the body: 15 of 50 had a gradient or level (Kim 1997); the split
over levels is judgement."""

MOUTH = ("upper-lip", "lower-lip")
MOUTH_EDGE = ("chin", "cheek", "nose", "jaw-body")
FINGERTIPS = (
    "thumb-palmar", "index-palmar", "middle-palmar", "ring-palmar-radial", "ring-palmar-ulnar",
    "little-palmar", "thumb-dorsal-tip", "index-dorsal-tip", "middle-dorsal-tip",
    "ring-dorsal-radial-tip", "ring-dorsal-ulnar", "little-dorsal", "thumb-dorsal",
    "index-dorsal-proximal", "middle-dorsal-proximal", "ring-dorsal-radial-proximal",
)  # fmt: skip


def brain_hypotheses(atlas: Atlas, weights: Weights) -> list[Hypothesis]:
    """Lateral medulla, half of the body, mouth corner and hand, of each side."""
    made = (
        ("lateral-medulla", later("Lateral medulla"), _medulla(atlas)),
        ("hemisensory", later("One half of the body (thalamus, capsule or above)"), _half(atlas)),
        (
            "cheiro-oral",
            later("Mouth corner and hand (thalamus, pons or cortex)"),
            _mouth_and_hand(atlas),
        ),
    )
    return [
        Hypothesis(id_, name, "brain", side, "pattern", weights.priors[id_], these)
        for id_, name, rows in made
        for side, these in ((Side.LEFT, rows), (Side.RIGHT, mirrored_rows(atlas, rows)))
    ]


def _medulla(atlas: Atlas) -> tuple[Row, ...]:
    """Rows of a lesion of the left side: pain and temperature only."""
    cells = atlas.cells
    none = np.zeros(len(cells), dtype=np.int8)
    face = cells.dermatome < 3
    rows = []
    for words, share, side, body in MEDULLA:
        same, other = cells.left, ~cells.left
        which = {"same": same, "other": other, "both": same | other, "none": none > 0}[side]
        for level, part in BODY_FROM if body else (("C2", 1.0),):
            small = np.where(face & which, CORE, OUTSIDE)
            if body:
                below = ~face & (cells.dermatome >= DERMATOMES.index(level))
                small = np.where(below & other, CORE, small)
            rows.append(Row(math.log(share * part), (small.astype(np.int8), none, none), words))
    return tuple(rows)


def _half(atlas: Atlas) -> tuple[Row, ...]:
    """Rows of signs on the left half: every modality, or only some of them."""
    here = np.where(atlas.cells.left, CORE, OUTSIDE).astype(np.int8)
    without_face = np.where(atlas.cells.dermatome < 3, OUTSIDE, here).astype(np.int8)
    none = np.zeros_like(here)
    return tuple(
        Row(math.log(share), grades)
        for share, grades in (
            (0.55, (here,) * 3),
            (0.15, (without_face,) * 3),
            (0.15, (here, none, none)),
            (0.15, (none, here, here)),
        )
    )


def _mouth_and_hand(atlas: Atlas) -> tuple[Row, ...]:
    """Rows of signs on the left: lips and fingers, or lips and the whole hand."""
    hand = [r for r, part in atlas.facts.body_parts.items() if part == "hand"]
    mouth = _at(atlas, MOUTH, CORE) + _at(atlas, MOUTH_EDGE, EDGE)
    fingers = _at(atlas, FINGERTIPS, DISTAL)
    whole = _at(atlas, hand, PROXIMAL)
    few = _at(atlas, FINGERTIPS[:4], CORE)
    return (
        Row.same(np.maximum(mouth, fingers), math.log(0.4)),
        Row.same(np.maximum(mouth, np.maximum(fingers, whole)), math.log(0.35)),
        Row.same(np.maximum(mouth, few), math.log(0.25)),
    )


def _at(atlas: Atlas, regions: tuple[str, ...] | list[str], grade: int) -> Grades:
    order = list(atlas.facts.regions)
    here = np.isin(atlas.region_of_cell, [order.index(r) for r in regions]) & atlas.cells.left
    return np.where(here, grade, OUTSIDE).astype(np.int8)
