"""Many simulated patients through the ranking: how often it is right, how sure it was."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from bodymap.geometry import Floats
from bodymap.localise.next_spots import Questions, next_spots
from bodymap.localise.ranking import Ranking, Scales
from bodymap.simulation.answers import Bedside
from bodymap.simulation.patients import Clinic, Patient
from bodymap.terms import Modality, Side

NOTHING: tuple[tuple[str, Side], ...] = ()
"""The answer "no single lesion"; also the truth of patients without one."""

Answer = tuple[tuple[str, Side], ...]

BINS = 10


@dataclass(frozen=True)
class Outcome:
    """One patient: the truth, its place (99 if nowhere), the leading answer and its
    support. Answers that are ranked alike by skin share a place."""

    kind: str
    truth: Answer
    place: int
    leading: Answer
    support: float

    @property
    def right(self) -> bool:
        """Whether the leading answer is the truth."""
        return self.leading == self.truth


def outcome(scales: Scales, patient: Patient, ranking: Ranking) -> Outcome:
    """The ranking of a patient held against the truth."""
    truth = answer_of(patient)
    kinds = {h.id: h.kind for h in scales.catalogue.hypotheses}
    kind = "none" if not truth else "two lesions" if len(truth) > 1 else kinds[truth[0][0]]
    entries: list[tuple[float, Answer]] = [
        (c.support, tuple(sorted(c.parts))) for c in ranking.candidates
    ]
    entries.append((ranking.something_else, NOTHING))
    entries.sort(key=lambda e: -e[0])
    places = [n for n, (_, answer) in enumerate(entries, start=1) if answer == truth]
    support, leading = entries[0]
    return Outcome(kind, truth, min(places, default=99), leading, support)


def answer_of(patient: Patient) -> Answer:
    """The hidden truth of a patient, as an answer."""
    return tuple(sorted((lesion.id, lesion.side) for lesion in patient.lesions))


def tried(
    scales: Scales,
    patients: Iterable[Patient],
    progress: Callable[[int], None] = lambda done: None,
) -> list[Outcome]:
    """The outcomes of the drawings alone. Patients in whom nothing altered was found are
    left out: there is nothing to rank."""
    found = []
    for number, patient in enumerate(patients, start=1):
        ranking = scales.rank_drawing(patient.drawing)
        if ranking.candidates:
            found.append(outcome(scales, patient, ranking))
        progress(number)
    return found


def reliability(outcomes: list[Outcome]) -> list[tuple[float, float, int]]:
    """(mean support, share right, patients) in ten bins of the leading answer's support."""
    support = np.array([o.support for o in outcomes])
    right = np.array([o.right for o in outcomes], dtype=np.float64)
    at = np.minimum((support * BINS).astype(int), BINS - 1)
    return [
        (float(support[at == b].mean()), float(right[at == b].mean()), int((at == b).sum()))
        for b in range(BINS)
        if (at == b).any()
    ]


def expected_calibration_error(outcomes: list[Outcome]) -> float:
    """Mean distance of support and share right over the bins, weighed by patients
    (Naeini, Cooper and Hauskrecht, AAAI 2015)."""
    bins = reliability(outcomes)
    total = sum(count for _, _, count in bins)
    return sum(abs(support - right) * count for support, right, count in bins) / total


@dataclass(frozen=True)
class Asked:
    """Share of first places from the drawing alone, after suggested questions, after
    suggested spots of skin only, and after random spots."""

    patients: int
    alone: float
    suggested: float
    suggested_skin: float
    random: float


def asked(scales: Scales, clinic: Clinic, patients: Iterable[Patient], most: int = 3) -> Asked:
    """Ask up to ``most`` questions of each patient, each after the answer to the last."""
    right = []
    for patient in patients:
        ranking = scales.rank_drawing(patient.drawing)
        if not ranking.candidates:
            continue
        row = [outcome(scales, patient, ranking).right]
        for kind in ("best", "skin", "random"):
            row.append(_after(scales, clinic, patient, ranking, kind, most))
        right.append(row)
    share: Floats = np.array(right, dtype=np.float64).mean(axis=0)
    return Asked(len(right), *(float(s) for s in share))


def _after(
    scales: Scales, clinic: Clinic, patient: Patient, first: Ranking, kind: str, most: int
) -> bool:
    bedside = Bedside(clinic, patient)
    chance = np.random.default_rng([patient.seed, 5])
    drawing, ranking = patient.drawing, first
    regions = list(scales.atlas.facts.regions)
    for _ in range(most):
        if kind == "random":
            side = (Side.LEFT, Side.RIGHT)[int(chance.integers(2))]
            region = regions[int(chance.integers(len(regions)))]
            drawing = bedside.touched(drawing, region, side, Modality.PINPRICK)
        else:
            questions = Questions()
            if ranking.posterior is not None:
                questions = next_spots(scales, ranking.posterior)
            offered = questions.best if kind == "best" else questions.skin
            if not offered:
                break
            drawing = bedside.asked(drawing, offered[0])
        ranking = scales.rank_drawing(drawing)
    return bool(ranking.candidates) and outcome(scales, patient, ranking).right
