"""Words that say which side of a body part is meant: "palmar", "inner half of the"."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bodymap.wording.digits import JOINTS, digits_at
from bodymap.wording.tokens import SKIPPED, Token
from bodymap.wording.vocabulary import Vocabulary

_WORDS = {
    "palmar volar": "palmar front",
    "dorsal dorsum extensor": "dorsal back",
    "front anterior ventral flexor": "front palmar",
    "back posterior": "back dorsal",
    "plantar underside undersurface bottom": "plantar",
    "top": "dorsal",
    "medial inner inside": "medial ulnar",
    "lateral outer outside": "lateral radial",
    "radial": "radial",
    "ulnar": "ulnar",
    "upper proximal superior": "upper proximal",
    "lower distal inferior": "lower distal",
    "mid middle central": "middle",
}

FACETS: dict[str, frozenset[str]] = {
    word: frozenset(tags.split()) for words, tags in _WORDS.items() for word in words.split()
}
"""A word for a side of a body part, and the facets of the tables that it means."""

_PAIRS = {
    "anterolateral": ("anterior", "lateral"),
    "anteromedial": ("anterior", "medial"),
    "posterolateral": ("posterior", "lateral"),
    "posteromedial": ("posterior", "medial"),
    "dorsoradial": ("dorsal", "radial"),
    "dorsoulnar": ("dorsal", "ulnar"),
}

_BORDERS = frozenset({"border", "edge", "margin"})
_NOUNS = _BORDERS | {"half", "third", "part", "side", "aspect", "surface", "portion", "region",
                     "area", "of", "the"}  # fmt: skip


@dataclass(frozen=True)
class Facets:
    """Facet words before a body part. ``groups`` are joined by "and"; the words of one
    group all hold. Each member of a group is a word of FACETS. ``border`` if a border
    was said, which is narrower than any region."""

    groups: tuple[frozenset[str], ...]
    end: int
    start: int = 0
    border: bool = False

    @property
    def surface(self) -> str:
        """ "palmar" or "dorsal", if that alone is what they say of the hand."""
        if len(self.groups) != 1:
            return ""
        sides = {w for w in ("palmar", "dorsal") if any(w in FACETS[f] for f in self.groups[0])}
        return sides.pop() if len(sides) == 1 else ""

    def on(self, surface: str) -> "Facets":
        """The same on one surface of the hand."""
        groups = tuple(g | {surface} for g in self.groups) or (frozenset({surface}),)
        return replace(self, groups=groups)

    def of(self, names: Vocabulary, regions: frozenset[str]) -> frozenset[str] | None:
        """The regions that carry the facets, or None if one of the words picks none."""
        if not self.groups:
            return regions
        found: frozenset[str] = frozenset()
        for group in self.groups:
            kept = regions
            for word in group:
                kept = names.faceted(kept, FACETS[word]) if _known(names, kept) else frozenset()
            if not kept:
                return None
            found |= kept
        return found

    def words(self, words: Sequence[Token]) -> tuple[str, ...]:
        """The words as typed."""
        return tuple(w.raw for w in words[self.start : self.end] if w.text not in SKIPPED)


def facets_at(words: Sequence[Token], start: int) -> list[Facets]:
    """The facet words from a word on, with "half of the" and the like behind them.

    First the longest reading: in "inner lower leg" the second word may belong to the
    name of what follows.
    """
    found: list[Facets] = []
    groups: list[set[str]] = []
    at, joined = start, True
    while at < len(words):
        if words[at].text == "middle" and digits_at(words, at):
            break
        said = _PAIRS.get(words[at].text) or (words[at].text,)
        if all(w in FACETS for w in said):
            if groups and not joined:
                found.append(Facets(tuple(frozenset(g) for g in groups), at, start))
            if joined:
                groups.append(set())
            groups[-1].update(said)
            joined = False
            at += 1
        elif groups and words[at].text == "and" and is_facet(words, at + 1):
            joined = True
            at += 1
        elif groups and words[at].text in _NOUNS:
            at += 1
        else:
            break
    if groups:
        border = any(w.text in _BORDERS for w in words[start:at])
        found.append(Facets(tuple(frozenset(g) for g in groups), at, start, border))
    return found[::-1]


@dataclass(frozen=True)
class Joint:
    """ "beyond the PIP joint": which end of a finger, counted from a joint."""

    facet: str
    joint: str
    start: int
    end: int

    def of(self, names: Vocabulary, regions: frozenset[str]) -> frozenset[str] | None:
        """The regions beyond or short of the joint, or None where they are not divided."""
        if self.joint in ("mcp", "mtp") and self.facet == "distal":
            return regions
        ends = names.faceted(regions, frozenset({"proximal", "distal"}))
        thumb = names.faceted(regions, frozenset({"f1"}))
        right_joint = thumb == regions if self.joint == "ip" else not thumb
        if self.joint not in ("ip", "pip") or ends != regions or not right_joint:
            return None
        return names.faceted(regions, frozenset({self.facet})) or None

    def words(self, words: Sequence[Token]) -> tuple[str, ...]:
        """The words as typed."""
        return tuple(w.raw for w in words[self.start : self.end] if w.text not in SKIPPED)


def joint_at(words: Sequence[Token], start: int) -> Joint | None:
    """A finger joint and the side of it, from a word on."""
    text = [w.text for w in words[start : start + 7] if w.text != "the"]
    taken = [n for n, w in enumerate(words[start : start + 7]) if w.text != "the"]
    for opening, facet in (
        (["distal", "to"], "distal"), (["beyond"], "distal"), (["past"], "distal"),
        (["proximal", "to"], "proximal"), (["as", "far", "as"], "proximal"),
        (["short", "of"], "proximal"), (["up", "to"], "proximal"), (["to"], "proximal"),
    ):  # fmt: skip
        size = len(opening)
        if text[:size] == opening and text[size : size + 1] and text[size] in JOINTS:
            end = start + taken[size] + 1
            if end < len(words) and words[end].text == "joint":
                end += 1
            return Joint(facet, text[size], start, end)
    return None


def is_facet(words: Sequence[Token], at: int) -> bool:
    while at < len(words) and words[at].text == "the":
        at += 1
    return at < len(words) and (words[at].text in FACETS or words[at].text in _PAIRS)


def _known(names: Vocabulary, regions: frozenset[str]) -> bool:
    """Whether facets are known of all these regions: parts of regions have none."""
    return all(r in names.regions for r in regions)
