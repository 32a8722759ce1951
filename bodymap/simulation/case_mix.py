"""Which lesions simulated patients have: by the published priors, or every kind alike."""

from collections.abc import Iterator

import numpy as np

from bodymap.localise.catalogue import Catalogue
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
    usable = [n for n, h in enumerate(known) if any((r.grades[0] > 2).any() for r in h.rows)]
    prior = np.array([known[n].prior for n in usable]) ** 2
    if even:
        kinds = np.array([known[n].kind for n in usable])
        for kind in set(kinds.tolist()):
            prior[kinds == kind] /= prior[kinds == kind].sum()
    prior /= prior.sum()
    habits = clinic.habits
    for _ in range(count):
        own = int(chance.integers(2**31))
        draw = chance.random()
        if draw < habits["no_lesion"]:
            yield clinic.patient_without_lesion(own)
            continue
        two = draw < habits["no_lesion"] + habits["two_lesions"]
        chosen: list[Lesion] = []
        while len(chosen) < 1 + two:
            hypothesis = known[usable[int(chance.choice(len(usable), p=prior))]]
            lesion = Lesion(hypothesis.id, hypothesis.side)
            if lesion not in chosen and (not two or hypothesis.kind in SEPARATE_KINDS):
                chosen.append(lesion)
        yield clinic.patient(tuple(chosen), own)
