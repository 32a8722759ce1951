"""The next question and the tie-breakers in the words of the bedside."""

from bodymap.atlas import Atlas
from bodymap.language import lower_first, tr
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.next_spots import NextSpot
from bodymap.localise.tie_breakers import Difference, TieBreaker
from bodymap.terms import Side


def asked(catalogue: Catalogue, question: NextSpot) -> str:
    """What to do: "Test pinprick on the back of the thumb, right"."""
    what = spot(catalogue, question)
    sign = catalogue.atlas.facts.signs.get(question.sign or "")
    if sign is not None and sign.kind != "muscle":
        return tr("Test the {reflex}", reflex=what)
    return tr("Test {spot}", spot=what)


def spot(catalogue: Catalogue, question: NextSpot) -> str:
    """What to test and where: "pinprick: back of the thumb (right)"."""
    facts, side = catalogue.atlas.facts, question.side.word
    if question.region is not None and question.modality is not None:
        label = facts.regions[question.region].label
        return tr(
            "{modality}: {place} ({side})",
            modality=question.modality.label, place=label, side=side,
        )  # fmt: skip
    sign = facts.signs[question.sign or ""]
    if sign.kind == "muscle":
        return tr(
            "strength: {muscle}, {test} ({side})",
            muscle=sign.label, test=lower_first(tr(sign.test)), side=side,
        )  # fmt: skip
    return tr("{reflex} ({side})", reflex=lower_first(sign.label), side=side)


def meaning(catalogue: Catalogue, question: NextSpot) -> str:
    """What either answer would speak for."""
    if question.sign is None:
        changed = tr("altered")
    else:
        kind = catalogue.atlas.facts.signs[question.sign].kind
        changed = tr("weak") if kind == "muscle" else tr("reduced")
    names = [_with_side(catalogue, number) for number in (question.if_altered, question.if_normal)]
    if names[0] == names[1]:
        return tr(
            "{changed} would speak for {first}, normal against it", changed=changed, first=names[0]
        )
    return tr(
        "{changed} would speak for {first}, normal for {second}",
        changed=changed, first=names[0], second=names[1],
    )  # fmt: skip


def told_apart(atlas: Atlas, tie: TieBreaker) -> list[str]:
    """Sentences on what tells the leading candidate from another."""
    return differing(atlas, tie.difference, tie.first.territory.name, tie.second.territory.name)


def differing(atlas: Atlas, difference: Difference, first: str, second: str) -> list[str]:
    """Sentences on what tells two named lesions apart: skin, then signs."""
    found = []
    for in_first, name in ((True, first), (False, second)):
        spots = [
            f"{atlas.facts.regions[r].label} ({side.word})"
            for r, side, mine in difference.skin
            if mine is in_first
        ]
        if spots:
            found.append(
                tr("Skin lost only in {lesion}: {spots}.", lesion=name, spots="; ".join(spots))
            )
    if not found:
        found.append(tr("No spot of skin tells them apart."))
    for in_first, name in ((True, first), (False, second)):
        signs = [
            f"{atlas.facts.signs[s].label} ({side.word})"
            for s, side, mine in difference.signs
            if mine is in_first
        ]
        if signs:
            found.append(
                tr("Changed only in {lesion}: {signs}.", lesion=name, signs="; ".join(signs))
            )
    if difference.note:
        note = tr(difference.note)
        found.append(note if note.endswith(".") else f"{note}.")
    return found


def _with_side(catalogue: Catalogue, number: int) -> str:
    hypothesis = catalogue.hypotheses[number]
    if hypothesis.id.startswith("ring-"):
        return tr("no single lesion")
    side = "" if hypothesis.side is Side.BOTH else f", {hypothesis.side.word}"
    return f"{hypothesis.name}{side}"
