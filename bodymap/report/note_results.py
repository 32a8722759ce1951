"""One result of a test in words, and how places and sides are put into words.

A result says what was found where on which side: "pinprick reduced at T9 to S3, both
sides". Right stands before left; what is the same on both sides is said once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from bodymap.classification.scores import POINTS, SIDES


class State(StrEnum):
    """What a result counts as. A test that was not done gives no result."""

    ABNORMAL = "Abnormal"
    NORMAL = "Normal"
    OPEN = "Not judged"
    """Done, yet neither normal nor abnormal can be said of it."""


@dataclass(frozen=True)
class Result:
    """A result. ``words`` begin small and end without a stop."""

    state: State
    words: str


CHANGES = ("absent", "reduced", "increased", "tingling", "normal")
"""Words of a record for what was found, the gravest first."""

_SAID = {
    "absent": "{} absent",
    "reduced": "{} reduced",
    "increased": "sensitivity to {} increased",
    "tingling": "tingling to {}",
    "normal": "{}",
}


def said(modality: str, change: str) -> str:
    """A modality with what was found; of what is normal the state says it already."""
    return _SAID[change].format(modality)


def state_of(change: str) -> State:
    """What a word of the record counts as."""
    return State.NORMAL if change == "normal" else State.ABNORMAL


def ranges(segments: Sequence[str]) -> str:
    """Segments with a key point as few words: "C4, T4 and L2 to S1". Only neighbours
    that are all named are drawn together."""
    places = sorted(POINTS.index(s) for s in segments)
    runs: list[list[int]] = []
    for place in places:
        if runs and place == runs[-1][-1] + 1:
            runs[-1].append(place)
        else:
            runs.append([place])
    words = []
    for run in runs:
        if len(run) > 2:
            words.append(f"{POINTS[run[0]]} to {POINTS[run[-1]]}")
        else:
            words += [POINTS[place] for place in run]
    return listed(words)


def listed(words: Sequence[str], last: str = "and") -> str:
    """Words as a list: "a, b and c"."""
    return f" {last} ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def sided(by_side: Mapping[str, str]) -> str:
    """Words with their side: once for both sides, or the right before the left."""
    kept = {side: by_side[side] for side in SIDES if by_side.get(side)}
    if len(kept) == 2 and len(set(kept.values())) == 1:
        return f"{next(iter(kept.values()))}, both sides"
    return ", and ".join(f"{words}, {side}" for side, words in kept.items())


def plain(text: object) -> str:
    """Free text on one line, without characters that no page can show."""
    kept = "".join(c if c.isprintable() else " " for c in str(text))
    return " ".join(kept.split())


def ended(words: str) -> str:
    """Words with a stop at their end."""
    return words if words.endswith((".", "!", "?")) else f"{words}."


SAME = 0.005
"""Numbers that differ by less are written alike."""


def figure(value: float) -> str:
    """A number without needless decimals: 3.5, 8. One that is not whole is never written as
    if it were, because limits are whole: 5.99."""
    short = f"{value:.1f}"
    if float(short) == round(float(short)) and abs(value - float(short)) > SAME:
        short = f"{value:.2f}"
    return short.rstrip("0").rstrip(".")
