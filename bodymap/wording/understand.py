"""A typed phrase as findings, with the words that were not understood.

Nothing is invented: a clause without a change or without skin gives no finding, and
its words are returned. What is said to be untested or is denied gives none either.
"""

from dataclasses import dataclass

from bodymap.atlas import Atlas
from bodymap.language import english, later
from bodymap.terms import Change, Modality, Side
from bodymap.wording.clauses import Clause, Gathering
from bodymap.wording.digits import JOINTS
from bodymap.wording.finding import Finding
from bodymap.wording.items import items_of, sentences_of
from bodymap.wording.near import WHICH
from bodymap.wording.places import Place, gazetteer
from bodymap.wording.sentences import sentences
from bodymap.wording.sides import Spot, sided, two_sides
from bodymap.wording.tokens import tokens

Kind = tuple[Modality, Change]

TWO_SIDES = later("two sides are said of the same skin; say each apart")
PART_OF = later("'part of' is drawn as the whole region")
PATCH = later("a patch is drawn as the whole region")

_PATCHES = frozenset({"patch", "patches"})
_WEBS = frozenset({"web", "webs"})


@dataclass(frozen=True)
class Understood:
    """What a phrase says.

    ``canonical`` is it said again, in English; ``not_understood`` the words that gave
    nothing, in order; ``notes`` what had to be assumed, in English, to be looked up where
    they are shown.
    """

    findings: tuple[Finding, ...]
    canonical: str
    not_understood: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def side_missing(self) -> bool:
        """Whether a finding has no side."""
        return any(f.side is None for f in self.findings)


@english()
def understood(text: str, atlas: Atlas, side: Side | None = None) -> Understood:
    """The findings of a phrase. ``side`` is taken where none is said."""
    found: dict[Kind, set[Spot]] = {}
    lost: list[str] = []
    notes: list[str] = []
    names = gazetteer(atlas.facts)
    for words in sentences_of(tokens(text)):
        reading = _Reading(Gathering(items_of(words, names)).clauses, side)
        for kind, spots in reading.found:
            found.setdefault(kind, set()).update(spots)
        lost += reading.lost
        notes += reading.notes
    _settle(found)
    findings = _findings(found)
    told = " ".join(sentences(atlas, findings))
    return Understood(findings, told, tuple(lost), tuple(dict.fromkeys(notes)))


class _Reading:
    """The findings of one sentence; a clause takes from its neighbours what it lacks."""

    def __init__(self, clauses: list[Clause], side: Side | None) -> None:
        self.found: list[tuple[Kind, frozenset[Spot]]] = []
        self.lost: list[str] = []
        self.notes: list[str] = []
        self._clauses = clauses
        self._side = side
        for number, clause in enumerate(clauses):
            self._read(number, clause)

    def _read(self, number: int, clause: Clause) -> None:
        changes, tests = self._said(number)
        skin = self._skin(number)
        if clause.void or not changes or not skin.spots:
            self.lost += clause.words
            if any(w in JOINTS or w in _WEBS for w in clause.unknown):
                self.notes.append(WHICH)
            if two_sides(clause.skin):
                self.notes.append(TWO_SIDES)
            return
        own = [*clause.unknown]
        for part in (*clause.skin, *clause.spared):
            if isinstance(part, Place):
                own += part.missed
        if "part" in own or "parts" in own:
            self.notes.append(PART_OF)
        if own != (own := [w for w in own if w not in _PATCHES]):
            self.notes.append(PATCH)
        if any(w in JOINTS or w in _WEBS for w in own):
            self.notes.append(WHICH)
        self.lost += own
        for change, modality in changes:
            for test in tests or [modality or Modality.LIGHT_TOUCH]:
                self.found.append(((test, change), self._skin(number, test).spots))
                for part in (*clause.skin, *clause.spared):
                    if isinstance(part, Place):
                        self.notes += part.for_test(test).notes

    def _said(self, number: int) -> tuple[list[tuple[Change, Modality | None]], list[Modality]]:
        """Changes and tests of a clause, or those of the clause before it."""
        clause = self._clauses[number]
        before = self._said(number - 1) if number and not clause.void else ([], [])
        if number and self._clauses[number - 1].void:
            before = ([], [])
        if not clause.changes:
            return before[0], clause.tests or before[1]
        changes = [(c.change, c.modality) for c in clause.changes]
        named = any(c.modality for c in clause.changes)
        return changes, clause.tests or ([] if named else before[1])

    def _skin(self, number: int, test: Modality = Modality.LIGHT_TOUCH) -> "_Skin":
        """Skin of a clause, or that of the next clause or the one before."""
        clause = self._clauses[number]
        otherwise = self._side_around(number)
        spots = _spots(clause, otherwise, test)
        if spots or clause.has_place or clause.void or clause.unknown:
            return _Skin(spots)
        _, alone = sided(clause.skin)
        around = [*range(number + 1, len(self._clauses)), *range(number - 1, -1, -1)]
        # Skin of the same statement comes before that of another.
        around.sort(key=lambda other: self._clauses[other].statement != clause.statement)
        for other in around:
            if self._clauses[other].has_place and not self._clauses[other].void:
                spots = _spots(self._clauses[other], alone or self._side_around(other), test)
                return _Skin(_on(alone, spots) if alone else spots)
        return _Skin(frozenset())

    def _side_around(self, number: int) -> Side | None:
        """The side said in the clauses before, else behind, else the one given."""
        around = [*range(number - 1, -1, -1), *range(number + 1, len(self._clauses))]
        for other in around:
            said = {s for s in self._clauses[other].skin if isinstance(s, Side)}
            if len(said) == 1:
                return said.pop()
        return self._side


@dataclass(frozen=True)
class _Skin:
    spots: frozenset[Spot]


def _spots(clause: Clause, otherwise: Side | None, test: Modality) -> frozenset[Spot]:
    """The skin of a clause without what is excepted."""
    if two_sides(clause.skin):
        return frozenset()
    places, _ = sided(clause.skin)
    spots = frozenset(s for p in places for s in p.spots(otherwise, test))
    spared, _ = sided(clause.spared)
    said = {p.side for p in places}
    shared = said.pop() if len(said) == 1 else None
    for exception in spared:
        if exception.side is None and (shared or otherwise) is None:
            spots = frozenset(
                s for s in spots if s[0] not in exception.place.for_test(test).regions
            )
        else:
            spots -= exception.spots(shared or otherwise, test)
    return spots


def _on(side: Side, spots: frozenset[Spot]) -> frozenset[Spot]:
    """The same regions on the side that a clause says for itself: "right C6 absent, left
    normal" borrows the skin of C6, never its side."""
    sides = (Side.LEFT, Side.RIGHT) if side is Side.BOTH else (side,)
    return frozenset((region, s) for region, _ in spots for s in sides)


def _settle(found: dict[Kind, set[Spot]]) -> None:
    """Where skin is both altered and normal, the narrower statement holds."""
    for (modality, change), altered in found.items():
        normal = found.get((modality, Change.NORMAL))
        if not change.altered or normal is None:
            continue
        shared = altered & normal
        if len(normal) != len(altered):
            (altered if len(normal) < len(altered) else normal).difference_update(shared)


def _findings(found: dict[Kind, set[Spot]]) -> tuple[Finding, ...]:
    findings = []
    for (modality, change), spots in found.items():
        by_side: dict[Side | None, frozenset[str]] = {}
        for s in (Side.RIGHT, Side.LEFT, None):
            by_side[s] = frozenset(r for r, at in spots if at is s)
        both = by_side[Side.RIGHT] & by_side[Side.LEFT]
        if both == by_side[Side.RIGHT] == by_side[Side.LEFT]:
            by_side = {Side.BOTH: both, None: by_side[None]}
        findings += [Finding(modality, change, s, r) for s, r in by_side.items() if r]
    return tuple(findings)
