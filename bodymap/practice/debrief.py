"""The debrief: the truth, how much each touch was expected to tell, and what was missed.

Bits are expected, not realised, so that luck counts for nothing: the sum over the
student's path is held against the sum over the path that chooses the best touch each
time (and the best sign where the student tested one), on the same patient, who then
answers without error.
"""

from dataclasses import dataclass

import numpy as np

from bodymap.errors import RequestError
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.language import tr
from bodymap.localise.next_spots import NextSpot
from bodymap.practice.hidden_patients import Difficulty, SureBedside, WholeBedside
from bodymap.practice.information import Question
from bodymap.practice.sitting import Sitting, Step, Verdict
from bodymap.terms import Change, Side

MISSED_SPOTS, MISSED_SIGNS = 3, 1
"""Untested spots and signs that are named."""


@dataclass(frozen=True, eq=False)
class Missed:
    """A question that was not asked, its bits between truth and what was named, and the
    answer that the patient would have given."""

    question: Question
    answer: Change | SignChange


@dataclass(frozen=True, eq=False)
class Debrief:
    """What is said after a sitting.

    ``against`` is the lesion that ``missed`` tells from the truth: the named one, or
    without one the leading one. ``support`` and ``place`` (None where it is not among
    the candidates) are those of the truth in the ranking of all answers; ``leading`` is
    the first candidate. ``lost`` names the spots that were really altered,
    ``outside`` the share of them outside the textbook skin.
    """

    truth: int
    named: int | None
    verdict: Verdict | None
    steps: tuple[Step, ...]
    gained_bits: float
    best_bits: float
    open_bits: float
    against: int | None
    missed: tuple[Missed, ...]
    support: float
    place: int | None
    leading: str
    lost: tuple[tuple[str, Side], ...]
    outside: float

    @property
    def efficiency(self) -> float:
        """Bits gained as a share of the best path's, at most 1."""
        return min(1.0, self.gained_bits / self.best_bits) if self.best_bits > 0 else 1.0


def debriefed(sitting: Sitting) -> Debrief:
    """The debrief of a sitting that is over.

    Raises RequestError while it goes on.
    """
    truth = sitting.truth
    practice = sitting.practice
    book, information = practice.textbook, practice.information
    also = (truth.number,) if sitting.named is None else (truth.number, sitting.named)
    known = information.known(sitting.drawing, sitting.complaint_at, also)
    ranking = practice.scales.rank_drawing(sitting.drawing)
    key = (truth.lesion.id, truth.lesion.side)
    mine = [c for c in ranking.candidates if c.parts == (key,)]
    against = sitting.named
    if against is None:
        order = known.lesions[np.argsort(-known.support, kind="stable")]
        against = next((n for n in order.tolist() if n != truth.number), None)
    missed: list[Question] = []
    if against not in (None, truth.number):
        for most, signs in ((MISSED_SPOTS, False), (MISSED_SIGNS, True)):
            missed += information.apart(known, truth.number, against, most, signs)
    altered = truth.patient.truth.any(axis=0)
    inside = book.spots(book.skin(truth.number)).any(axis=0)
    first = ranking.candidates[0].territory if ranking.candidates else None
    return Debrief(
        truth=truth.number,
        named=sitting.named,
        verdict=sitting.verdict,
        steps=tuple(sitting.steps),
        gained_bits=sum(s.question.bits for s in sitting.steps),
        best_bits=_best_path(sitting),
        open_bits=known.bits,
        against=against if against != truth.number else None,
        missed=tuple(Missed(q, _answer(sitting, q)) for q in missed),
        support=mine[0].support if mine else 0.0,
        place=mine[0].place if mine else None,
        leading=f"{first.name}, {first.side}" if first else "",
        lost=tuple(book.clinic.spots[n] for n in np.flatnonzero(altered)),
        outside=float((altered & ~inside).sum() / max(altered.sum(), 1)),
    )


def _sure(sitting: Sitting) -> SureBedside:
    kind = WholeBedside if sitting.difficulty is Difficulty.WHOLE else SureBedside
    return kind(sitting.practice.textbook.clinic, sitting.truth.patient)


def _answered(bedside: SureBedside, drawing: Drawing, question: Question) -> Drawing:
    asked = NextSpot(
        question.side, 0.0, question.region, question.modality, question.sign, 0, 0
    )  # fmt: skip
    return bedside.asked(drawing, asked)


def _answer(sitting: Sitting, question: Question) -> Change | SignChange:
    drawing = _answered(_sure(sitting), Drawing(), question)
    if question.sign is not None:
        return drawing.signs.found[question.sign, question.side]
    if question.modality is None:
        raise RequestError(tr("A question asks for skin or for a sign."))
    altered = drawing.layer(question.modality, Change.REDUCED)
    return Change.REDUCED if altered else Change.NORMAL


def _best_path(sitting: Sitting) -> float:
    """Expected bits of the path that makes the best choice each time."""
    information, bedside = sitting.practice.information, _sure(sitting)
    drawing, total = Drawing(), 0.0
    for step in sitting.steps:
        known = information.known(drawing, sitting.complaint_at)
        best = information.best(known, signs=step.question.sign is not None)
        if best is not None:
            total += best.bits
            drawing = _answered(bedside, drawing, best)
    return total
