"""Drawn skin in the words of a note: "pinprick reduced over the palm, right".

English has the words of the dictation, with articles and with fingers told together.
Another language has no dictation: it lists the same pieces of skin, larger ones where all of
them is covered, by the names that its catalogue has for them.
"""

from collections.abc import Iterable

from bodymap.language import ENGLISH, language, later, tr
from bodymap.report.note_results import listed, said
from bodymap.terms import Change, Side
from bodymap.wording.phrases import Piece
from bodymap.wording.sentences import Told, dictated, tested

OVER = {
    Side.BOTH: later("over {skin} on both sides"),
    Side.RIGHT: later("over {skin}, right"),
    Side.LEFT: later("over {skin}, left"),
    None: later("over {skin}"),
}
"""Skin with its side, as it is told of what is felt on it."""

AT = {
    Side.BOTH: later("at {skin} on both sides"),
    Side.RIGHT: later("at {skin}, right"),
    Side.LEFT: later("at {skin}, left"),
    None: later("at {skin}"),
}
"""The same for what is felt at a bone or a joint."""


def skin_said(told: Told, labelled: bool = True) -> str:
    """What was found, and on which skin. ``labelled`` if a word before it says already what
    is normal."""
    tests = listed([tested(m) for m in told.modalities])
    what = said(tests, told.change)
    if told.change is Change.NORMAL and not labelled:
        what = tr("{modality} normal", modality=tests)
    where = AT if told.deep else OVER
    skin = "; ".join(tr(where[side], skin=_named(pieces)) for side, pieces in told.sided)
    return tr("{result} {skin}", result=what, skin=skin)


def _named(pieces: Iterable[Piece]) -> str:
    """The names of skin as a list."""
    if language() == ENGLISH:
        return dictated(pieces)
    return listed([_name(piece) for piece in pieces])


def _name(piece: Piece) -> str:
    name = tr(piece.spoken)
    return tr("part of the {skin}", skin=name) if piece.partial else name
