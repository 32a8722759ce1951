"""What the findings are consistent with, why, what else, how far that goes, what next.

Nothing here proves, excludes or diagnoses. Support is a probability among the lesions
and patterns compared.
"""

from dataclasses import replace

from bodymap.localise.answer import Answer
from bodymap.localise.next_spots import NextSpot
from bodymap.localise.ranking import Candidate
from bodymap.localise.red_flags import red_flags
from bodymap.localise.verdict import Verdict
from bodymap.report.question_words import asked, meaning, told_apart
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

CLEAR = 0.5
"""From this support on the first candidate is put forward alone. Judgement."""

LEAST = 0.01
"""A candidate with less support is not named as an alternative. Judgement."""

ALTERNATIVES = 3

NOT_A_DIAGNOSIS = "Support is a probability among the lesions compared, not a diagnosis."

NOTHING_MORE = (
    "No single further test is expected to change this order much; what was not tested can "
    "still be added."
)

PATHWAY_FIRST = (
    "Where the red flag applies, the local pathway comes first; no further test should delay it."
)

LEAST_BITS = 0.05
"""A question that is expected to tell less is no next step. Judgement."""


def leading(answer: Answer) -> list[str]:
    """What leads, with its support; or why nothing is put forward."""
    ranking = answer.ranking
    if ranking.verdict is Verdict.INSUFFICIENT or not ranking.candidates:
        return ["Not attempted: no altered skin is recorded, or too little."]
    if ranking.verdict is Verdict.CONTRADICTORY:
        return [f"Not attempted. {ranking.sentence}"]
    first = ranking.candidates[0]
    if ranking.verdict is not Verdict.RANKED:
        return [f"{ranking.sentence} Closest, not put forward: {_named(first)}."]
    if len(first.parts) > 1:
        return [
            f"No single lesion explains the altered skin; two together are consistent with "
            f"it: {_named(first)}."
        ]
    if first.support >= CLEAR:
        return [f"Consistent with {_named(first)}."]
    return [f"No single lesion stands out; the findings are most consistent with {_named(first)}."]


def alternatives(answer: Answer, short: bool = False) -> list[str]:
    """The next candidates, and everything else together."""
    ranking = answer.ranking
    if ranking.verdict is not Verdict.RANKED:
        return []
    others = [c for c in ranking.candidates[1:] if c.support >= LEAST]
    if not others:
        words = "No other lesion or pattern compared reaches 1%."
        return [f"{words} {NOT_A_DIAGNOSIS}"] if short else [words]
    same = sum(c.place == others[0].place for c in others)
    told = others[: 1 if short and same == 1 else 2 if short else ALTERNATIVES]
    words = "; ".join(_named(c) for c in told)
    if short:
        return [f"Alternative: {words}. {NOT_A_DIAGNOSIS}"]
    rest = f"none of the lesions and patterns compared (support {_rest(answer)})"
    return [f"Alternatives: {words}; {rest}."]


def reasons(answer: Answer) -> list[str]:
    """For and against the leading candidate, and what is open."""
    ranking = answer.ranking
    if ranking.verdict is not Verdict.RANKED:
        return []
    why = answer.reasons(ranking.candidates[0])
    return [
        *(f"For: {words}" for words in why.in_favour),
        *(f"Against: {words}" for words in why.against),
        *(f"Open: {words}" for words in why.missing),
    ]


def limits(answer: Answer) -> list[str]:
    """What a reader must know of the numbers."""
    if answer.ranking.verdict in (Verdict.INSUFFICIENT, Verdict.CONTRADICTORY):
        return []
    told = [
        "Support is a probability among the lesions and patterns compared, from the recorded "
        "sensation and the muscles and reflexes noted; it is not a diagnosis and knows nothing "
        "else of the person.",
        "Skin maps differ between people and between sources; consistent with a lesion does "
        "not mean caused by it.",
    ]
    if any("signature" in words for words in reasons(answer)):
        told.append("Signature skin is altered in nearly every complete lesion of that kind.")
    return told


def next_steps(answer: Answer, short: bool = False) -> list[str]:
    """What to test next, and what tells the first two apart."""
    ranking = answer.ranking
    ranked = ranking.verdict is Verdict.RANKED
    best = [q for q in answer.questions.best if q.gain_bits >= LEAST_BITS]
    if ranking.verdict is Verdict.CONTRADICTORY:
        best = []
    urgent = bool(red_flags(answer.scales.atlas, answer.drawing))
    first = [PATHWAY_FIRST] if urgent else []
    if not best and not urgent and ranked:
        first = [NOTHING_MORE]
    if short:
        return [" ".join([*first, *(f"{_asked(answer, q)}." for q in best[:1])])]
    lines = [f"{_asked(answer, q)}: {meaning(answer.scales.catalogue, q)}." for q in best]
    ties = [t for t in answer.tie_breakers if t.difference.skin or t.difference.signs]
    if ties and ranked:
        tie = ties[0]
        # The note of a pair reads like a finding ("Wrist: normal"), so it is left out here.
        bare = replace(tie, difference=replace(tie.difference, note=""))
        words = " ".join(told_apart(answer.scales.atlas, bare))
        lines.append(f"To tell {_name(tie.first)} from {_name(tie.second)}: {words}")
    return first + lines


def _rest(answer: Answer) -> str:
    return probability(answer.ranking.something_else)


def _asked(answer: Answer, question: NextSpot) -> str:
    return asked(answer.scales.catalogue, question)


def _named(candidate: Candidate) -> str:
    """A candidate with its side and support: "C6 nerve root, right (support 41%)"."""
    side = candidate.territory.side
    words = "both sides" if side is Side.BOTH else side.value
    return f"{_name(candidate)}, {words} (support {probability(candidate.support)})"


def _name(candidate: Candidate) -> str:
    """A name as it stands within a sentence."""
    name = candidate.territory.name
    return name[:1].lower() + name[1:] if name[1:2].islower() else name
