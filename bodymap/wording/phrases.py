"""Regions as a list of words: larger pieces where all of them is covered, and fingers
of one surface told together."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from bodymap.atlas.facts import Facts
from bodymap.wording.vocabulary import Vocabulary

DIGIT = re.compile(r"(whole|palmar|dorsal) (thumb|(?:index|middle|ring|little) finger)")
HALF = re.compile(r"(radial|ulnar) half of the (palmar|dorsal) (ring finger)")

PART = "part of the "

_WITHOUT_ARTICLE = ("a ", "all ", "part ")


@dataclass(frozen=True, order=True)
class Piece:
    """Skin that one name stands for: a region, or a group that is covered whole.

    ``place`` is where it stands from head to foot, ``spoken`` what it is called;
    ``partial`` if only part of it is meant.
    """

    place: int
    spoken: str
    partial: bool = False

    @property
    def phrase(self) -> str:
        """The name as it is dictated."""
        return PART + self.spoken if self.partial else self.spoken


def pieces(
    facts: Facts, words: Vocabulary, regions: Iterable[str], partial: Iterable[str] = ()
) -> list[Piece]:
    """Names for regions, head to foot, and then what is only partly concerned.

    The largest group that is covered whole is taken first.
    """
    left = set(regions) - set(partial)
    found: list[Piece] = []
    by_size = sorted(words.groups.values(), key=lambda g: -len(g.members))
    for group in by_size:
        if group.spoken and group.members <= left:
            left -= group.members
            place = min(words.order[m] for m in group.members)
            found.append(Piece(place, group.spoken))
    found += [_piece(facts, words, id_, partial=False) for id_ in left]
    return sorted(found) + sorted(_piece(facts, words, id_, partial=True) for id_ in partial)


def listed_phrases(found: list[str]) -> str:
    """The names as one list with its article: "the palm, sole and whole heel"."""
    items = _with_digits_together(found)
    text = _joined(items)
    return text if text.startswith(_WITHOUT_ARTICLE) else f"the {text}"


def _piece(facts: Facts, words: Vocabulary, id_: str, partial: bool) -> Piece:
    whole = id_ if id_ in words.order else facts.parts[id_].whole
    return Piece(words.order[whole], words.spoken(facts, id_), partial)


def _with_digits_together(found: list[str]) -> list[str]:
    """Fingers of one surface as one item: "palmar thumb, index and middle fingers and
    the radial half of the ring finger"."""
    items: list[str] = []
    at = 0
    while at < len(found):
        match = DIGIT.fullmatch(found[at])
        if not match:
            items.append(found[at])
            at += 1
            continue
        surface = match[1]
        heads: list[str] = []
        halves: list[str] = []
        while at < len(found):
            same, half = DIGIT.fullmatch(found[at]), HALF.fullmatch(found[at])
            if same and same[1] == surface and not halves:
                heads.append(same[2])
            elif half and half[2] == surface:
                halves.append(f"the {half[1]} half of the {half[3]}")
            else:
                break
            at += 1
        items.append(f"{surface} {_joined(_plural(heads) + halves)}")
    return items


def _plural(heads: list[str]) -> list[str]:
    """Fingers under one noun: "thumb", "index and middle fingers"."""
    named = [h.removesuffix(" finger") for h in heads]
    fingers = [h for h in heads if h.endswith(" finger")]
    if len(fingers) < 2:
        return [_joined(heads)]
    return [f"{_joined(named)} fingers"]


def _joined(items: list[str]) -> str:
    if len(items) < 2:
        return "".join(items)
    nested = any(" and " in item for item in items)
    return f"{', '.join(items[:-1])}{',' if nested else ''} and {items[-1]}"
