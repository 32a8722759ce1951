"""One result of a test in words, and how places and sides are put into words.

A result says what was found where on which side: "pinprick reduced at T9 to S3, both
sides". Right stands before left; what is the same on both sides is said once. All of it is
in the language in hand, in whole templates, since other languages order words otherwise.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from bodymap.classification.scores import POINTS, SIDES
from bodymap.language import capital, later, number, tr


class State(StrEnum):
    """What a result counts as. A test that was not done gives no result."""

    ABNORMAL = "Abnormal"
    NORMAL = "Normal"
    OPEN = "Not judged"
    """Done, yet neither normal nor abnormal can be said of it."""

    @property
    def word(self) -> str:
        """The state as it is read."""
        return {
            State.ABNORMAL: tr("Abnormal"),
            State.NORMAL: tr("Normal"),
            State.OPEN: tr("Not judged"),
        }[self]


SAFETY_NET = later("Safety net")

SORTING = (*(s.value for s in State), later("For"), later("Against"), later("Open"))
"""Words that sort the lines of a note and stand before them."""


def labelled(label: str, words: str) -> str:
    """A line with the word that sorts it."""
    return tr("{label}: {words}", label=tr(label), words=words)


def unlabelled(line: str, labels: Sequence[str] = SORTING) -> tuple[str, str]:
    """Which of these words stands before a line (empty where none does), as it is read, and
    the rest of the line."""
    for label in labels:
        if line.startswith(before := labelled(label, "")):
            return tr(label), line.removeprefix(before)
    return "", line


@dataclass(frozen=True)
class Result:
    """A result. ``words`` begin small and end without a stop."""

    state: State
    words: str


CHANGES = ("absent", "reduced", "increased", "tingling", "normal")
"""Words of a record for what was found, the gravest first."""


def said(modality: str, change: str) -> str:
    """A modality with what was found; of what is normal the state says it already."""
    if change == "absent":
        return tr("{modality} absent", modality=modality)
    if change == "reduced":
        return tr("{modality} reduced", modality=modality)
    if change == "increased":
        return tr("sensitivity to {modality} increased", modality=modality)
    return tr("tingling to {modality}", modality=modality) if change == "tingling" else modality


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
            words.append(tr("{first} to {last}", first=POINTS[run[0]], last=POINTS[run[-1]]))
        else:
            words += [POINTS[place] for place in run]
    return listed(words)


def listed(words: Sequence[str]) -> str:
    """Words as a list: "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return tr("{several} and {last}", several=", ".join(words[:-1]), last=words[-1])


def either(words: Sequence[str]) -> str:
    """Words as a choice: "a, b or c"."""
    if len(words) < 2:
        return "".join(words)
    return tr("{several} or {last}", several=", ".join(words[:-1]), last=words[-1])


def sided(by_side: Mapping[str, str]) -> str:
    """Words with their side: once for both sides, or the right before the left."""
    right, left = (by_side.get(side, "") for side in SIDES)
    if right and right == left:
        return tr("{words}, both sides", words=right)
    if right and left:
        return tr("{at_right}, right, and {at_left}, left", at_right=right, at_left=left)
    if right:
        return tr("{words}, right", words=right)
    return tr("{words}, left", words=left) if left else ""


def plain(text: object) -> str:
    """Free text on one line, without characters that no page can show."""
    kept = "".join(c if c.isprintable() else " " for c in str(text))
    return " ".join(kept.split())


def ended(words: str) -> str:
    """Words with a stop at their end."""
    return words if words.endswith((".", "!", "?")) else f"{words}."


def sentence(words: str) -> str:
    """Words as a sentence: a large letter first, a stop at the end."""
    return ended(capital(words))


SAME = 0.005
"""Numbers that differ by less are written alike."""


def figure(value: float) -> str:
    """A number without needless decimals: 3.5, 8. One that is not whole is never written as
    if it were, because limits are whole: 5.99."""
    short = f"{value:.1f}"
    if float(short) == round(float(short)) and abs(value - float(short)) > SAME:
        short = f"{value:.2f}"
    least = float(short)
    return number(least, f".{len(short.rstrip('0').rpartition('.')[2])}f")
