"""A sitting in words: questions, answers, verdict and debrief."""

from bodymap.atlas import Atlas
from bodymap.practice.debrief import Debrief
from bodymap.practice.information import Question
from bodymap.practice.sitting import Sitting, Step, Verdict
from bodymap.practice.textbook import Textbook
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

LISTED = 12
"""Lost spots that are named one by one."""


def asked(atlas: Atlas, question: Question) -> str:
    """What was touched or tested: "pinprick, thumb, palmar side (right)"."""
    facts = atlas.facts
    if question.sign is not None:
        return f"{facts.signs[question.sign].label} ({question.side})"
    instrument = question.modality.label if question.modality else ""
    return f"{instrument}, {region_label(atlas, question.region or '')} ({question.side})"


def region_label(atlas: Atlas, id_: str) -> str:
    """A whole region or a part of one, in words."""
    return (atlas.facts.parts.get(id_) or atlas.facts.regions[id_]).label


def answered(atlas: Atlas, step: Step) -> str:
    """A step with its answer: "3. pinprick, thumb (right): reduced"."""
    return f"{step.order}. {asked(atlas, step.question)}: {step.answer}"


def judged(book: Textbook, debrief: Debrief) -> str:
    """The verdict in one sentence."""
    truth = book.name(debrief.truth)
    if debrief.named is None:
        return f"The lesion was: {truth}."
    named = book.name(debrief.named)
    if debrief.verdict is Verdict.RIGHT:
        return f"Right: {truth}."
    if debrief.verdict is Verdict.RIGHT_SKIN:
        return (
            f"Right skin: {named} takes the same skin as the lesion, {truth}; "
            "only muscles and reflexes may tell them apart."
        )
    if _other_side(book, debrief):
        return f"The right lesion on the wrong side. It was: {truth}."
    if debrief.verdict is Verdict.NEIGHBOURHOOD:
        return f"The right neighbourhood: {named} shares half of the skin. It was: {truth}."
    return f"Not this time: {named} takes other skin. It was: {truth}."


def truth_told(sitting: Sitting, debrief: Debrief) -> list[str]:
    """What was really lost, in sentences."""
    atlas = sitting.practice.scales.atlas
    by_side: dict[Side, list[str]] = {}
    for id_, side in debrief.lost:
        by_side.setdefault(side, []).append(region_label(atlas, id_))
    found = []
    for side, labels in sorted(by_side.items()):
        more = f"; and {len(labels) - LISTED} more" if len(labels) > LISTED else ""
        found.append(f"Altered skin, {side}: {'; '.join(labels[:LISTED])}{more}.")
    if debrief.outside >= 0.2:
        found.append(
            f"In this person {debrief.outside:.0%} of it lies outside the mapped territory: "
            "borders differ between persons."
        )
    return found


def path_told(sitting: Sitting, debrief: Debrief) -> list[str]:
    """What each touch was expected to tell, in sentences."""
    atlas = sitting.practice.scales.atlas
    found = []
    for step in debrief.steps:
        words = f"{answered(atlas, step)}. Expected {step.question.bits:.2f} bits"
        best = step.best
        if best is None:
            words += "; nothing would have told more"
        elif step.question.bits >= 0.95 * step.best_bits:
            words += ", as good as the best"
        else:
            words += f"; best: {asked(atlas, best)}, {step.best_bits:.2f}"
        found.append(f"{words}.")
    return found


def efficiency_told(debrief: Debrief) -> str:
    """The bits of the whole path against the best one of the same length."""
    if not debrief.steps:
        return "Nothing was touched."
    return (
        f"Expected of your path: {debrief.gained_bits:.2f} bits; of the best path of the same "
        f"length: {debrief.best_bits:.2f} bits ({debrief.efficiency:.0%}). "
        f"{debrief.open_bits:.1f} bits were still open. One bit halves what is possible."
    )


def missed_title(sitting: Sitting, debrief: Debrief) -> str:
    """What the missed questions would have told the truth from."""
    if debrief.against is None:
        return "What was missed"
    return f"What would have told it from {sitting.practice.textbook.name(debrief.against)}"


def missed_told(sitting: Sitting, debrief: Debrief) -> list[str]:
    """What would have told the truth from what was named, in sentences."""
    if debrief.against is None:
        return []
    atlas = sitting.practice.scales.atlas
    if not debrief.missed:
        return ["Nothing that is left to test."]
    found = []
    for missed in debrief.missed:
        words = asked(atlas, missed.question)
        found.append(
            f"{words[0].upper()}{words[1:]}: {missed.answer} in this patient "
            f"({missed.question.bits:.2f} bits)."
        )
    return found


def support_told(debrief: Debrief) -> str:
    """Where the truth stands in the ranking of all answers."""
    if not debrief.leading:
        return "No altered skin was found, so nothing is ranked."
    if debrief.place is None:
        return f"The truth is not among the candidates; the first is {debrief.leading}."
    said = (
        f"By your answers the truth stands in place {debrief.place}, "
        f"with a support of {probability(debrief.support)}"
    )
    return f"{said}." if debrief.place == 1 else f"{said}; the first is {debrief.leading}."


def _other_side(book: Textbook, debrief: Debrief) -> bool:
    known = book.catalogue.hypotheses
    if debrief.named is None:
        return False
    return known[debrief.named].id == known[debrief.truth].id
