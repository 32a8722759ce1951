"""The next question and the tie-breakers in the words of the bedside."""

from bodymap.atlas import Atlas
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.next_spots import NextSpot
from bodymap.localise.tie_breakers import Difference, TieBreaker
from bodymap.terms import Side


def asked(catalogue: Catalogue, question: NextSpot) -> str:
    """What to do: "Test pinprick on the back of the thumb, right"."""
    facts = catalogue.atlas.facts
    if question.region is not None and question.modality is not None:
        label = facts.regions[question.region].label
        return f"Test {question.modality.label}: {label} ({question.side})"
    sign = facts.signs[question.sign or ""]
    if sign.kind == "muscle":
        return f"Test strength: {sign.label}, {_lower(sign.test)} ({question.side})"
    return f"Test the {_lower(sign.label)} ({question.side})"


def meaning(catalogue: Catalogue, question: NextSpot) -> str:
    """What either answer would speak for."""
    if question.sign is None:
        changed = "altered"
    else:
        kind = catalogue.atlas.facts.signs[question.sign].kind
        changed = "weak" if kind == "muscle" else "reduced"
    names = [_with_side(catalogue, number) for number in (question.if_altered, question.if_normal)]
    if names[0] == names[1]:
        return f"{changed} would speak for {names[0]}, normal against it"
    return f"{changed} would speak for {names[0]}, normal for {names[1]}"


def told_apart(atlas: Atlas, tie: TieBreaker) -> list[str]:
    """Sentences on what tells the leading candidate from another."""
    return differing(atlas, tie.difference, tie.first.territory.name, tie.second.territory.name)


def differing(atlas: Atlas, difference: Difference, first: str, second: str) -> list[str]:
    """Sentences on what tells two named lesions apart: skin, then signs."""
    found = []
    for in_first, name in ((True, first), (False, second)):
        spots = [
            f"{atlas.facts.regions[r].label} ({side})"
            for r, side, mine in difference.skin
            if mine is in_first
        ]
        if spots:
            found.append(f"Skin lost only in {name}: {'; '.join(spots)}.")
    if not found:
        found.append("No spot of skin tells them apart.")
    for in_first, name in ((True, first), (False, second)):
        signs = [
            f"{atlas.facts.signs[s].label} ({side})"
            for s, side, mine in difference.signs
            if mine is in_first
        ]
        if signs:
            found.append(f"Changed only in {name}: {'; '.join(signs)}.")
    if difference.note:
        note = difference.note
        found.append(note if note.endswith(".") else f"{note}.")
    return found


def _with_side(catalogue: Catalogue, number: int) -> str:
    hypothesis = catalogue.hypotheses[number]
    if hypothesis.id.startswith("ring-"):
        return "no single lesion"
    side = "" if hypothesis.side is Side.BOTH else f", {hypothesis.side}"
    return f"{hypothesis.name}{side}"


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]
