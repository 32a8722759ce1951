"""The patient of a sitting: one hidden lesion, and how much of it and how surely is found.

Lesions come as often as the ranking thinks of them before any finding (square roots of
incidence), so that a student meets more than the commonest three.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from bodymap.atlas.territories import Mask
from bodymap.findings.drawing import Drawing
from bodymap.language import later
from bodymap.localise.hypotheses import Hypothesis
from bodymap.practice.textbook import Textbook, complaints
from bodymap.simulation.answers import Bedside
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import Patient
from bodymap.terms import Side

TRIES = 60
"""Persons who are looked at until one has a partial loss of the named lesion."""

CLEAR_RATE = 0.5
"""A sign that a lesion changes at least this often is changed in a whole loss."""

VARIED = ("polyneuropathy", "brain", "cord")
"""Kinds of lesions whose whole loss has several looks."""


class Difficulty(StrEnum):
    """How a hidden lesion shows."""

    WHOLE = "whole"
    PARTIAL = "partial"
    NOISY = "noisy"

    @property
    def label(self) -> str:
        """The difficulty in words."""
        return {
            Difficulty.WHOLE: later("Whole loss, answers right"),
            Difficulty.PARTIAL: later("Partial loss, answers right"),
            Difficulty.NOISY: later("Bedside, some answers wrong"),
        }[self]


@dataclass(frozen=True, eq=False)
class HiddenPatient:
    """A patient with one lesion (by its number in the catalogue) and what is complained of."""

    number: int
    lesion: Lesion
    patient: Patient
    complaint: tuple[str, Side]


class SureBedside(Bedside):
    """Tests a patient who never gives a wrong answer."""

    def _wrong(self, error: float) -> bool:
        return False


class WholeBedside(SureBedside):
    """Tests a patient whose lesion also changes every sign that it mostly changes."""

    def sign_is_changed(self, sign: str, side: Side) -> bool:
        """Whether a muscle is weak or a reflex reduced, as the textbook has it."""
        rates = [self._rate(lesion, sign, side) for lesion in self._patient.lesions]
        return max(rates, default=0.0) >= CLEAR_RATE


def bedside(textbook: Textbook, hidden: HiddenPatient, difficulty: Difficulty) -> Bedside:
    """Who answers in a sitting."""
    kinds = {Difficulty.WHOLE: WholeBedside, Difficulty.PARTIAL: SureBedside}
    return kinds.get(difficulty, Bedside)(textbook.clinic, hidden.patient)


def hidden_patient(
    textbook: Textbook, difficulty: Difficulty, seed: int, lesion: Lesion | None = None
) -> HiddenPatient:
    """A patient with a lesion drawn at random, or a certain one; the same seed gives the
    same patient.

    Raises RequestError for a lesion that is not known.
    """
    chance = np.random.default_rng([seed, 23])
    known = textbook.catalogue.hypotheses
    if lesion is None:
        usable = textbook.usable
        prior = np.array([known[n].prior for n in usable])
        number = usable[int(chance.choice(len(usable), p=prior / prior.sum()))]
    else:
        number = textbook.number(lesion.id, lesion.side)
    hypothesis = known[number]
    whole = textbook.spots(_whole(textbook, number, hypothesis, chance))
    chosen = Lesion(hypothesis.id, hypothesis.side)
    if difficulty is Difficulty.WHOLE:
        patient = Patient((chosen,), whole, np.zeros_like(whole), Drawing(), 0.0, seed)
    else:
        patient = _person(textbook, chosen, whole, difficulty, chance)
    likely = complaints(textbook.part_of_spot, textbook.clinic, patient.truth)
    keys = sorted(likely)
    at = int(chance.choice(len(keys), p=[likely[k] for k in keys]))
    return HiddenPatient(number, chosen, patient, keys[at])


def _whole(
    textbook: Textbook, number: int, hypothesis: Hypothesis, chance: np.random.Generator
) -> Mask:
    if hypothesis.kind not in VARIED:
        return textbook.skin(number)
    weight = np.exp([row.log_weight for row in hypothesis.rows])
    row = int(chance.choice(len(weight), p=weight / weight.sum()))
    return textbook.look(number, hypothesis.rows[row])


def _person(
    textbook: Textbook,
    lesion: Lesion,
    whole: Mask,
    difficulty: Difficulty,
    chance: np.random.Generator,
) -> Patient:
    """One person of the simulator; for a partial loss one whose altered spots lie mostly
    in the textbook skin and do not fill it."""
    for _ in range(TRIES):
        patient = textbook.clinic.patient((lesion,), int(chance.integers(2**31)))
        altered = patient.truth.any(axis=0)
        inside = altered & whole.any(axis=0)
        if not altered.any():
            continue
        if difficulty is Difficulty.NOISY:
            return patient
        if inside.sum() >= altered.sum() / 2 and inside.sum() < whole.any(axis=0).sum():
            return patient
    if altered.any():
        return patient
    return Patient((lesion,), whole, np.zeros_like(whole), Drawing(), patient.error, patient.seed)
