"""Simulated patients: their errors, their seeds, and that they know nothing of the scores."""

import ast
from pathlib import Path

import numpy as np
import pytest

import bodymap
from bodymap.atlas import Atlas
from bodymap.localise.ranking import Scales
from bodymap.simulation.answers import Bedside
from bodymap.simulation.case_mix import patients
from bodymap.simulation.habits import Habits, error_from_kappa
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import Clinic, Patient
from bodymap.simulation.trial import (
    Outcome,
    asked,
    expected_calibration_error,
    outcome,
    reliability,
    tried,
)
from bodymap.terms import Modality, Side


@pytest.fixture(scope="module")
def clinic(atlas: Atlas) -> Clinic:
    return Clinic(atlas)


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


def test_error_rate_gives_back_the_published_kappa(clinic: Clinic) -> None:
    """Two examiners who each err at the rate, on 200,000 spots of which half are altered:
    Cohen's kappa as defined in 1960 is the 0.53 of Schmid 2009 (from the abstract)."""
    rng = np.random.default_rng(1)
    truth = rng.random(200_000) < 0.5
    first, second = (truth ^ (rng.random(len(truth)) < clinic.habits.error) for _ in range(2))
    agree = (first == second).mean()
    chance = first.mean() * second.mean() + (1 - first.mean()) * (1 - second.mean())
    assert (agree - chance) / (1 - chance) == pytest.approx(0.53, abs=0.01)
    assert error_from_kappa(1.0) == 0.0


def test_same_seed_same_patient(clinic: Clinic) -> None:
    lesion = (Lesion("root-l5", Side.LEFT),)
    first, again, other = (clinic.patient(lesion, seed) for seed in (4, 4, 5))
    assert first.drawing == again.drawing
    assert (first.truth == again.truth).all()
    assert first.drawing != other.drawing or (first.truth != other.truth).any()


def test_examined_spots_are_wrong_about_as_often_as_kappa_says(clinic: Clinic) -> None:
    """Over many patients; spots that stood alone were tested again, so a little less."""
    wrong = seen = 0
    for seed in range(120):
        patient = clinic.patient((Lesion("ulnar-elbow", Side.RIGHT),), seed)
        layers = [(change, layer) for m, change, layer in patient.drawing if m is Modality.PINPRICK]
        for change, layer in layers:
            for spot in layer.regions:
                at = clinic.spots.index(spot)
                seen += 1
                wrong += change.altered != bool(patient.truth[0, at])
    assert seen > 1000
    assert 0.06 <= wrong / seen <= 0.20


def test_root_varies_as_published(clinic: Clinic) -> None:
    """In 62.6 % the lost strip is the standard one (Hong and Nam, from the abstract)."""
    rng = np.random.default_rng(2)
    c6 = clinic.bodies.skin(Lesion("root-c6", Side.LEFT), np.random.default_rng(0))
    standard = clinic.atlas.territory("root-c6", Side.LEFT).extent
    assert c6.shape == (3, len(clinic.atlas.cells))
    fits = [
        (clinic.bodies.skin(Lesion("root-c6", Side.LEFT), rng)[0] == standard).all()
        for _ in range(600)
    ]
    assert np.mean(fits) == pytest.approx(clinic.habits["standard_dermatome"], abs=0.06)


@pytest.mark.parametrize(
    ("id_", "side", "lost", "kept"),
    [
        # Pathways: Hardy, Continuum 2021;27:12-29 (from the opening).
        ("cord-transverse-t4", Side.BOTH, [(0, "T8", 0), (0, "T8", 1), (2, "L4", 0)],
         [(0, "C8", 0)]),
        ("cord-hemi-t8", Side.RIGHT, [(0, "L4", 1), (2, "L4", 0)], [(0, "L4", 0), (2, "L4", 1)]),
        ("cord-central-c5-t2", Side.BOTH, [(0, "C7", 0), (0, "C7", 1)],
         [(1, "C7", 0), (0, "L4", 0), (2, "C7", 0)]),
        ("cord-posterior-c5", Side.BOTH, [(2, "L4", 0)], [(0, "L4", 0)]),
        ("cord-anterior-t6", Side.BOTH, [(0, "L4", 0)], [(2, "L4", 0), (0, "C7", 0)]),
    ],
)  # fmt: skip
def test_cord_lesions_follow_the_pathways(
    clinic: Clinic, id_: str, side: Side, lost: list, kept: list
) -> None:
    """(channel, segment, left) that must be lost or kept. Side is that of the lesion."""
    skin = clinic.bodies.skin(Lesion(id_, side), np.random.default_rng(3))
    for spots, expected in ((lost, True), (kept, False)):
        for channel, segment, left in spots:
            half = Side.LEFT if left else Side.RIGHT
            cells = clinic.atlas.cells_of_dermatome(segment, half)
            assert bool(skin[channel, cells].all()) is expected, (channel, segment, left)


def test_simulator_does_not_read_the_weights_of_the_ranking() -> None:
    folder = Path(bodymap.__file__).parent / "simulation"
    for name in ("lesions.py", "patients.py", "habits.py"):
        tree = ast.parse((folder / name).read_text(encoding="utf-8"))
        used = {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
        for module in ("weights", "likelihood", "hypotheses", "grading", "sign_chances"):
            assert f"bodymap.localise.{module}" not in used, name


def test_answers_are_mostly_the_truth(clinic: Clinic) -> None:
    patient = clinic.patient((Lesion("lateral-femoral-cutaneous-inguinal", Side.LEFT),), 11)
    right = [
        Bedside(clinic, Patient(patient.lesions, patient.truth, patient.examined,
                                patient.drawing, patient.error, seed))
        .is_altered("sole-medial", Side.LEFT, 0)
        for seed in range(300)
    ]  # fmt: skip
    # Two of three applications: 3 e^2 - 2 e^3 = 0.05 for e = 0.136.
    assert np.mean(right) == pytest.approx(0.05, abs=0.04)


def test_calibration_error_by_hand() -> None:
    """Two bins: 0.8 stated and half right, 0.3 stated and all right."""
    truth = (("a", Side.LEFT),)
    wrong = (("b", Side.LEFT),)
    outcomes = [Outcome("nerve", truth, 1, truth, 0.8), Outcome("nerve", truth, 2, wrong, 0.8)]
    outcomes += [Outcome("nerve", truth, 1, truth, 0.3)] * 2
    assert reliability(outcomes) == [(0.3, 1.0, 2), (0.8, 0.5, 2)]
    assert expected_calibration_error(outcomes) == pytest.approx((0.7 + 0.3) / 2)


def test_support_means_what_it_says(clinic: Clinic, scales: Scales) -> None:
    """400 patients that were not used to choose a weight; ten bins of so few patients
    scatter by about 0.03, so the bound is wider than that of the document's 5,000."""
    outcomes = tried(scales, patients(clinic, scales.catalogue, 400, seed=20261125))
    assert len(outcomes) > 300
    assert expected_calibration_error(outcomes) <= 0.09


def test_questions_help(clinic: Clinic, scales: Scales) -> None:
    """A small run; the document has the large one."""
    found = asked(scales, clinic, patients(clinic, scales.catalogue, 60, seed=20261126))
    assert found.suggested > found.alone
    assert found.suggested > found.random


def test_outcome_counts_only_the_truth_on_its_side(clinic: Clinic, scales: Scales) -> None:
    patient = next(patients(clinic, scales.catalogue, 1, seed=8))
    ranking = scales.rank_drawing(patient.drawing)
    if ranking.candidates:
        found = outcome(scales, patient, ranking)
        assert found.right == (found.leading == found.truth)


def test_habits_come_from_their_own_table(atlas: Atlas) -> None:
    habits = Habits(atlas.facts.folder)
    assert habits["kappa"] == 0.53
