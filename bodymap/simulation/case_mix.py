"""Which lesions simulated patients have: by published incidence, or every kind alike.

The table of priors is mild (square roots of incidence, so that a common lesion does not
silence a rare one); patients are drawn by the squares.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from bodymap.geometry import Floats
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.hypotheses import Hypothesis
from bodymap.localise.weights import EDGE
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import Clinic, Patient

SEPARATE_KINDS = ("nerve", "root")
"""Kinds of the lesions of patients who have two."""


def patients(
    clinic: Clinic, catalogue: Catalogue, count: int, seed: int, even: bool = False
) -> Iterator[Patient]:
    """``count`` patients in a row that follows from the seed.

    ``even`` draws a kind first, so rare kinds come as often as common ones. Lesions
    without skin never come.
    """
    chance = np.random.default_rng(seed)
    known = catalogue.hypotheses[: catalogue.named]
    usable = [
        n for n, h in enumerate(known) if any(g.max() >= EDGE for r in h.rows for g in r.grades)
    ]
    prior = np.array([known[n].prior for n in usable]) ** 2
    if even:
        kinds = np.array([known[n].kind for n in usable])
        for kind in set(kinds.tolist()):
            prior[kinds == kind] /= prior[kinds == kind].sum()
    prior /= prior.sum()
    for _ in range(count):
        # Nobody is examined for nothing: patients in whom no spot was found altered do
        # not come.
        patient = _drawn(clinic, known, usable, prior, chance)
        while not any(change.altered for _, change, _ in patient.drawing):
            patient = _drawn(clinic, known, usable, prior, chance)
        yield patient


def _drawn(
    clinic: Clinic,
    known: Sequence[Hypothesis],
    usable: list[int],
    prior: Floats,
    chance: np.random.Generator,
) -> Patient:
    habits = clinic.habits
    own = int(chance.integers(2**31))
    draw = chance.random()
    if draw < habits["no_lesion"]:
        return clinic.patient_without_lesion(own)
    two = draw < habits["no_lesion"] + habits["two_lesions"]
    chosen: list[Lesion] = []
    while len(chosen) < 1 + two:
        hypothesis = known[usable[int(chance.choice(len(usable), p=prior))]]
        lesion = Lesion(hypothesis.id, hypothesis.side)
        if lesion not in chosen and (not two or hypothesis.kind in SEPARATE_KINDS):
            chosen.append(lesion)
    return clinic.patient(tuple(chosen), own)
