"""Fingers and toes by name and number: "thumb, index and middle fingers", "D4-5",
"radial three and a half digits", "outer three toes"."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bodymap.wording.tokens import Token

Kind = Literal["f", "t"]

_NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5} | {str(n): n for n in range(1, 6)}
ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "1st": 1,
             "2nd": 2, "3rd": 3, "4th": 4, "5th": 5} | {f"{n}th": n for n in (4, 5)}  # fmt: skip
JOINTS = frozenset({"mcp", "mtp", "pip", "dip", "ip"})
"""Joints of fingers and toes, in their usual short form."""

_PLAIN = {str(n): n for n in range(1, 6)}
_FINGERS = {"thumb": 1, "index": 2, "middle": 3, "long": 3, "ring": 4, "little": 5, "small": 5,
            "pinky": 5, "pinkie": 5}  # fmt: skip
_TOES = {"great": 1, "big": 1, "hallux": 1, "middle": 3, "little": 5, "small": 5, "pinky": 5}
_BARE = {"thumb": "f", "index": "f", "pinky": "f", "pinkie": "f", "hallux": "t"}
_NOUNS: dict[str, Kind] = {
    "finger": "f", "fingers": "f", "digit": "f", "digits": "f", "toe": "t", "toes": "t",
}  # fmt: skip
_ENDS = frozenset({"and", "to", "right", "left", "r", "l", "on", "bilateral", "both", "with"})
_FROM_THUMB = frozenset({"radial", "lateral", "outer", "first"})
_FROM_LITTLE = frozenset({"ulnar", "medial", "inner", "last"})


@dataclass(frozen=True)
class Digits:
    """Fingers (f) or toes (t) by number, thumb and great toe first.

    ``half`` is a ring finger of which only the radial or the ulnar half is meant.
    """

    kind: Kind
    numbers: frozenset[int]
    end: int
    half: str = ""


def digits_at(words: Sequence[Token], start: int) -> Digits | None:
    """The digits that are named from a word on, if any."""
    return (
        _counted(words, start) or _numbered(words, start) or _short(words, start)
        or _named(words, start)
    )  # fmt: skip


def numbers_at(
    words: Sequence[Token], start: int, ordinal: bool = False
) -> tuple[frozenset[int], int]:
    """Bare numbers "1 to 3", or ordinals "4th and 5th", and the place after them."""
    return _list(words, start, ORDINALS if ordinal else _PLAIN)


def _text(words: Sequence[Token], at: int) -> str:
    return words[at].text if at < len(words) else ""


def _counted(words: Sequence[Token], start: int) -> Digits | None:
    """ "radial three and a half fingers", "outer three toes"."""
    from_, at = _text(words, start), start + 1
    if from_ not in _FROM_THUMB | _FROM_LITTLE:
        return None
    number = _NUMBERS.get(_text(words, at))
    if number is None:
        return None
    at += 1
    half = [_text(words, at + n) for n in range(3)] == ["and", "a", "half"]
    at += 3 if half else 0
    kind = _NOUNS.get(_text(words, at))
    if kind is None:
        return None
    # On the foot the great toe is the inner one, on the hand the thumb the outer one.
    low = from_ in _FROM_THUMB if kind == "f" else from_ in ("medial", "inner", "first")
    numbers = range(1, number + 1) if low else range(6 - number, 6)
    if half and (kind == "t" or number != (3 if low else 1)):
        return None
    return Digits(kind, frozenset(numbers), at + 1, ("radial" if low else "ulnar") if half else "")


def _numbered(words: Sequence[Token], start: int) -> Digits | None:
    """ "digits 4-5", "fingers 2, 3 and 4", "toe 5"."""
    kind = _NOUNS.get(_text(words, start))
    if kind is None:
        return None
    numbers, at = _list(words, start + 1, _PLAIN)
    return Digits(kind, numbers, at) if numbers else None


def _short(words: Sequence[Token], start: int) -> Digits | None:
    """ "D1-3", "D4 and D5"."""
    short = {f"d{n}": n for n in range(1, 6)}
    if _text(words, start) not in short:
        return None
    numbers, at = _list(words, start, short | _PLAIN)
    return Digits("f", numbers, at)


def _named(words: Sequence[Token], start: int) -> Digits | None:
    """ "thumb, index and middle fingers", "4th and 5th toes", "great toe"."""
    best = None
    for kind, names in (("f", _FINGERS | ORDINALS), ("t", _TOES | ORDINALS)):
        nouns = frozenset(n for n, k in _NOUNS.items() if k == kind)
        numbers, at = _list(words, start, names, nouns)
        if not numbers:
            continue
        used = {w.text for w in words[start:at]}
        bare = _BARE.get(_text(words, start)) == kind or _text(words, at - 1) in _BARE
        if used & nouns or bare:
            found = Digits("f" if kind == "f" else "t", numbers, at)
            if best is None or found.end > best.end:
                best = found
    return best


def _stands(words: Sequence[Token], at: int, nouns: frozenset[str]) -> bool:
    """Whether a name may be a digit here: "middle third of the thigh" is none."""
    if words[at].text in _BARE:
        return True
    after = _text(words, at + 1)
    return not after.isalnum() or after in nouns | _FINGERS.keys() | _ENDS


def _list(
    words: Sequence[Token],
    start: int,
    names: dict[str, int],
    nouns: frozenset[str] = frozenset(),
) -> tuple[frozenset[int], int]:
    """Numbers of a list of names with "and", commas and "to", and the place after it."""
    found: list[int] = []
    at, end, through = start, start, False
    while at < len(words):
        number = names.get(words[at].text)
        if number is None:
            break
        if nouns and not _stands(words, at, nouns):
            break
        if through and found:
            found += range(min(found[-1], number), max(found[-1], number))
        found.append(number)
        at += 1
        if _text(words, at) in nouns:
            at += 1
        end = at
        through = False
        while _text(words, at) in ("and", ",", "to", "the"):
            through = through or words[at].text == "to"
            at += 1
        if at == end:
            break
    return frozenset(found), end
