"""A drawing in the words of a clinician who dictates it.

A region counts as covered from a share of 0.6; below that, part of it is said; below
0.15 it is not mentioned. Larger pieces are named where all of them is covered.
"""

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.language import english
from bodymap.localise.explanation import regions_in
from bodymap.terms import Side
from bodymap.wording.finding import Finding
from bodymap.wording.sentences import sentences

WHOLE = 0.6
"""A region is said without "part of" from this share. Judgement."""

LEAST = 0.15
"""A region is said at all from this share. Judgement."""


@english()
def findings_of(atlas: Atlas, drawing: Drawing) -> tuple[Finding, ...]:
    """The drawing as findings on named regions, by modality, change and side."""
    found = []
    for modality, change, layer in drawing:
        shares = regions_in(atlas, layer.painted_cm2(atlas), LEAST)
        by_side = {
            side: {id_: share for id_, s, share in shares if s is side}
            for side in (Side.RIGHT, Side.LEFT)
        }
        levels = {
            side: (frozenset(of), frozenset(id_ for id_, share in of.items() if share < WHOLE))
            for side, of in by_side.items()
        }
        if levels[Side.RIGHT] == levels[Side.LEFT]:
            levels = {Side.BOTH: levels[Side.RIGHT]}
        found += [
            Finding(modality, change, side, regions, partial)
            for side, (regions, partial) in levels.items()
            if regions
        ]
    return tuple(found)


@english()
def described(atlas: Atlas, drawing: Drawing) -> str:
    """The findings on the skin in sentences that dictation understands, or one that says
    there are none. English in every language."""
    told = sentences(atlas, findings_of(atlas, drawing))
    return " ".join(told) if told else "No findings on the skin."
