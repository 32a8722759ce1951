"""Skin in words: a name, or a body part with words that say which side of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from bodymap.atlas.facts import Facts
from bodymap.language import english, later, phrase
from bodymap.terms import Modality
from bodymap.wording.digits import Digits, digits_at
from bodymap.wording.extents import extent_at
from bodymap.wording.facets import Facets, facets_at, joint_at
from bodymap.wording.lexicon import Meaning, NamedSkin, WordTree, add_other_words
from bodymap.wording.near import Context, Near, near_at
from bodymap.wording.segments import strip_at
from bodymap.wording.tokens import Token
from bodymap.wording.vocabulary import Vocabulary, vocabulary

_BORDER = later("a border is drawn as the regions along it, which are wider")
_TIP = later("the tip of a finger is drawn as the palmar finger and its back beyond the PIP joint")
_PALMAR_TIP = later("the tip of a finger is drawn as the whole palmar finger")
_TOE_TIP = later("the tip of a toe is drawn as the whole toe")
_TOES = later("toes share regions; the nearest regions are drawn")
_NOWHERE = Context()

_PAIRED = frozenset(
    {"hands", "feet", "arms", "legs", "thighs", "calves", "shins", "knees", "ankles", "heels",
     "soles", "palms", "forearms", "elbows", "shoulders", "cheeks", "ears", "buttocks",
     "limbs", "extremities", "thumbs"}
)  # fmt: skip
"""Plurals that mean both sides where no side is said."""


@dataclass(frozen=True)
class Place:
    """Skin that was named, up to a word. ``missed`` are words of it that say nothing
    here; ``surface`` is the side of the fingers it leaves for those that follow; ``reach``
    says that it is given by how far it reaches, and ``within`` that this cuts down skin
    named directly before it; ``near`` that it is a joint or web; ``moved`` is the place
    that is meant where joint position is tested, if it is another."""

    regions: frozenset[str]
    end: int
    both: bool = False
    notes: tuple[str, ...] = ()
    missed: tuple[str, ...] = ()
    surface: str = ""
    reach: bool = False
    within: bool = False
    near: bool = False
    moved: "Place | None" = None

    def for_test(self, test: Modality) -> "Place":
        """The place that is meant where this is tested."""
        return self.moved if self.moved and test is Modality.JOINT_POSITION else self


class Gazetteer:
    """Finds skin and other words in a phrase, the longest reading first."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._names = vocabulary(facts)
        self._tree = _all_words(facts, self._names)

    def word_at(self, words: Sequence[Token], start: int) -> tuple[int, Meaning] | None:
        """(place after it, meaning) of the longest name that starts at a word."""
        return self._tree.longest(words, start)

    def place_at(
        self, words: Sequence[Token], start: int, context: Context = _NOWHERE
    ) -> Place | None:
        """The skin named from a word on, with what stands around it."""
        found = [self._bare(words, start, Facets((), start), context)]
        named = found[0].end - start > 1 if found[0] else False
        for facets in facets_at(words, start):
            # "upper back and inner sole": the first is a name of its own.
            if not (named and len(facets.groups) > 1):
                found.append(self._bare(words, facets.end, facets, context))
        strip = strip_at(self._facts, words, start)
        if strip is not None:
            found.append(_noted(strip.regions, strip.end, strip.level, strip.note))
        extent = extent_at(self._names, words, start)
        if extent is not None:
            reach = _noted(extent.regions, extent.end, extent.both, extent.note)
            found.append(replace(reach, reach=True, within=not extent.extends))
        known = [p for p in found if p is not None]
        best = max(known, key=lambda p: (not p.missed, p.end), default=None)
        return None if best is None else replace(best, surface=self._surface(best.regions))

    def narrowed(self, place: Place, facets: Facets) -> Place | None:
        """A place cut down by words behind it: "thumb, dorsal aspect"."""
        kept = facets.of(self._names, place.regions)
        return None if kept is None else replace(place, regions=kept, surface=self._surface(kept))

    def _surface(self, regions: frozenset[str]) -> str:
        """ "palmar" or "dorsal" if regions are that side of fingers and nothing else."""
        for surface in ("palmar", "dorsal"):
            wanted = {frozenset({surface}), frozenset({"f1", "f2", "f3", "f4", "f5"})}
            if all(self._names.faceted(regions, tags) == regions for tags in wanted):
                return surface
        return ""

    def _bare(
        self, words: Sequence[Token], at: int, facets: Facets, context: Context
    ) -> Place | None:
        """A name, digits, a joint or a web, cut down to some facets of them."""
        while facets.groups and at < len(words) and words[at].text in ("of", "the", "both"):
            if words[at].text == "both":
                return None
            at += 1
        end, skin = self._tree.longest(words, at) or (at, None)
        tip = self._tips(words, at)
        digits = digits_at(words, tip or at)
        named = end if isinstance(skin, NamedSkin) else at
        near = near_at(self._names, words, at, context)
        if near and near.end > max(named, digits.end if digits else at):
            return self._nearest(words, near, facets)
        if digits and named < digits.end:
            return self._digits(words, at, digits, facets, context.surface, bool(tip))
        if not isinstance(skin, NamedSkin):
            return None
        both = skin.both or words[end - 1].raw in _PAIRED
        regions = skin.regions
        notes: tuple[str, ...] = (skin.note,) if skin.note else ()
        if facets.groups and skin.qualified:
            regions, notes = skin.qualified, ()
        kept = facets.of(self._names, regions)
        missed = () if kept is not None else facets.words(words)
        if facets.border and kept is not None:
            notes += (_BORDER,)
        return Place(regions if kept is None else kept, end, both, notes, missed)

    def _tips(self, words: Sequence[Token], at: int) -> int:
        """The place of the digits behind "tip of the" or "finger tips of", or 0."""
        text = [w.text for w in words[at : at + 2]]
        if text[:1] != ["tip"] and text not in (["finger", "tip"], ["toe", "tip"]):
            return 0
        at += 1 if text[0] == "tip" else 2
        while at < len(words) and words[at].text in ("of", "the"):
            at += 1
        return at

    def _nearest(self, words: Sequence[Token], near: Near, facets: Facets) -> Place:
        """The nearest skin to a joint or web: over it, or on the palm or sole if said."""
        kept = facets.of(self._names, near.over)
        if kept is None:
            kept = facets.of(self._names, near.under) if near.under else None
        missed = () if kept is not None else facets.words(words)
        notes = (near.note,) if near.note else ()
        place = Place(near.over if kept is None else kept, near.end, False, notes, missed)
        place = replace(place, near=True)
        if not near.moved:
            return place
        notes = (near.moved_note,) if near.moved_note else ()
        return replace(place, moved=replace(place, regions=near.moved, notes=notes))

    def _digits(
        self,
        words: Sequence[Token],
        at: int,
        digits: Digits,
        facets: Facets,
        surface: str,
        tip: bool,
    ) -> Place:
        whole = at > 0 and words[at - 1].text in ("whole", "entire", "both")
        if not facets.surface and not whole and surface and digits.kind == "f":
            facets = facets.on(surface)
        tags = frozenset(f"{digits.kind}{n}" for n in digits.numbers)
        every = frozenset(self._names.regions)
        regions = self._names.faceted(every, tags)
        if digits.half:
            ring = self._names.faceted(every, frozenset({"f4"}))
            regions |= self._names.faceted(ring, frozenset({digits.half}))
        end = digits.end
        notes: tuple[str, ...] = ()
        if not tip and end < len(words) and words[end].text == "tip":
            tip, end = True, end + 1
        if tip and digits.kind == "f":
            regions = self._names.faceted(regions, frozenset({"palmar", "distal"}))
        kept = facets.of(self._names, regions)
        missed = () if kept is not None else facets.words(words)
        regions = regions if kept is None else kept
        if facets.border and kept is not None:
            notes += (_BORDER,)
        joint = joint_at(words, end)
        if joint is not None:
            end, divided = joint.end, joint.of(self._names, regions)
            missed += () if divided is not None else joint.words(words)
            regions = regions if divided is None else divided
        if digits.kind == "t":
            regions, shared = self._toes(regions, tags)
            notes += shared
        if tip:
            palmar = self._names.faceted(regions, frozenset({"palmar"})) == regions
            notes += (_TOE_TIP if digits.kind == "t" else _PALMAR_TIP if palmar else _TIP,)
        return Place(regions, end, False, notes, missed)

    def _toes(
        self, regions: frozenset[str], tags: frozenset[str]
    ) -> tuple[frozenset[str], tuple[str, ...]]:
        """Toes share regions: one that is mostly of other toes is left out, unless a
        toe would have no skin at all."""
        share = {}
        for id_ in regions:
            toes = {f for f in self._names.regions[id_].facets if f[0] == "t" and f[1:].isdigit()}
            share[id_] = len(toes & tags) / len(toes)
        kept = {id_ for id_, part in share.items() if part > 0.5}
        for toe in tags:
            mine = {id_ for id_ in regions if toe in self._names.regions[id_].facets}
            if not kept & mine:
                kept |= mine
        if kept == regions and all(part == 1 for part in share.values()):
            return regions, ()
        return frozenset(kept), (_TOES,)


@english()
def gazetteer(facts: Facts) -> Gazetteer:
    """The gazetteer of a set of facts (remembered)."""
    return _gazetteer(facts)


@lru_cache(maxsize=4)
def _gazetteer(facts: Facts) -> Gazetteer:
    return Gazetteer(facts)


def _all_words(facts: Facts, names: Vocabulary) -> WordTree:
    """All words: a region's own names win over those of groups, and both over others."""
    tree = WordTree()
    for id_, region in facts.regions.items():
        known = names.regions[id_]
        for name in (id_, region.label, known.spoken, *known.aliases):
            tree.add(name, NamedSkin(frozenset({id_})))
    for id_, part in facts.parts.items():
        for name in (id_, part.label):
            tree.add(name, NamedSkin(frozenset({id_})))
    for group in names.groups.values():
        qualified = names.groups[group.qualified].members if group.qualified else frozenset()
        both = group.id == "saddle"
        if group.spoken:
            tree.add(group.spoken, NamedSkin(group.members, qualified, "", both))
        for name in group.aliases:
            note = phrase(group.note, word=name) if group.note else ""
            tree.add(name, NamedSkin(group.members, qualified, note, both))
    add_other_words(tree)
    return tree


def _noted(regions: frozenset[str], end: int, both: bool, note: str) -> Place:
    return Place(regions, end, both, (note,) if note else ())
