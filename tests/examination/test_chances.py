"""Chances of guessing against scipy's binomial distribution, an outside implementation."""

import pytest
from scipy.stats import binom

from bodymap.examination.chances import chance_of_guessing


@pytest.mark.parametrize("trials", range(41))
def test_tail_equals_scipy(trials: int) -> None:
    for correct in range(trials + 1):
        for choices in (2, 3, 4):
            expected = float(binom.sf(correct - 1, trials, 1 / choices))
            assert chance_of_guessing(correct, trials, choices) == pytest.approx(
                expected, rel=1e-12
            )


def test_eight_of_ten() -> None:
    """P(X >= 8 of 10) at one half = 56/1024, by hand: (45 + 10 + 1) / 2^10. The booklet of
    ISNCSCI 2019 takes 8 of 10 as telling sharp from dull (from memory)."""
    assert chance_of_guessing(8, 10) == 56 / 1024
    assert chance_of_guessing(5, 5) == 1 / 32
