"""Skin by how far it reaches: "stocking to mid-shin", "glove", "below the elbow"."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bodymap.language import later, phrase
from bodymap.wording.tokens import Token
from bodymap.wording.vocabulary import Vocabulary

FOOT_UP: dict[str, tuple[str, ...]] = {
    "toes": ("toes",),
    "foot": ("foot",),
    "ankle": ("foot", "ankle"),
    "mid shin": ("foot", "ankle", "lower-leg"),
    "knee": ("foot", "ankle", "lower-leg"),
    "mid thigh": ("foot", "ankle", "lower-leg", "knee", "thigh-front-lower",
                  "thigh-medial-lower", "thigh-back-lower"),
    "groin": ("lower-limb",),
}  # fmt: skip
"""What a stocking takes up to a level: groups or regions."""

HAND_UP: dict[str, tuple[str, ...]] = {
    "hand": ("hand",),
    "fingers": ("digits",),
    "wrist": ("hand",),
    "mid forearm": ("hand", "forearm"),
    "elbow": ("hand", "forearm"),
    "shoulder": ("upper-limb",),
}
"""What a glove takes up to a level."""

NOTES = {
    "mid shin": later("the lower leg is drawn up to the knee, as it is not divided across"),
    "mid thigh": later("the outer thigh is left out, as it is not divided across"),
    "mid forearm": later("the forearm is drawn up to the elbow, as it is not divided across"),
}
"""What has to be assumed of a level that no border lies at."""

REACHED = {
    "ankle": later("'to the ankle' taken as from the foot up to the ankle"),
    "knee": later("'to the knee' taken as from the foot up to the knee"),
    "groin": later("'to the groin' taken as from the foot up to the groin"),
    "wrist": later("'to the wrist' taken as from the hand up to the wrist"),
    "elbow": later("'to the elbow' taken as from the hand up to the elbow"),
    "shoulder": later("'to the shoulder' taken as from the hand up to the shoulder"),
}
"""What is assumed where only the level is said."""

CLOTHING = {
    "stocking": ("ankle", later("'stocking' taken up to the ankle")),
    "sock": ("ankle", later("'sock' taken up to the ankle")),
    "glove": ("wrist", later("'glove' taken up to the wrist")),
}
"""Up to which level a pattern is taken that is said without one."""

_MID = {"shin": "shin", "calf": "shin", "leg": "shin", "tibia": "shin", "thigh": "thigh",
        "forearm": "forearm"}  # fmt: skip
_ONE_WORD = {"midshin": "mid shin", "midcalf": "mid shin", "midthigh": "mid thigh",
             "midforearm": "mid forearm", "thigh": "groin", "hip": "groin"}  # fmt: skip

_ENDS = frozenset({"toes", "foot", "fingers", "hand"})


@dataclass(frozen=True)
class Extent:
    """Skin of a limb from its end up to a level. ``both`` sides if none is said;
    ``extends`` if it takes skin named before it further, as "to the knee" does."""

    regions: frozenset[str]
    end: int
    both: bool
    note: str = ""
    extends: bool = False


def extent_at(names: Vocabulary, words: Sequence[Token], start: int) -> Extent | None:
    """The extent that is named from a word on, if any."""
    text = _text(words, start)
    if text in CLOTHING:
        return _clothed(names, words, start)
    between = _between(names, words, start) or _reaching(names, words, start)
    if between is not None:
        return between
    at = start + 1
    if text == "distal" and _text(words, at) == "to":
        at += 1
    elif text not in ("below", "from"):
        at, text = start, "from"
    level, at = _level(words, at)
    down = at + 1 if _text(words, at) in ("down", "downwards", "downward", "distally") else at
    if not level or (text == "from" and down == at):
        return None
    if text != "from" and level in ("ankle", "foot", "toes", "fingers", "groin", "shoulder"):
        level = {"ankle": "foot"}.get(level, "")
    return _up_to(names, level, down, False) if level else None


def _clothed(names: Vocabulary, words: Sequence[Token], start: int) -> Extent:
    """ "stocking distribution up to the knee", "glove"."""
    at = start + 1
    while _text(words, at) in ("distribution", "pattern", "type", "area", "like"):
        at += 1
    if _text(words, at) in ("and", ",") and _text(words, at + 1) in ("stocking", "glove"):
        # "glove and stocking": each has a level of its own.
        return _default(names, words[start].text, at)
    after = _to(words, at + (_text(words, at) == "reaching"))
    level, end = _level(words, after)
    table = HAND_UP if words[start].text == "glove" else FOOT_UP
    if level in table and after > at:
        return replace(_up_to(names, level, end, True), extends=True)
    return _default(names, words[start].text, at)


def _between(names: Vocabulary, words: Sequence[Token], start: int) -> Extent | None:
    """ "from the knee to the ankle", "feet up to the knees"."""
    low, at = _level(words, start + (_text(words, start) == "from"))
    after = _to(words, at)
    high, end = _level(words, after)
    if not low or not high or after == at:
        return None
    for table in (FOOT_UP, HAND_UP):
        if low in table and high in table:
            low, high = sorted((low, high), key=list(table).index)
            found = _up_to(names, high, end, False)
            whole = low in _ENDS
            less = frozenset() if whole else _up_to(names, low, end, False).regions
            both = words[end - 1].raw.endswith("s") or words[at - 1].raw == "feet"
            note = NOTES.get(high, "") or NOTES.get(low, "")
            return Extent(found.regions - less, end, both, note)
    return None


def _reaching(names: Vocabulary, words: Sequence[Token], start: int) -> Extent | None:
    """ "vibration absent to the ankles", "up to the knee": from the end of the limb."""
    at = _to(words, start)
    before = words[start - 1].text if start else ""
    level, end = _level(words, at)
    if at == start or not level or level in _ENDS or before in FOOT_UP or before in HAND_UP:
        return None
    both = words[end - 1].raw.endswith("s")
    regions: frozenset[str] = frozenset()
    note = ""
    for reached in _levels(words, level, end):
        level, end = reached
        found = _up_to(names, level, end, both)
        regions |= found.regions
        own = NOTES.get(level) or REACHED[level]
        note = phrase("{note}; {more}", note=note, more=own) if note else own
    return Extent(regions, end, both, note, extends=True)


def _levels(words: Sequence[Token], level: str, end: int) -> list[tuple[str, int]]:
    """A level and, behind "and", one of the other limb: "to the wrists and mid-shins"."""
    other, after = ("", end)
    if _text(words, end) == "and":
        other, after = _level(words, end + 1)
    table = FOOT_UP if level in HAND_UP else HAND_UP
    apart = other in table and other not in _ENDS
    return [(level, end), (other, after)] if apart else [(level, end)]


def _to(words: Sequence[Token], at: int) -> int:
    """The place after "to", "up to" or "as far as", or the same place."""
    text = [w.text for w in words[at : at + 3]]
    for said in (["up", "to"], ["as", "far", "as"], ["down", "to"], ["to"]):
        if text[: len(said)] == said:
            return at + len(said)
    return at


def _default(names: Vocabulary, clothing: str, end: int) -> Extent:
    level, note = CLOTHING[clothing]
    found = _up_to(names, level, end, True)
    return Extent(found.regions, end, True, note, extends=True)


def _level(words: Sequence[Token], at: int) -> tuple[str, int]:
    """A level of a limb and the place after it; empty if none stands here."""
    while _text(words, at) in ("the", "both", "level", "of"):
        at += 1
    text = _text(words, at)
    if text in ("mid", "middle") and _text(words, at + 1) in _MID:
        return f"mid {_MID[words[at + 1].text]}", at + 2
    text = _ONE_WORD.get(text, text)
    return (text, at + 1) if text in FOOT_UP or text in HAND_UP else ("", at)


def _up_to(names: Vocabulary, level: str, end: int, both: bool) -> Extent:
    members = FOOT_UP.get(level) or HAND_UP[level]
    regions: set[str] = set()
    for name in members:
        regions |= names.groups[name].members if name in names.groups else {name}
    return Extent(frozenset(regions), end, both, NOTES.get(level, ""))


def _text(words: Sequence[Token], at: int) -> str:
    return words[at].text if at < len(words) else ""
