"""The words a clinician uses for changes, tests and sides, and a tree to find them in.

British and American spellings, full words and the usual short forms.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from bodymap.terms import Change, Modality, Side
from bodymap.wording.tokens import SKIPPED, Token, name_of

MarkKind = Literal["except", "with", "negation", "untested", "part", "and", "but", "filler"]


@dataclass(frozen=True)
class ChangeWord:
    """A change. ``modality`` is the test it names by itself ("numb" is light touch)."""

    change: Change
    modality: Modality | None = None


@dataclass(frozen=True)
class NamedSkin:
    """Skin that a name stands for; ``qualified`` where the name carries a qualifier."""

    regions: frozenset[str]
    qualified: frozenset[str] = frozenset()
    note: str = ""
    both: bool = False


@dataclass(frozen=True)
class Mark:
    """A word that orders the others, or one that says nothing of itself."""

    kind: MarkKind


Meaning = ChangeWord | Modality | Side | NamedSkin | Mark


@dataclass
class WordTree:
    """Names by their words; finds the longest one that starts at a word."""

    next: dict[str, "WordTree"] = field(default_factory=dict)
    meaning: Meaning | None = None

    def add(self, name: str, meaning: Meaning) -> None:
        """Adds a name unless the same words already mean something."""
        node = self
        for word in name_of(name):
            node = node.next.setdefault(word, WordTree())
        if node is not self and node.meaning is None:
            node.meaning = meaning

    def longest(self, words: Sequence[Token], start: int) -> tuple[int, Meaning] | None:
        """(place after the name, meaning), passing over articles inside a name."""
        node, at, best, comma = self, start, None, False
        while at < len(words):
            follower = node.next.get(words[at].text)
            if follower is not None:
                node = follower
                comma = comma or words[at].text == ","
                # "loin, outer part of the sole" does not hold the name "loin, outer part".
                cut = comma and at + 1 < len(words) and words[at + 1].text == "of"
                if node.meaning is not None and not cut:
                    best = (at + 1, node.meaning)
            elif at == start or words[at].text not in SKIPPED:
                break
            at += 1
        return best


_TOUCH, _PIN = Modality.LIGHT_TOUCH, Modality.PINPRICK

CHANGES: dict[ChangeWord, str] = {
    ChangeWord(Change.REDUCED, _TOUCH): "numb;numbness;hypoaesthesia;hypoesthesia;"
    "hypaesthesia;hypesthesia;hypoaesthetic;hypoesthetic;deadness",
    ChangeWord(Change.REDUCED): "reduced;reduction;reduction in;decreased;decrease;diminished;"
    "impaired;impairment;blunted;dull;dulled;less;lessened;partial loss;partly lost;low;"
    "sensory disturbance;sensory loss;sensory deficit;deficit;subjectively reduced",
    ChangeWord(Change.ABSENT): "absent;absence;lost;loss;complete loss;total loss;no;nil;"
    "not felt;abolished;missing;no sensation;no feeling;no response;completely lost;"
    "totally absent;completely absent;insensate",
    ChangeWord(Change.ABSENT, _TOUCH): "anaesthetic;anesthetic;anaesthesia;anesthesia;"
    "completely numb;totally numb;complete numbness",
    ChangeWord(Change.INCREASED): "increased;hypersensitive;hypersensitivity;heightened;"
    "increased sensitivity;exaggerated;oversensitive",
    ChangeWord(Change.INCREASED, _TOUCH): "hyperaesthesia;hyperesthesia;hyperaesthetic;"
    "hyperesthetic;allodynia;allodynic",
    ChangeWord(Change.REDUCED, _PIN): "hypoalgesia;hypalgesia",
    ChangeWord(Change.ABSENT, _PIN): "analgesia;analgesic",
    ChangeWord(Change.INCREASED, _PIN): "hyperalgesia;hyperalgesic",
    ChangeWord(Change.TINGLING, _TOUCH): "tingling;tingle;tingly;pins and needles;prickling;"
    "paraesthesia;paresthesia;paraesthesiae;paraesthetic;paresthetic;dysaesthesia;"
    "dysesthesia;dysaesthetic;dysesthetic",
    ChangeWord(Change.NORMAL): "normal;intact;spared;preserved;unaffected;unimpaired;"
    "unchanged;uninvolved;tested normal",
}

TESTS: dict[Modality, str] = {
    _TOUCH: "light touch;lt;touch;cotton;cotton wool;soft touch;fine touch",
    _PIN: "pinprick;pin prick;pp;pin;sharp;sharp sensation;sharp touch;pain sensation;"
    "pinprick sensation;sharp dull;sharp and dull;sharp blunt;neurotip",
    Modality.TEMPERATURE: "temperature;temperature sense;temp;cold;t;thermal;cool;hot and cold;"
    "warm and cold;thermal sensation;warmth",
    Modality.VIBRATION: "vibration;vibration sense;vibratory sense;vibratory;vib;vs;"
    "tuning fork;pallaesthesia;pallesthesia",
    Modality.JOINT_POSITION: "joint position sense;joint position;jps;proprioception;"
    "proprioceptive sense;position sense;position",
}

SIDES: dict[Side, str] = {
    Side.RIGHT: "right;r;rt;right sided;right hand side;right side;on the right",
    Side.LEFT: "left;l;left sided;left hand side;left side;on the left",
    Side.BOTH: "both;bilateral;bilaterally;bilat;both sides;left and right;right and left;"
    "each side;either side;each;symmetrical;symmetrically;symmetric;l and r;r and l",
}

MARKS: dict[MarkKind, str] = {
    "except": "except;except for;excepting;excluding;sparing;but sparing;with sparing of;"
    "but not;apart from;other than;save for;not including;without",
    "with": "with",
    "negation": "not;denies;denied;never;negative for;?",
    "untested": "not tested;nt;untested;not examined;not assessed;not done;deferred;"
    "could not be tested;not testable",
    "part": "part;parts;partly;patchy;patches;patch",
    "but": "but;while;whereas;however;although",
    "and": "and;or;plus;as well as;also",
    "filler": "the;of;a;an;over;in;on;at;to;for;from;is;are;was;were;there;has;have;sensation;"
    "sensory;feeling;sense;sensitivity;skin;area;areas;region;distribution;dermatome;"
    "dermatomal;territory;pattern;aspect;surface;type;level;tested;testing;found;noted;"
    "whole;entire;entirely;all;all of;along;across;throughout the;on testing;on examination;"
    "o and e;side;which;that;including;involving;affecting;within;response;"
    "felt;response to;band;strip;band like;only;modality;modalities",
}


def add_other_words(tree: WordTree) -> None:
    """Adds all words that are not skin; names of skin that are there already stay."""
    entries: list[tuple[Meaning, str]] = [*CHANGES.items()]
    entries += [*TESTS.items(), *SIDES.items()]
    entries += [(Mark(kind), names) for kind, names in MARKS.items()]
    for meaning, names in entries:
        for name in names.split(";"):
            tree.add(name, meaning)
    for word in SKIPPED:
        tree.next.setdefault(word, WordTree(meaning=Mark("filler")))
