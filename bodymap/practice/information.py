"""What a touch is expected to tell, in bits, of the lesions that a patient may have.

In a sitting it is known that there is one lesion and where it is complained of, so the
supports of all named lesions sum to one. Expected information is that of
``localise.next_spots``, but over all lesions: at the first touch hundreds are possible.

An answer is worth what it is worth in the likelihood: chances are tempered alike, a spot
that was tested in the modality tells nothing more, and one that was tested with pin or
cotton tells less with the other.
"""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from bodymap.findings.drawing import Drawing
from bodymap.geometry import Floats
from bodymap.localise.evidence import CHANNEL_OF, Evidence
from bodymap.localise.likelihood import Family
from bodymap.localise.next_spots import (
    ASKED_WITH,
    INTIMATE,
    JOINTS,
    LEAST_BITS,
    TESTED,
    expected_gain,
)
from bodymap.localise.posterior import Posterior
from bodymap.localise.ranking import Scales
from bodymap.localise.weights import CHANNELS, DEEP, GRADES, SMALL, TOUCH
from bodymap.practice.textbook import Textbook
from bodymap.terms import Modality, Side

KEPT = 0.999
"""The leading lesions that together have this much support are thought through."""

UNLIKELY = 0.02
"""Chance of a complaint where a whole loss would not be felt: persons differ. Judgement."""


@dataclass(frozen=True)
class Question:
    """One touch of a region in a modality, or one test of a sign; and what it is expected
    to tell, in bits."""

    side: Side
    region: str | None = None
    modality: Modality | None = None
    sign: str | None = None
    bits: float = 0.0


@dataclass(frozen=True, eq=False)
class Known:
    """What is known at one moment: the ``lesions`` that are thought through, by number;
    their ``support``, summing to one; ``chances`` of "altered" (lesions, questions);
    ``tested`` share (channels, spots); ``bits`` that are still to be gained."""

    lesions: npt.NDArray[np.int64]
    support: Floats
    chances: Floats
    tested: Floats
    noted: npt.NDArray[np.bool_]
    bits: float


class Information:
    """Weighs questions about one complaint. ``questions`` are the spots of the clinic in
    every channel, then the signs."""

    def __init__(self, scales: Scales, textbook: Textbook) -> None:
        self._scales = scales
        self._textbook = textbook
        clinic = textbook.clinic
        self._spots = clinic.spots
        self._weight = scales.catalogue.spots.weight
        self._size = np.bincount(clinic.spot_of_cell, self._weight, len(self._spots))
        mean = np.zeros((len(self._weight), len(self._spots)))
        mean[np.arange(len(self._weight)), clinic.spot_of_cell] = self._weight
        self._mean = mean / self._size
        # Share of every spot that has a grade, for each vector of grades.
        grades = scales.likelihoods.grades
        shares = np.stack([(grades == g) @ self._mean for g in range(len(GRADES))], axis=1)
        self._shares = shares.astype(np.float32)
        self.questions = [
            Question(side, id_, ASKED_WITH[channel])
            for channel in range(len(CHANNELS))
            for id_, side in self._spots
        ]
        self.questions += [Question(side, sign=sign) for sign, side in scales.sign_chances.keys]
        facts = scales.atlas.facts
        wholes = [facts.parts[q.region].whole if q.region else "" for q in self.questions]
        deep = np.arange(len(wholes)) // len(self._spots) == DEEP
        self._offered = ~deep | np.isin(wholes, JOINTS)
        self._intimate = np.isin(wholes, INTIMATE)
        self._saddle = {
            number for number, hypothesis in enumerate(scales.catalogue.hypotheses)
            if hypothesis.kind == "cauda"
        }  # fmt: skip
        self._likely: dict[tuple[str, Side], Floats] = {}

    def known(
        self,
        drawing: Drawing,
        complaint: tuple[str, Side] | None,
        also: tuple[int, ...] = (),
    ) -> Known:
        """What is known once a drawing was found in somebody with a complaint. Lesions in
        ``also`` are thought through, however unlikely."""
        evidence = Evidence.of(self._scales.catalogue.spots, drawing)
        posterior = self._scales.posterior(evidence, drawing.signs)
        support = posterior.single[: posterior.named] * self._complaint(complaint)
        support = support / support.sum()
        p = support[support > 0]
        order = np.argsort(-support, kind="stable")
        most = int(np.searchsorted(np.cumsum(support[order]), KEPT)) + 1
        lesions = np.unique(np.r_[order[:most], also]).astype(np.int64)
        weights, signs = self._scales.weights, self._scales.sign_chances
        skin = _tempered(self._chances(posterior, lesions), weights["tempering"])
        lost = _tempered(signs.lost[lesions], weights["sign_tempering"])
        tested = np.zeros((len(CHANNELS), len(self._weight)))
        for modality, share in evidence.shares.items():
            channel = CHANNEL_OF[modality]
            tested[channel] = np.maximum(tested[channel], share.sum(axis=0))
        return Known(
            lesions,
            support[lesions] / support[lesions].sum(),
            np.hstack([skin, lost]),
            tested @ self._mean,
            np.array([key in drawing.signs.found for key in signs.keys]),
            float(-(p * np.log2(p)).sum()),
        )

    def best(self, known: Known, signs: bool = False) -> Question | None:
        """The best touch (or sign); None if all tell too little."""
        gains = expected_gain(known.support, known.chances) * self._open(known, signs)
        at = int((gains * self._tact(known)).argmax())
        bits = float(gains[at])
        return replace(self.questions[at], bits=bits) if bits >= LEAST_BITS else None

    def gain(self, known: Known, question: Question) -> float:
        """Expected information of one question, bits; a whole region counts as its spots."""
        columns = self._columns(question)
        if not columns:
            return 0.0
        weight = np.ones(1)
        if question.sign is None:
            weight = self._size[np.array(columns) % len(self._spots)]
            weight = weight / weight.sum()
        chances = known.chances[:, columns] @ weight
        gain = float(expected_gain(known.support, chances[:, None])[0])
        return gain * float(self._news(known)[columns] @ weight)

    def apart(
        self, known: Known, first: int, second: int, most: int, signs: bool = False
    ) -> list[Question]:
        """The best touches, or signs, to tell two lesions apart, as if both were as likely."""
        support = np.where(np.isin(known.lesions, (first, second)), 0.5, 0.0)
        gains = expected_gain(support, known.chances) * self._open(known, signs)
        found: dict[tuple[Side, str | None, str | None], Question] = {}
        for at in np.argsort(-gains, kind="stable").tolist():
            if gains[at] < LEAST_BITS or len(found) == most:
                break
            question = replace(self.questions[at], bits=float(gains[at]))
            found.setdefault((question.side, question.region, question.sign), question)
        return list(found.values())

    def _open(self, known: Known, signs: bool) -> Floats:
        """Factor on the gain of the questions that are offered: touches, or signs."""
        skin = np.arange(len(self.questions)) < len(CHANNELS) * len(self._spots)
        return np.asarray(self._news(known) * self._offered * (skin != signs))

    def _columns(self, question: Question) -> list[int]:
        if question.sign is not None:
            number = self._scales.sign_chances.number.get((question.sign, question.side))
            return [] if number is None else [len(CHANNELS) * len(self._spots) + number]
        if question.region is None or question.modality is None:
            return []
        parts = self._scales.atlas.facts.parts
        first = CHANNEL_OF[question.modality] * len(self._spots)
        return [
            first + n
            for n, (id_, side) in enumerate(self._spots)
            if side is question.side and question.region in (id_, parts[id_].whole)
        ]

    def _complaint(self, complaint: tuple[str, Side] | None) -> Floats:
        """Chance of a complaint under every named lesion."""
        named = self._scales.catalogue.named
        if complaint is None:
            return np.ones(named)
        if complaint not in self._likely:
            likely = [self._textbook.complaints(n).get(complaint, 0.0) for n in range(named)]
            self._likely[complaint] = UNLIKELY + (1 - UNLIKELY) * np.array(likely)
        return self._likely[complaint]

    def _chances(self, posterior: Posterior, lesions: npt.NDArray[np.int64]) -> Floats:
        """Chance that each spot is altered, (lesions, channels * spots): that of
        ``Likelihoods.chances`` for many lesions at once."""
        total = posterior.columns.sum(axis=-1)
        found = np.zeros((len(posterior.joint), len(CHANNELS), len(self._spots)))
        for family in self._scales.likelihoods.families:
            here = np.isin(family.members, lesions)
            if not here.any():
                continue
            joint = self._scales.likelihoods.joint(family, posterior.sums, total)
            weight, sizes = _shared(family, joint)
            rows = np.repeat(here, sizes)
            by_grade = np.einsum("rs,scg->rcg", weight[rows], family.states.altered)
            starts = np.r_[0, np.cumsum(sizes[here])[:-1]]
            for channel in range(len(CHANNELS)):
                shares = self._shares[family.vectors[rows, channel]]
                each = np.matmul(by_grade[:, [channel]].astype(np.float32), shares)[:, 0]
                found[family.members[here], channel] = np.add.reduceat(each, starts, axis=0)
        return np.asarray(found[lesions].reshape(len(lesions), -1))

    def _news(self, known: Known) -> Floats:
        """Factor on the gain of every question: none where it was asked, less where the pin
        or the cotton was there before."""
        asked = known.tested >= TESTED
        weights = self._scales.weights
        factor = np.where(asked, 0.0, 1.0)
        repeated = 2 ** (1 - weights["several_modalities"]) - 1
        factor[SMALL] *= np.where(asked[TOUCH], repeated, 1.0)
        factor[TOUCH] *= np.where(asked[SMALL], repeated, 1.0)
        return np.asarray(np.r_[factor.ravel(), ~known.noted])

    def _tact(self, known: Known) -> Floats:
        """Factor on the worth of every question: less for intimate skin, unless a lesion of
        the cauda leads."""
        if int(known.lesions[known.support.argmax()]) in self._saddle:
            return np.ones(len(self.questions))
        return np.where(self._intimate, self._scales.weights["intimate_discount"], 1.0)


def _shared(family: Family, joint: Floats) -> tuple[Floats, npt.NDArray[np.int64]]:
    """Weights of rows and states, summing to one for each lesion of a family; and how
    many rows each lesion has."""
    top = np.maximum.reduceat(joint.max(axis=1), family.starts)
    sizes = np.diff(np.r_[family.starts, len(joint)])
    weight = np.exp(joint - np.repeat(top, sizes)[:, None])
    total = np.add.reduceat(weight.sum(axis=1), family.starts)
    return np.asarray(weight / np.repeat(total, sizes)[:, None]), sizes


def _tempered(chance: Floats, tempering: float) -> Floats:
    yes, no = chance**tempering, (1 - chance) ** tempering
    return np.asarray(yes / (yes + no))
