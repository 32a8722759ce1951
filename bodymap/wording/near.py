"""Joints of fingers and toes and the webs between them, by the nearest named skin:
"5th MTP", "DIP joint of the index", "first web space of the foot".

``near-places.csv`` gives for each the skin over it, that on the palm or sole, and what is
moved where joint position is tested there. Which limb is meant is never guessed: it is
said, or it stands in the same statement.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bodymap.language import later
from bodymap.wording.digits import JOINTS, Kind, digits_at, numbers_at
from bodymap.wording.tokens import Token
from bodymap.wording.vocabulary import Vocabulary

_HAND = frozenset({"hand", "finger", "fingers", "thumb", "index", "palm", "palmar", "thenar",
                   "hypothenar", "mcp", "pinky", "pinkie"})  # fmt: skip
_FOOT = frozenset({"foot", "toe", "toes", "hallux", "sole", "plantar", "heel", "mtp"})
_REACHING = frozenset({"to", "beyond", "past", "as", "from", "below", "above", "between"})
_PARTS = frozenset({"dorsal", "interdigital", "space", "the"})
_WHOLE: dict[str, Kind] = {"hand": "f", "fingers": "f", "digits": "f", "foot": "t", "toes": "t"}

WHICH = later(
    "a joint or web space is left out; say which one, and whether of the hand or the foot"
)
WIDER = {
    "f": later("a joint of a finger is drawn as the nearest regions, which are wider"),
    "t": later("a joint of a toe is drawn as the nearest regions, which are wider"),
}
WIDER_WEB = later("a web space is drawn as the nearest regions, which are wider")


@dataclass(frozen=True)
class Context:
    """What stands around a place: the side of the fingers before it, the limb that its
    statement speaks of ("f" hand, "t" foot, or empty), and the word before it."""

    surface: str = ""
    limb: str = ""
    before: str = ""


@dataclass(frozen=True)
class Near:
    """Skin of joints or webs. ``moved`` is taken for joint position; ``exact`` if a
    region is just that."""

    over: frozenset[str]
    under: frozenset[str]
    moved: frozenset[str]
    end: int
    note: str
    moved_note: str


def context_of(words: Sequence[Token], at: int, surface: str) -> Context:
    """The context of a word of a sentence: the limb named in its own part between commas,
    else in the nearest part before, else behind; none where a part names both."""
    parts: list[set[str]] = [set()]
    own = 0
    for number, word in enumerate(words):
        if word.raw == ";":
            if number >= at:
                break
            parts, own = [set()], 0
            continue
        if word.raw == ",":
            parts.append(set())
        elif word.text in _HAND:
            parts[-1].add("f")
        elif word.text in _FOOT or _great(words, number):
            parts[-1].add("t")
        if number == at:
            own = len(parts) - 1
    said = next((p for p in [*parts[own::-1], *parts[own + 1 :]] if p), set())
    before = [w.text for w in words[:at] if w.text not in ("the", "level", "of")][-1:]
    return Context(surface, min(said) if len(said) == 1 else "", "".join(before))


def near_at(names: Vocabulary, words: Sequence[Token], start: int, context: Context) -> Near | None:
    """The joints or webs named from a word on, if it is certain which."""
    if context.before in _REACHING:
        return None
    return _joint(names, words, start, context) or _web(names, words, start, context)


def _great(words: Sequence[Token], at: int) -> bool:
    return words[at].text in ("great", "big") and _text(words, at + 1) in ("toe", "mtp", "and")


def _joint(names: Vocabulary, words: Sequence[Token], start: int, context: Context) -> Near | None:
    kind, numbers, at = _digits(words, start)
    joint = _text(words, at)
    if joint not in JOINTS:
        return None
    at += 1
    every = _text(words, at) == "joint" and words[at].raw == "joints"
    at += _text(words, at) == "joint"
    if not numbers:
        numbers, at = numbers_at(words, at)
    after = _after(words, at, ("of", "in"))
    if not numbers and after > at:
        owner, numbers, end = _digits(words, after)
        whole = _text(words, after)
        if numbers and owner:
            kind, at = owner, end
        elif whole in _WHOLE:
            kind, at = _WHOLE[whole], after + 1
            every = every or whole not in ("hand", "foot")
    belongs = {"mcp": "f", "mtp": "t"}.get(joint, kind or context.limb)
    if kind and belongs != kind:
        return None
    wanted = numbers or (_ALL if every else frozenset())
    rows = [(j, belongs, n) for n in sorted(wanted) for j in _of(joint, n)]
    if numbers and any(row not in names.near for row in rows):
        return None
    note = WIDER["f" if belongs == "f" else "t"]
    # Where joint position is tested, the base joint of a digit is the whole digit.
    digitwise = joint == "mcp" or (joint == "mtp" and (wanted == _ALL or wanted <= {1, 5}))
    return _near(names, rows, at, note, "" if digitwise else note)


_ALL = frozenset(range(1, 6))


def _of(joint: str, number: int) -> tuple[str, ...]:
    """The joints that a name means on a digit: "IP joints of the toes" are all of them."""
    return ("pip", "dip") if joint == "ip" and number > 1 else (joint,)


def _web(names: Vocabulary, words: Sequence[Token], start: int, context: Context) -> Near | None:
    numbers, at = numbers_at(words, start, ordinal=True)
    while _text(words, at) in _PARTS:
        at += 1
    if _text(words, at) == "web":
        at += 1
        at += _text(words, at) == "space"
    elif at > start or _text(words, at) != "between":
        return None
    kind = ""
    between = _after(words, at, ("between",))
    if between > at:
        digits = digits_at(words, between)
        if digits is None or len(digits.numbers) != 2:
            return None
        low, high = sorted(digits.numbers)
        if high - low != 1 or (numbers and numbers != {low}):
            return None
        kind, numbers, at = digits.kind, frozenset({low}), digits.end
    else:
        after = _after(words, at, ("of", "in"))
        whole = _text(words, after)
        if after > at and whole in ("hand", "foot"):
            kind, at = _WHOLE[whole], after + 1
    kind = kind or context.limb
    note = "" if numbers == {1} else WIDER_WEB
    return _near(names, [("web", kind, n) for n in sorted(numbers)], at, note, "")


def _near(
    names: Vocabulary, rows: list[tuple[str, str, int]], end: int, note: str, moved_note: str
) -> Near | None:
    found = [names.near[row] for row in rows if row in names.near]
    if not found:
        return None
    over, under, moved = (_union(skin[n] for skin in found) for n in range(3))
    return Near(over, under, moved, end, note, moved_note)


def _union(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset(member for one in sets for member in one)


def _digits(words: Sequence[Token], at: int) -> tuple[str, frozenset[int], int]:
    """Digits by name, or ordinals alone, of which it is open whether of hand or foot."""
    named = digits_at(words, at)
    if named is not None and not named.half:
        return named.kind, named.numbers, named.end
    numbers, end = numbers_at(words, at, ordinal=True)
    return "", numbers, end


def _after(words: Sequence[Token], at: int, opening: tuple[str, ...]) -> int:
    """The place after one of these words and articles, or the same place."""
    if _text(words, at) not in opening:
        return at
    at += 1
    while _text(words, at) in ("the", "all", "both"):
        at += 1
    return at


def _text(words: Sequence[Token], at: int) -> str:
    return words[at].text if at < len(words) else ""
