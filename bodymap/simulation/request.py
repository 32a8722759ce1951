"""A simulated patient as asked for: with named lesions, or one drawn at random."""

from typing import Any

from bodymap.errors import RequestError
from bodymap.faults import alternatives, nearest
from bodymap.language import english, tr
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.weights import EDGE
from bodymap.simulation.case_mix import patients
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import Clinic, Patient
from bodymap.terms import Side


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
        if near:
            raise RequestError(
                tr("There is no lesion '{id}'; did you mean '{near}'?", id=id_, near=near)
            )
        raise RequestError(
            tr("There is no lesion '{id}'; 'bodymap rank' shows ids as JSON.", id=id_)
        )
    if side and side not in list(Side):
        raise RequestError(
            tr("'{side}' is no side; write {id}:left or {id}:right.", side=side, id=id_)
        )
    chosen = Side(side) if side else Side.RIGHT if Side.RIGHT in sides else Side.BOTH
    if chosen not in sides and Side.BOTH in sides:
        chosen = Side.BOTH
    if chosen not in sides:
        known = alternatives([f"{id_}:{s}" for s in sorted(sides)])
        raise RequestError(
            tr(
                "'{id}' is not known for {side}; write {known}.",
                id=id_,
                side=chosen.value,
                known=known,
            )
        )
    hypothesis = catalogue.hypotheses[catalogue.by_id[id_, chosen]]
    if not any(g.max() >= EDGE for row in hypothesis.rows for g in row.grades):
        raise RequestError(
            tr(
                "{lesion} has no skin, so nothing would be felt to be numb.",
                lesion=hypothesis.name,
            )
        )
    return Lesion(id_, chosen)
