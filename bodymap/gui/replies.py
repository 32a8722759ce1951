"""Notes the answer to a question that was offered."""

from bodymap.findings.signs import SignChange
from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.localise.next_spots import NextSpot
from bodymap.terms import Change


def reply(session: Session, question: NextSpot, altered: bool) -> None:
    """Note the answer to a question as one step."""
    atlas = session.atlas
    if atlas is None:
        return
    if question.region is not None and question.modality is not None:
        change = session.choices.change if session.choices.change.altered else Change.REDUCED
        drawing = session.drawing.with_region(
            atlas, question.modality, change if altered else Change.NORMAL,
            question.region, question.side,
        )  # fmt: skip
        words = tr(
            "{place} ({side}) {found}",
            place=atlas.facts.regions[question.region].label, side=question.side.word,
            found=tr("altered") if altered else tr("normal"),
        )  # fmt: skip
    else:
        sign = atlas.facts.signs[question.sign or ""]
        lost = SignChange.WEAK if sign.kind == "muscle" else SignChange.REDUCED
        signs = session.drawing.signs.noted(
            sign.id, question.side, lost if altered else SignChange.NORMAL
        )
        drawing = session.drawing.with_signs(signs)
        words = tr(
            "{place} ({side}) {found}",
            place=sign.label, side=question.side.word,
            found=(lost if altered else SignChange.NORMAL).word,
        )  # fmt: skip
    session.step(words, drawing)
