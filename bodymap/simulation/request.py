"""A simulated patient as asked for: with named lesions, or one drawn at random."""

from typing import Any

from bodymap.errors import RequestError
from bodymap.faults import nearest
from bodymap.language import english
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.weights import EDGE
from bodymap.simulation.case_mix import patients
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import Clinic, Patient
from bodymap.terms import Side


@english()
def requested(catalogue: Catalogue, lesions: list[str], seed: int) -> Patient:
    """A patient with the named lesions (ID or ID:SIDE), or a random one without any.

    Raises RequestError for a lesion that is not known or has no skin.
    """
    clinic = Clinic(catalogue.atlas)
    if not lesions:
        return next(patients(clinic, catalogue, 1, seed))
    return clinic.patient(tuple(_lesion(catalogue, words) for words in lesions), seed)


@english()
def told(catalogue: Catalogue, patient: Patient) -> dict[str, Any]:
    """The hidden truth of a patient, for the case file."""
    names = [
        catalogue.hypotheses[catalogue.by_id[lesion.id, lesion.side]].name
        for lesion in patient.lesions
    ]
    return {
        "seed": patient.seed,
        "lesions": [
            {"id": lesion.id, "side": lesion.side.value, "name": name}
            for lesion, name in zip(patient.lesions, names, strict=True)
        ],
    }


def _lesion(catalogue: Catalogue, words: str) -> Lesion:
    id_, _, side = words.partition(":")
    sides = {known for name, known in catalogue.by_id if name == id_}
    if not sides:
        near = nearest(id_, sorted({name for name, _ in catalogue.by_id}))
        mend = f"did you mean '{near}'?" if near else "'bodymap rank' shows ids as JSON."
        raise RequestError(f"There is no lesion '{id_}'; {mend}")
    if side and side not in list(Side):
        raise RequestError(f"'{side}' is no side; write {id_}:left or {id_}:right.")
    chosen = Side(side) if side else Side.RIGHT if Side.RIGHT in sides else Side.BOTH
    if chosen not in sides and Side.BOTH in sides:
        chosen = Side.BOTH
    if chosen not in sides:
        known = " or ".join(f"{id_}:{s}" for s in sorted(sides))
        raise RequestError(f"'{id_}' is not known for {chosen}; write {known}.")
    hypothesis = catalogue.hypotheses[catalogue.by_id[id_, chosen]]
    if not any(g.max() >= EDGE for row in hypothesis.rows for g in row.grades):
        raise RequestError(f"{hypothesis.name} has no skin, so nothing would be felt to be numb.")
    return Lesion(id_, chosen)
