"""A sentence as a row of items: changes, tests, sides, skin and the marks between."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bodymap.terms import Modality, Side
from bodymap.wording.digits import ORDINALS
from bodymap.wording.facets import facets_at, is_facet
from bodymap.wording.lexicon import ChangeWord, Mark
from bodymap.wording.near import Context, context_of
from bodymap.wording.places import Gazetteer, Place
from bodymap.wording.tokens import Token

_COMPARING = frozenset({">", "<", "than"})
_ASPECTS = frozenset({"aspect", "side", "surface", "border", "edge", "half", "part"})
_BEFORE_SIDE = frozenset({"of", "the", "to", "below", "from", "between"})


@dataclass(frozen=True)
class Item:
    """What some words mean: a change, a test, a side, skin, a mark, or a sign.

    ``kind`` is the sign itself ("," ";" "unknown") where the words mean none of these.
    """

    kind: str
    words: tuple[str, ...]
    value: ChangeWord | Modality | Side | Place | None = None


def sentences_of(words: Sequence[Token]) -> list[list[Token]]:
    """The words cut at full stops and line ends."""
    found: list[list[Token]] = [[]]
    for word in words:
        if word.raw == ".":
            found.append([])
        else:
            found[-1].append(word)
    return [s for s in found if s]


def items_of(words: Sequence[Token], names: Gazetteer) -> list[Item]:
    """The items of a sentence, the longest reading of each first."""
    found: list[Item] = []
    at, surface = 0, ""
    while at < len(words):
        context = context_of(words, at, surface)
        end, item = _item(words, at, names, context)
        inner = _with_side_inside(words, at, names, context)
        if inner is not None and inner[0] > end:
            end, side, item = inner
            found.append(side)
        elif item.kind == "unknown" and _narrow_last(words, at, names, found):
            end = facets_at(words, at)[0].end
            item = Item("filler", _typed(words, at, end))
        found.append(item)
        if isinstance(item.value, Place):
            surface = item.value.surface
        elif isinstance(item.value, ChangeWord) or item.kind == ";":
            surface = ""
        at = end
    return found


def _narrow_last(words: Sequence[Token], at: int, names: Gazetteer, found: list[Item]) -> bool:
    """Cuts the skin just named down by the facet words that stand behind it: all of a list
    if a comma parts them from it, "thumb and index finger numb, palmar aspect"."""
    behind = facets_at(words, at)
    if not behind:
        return False
    listed = _just_named(found)
    if not listed:
        return False
    kept = [(n, names.narrowed(place, behind[0])) for n, place in listed]
    apart = any(i.kind == "," for i in found[listed[0][0] + 1 :])
    if not apart or any(place is None for _, place in kept):
        kept = kept[:1]
    for number, place in kept:
        if place is not None:
            found[number] = replace(found[number], value=place)
    return kept[0][1] is not None


def _just_named(found: list[Item]) -> list[tuple[int, Place]]:
    """The skin of the list that was just named, the last first. In "toes of the foot" it
    is the toes."""
    listed: list[tuple[int, Place]] = []
    within = False
    for number in range(len(found) - 1, -1, -1):
        place, kind = found[number].value, found[number].kind
        if isinstance(place, Place):
            if within and place.regions < listed[-1][1].regions:
                listed.pop()
            listed.append((number, place))
            within = True
        elif kind not in ("filler", "side", ",", "change", "and") or (listed and kind == "change"):
            break
        elif kind not in ("filler", "side"):
            within = within and not listed
    return listed


def _with_side_inside(
    words: Sequence[Token], at: int, names: Gazetteer, context: Context
) -> tuple[int, Item, Item] | None:
    """A place with its side within the name: "back of the right hand"."""
    for where in range(at + 1, min(at + 8, len(words))):
        if words[where].raw in (",", ";"):
            return None
        side = names.word_at(words[: where + 1], where)
        if side and isinstance(side[1], Side) and _before_side(words, where - 1):
            place = names.place_at([*words[at:where], *words[where + 1 :]], 0, context)
            if place is None or at + place.end <= where:
                return None
            end = at + place.end + 1
            item = Item("place", _typed(words, at, end), place)
            return end, Item("side", (), side[1]), item
    return None


def _before_side(words: Sequence[Token], at: int) -> bool:
    """Whether a side may stand within a name behind this word: "lateral right forearm"."""
    text = words[at].text
    return text in _BEFORE_SIDE or text in _ASPECTS or text in ORDINALS or is_facet(words, at)


def _item(words: Sequence[Token], at: int, names: Gazetteer, context: Context) -> tuple[int, Item]:
    compared = _comparison(words, at, names)
    if compared > at:
        return compared, Item("unknown", _typed(words, at, compared))
    named = names.word_at(words, at)
    place = names.place_at(words, at, context)
    longer = place is not None and (named is None or place.end >= named[0])
    if place is not None and longer:
        return place.end, Item("place", _typed(words, at, place.end), place)
    if named is not None:
        end, meaning = named
        typed = _typed(words, at, end)
        if isinstance(meaning, ChangeWord):
            return end, Item("change", typed, meaning)
        if isinstance(meaning, Modality):
            return end, Item("test", typed, meaning)
        if isinstance(meaning, Side):
            return end, Item("side", typed, meaning)
        if isinstance(meaning, Mark):
            return end, Item(meaning.kind, typed)
    raw = words[at].raw
    if raw in (",", ";"):
        return at + 1, Item(raw, ())
    if not words[at].is_word:
        return at + 1, Item("filler", ())
    return at + 1, Item("unknown", (raw,))


def _comparison(words: Sequence[Token], at: int, names: Gazetteer) -> int:
    """The place after "left > right", "> right" or "worse than left", else the same place:
    which side is worse is no finding of its own."""
    first = names.word_at(words, at)
    mark = first[0] if first and isinstance(first[1], Side) else at
    while mark < len(words) and words[mark].text in ("worse", "more", "less", "greater"):
        mark += 1
    if mark >= len(words) or words[mark].raw not in _COMPARING:
        return at
    after = names.word_at(words, mark + 1)
    return after[0] if after and isinstance(after[1], Side) else mark + 1


def _typed(words: Sequence[Token], start: int, end: int) -> tuple[str, ...]:
    return tuple(w.raw for w in words[start:end] if w.is_word or w.raw in _COMPARING)
