"""The likelihood against scipy, on real rows of real hypotheses."""

import numpy as np
import pytest
from scipy import special, stats

from bodymap.localise.hypotheses import Hypothesis
from bodymap.localise.likelihood import (
    LEAST_EXPLAINED,
    Likelihoods,
    log_likelihood,
    scattered,
    support,
)
from bodymap.localise.ranking import Scales
from bodymap.localise.weights import NEAR
from bodymap.terms import Side

SOME = [
    ("root-c6", Side.LEFT),
    ("median-wrist", Side.RIGHT),
    ("radial-spiral-groove", Side.LEFT),
    ("cord-hemi-t8", Side.RIGHT),
    ("conus", Side.BOTH),
]


def _chosen(scales: Scales) -> list[Hypothesis]:
    return [scales.catalogue.hypotheses[scales.catalogue.by_id[key]] for key in SOME]


def _columns(scales: Scales, seed: int) -> np.ndarray:
    rng = np.random.default_rng(seed)
    spots = rng.random((3, 3, len(scales.atlas.cells)))
    return np.asarray(spots * (rng.random((3, 3, len(scales.atlas.cells))) < 0.05))


def test_bernoulli_likelihood_is_that_of_scipy() -> None:
    """Whole spots: scipy.stats.bernoulli as the outside reference."""
    chance = np.array([0.9, 0.2, 0.5, 0.05])
    said = np.array([1, 0, 1, 1])
    expected = stats.bernoulli.logpmf(said, chance).sum()
    assert log_likelihood(said.astype(float), 1.0 - said, chance) == pytest.approx(expected)


def test_support_is_the_softmax_of_scipy() -> None:
    scores, priors = np.array([-3.0, -5.5, -900.0]), np.log([0.2, 0.7, 0.1])
    expected = special.softmax(scores + priors)
    assert support(scores, priors) == pytest.approx(expected)


def test_scattered_skin_is_the_beta_integral_of_scipy(scales: Scales) -> None:
    """A share q that is unknown, summed over all q: scipy.special.betaln."""
    columns = _columns(scales, 1)
    expected = sum(
        special.betaln(channel[:2].sum() + 1, channel[2].sum() + 1) for channel in columns
    )
    assert scattered(columns) == pytest.approx(expected)


@pytest.mark.parametrize("seed", [2, 3])
def test_sparse_sums_give_what_plain_loops_give(scales: Scales, seed: int) -> None:
    """Cell by cell and state by state, with scipy's logsumexp, against the sparse form."""
    chosen = _chosen(scales)
    columns = _columns(scales, seed)
    likelihoods = Likelihoods(chosen, scales.weights, scales.catalogue.spots)
    found = likelihoods.of_all(columns)
    tempering = scales.weights["tempering"]
    for number, hypothesis in enumerate(chosen):
        family, first, _ = likelihoods.place(number)
        terms = []
        for at, row in enumerate(hypothesis.rows):
            vectors = family.vectors[first + at]
            for state in range(len(family.states.names)):
                total = stray = 0.0
                for channel in range(3):
                    grades = likelihoods.grades[vectors[channel]]
                    p = family.states.altered[state, channel][grades]
                    q = family.states.symptomatic[state, channel][grades]
                    loss, symptom, normal = columns[channel]
                    total += (loss * np.log(p) + symptom * np.log(q)).sum()
                    total += (normal * np.log(1 - p)).sum()
                    near = family.states.altered[state, channel, NEAR]
                    nearly = family.states.symptomatic[state, channel, NEAR]
                    stray += (loss * np.log(np.minimum(near / p, 1))).sum()
                    stray += (symptom * np.log(np.minimum(nearly / q, 1))).sum()
                explained = max(1 - np.exp(tempering * stray), LEAST_EXPLAINED)
                terms.append(
                    tempering * total
                    + np.log(explained)
                    + family.states.log_share[state]
                    + row.log_weight
                )
        assert found[number] == pytest.approx(special.logsumexp(terms), rel=1e-9)


def test_a_change_brings_sums_up_to_date(scales: Scales) -> None:
    before, after = _columns(scales, 4), _columns(scales, 5)
    sums = scales.likelihoods.sums(before)
    scales.likelihoods.add_change(sums, after - before)
    assert sums == pytest.approx(scales.likelihoods.sums(after), abs=1e-9)


def test_extent_states_are_shares_and_chances(scales: Scales) -> None:
    for name, family in scales.weights.families.items():
        assert np.exp(family.log_share).sum() == pytest.approx(1.0), name
        for chance in (family.altered, family.symptomatic):
            assert (chance > 0).all()
            assert (chance < 1).all()
