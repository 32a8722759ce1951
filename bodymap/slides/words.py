"""What the slides say: titles, the words beside the figure, and notes for the teacher."""

from bodymap.localise.answer import Answer
from bodymap.localise.ranking import Candidate
from bodymap.localise.verdict import Verdict
from bodymap.report.cautions import cautions
from bodymap.report.question_words import asked, meaning, told_apart
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

ORDINALS = ("First", "Second", "Third")

QUESTION = "Root, nerve, plexus, or none of these?"

WAYS: tuple[tuple[str, str], ...] = (
    ("Root", "a strip of one segment, front and back, that crosses the skin of several nerves"),
    ("Nerve", "the skin of one nerve below one point, with a border where its neighbours begin"),
    ("Plexus", "skin of several nerves or roots of one limb"),
    ("None", "both sides, a ring, a level on the trunk, half of the body, or scattered patches"),
)
"""The ways a loss can look, for the question. Bedside practice, no source."""

TERMS = (
    "Support: probability among all candidates and something else. Explained: share of the "
    "drawing that lies in the territory. Involved: share of the territory that is drawn."
)


ASKED = (
    "Describe it as a note would: side, modality, how deep the loss is.",
    "Where does it end, in front and behind?",
    "What has not been tested yet?",
)
"""Prompts beside the findings."""

ASKED_EMPTY = (
    "Which instrument first, and where?",
    "Which skin would you compare, side against side?",
)


ASKED_URGENT = (
    "This holds whatever is ranked first.",
    "What would you ask and examine now?",
    "Whom would you call, and how soon?",
)

NO_QUESTION = (
    "No further spot, muscle or reflex is expected to change the order.",
    "What would you examine all the same, and why?",
    "What in the history would change your mind?",
)


def sided(candidate: Candidate) -> str:
    """The name of a candidate with its side."""
    territory = candidate.territory
    side = "both sides" if territory.side is Side.BOTH else territory.side.value
    return territory.name if side in territory.name else f"{territory.name}, {side}"


def candidate_title(answer: Answer, order: int) -> str:
    """The title of a candidate's slide."""
    name = sided(answer.ranking.candidates[order])
    if answer.ranking.verdict is Verdict.RANKED:
        return f"{ORDINALS[order]} candidate: {name}"
    return f"{'Closest' if order == 0 else 'Next closest'}, not put forward: {name}"


def numbers(candidate: Candidate) -> str:
    """The three shares in one line."""
    return (
        f"Support {probability(candidate.support)}, explained "
        f"{candidate.explained_fraction:.0%}, involved {candidate.involved_fraction:.0%}"
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
    more = f" and {len(names) - 2} more" if len(names) > 2 else ""
    return f"Same support: {'; '.join(names[:2])}{more}."


def urgent(answer: Answer) -> tuple[str, ...]:
    """The cautions that this drawing calls for."""
    return cautions(answer.scales.atlas, answer.drawing)[:-2]


def questions(answer: Answer) -> list[tuple[str, str]]:
    """What to test next, and what either answer would mean."""
    catalogue = answer.scales.catalogue
    return [
        (asked(catalogue, q), f"{_upper(meaning(catalogue, q))}.") for q in answer.questions.best
    ]


def ties(answer: Answer) -> list[tuple[str, list[str]]]:
    """What tells the leading candidate from the next: a heading and sentences."""
    if answer.ranking.verdict is not Verdict.RANKED:
        return []
    return [
        (
            f"{t.first.territory.name} or {t.second.territory.name}?",
            told_apart(answer.scales.atlas, t),
        )
        for t in answer.tie_breakers[:1]
    ]


def title_notes() -> str:
    """Notes of the title."""
    return (
        "Say what the group will do: look at the findings first, commit to an answer, and only "
        "then see the candidates. Remind them that sides are the patient's, and that a drawing "
        "of the skin supports an examination and never replaces it."
    )


def findings_notes(what: str, amounts: list[str]) -> str:
    """Notes of a slide with findings."""
    if not amounts:
        return "Nothing is drawn in this case. Use the empty figure to plan the examination."
    listed = "; ".join(amounts)
    return (
        f"{what}. Drawn: {listed}. Ask one of the group to describe it aloud as they would in "
        "a note: side, modality, how deep the loss is, where it ends in front and behind. Ask "
        "what has not been tested yet."
    )


def question_notes() -> str:
    """Notes of the question."""
    return (
        "Let everyone write down one answer and one reason before going on. Ask where the "
        "border runs, whether it crosses the midline, and whether front and back belong "
        "together. The following slides show the candidates one by one."
    )


def urgent_notes(answer: Answer) -> str:
    """Notes of the slide on urgency."""
    return (
        "Stop here before any ranking. This pattern calls for action whatever explains it best: "
        + " ".join(urgent(answer))
        + " Ask the group what they would do now, and whom they would call."
    )


def candidate_notes(answer: Answer, candidate: Candidate) -> str:
    """Notes of a candidate: every reason, also those the slide had no room for."""
    why = answer.reasons(candidate)
    parts = [f"{sided(candidate)}. {numbers(candidate)}."]
    for heading, sentences in (
        ("What speaks for it:", why.in_favour),
        ("What speaks against it:", why.against),
        ("What is missing:", why.missing),
    ):
        if sentences:
            parts.append(" ".join((heading, *sentences)))
    parts.append(
        "Ask first what the three textures mean on this figure, then which one spot would "
        "change the group's mind. The skin is consistent with a candidate; it is no proof of it."
    )
    return "\n".join(parts)


def table_notes(answer: Answer) -> str:
    """Notes of the comparison."""
    other = probability(answer.ranking.something_else)
    return (
        f"{answer.ranking.sentence} {TERMS} Something else has {other}. A candidate with a small "
        "territory can be wholly involved and still explain little; a large one can explain all "
        "and be hardly involved. Ask which of the two the group finds more convincing, and why."
    )


def next_notes(answer: Answer) -> str:
    """Notes of the questions."""
    parts = [f"{words}. {means}" for words, means in questions(answer)]
    for heading, sentences in ties(answer):
        parts.append(" ".join((heading, *sentences)))
    if not parts:
        return "No further question is expected to change the order. Ask the group why."
    return "Have the group choose one test before it is shown. " + " ".join(parts)


def closing_notes(answer: Answer) -> str:
    """Notes of the last slide."""
    return (
        "Close with the limits. Published maps differ, borders in skin are soft, and a drawing "
        "knows nothing of the history. " + " ".join(cautions(answer.scales.atlas, answer.drawing))
    )


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]
