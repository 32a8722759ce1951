"""Findings as sentences: "Reduced pinprick over the palm, right."

Skin of both sides is told once where it is the same, modalities together where they
agree, and what was found normal in sentences of its own.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from bodymap.atlas import Atlas
from bodymap.language import later, tr
from bodymap.terms import Change, Modality, Side
from bodymap.wording.finding import Finding
from bodymap.wording.phrases import Piece, listed_phrases, pieces
from bodymap.wording.vocabulary import vocabulary

ORDER = (Change.ABSENT, Change.REDUCED, Change.INCREASED, Change.TINGLING, Change.NORMAL)

_OPENING = {
    Change.ABSENT: "Absent ",
    Change.REDUCED: "Reduced ",
    Change.INCREASED: "Increased sensitivity to ",
    Change.TINGLING: "Tingling to ",
    Change.NORMAL: "Normal ",
}

_SIDE_WORDS = {
    Side.BOTH: " on both sides",
    Side.RIGHT: ", right",
    Side.LEFT: ", left",
    None: "",
}

_DEEP = {
    Modality.VIBRATION: later("vibration sense"),
    Modality.JOINT_POSITION: later("joint position sense"),
}
"""What is felt at a bone or a joint, and so at a place and not over it."""

Sided = tuple[tuple[Side | None, tuple[Piece, ...]], ...]
"""For each side, the names of skin."""


@dataclass(frozen=True)
class Told:
    """What one sentence tells: a change in modalities that agree, on skin by side."""

    change: Change
    modalities: tuple[Modality, ...]
    sided: Sided

    @property
    def deep(self) -> bool:
        """Whether it is felt at a bone or a joint."""
        return set(self.modalities) <= set(_DEEP)


def told_together(atlas: Atlas, findings: Iterable[Finding]) -> list[Told]:
    """The findings as they are told: altered skin first."""
    kinds: dict[tuple[Change, Modality], list[Finding]] = {}
    for finding in findings:
        kinds.setdefault((finding.change, finding.modality), []).append(finding)
    told: dict[tuple[Change, Sided], list[Modality]] = {}
    for (change, modality), same in sorted(
        kinds.items(), key=lambda k: (ORDER.index(k[0][0]), list(Modality).index(k[0][1]))
    ):
        told.setdefault((change, _places(atlas, same)), []).append(modality)
    return [Told(change, tuple(tests), sided) for (change, sided), tests in told.items() if sided]


def sentences(atlas: Atlas, findings: Iterable[Finding]) -> list[str]:
    """The findings in words, altered skin first."""
    return [_sentence(told) for told in told_together(atlas, findings)]


def tested(modality: Modality) -> str:
    """What is tested, as it stands beside skin."""
    return tr(_DEEP[modality]) if modality in _DEEP else modality.label


def _sentence(told: Told) -> str:
    names = [tested(m) for m in told.modalities]
    named = " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
    at = "at" if told.deep else "over"
    places = [f"{at} {dictated(skin)}{_SIDE_WORDS[side]}" for side, skin in told.sided]
    return f"{_OPENING[told.change]}{named} {'; '.join(places)}."


def dictated(skin: Iterable[Piece]) -> str:
    """Names of skin as one list, as it is dictated: "the palm, sole and whole heel"."""
    return listed_phrases([piece.phrase for piece in skin])


def _places(atlas: Atlas, findings: list[Finding]) -> Sided:
    """Skin by side: first what both sides share."""
    words = vocabulary(atlas.facts)
    by_side: dict[Side | None, list[Piece]] = {}
    for side in (Side.RIGHT, Side.LEFT, None):
        mine = [f for f in findings if f.side is side or (side and f.side is Side.BOTH)]
        whole = {r for f in mine for r in f.regions - f.partial}
        partial = {r for f in mine for r in f.partial} - whole
        by_side[side] = pieces(atlas.facts, words, whole | partial, partial)
    right, left = by_side[Side.RIGHT], by_side[Side.LEFT]
    both = [p for p in right if p in left]
    shown: list[tuple[Side | None, list[Piece]]] = [
        (Side.BOTH, both),
        (Side.RIGHT, [p for p in right if p not in both]),
        (Side.LEFT, [p for p in left if p not in both]),
        (None, by_side[None]),
    ]
    return tuple((side, tuple(found)) for side, found in shown if found)
