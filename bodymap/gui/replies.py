"""Notes the answer to a question that was offered."""

from bodymap.findings.signs import SignChange
from bodymap.gui.session import Session
from bodymap.localise.next_spots import NextSpot
from bodymap.terms import Change


def reply(session: Session, question: NextSpot, altered: bool) -> None:
    """Note the answer to a question as one step."""
    atlas = session.atlas
    if atlas is None:
        return
    name = "altered" if altered else "normal"
    if question.region is not None and question.modality is not None:
        change = session.choices.change if session.choices.change.altered else Change.REDUCED
        drawing = session.drawing.with_region(
            atlas, question.modality, change if altered else Change.NORMAL,
            question.region, question.side,
        )  # fmt: skip
        words = f"{atlas.facts.regions[question.region].label} ({question.side}) {name}"
    else:
        sign = atlas.facts.signs[question.sign or ""]
        lost = SignChange.WEAK if sign.kind == "muscle" else SignChange.REDUCED
        signs = session.drawing.signs.noted(
            sign.id, question.side, lost if altered else SignChange.NORMAL
        )
        drawing = session.drawing.with_signs(signs)
        words = f"{sign.label} ({question.side}) {lost if altered else 'normal'}"
    session.step(words, drawing)
