"""What the slides say: titles, the words beside the figure, and notes for the teacher."""

from bodymap.language import capital, later, tr, trn
from bodymap.localise.answer import Answer
from bodymap.localise.ranking import Candidate
from bodymap.localise.verdict import Verdict
from bodymap.report.appearance import Remainder
from bodymap.report.cautions import cautions
from bodymap.report.question_words import asked, meaning, told_apart
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

SUBTITLE = later("A case of altered sensation, step by step")

FORWARD = (later("First candidate: {candidate}"), later("Second candidate: {candidate}"))
NOT_FORWARD = (
    later("Closest, not put forward: {candidate}"),
    later("Next closest, not put forward: {candidate}"),
)
"""Titles of the candidates' slides, in their order."""

KINDS = {
    Remainder.EXPLAINED: later("explained"),
    Remainder.UNEXPLAINED: later("unexplained"),
    Remainder.SPARED: later("spared"),
}
"""How a piece of skin stands to a candidate, in the name of its group."""

QUESTION = later("Root, nerve, plexus, or none of these?")

WAYS: tuple[tuple[str, str], ...] = (
    (
        later("Root"),
        later("a strip of one segment, front and back, that crosses the skin of several nerves"),
    ),
    (
        later("Nerve"),
        later("the skin of one nerve below one point, with a border where its neighbours begin"),
    ),
    (later("Plexus"), later("skin of several nerves or roots of one limb")),
    (
        later("None"),
        later("both sides, a ring, a level on the trunk, half of the body, or scattered patches"),
    ),
)
"""The ways a loss can look, for the question. Bedside practice, no source."""

TERMS = later(
    "Support: probability among all candidates and something else. Explained: share of the "
    "drawing that lies in the territory. Involved: share of the territory that is drawn."
)


ASKED = (
    later("Describe it as a note would: side, modality, how deep the loss is."),
    later("Where does it end, in front and behind?"),
    later("What has not been tested yet?"),
)
"""Prompts beside the findings."""

ASKED_EMPTY = (
    later("Which instrument first, and where?"),
    later("Which skin would you compare, side against side?"),
)


ASKED_URGENT = (
    later("This holds whatever is ranked first."),
    later("What would you ask and examine now?"),
    later("Whom would you call, and how soon?"),
)

NO_QUESTION = (
    later("No further spot, muscle or reflex is expected to change the order."),
    later("What would you examine all the same, and why?"),
    later("What in the history would change your mind?"),
)


def sided(candidate: Candidate) -> str:
    """The name of a candidate with its side."""
    territory = candidate.territory
    both = territory.side is Side.BOTH
    if ("both sides" if both else territory.side.value) in territory.english:
        return territory.name
    return f"{territory.name}, {tr('both sides') if both else territory.side.word}"


def candidate_title(answer: Answer, order: int) -> str:
    """The title of a candidate's slide."""
    titles = FORWARD if answer.ranking.verdict is Verdict.RANKED else NOT_FORWARD
    return tr(titles[order], candidate=sided(answer.ranking.candidates[order]))


def numbers(candidate: Candidate) -> str:
    """The three shares in one line."""
    return tr(
        "Support {support}, explained {explained:.0%}, involved {involved:.0%}",
        support=probability(candidate.support),
        explained=candidate.explained_fraction,
        involved=candidate.involved_fraction,
    )


def same_place(answer: Answer, candidate: Candidate) -> str:
    """Which further candidates have the same support, or nothing."""
    names = [
        sided(c)
        for c in answer.ranking.candidates
        if c.place == candidate.place and c is not candidate
    ]
    if not names:
        return ""
    first = "; ".join(names[:2])
    if len(names) <= 2:
        return tr("Same support: {names}.", names=first)
    return trn(
        "Same support: {names} and {count} more.",
        "Same support: {names} and {count} more.",
        len(names) - 2,
        names=first,
    )


def urgent(answer: Answer) -> tuple[str, ...]:
    """The cautions that this drawing calls for."""
    return cautions(answer.scales.atlas, answer.drawing)[:-2]


def questions(answer: Answer) -> list[tuple[str, str]]:
    """What to test next, and what either answer would mean."""
    catalogue = answer.scales.catalogue
    return [
        (asked(catalogue, q), f"{capital(meaning(catalogue, q))}.") for q in answer.questions.best
    ]


def ties(answer: Answer) -> list[tuple[str, list[str]]]:
    """What tells the leading candidate from the next: a heading and sentences."""
    if answer.ranking.verdict is not Verdict.RANKED:
        return []
    return [
        (
            tr(
                "{first} or {second}?",
                first=t.first.territory.name,
                second=t.second.territory.name,
            ),
            told_apart(answer.scales.atlas, t),
        )
        for t in answer.tie_breakers[:1]
    ]


def title_notes() -> str:
    """Notes of the title."""
    return tr(
        "Say what the group will do: look at the findings first, commit to an answer, and only "
        "then see the candidates. Remind them that sides are the patient's, and that a drawing "
        "of the skin supports an examination and never replaces it."
    )


def findings_notes(what: str, amounts: list[str]) -> str:
    """Notes of a slide with findings."""
    if not amounts:
        return tr("Nothing is drawn in this case. Use the empty figure to plan the examination.")
    return tr(
        "{title}. Drawn: {findings}. Ask one of the group to describe it aloud as they would in "
        "a note: side, modality, how deep the loss is, where it ends in front and behind. Ask "
        "what has not been tested yet.",
        title=what,
        findings="; ".join(amounts),
    )


def question_notes() -> str:
    """Notes of the question."""
    return tr(
        "Let everyone write down one answer and one reason before going on. Ask where the "
        "border runs, whether it crosses the midline, and whether front and back belong "
        "together. The following slides show the candidates one by one."
    )


def urgent_notes(answer: Answer) -> str:
    """Notes of the slide on urgency."""
    return tr(
        "Stop here before any ranking. This pattern calls for action whatever explains it best: "
        "{cautions} Ask the group what they would do now, and whom they would call.",
        cautions=" ".join(urgent(answer)),
    )


def candidate_notes(answer: Answer, candidate: Candidate) -> str:
    """Notes of a candidate: every reason, also those the slide had no room for."""
    why = answer.reasons(candidate)
    parts = [f"{sided(candidate)}. {numbers(candidate)}."]
    for heading, sentences in (
        (tr("What speaks for it:"), why.in_favour),
        (tr("What speaks against it:"), why.against),
        (tr("What is missing:"), why.missing),
    ):
        if sentences:
            parts.append(" ".join((heading, *sentences)))
    parts.append(
        tr(
            "Ask first what the three textures mean on this figure, then which one spot would "
            "change the group's mind. The skin is consistent with a candidate; it is no proof "
            "of it."
        )
    )
    return "\n".join(parts)


def table_notes(answer: Answer) -> str:
    """Notes of the comparison."""
    return tr(
        "{verdict} {terms} Something else has {share}. A candidate with a small territory can be "
        "wholly involved and still explain little; a large one can explain all and be hardly "
        "involved. Ask which of the two the group finds more convincing, and why.",
        verdict=tr(answer.ranking.sentence),
        terms=tr(TERMS),
        share=probability(answer.ranking.something_else),
    )


def next_notes(answer: Answer) -> str:
    """Notes of the questions."""
    parts = [f"{words}. {means}" for words, means in questions(answer)]
    for heading, sentences in ties(answer):
        parts.append(" ".join((heading, *sentences)))
    if not parts:
        return tr("No further question is expected to change the order. Ask the group why.")
    return tr(
        "Have the group choose one test before it is shown. {questions}",
        questions=" ".join(parts),
    )


def closing_notes(answer: Answer) -> str:
    """Notes of the last slide."""
    return tr(
        "Close with the limits. Published maps differ, borders in skin are soft, and a drawing "
        "knows nothing of the history. {cautions}",
        cautions=" ".join(cautions(answer.scales.atlas, answer.drawing)),
    )
