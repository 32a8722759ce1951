"""One sitting with a simulated patient: touch, ask, name a lesion, and only then the truth."""

from dataclasses import dataclass, replace
from enum import StrEnum

from bodymap.atlas.atlas import Place
from bodymap.errors import RequestError
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.language import tr
from bodymap.localise.next_spots import NextSpot
from bodymap.localise.ranking import Scales
from bodymap.practice.hidden_patients import Difficulty, HiddenPatient, bedside, hidden_patient
from bodymap.practice.information import Information, Question
from bodymap.practice.textbook import Textbook, complained
from bodymap.simulation.confusions import SAME
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import Clinic
from bodymap.terms import Change, Modality, Side

NEIGHBOURHOOD = 0.5
"""A lesion that shares this much of the larger skin is in the right neighbourhood."""


class Verdict(StrEnum):
    """What a named lesion is worth."""

    RIGHT = "right"
    RIGHT_SKIN = "right-skin"
    NEIGHBOURHOOD = "right-neighbourhood"
    WRONG = "wrong"


@dataclass(frozen=True, eq=False)
class Step:
    """One touch or one tested sign, in order (from 1), with the answer.

    ``question.bits`` is what it was expected to tell at that moment, ``best`` the best
    touch (or sign, for a sign) at that moment, None once none tells anything.
    """

    order: int
    question: Question
    answer: Change | SignChange
    best: Question | None

    @property
    def best_bits(self) -> float:
        """What the best question was expected to tell, never less than this one."""
        return max(self.best.bits if self.best else 0.0, self.question.bits)


class Practice:
    """What all sittings on one atlas share. Takes a second to make."""

    def __init__(self, scales: Scales, clinic: Clinic | None = None) -> None:
        self.scales = scales
        self.textbook = Textbook(scales.catalogue, clinic or Clinic(scales.atlas))
        self.information = Information(scales, self.textbook)


class Sitting:
    """A patient who answers. The same difficulty, seed and touches give the same answers.

    ``lesion`` asks for a certain one; else it is drawn from the seed.
    """

    def __init__(
        self,
        practice: Practice,
        difficulty: Difficulty = Difficulty.WHOLE,
        seed: int = 0,
        lesion: Lesion | None = None,
    ) -> None:
        self.practice = practice
        self.difficulty = difficulty
        self.seed = seed
        self.steps: list[Step] = []
        self.drawing = Drawing()
        """All answers so far, also the normal ones."""
        self.named: int | None = None
        """Number of the lesion that was named."""
        self.verdict: Verdict | None = None
        self.over = False
        self._hidden = hidden_patient(practice.textbook, difficulty, seed, lesion)
        self._bedside = bedside(practice.textbook, self._hidden, difficulty)

    @property
    def complaint(self) -> str:
        """What the patient says before the first touch."""
        return complained(*self._hidden.complaint)

    @property
    def complaint_at(self) -> tuple[str, Side]:
        """Body part and side of the complaint."""
        return self._hidden.complaint

    def touch(self, where: str | Place, side: Side, modality: Modality) -> Change:
        """Touch a named region (whole or part), or the one at a place: reduced or normal.

        Raises RequestError for an unknown region, for both sides at once, and when the
        sitting is over.
        """
        region = where if isinstance(where, str) else where.region.id
        self._check(side)
        practice = self.practice
        practice.scales.atlas.cells_of_region(region, side)
        drawing = self._bedside.touched(self.drawing, region, side, modality)
        layer = drawing.layer(modality, Change.REDUCED)
        change = Change.REDUCED if (region, side) in layer.regions else Change.NORMAL
        self._note(Question(side, region, modality), change, drawing)
        return change

    def test_sign(self, sign: str, side: Side) -> SignChange:
        """Test a muscle or reflex.

        Raises RequestError for an unknown sign, for both sides at once, and when the
        sitting is over.
        """
        self._check(side)
        if sign not in self.practice.scales.atlas.facts.signs:
            raise RequestError(tr("There is no muscle or reflex '{id}'.", id=sign))
        question = NextSpot(side, 0.0, None, None, sign, 0, 0)
        drawing = self._bedside.asked(self.drawing, question)
        change = drawing.signs.found[sign, side]
        self._note(Question(side, sign=sign), change, drawing)
        return change

    def name(self, id_: str, side: Side) -> Verdict:
        """Name the lesion; this ends the sitting.

        Raises RequestError for a lesion that is not known, and when the sitting is over.
        """
        if self.over:
            raise RequestError(tr("This sitting is over; begin with a new patient."))
        book, truth = self.practice.textbook, self._hidden.number
        number = book.number(id_, side)
        if number == truth:
            verdict = Verdict.RIGHT
        elif (common := book.common(number, truth)) >= SAME:
            verdict = Verdict.RIGHT_SKIN
        else:
            verdict = Verdict.NEIGHBOURHOOD if common >= NEIGHBOURHOOD else Verdict.WRONG
        self.named, self.verdict, self.over = number, verdict, True
        return verdict

    def give_up(self) -> None:
        """End the sitting without a name."""
        self.over = True

    @property
    def truth(self) -> HiddenPatient:
        """The hidden patient.

        Raises RequestError while the sitting goes on.
        """
        if not self.over:
            raise RequestError(tr("The truth is told once a lesion was named or given up."))
        return self._hidden

    def _check(self, side: Side) -> None:
        if self.over:
            raise RequestError(tr("This sitting is over; begin with a new patient."))
        if side is Side.BOTH:
            raise RequestError(tr("Touch one side at a time: left or right."))

    def _note(self, question: Question, answer: Change | SignChange, drawing: Drawing) -> None:
        information = self.practice.information
        known = information.known(self.drawing, self._hidden.complaint)
        asked = replace(question, bits=information.gain(known, question))
        best = information.best(known, signs=question.sign is not None)
        self.steps.append(Step(len(self.steps) + 1, asked, answer, best))
        self.drawing = drawing
