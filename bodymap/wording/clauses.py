"""Items of a sentence gathered into clauses: one change, its tests and its skin.

A clause may start with the change ("reduced pinprick over the thumb") or with the skin
("right hand numb"); a new one begins where a second change or test cannot belong to
what stands before it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from bodymap.terms import Modality, Side
from bodymap.wording.items import Item
from bodymap.wording.lexicon import ChangeWord
from bodymap.wording.places import Place

_WITHIN = frozenset({"of", "on", "in", "up", "to", "as"})


@dataclass
class Clause:
    """The items of one statement, in order, while it is gathered.

    ``skin`` are the sides and places that are meant, ``spared`` those behind "except".
    ``last`` is the kind of the last item, ``said`` of the last that is no mark.
    ``statement`` counts what semicolons part.
    """

    changes: list[ChangeWord] = field(default_factory=list)
    tests: list[Modality] = field(default_factory=list)
    skin: list[Side | Place] = field(default_factory=list)
    spared: list[Side | Place] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    test_first: bool = False
    skin_first: bool = False
    excepting: bool = False
    void: bool = False
    untested: bool = False
    comma: int = 0
    last: str = ""
    said: str = ""
    statement: int = 0

    @property
    def has_place(self) -> bool:
        """Whether any skin is named."""
        return any(isinstance(s, Place) for s in self.skin)


class Gathering:
    """The clauses of one sentence."""

    def __init__(self, items: Iterable[Item]) -> None:
        self._items = list(items)
        self.clauses = [Clause()]
        for number, item in enumerate(self._items):
            self._take(number, item)
        self.clauses = [c for c in self.clauses if c.words]

    def _take(self, number: int, item: Item) -> None:
        kind = item.kind
        ahead = self._ahead(number)
        negated = kind == "negation" or (item.words in (("no",), ("nil",)) and ahead != "test")
        if kind in (";", "with") and (kind == ";" or ahead in ("change", "test")):
            self._new(always=kind == ";")
        elif kind == "negation" and ahead in ("place", "side"):
            self._now.excepting = True
        elif negated or kind == "untested":
            self._void(kind)
        elif kind == "except":
            self._now.excepting = True
        elif isinstance(item.value, ChangeWord):
            self._change(item.value, ahead)
        elif isinstance(item.value, Modality):
            self._test(item.value)
        elif isinstance(item.value, Side | Place):
            self._skin(number, item.value, ahead)
        elif kind in ("unknown", "part"):
            self._now.unknown += item.words
        if kind in (",", "but"):
            self._now.comma = len(self._now.skin)
        self._now.words += item.words
        if kind != "filler":
            self._now.last = kind

    @property
    def _now(self) -> Clause:
        return self.clauses[-1]

    def _new(self, always: bool = False) -> None:
        if always or self._now.changes or self._now.has_place:
            self.clauses.append(Clause(statement=self._now.statement + always))

    def _ahead(self, number: int) -> str:
        """The kind of the next item that says something."""
        for item in self._items[number + 1 :]:
            if item.kind not in ("filler", "unknown", "part"):
                return item.kind
        return ""

    def _before(self, number: int, value: Place, ahead: str) -> tuple[Place | None, bool]:
        """Skin that stands directly before other skin and holds it or lies within it,
        and whether the later one tells how far the first reaches."""
        between: list[Item] = []
        for item in reversed(self._items[:number]):
            if isinstance(item.value, Place):
                found, kinds = item.value, {i.kind for i in between}
                inner, outer = found.regions < value.regions, found.regions > value.regions
                # "first web space, left foot" tells where the web is.
                owned = found.near and kinds <= {"filler", "side", ","} and ahead != "change"
                if "," in kinds:
                    return (found, False) if inner and owned else (None, False)
                if outer and "side" not in kinds:
                    return found, True
                within = any(w in _WITHIN for i in between for w in i.words)
                linked = "change" in kinds or within or owned
                return (found, value.reach) if inner and linked else (None, False)
            if item.kind not in ("filler", "side", "change", "test", ","):
                break
            between.append(item)
        return None, False

    def _cut(self, number: int, value: Place) -> Place | None:
        """Skin directly before that skin "from" or "below" somewhere cuts down."""
        between: list[Item] = []
        for item in reversed(self._items[:number] if value.within else []):
            if isinstance(item.value, Place):
                found, comma = item.value, any(i.kind == "," for i in between)
                whole = value.regions < found.regions if comma else value.regions & found.regions
                return found if whole and not found.reach else None
            if item.kind not in ("filler", "side", "change", "test", ","):
                return None
            between.append(item)
        return None

    def _void(self, kind: str) -> None:
        """What is denied or was not tested gives no finding."""
        if self._now.changes:
            self._new()
        self._now.void = True
        self._now.untested = kind == "untested"

    def _change(self, word: ChangeWord, ahead: str) -> None:
        now = self._now
        joined = now.last in ("and", "change", ",", "but") and now.said != "place" and not now.tests
        complete = now.has_place and not now.skin_first
        if now.void:
            # What was denied or untested ends with its skin.
            if now.has_place and (now.untested or now.changes):
                self._new()
        elif now.changes and (complete or not joined):
            self._new()
        if self._now is not now and ahead not in ("place", "side", "test"):
            # "numb palm, sole normal": what stands since the comma is the sole.
            cut = now.comma if 0 < now.comma < len(now.skin) else len(now.skin)
            sides = [n for n, part in enumerate(now.skin) if isinstance(part, Side)]
            if cut == len(now.skin) and now.last == "side" and len(sides) > 1:
                # "right thumb reduced left normal": the last side is that of what follows.
                cut = sides[-1]
            self._now.skin, now.skin = now.skin[cut:], now.skin[:cut]
        if not self._now.changes and self._now.has_place:
            self._now.skin_first = True
        self._now.changes.append(word)
        self._now.excepting = False
        self._now.said = "change"

    def _test(self, test: Modality) -> None:
        now = self._now
        complete = bool(now.changes) and now.has_place
        apart = now.last in (",", "and", "with", "but")
        behind = now.skin_first and now.said == "change" and not apart
        another = now.test_first and bool(now.changes and now.tests)
        if now.said == "test":
            if another and now.last == "change":
                self._new()
        elif another or (complete and (now.tests or apart) and not behind):
            self._new()
        if not self._now.changes:
            self._now.test_first = True
        self._now.tests.append(test)
        self._now.said = "test"

    def _skin(self, number: int, value: Side | Place, ahead: str) -> None:
        now = self._now
        if isinstance(value, Place):
            before, replaces = self._before(number, value, ahead)
            skin = now.spared if now.excepting else now.skin
            cut = self._cut(number, value)
            if cut is not None and cut in skin:
                # "medial leg from the knee to the ankle" is no more than the medial leg.
                skin[skin.index(cut)] = replace(
                    cut, regions=cut.regions & value.regions, notes=cut.notes + value.notes
                )
                return
            if before is not None and before in skin:
                # "digits of the hand" are the digits, "leg, from the knee down" is less.
                if replaces:
                    skin[skin.index(before)] = replace(value, both=value.both or before.both)
                return
        done = now.skin_first and bool(now.changes) and not now.excepting
        # "left normal, right thumb absent": the second side begins a clause of its own.
        another = isinstance(value, Side) and bool(now.changes and now.skin) and not now.has_place
        if (done and (isinstance(value, Place) or ahead == "place")) or (
            another and not now.excepting and value not in now.skin
        ):
            self._new()
        now = self._now
        (now.spared if now.excepting else now.skin).append(value)
        now.said = "place" if isinstance(value, Place) else "side"
