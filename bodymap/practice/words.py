"""A sitting in words: questions, answers, verdict and debrief."""

from bodymap.atlas import Atlas
from bodymap.language import capital, tr, trn
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
        return f"{facts.signs[question.sign].label} ({question.side.word})"
    instrument = question.modality.label if question.modality else ""
    place = region_label(atlas, question.region or "")
    return f"{instrument}, {place} ({question.side.word})"


def region_label(atlas: Atlas, id_: str) -> str:
    """A whole region or a part of one, in words."""
    return (atlas.facts.parts.get(id_) or atlas.facts.regions[id_]).label


def answered(atlas: Atlas, step: Step) -> str:
    """A step with its answer: "3. pinprick, thumb (right): reduced"."""
    return f"{step.order}. {asked(atlas, step.question)}: {tr(step.answer)}"


def judged(book: Textbook, debrief: Debrief) -> str:
    """The verdict in one sentence."""
    truth = book.name(debrief.truth)
    if debrief.named is None:
        return tr("The lesion was: {truth}.", truth=truth)
    named = book.name(debrief.named)
    if debrief.verdict is Verdict.RIGHT:
        return tr("Right: {truth}.", truth=truth)
    if debrief.verdict is Verdict.RIGHT_SKIN:
        return tr(
            "Right skin: {named} takes the same skin as the lesion, {truth}; only muscles "
            "and reflexes may tell them apart.",
            named=named,
            truth=truth,
        )
    if _other_side(book, debrief):
        return tr("The right lesion on the wrong side. It was: {truth}.", truth=truth)
    if debrief.verdict is Verdict.NEIGHBOURHOOD:
        return tr(
            "The right neighbourhood: {named} shares half of the skin. It was: {truth}.",
            named=named, truth=truth,
        )  # fmt: skip
    return tr("Not this time: {named} takes other skin. It was: {truth}.", named=named, truth=truth)


def truth_told(sitting: Sitting, debrief: Debrief) -> list[str]:
    """What was really lost, in sentences."""
    atlas = sitting.practice.scales.atlas
    by_side: dict[Side, list[str]] = {}
    for id_, side in debrief.lost:
        by_side.setdefault(side, []).append(region_label(atlas, id_))
    found = []
    for side, labels in sorted(by_side.items()):
        count = len(labels) - LISTED
        more = trn("; and {count} more", "; and {count} more", count) if count > 0 else ""
        named = "; ".join(labels[:LISTED]) + more
        found.append(tr("Altered skin, {side}: {named}.", side=side.word, named=named))
    if debrief.outside >= 0.2:
        found.append(
            tr(
                "In this person {share:.0%} of it lies outside the mapped territory: borders "
                "differ between persons.",
                share=debrief.outside,
            )
        )
    return found


def path_told(sitting: Sitting, debrief: Debrief) -> list[str]:
    """What each touch was expected to tell, in sentences."""
    atlas = sitting.practice.scales.atlas
    found = []
    for step in debrief.steps:
        words = tr(
            "{step}. Expected {bits:.2f} bits",
            step=answered(atlas, step), bits=step.question.bits,
        )  # fmt: skip
        best = step.best
        if best is None:
            words += tr("; nothing would have told more")
        elif step.question.bits >= 0.95 * step.best_bits:
            words += tr(", as good as the best")
        else:
            words += tr(
                "; best: {question}, {bits:.2f}",
                question=asked(atlas, best), bits=step.best_bits,
            )  # fmt: skip
        found.append(f"{words}.")
    return found


def efficiency_told(debrief: Debrief) -> str:
    """The bits of the whole path against the best one of the same length."""
    if not debrief.steps:
        return tr("Nothing was touched.")
    return tr(
        "Expected of your path: {gained:.2f} bits; of the best path of the same length: "
        "{best:.2f} bits ({share:.0%}). {open:.1f} bits were still open. One bit halves what "
        "is possible.",
        gained=debrief.gained_bits,
        best=debrief.best_bits,
        share=debrief.efficiency,
        open=debrief.open_bits,
    )


def missed_title(sitting: Sitting, debrief: Debrief) -> str:
    """What the missed questions would have told the truth from."""
    if debrief.against is None:
        return tr("What was missed")
    other = sitting.practice.textbook.name(debrief.against)
    return tr("What would have told it from {other}", other=other)


def missed_told(sitting: Sitting, debrief: Debrief) -> list[str]:
    """What would have told the truth from what was named, in sentences."""
    if debrief.against is None:
        return []
    atlas = sitting.practice.scales.atlas
    if not debrief.missed:
        return [tr("Nothing that is left to test.")]
    found = []
    for missed in debrief.missed:
        words = asked(atlas, missed.question)
        found.append(
            tr(
                "{question}: {answer} in this patient ({bits:.2f} bits).",
                question=capital(words),
                answer=tr(missed.answer),
                bits=missed.question.bits,
            )
        )
    return found


def support_told(debrief: Debrief) -> str:
    """Where the truth stands in the ranking of all answers."""
    if not debrief.leading:
        return tr("No altered skin was found, so nothing is ranked.")
    if debrief.place is None:
        return tr(
            "The truth is not among the candidates; the first is {leading}.",
            leading=debrief.leading,
        )
    values = {
        "place": debrief.place, "share": probability(debrief.support), "leading": debrief.leading,
    }  # fmt: skip
    if debrief.place == 1:
        return tr(
            "By your answers the truth stands in place {place}, with a support of {share}.",
            **values,
        )
    return tr(
        "By your answers the truth stands in place {place}, with a support of {share}; the first "
        "is {leading}.",
        **values,
    )


def _other_side(book: Textbook, debrief: Debrief) -> bool:
    known = book.catalogue.hypotheses
    if debrief.named is None:
        return False
    return known[debrief.named].id == known[debrief.truth].id
