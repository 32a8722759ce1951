"""How likely a run of forced choices is by guessing alone: the exact binomial tail."""

from fractions import Fraction
from math import comb


def chance_of_guessing(correct: int, trials: int, choices: int = 2) -> float:
    """The chance (0 to 1) of at least so many right answers of so many by guessing among
    equally likely choices; 1 where nothing was tried.

    Exact: sum over k >= correct of C(trials, k) p^k (1-p)^(trials-k) with p = 1/choices.
    """
    p = Fraction(1, choices)
    tail = sum(comb(trials, k) * p**k * (1 - p) ** (trials - k) for k in range(correct, trials + 1))
    return float(tail)


def counted(trials: list[list[str]] | list[tuple[str, str]]) -> tuple[int, int]:
    """Right answers and all answers of trials that are (given, said)."""
    return sum(given == said for given, said in trials), len(trials)
