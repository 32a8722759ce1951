"""What the findings are consistent with, why, what else, how far that goes, what next.

Nothing here proves, excludes or diagnoses. Support is a probability among the lesions
and patterns compared.
"""

from dataclasses import replace

from bodymap.language import english, later, lower_first, tr
from bodymap.localise.answer import Answer
from bodymap.localise.ranking import Candidate
from bodymap.localise.red_flags import red_flags
from bodymap.localise.verdict import Verdict
from bodymap.report.note_results import labelled
from bodymap.report.question_words import asked, meaning, told_apart
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

CLEAR = 0.5
"""From this support on the first candidate is put forward alone. Judgement."""

LEAST = 0.01
"""A candidate with less support is not named as an alternative. Judgement."""

ALTERNATIVES = 3

NOT_A_DIAGNOSIS = later("Support is a probability among the lesions compared, not a diagnosis.")

NOTHING_MORE = later(
    "No single further test is expected to change this order much; what was not tested can "
    "still be added."
)

PATHWAY_FIRST = later(
    "Where the red flag applies, the local pathway comes first; no further test should delay it."
)

LEAST_BITS = 0.05
"""A question that is expected to tell less is no next step. Judgement."""


def leading(answer: Answer) -> list[str]:
    """What leads, with its support; or why nothing is put forward."""
    ranking = answer.ranking
    if ranking.verdict is Verdict.INSUFFICIENT or not ranking.candidates:
        return [tr("Not attempted: no altered skin is recorded, or too little.")]
    if ranking.verdict is Verdict.CONTRADICTORY:
        return [tr("Not attempted. {sentence}", sentence=tr(ranking.sentence))]
    first = ranking.candidates[0]
    if ranking.verdict is not Verdict.RANKED:
        return [
            tr(
                "{sentence} Closest, not put forward: {lesion}.",
                sentence=tr(ranking.sentence), lesion=_named(first),
            )
        ]  # fmt: skip
    if len(first.parts) > 1:
        return [
            tr(
                "No single lesion explains the altered skin; two together are consistent with "
                "it: {lesions}.",
                lesions=_named(first),
            )
        ]
    if first.support >= CLEAR:
        return [tr("Consistent with {lesion}.", lesion=_named(first))]
    return [
        tr(
            "No single lesion stands out; the findings are most consistent with {lesion}.",
            lesion=_named(first),
        )
    ]


def alternatives(answer: Answer, short: bool = False) -> list[str]:
    """The next candidates, and everything else together."""
    ranking = answer.ranking
    if ranking.verdict is not Verdict.RANKED:
        return []
    others = [c for c in ranking.candidates[1:] if c.support >= LEAST]
    if not others:
        words = tr("No other lesion or pattern compared reaches 1%.")
        return [f"{words} {tr(NOT_A_DIAGNOSIS)}"] if short else [words]
    same = sum(c.place == others[0].place for c in others)
    told = others[: 1 if short and same == 1 else 2 if short else ALTERNATIVES]
    words = "; ".join(_named(c) for c in told)
    if short:
        return [f"{tr('Alternative: {lesions}.', lesions=words)} {tr(NOT_A_DIAGNOSIS)}"]
    return [
        tr(
            "Alternatives: {lesions}; none of the lesions and patterns compared "
            "(support {support}).",
            lesions=words, support=probability(ranking.something_else),
        )
    ]  # fmt: skip


def reasons(answer: Answer) -> list[str]:
    """For and against the leading candidate, and what is open."""
    ranking = answer.ranking
    if ranking.verdict is not Verdict.RANKED:
        return []
    why = answer.reasons(ranking.candidates[0])
    return [
        *(labelled("For", words) for words in why.in_favour),
        *(labelled("Against", words) for words in why.against),
        *(labelled("Open", words) for words in why.missing),
    ]


def limits(answer: Answer) -> list[str]:
    """What a reader must know of the numbers."""
    if answer.ranking.verdict in (Verdict.INSUFFICIENT, Verdict.CONTRADICTORY):
        return []
    told = [
        tr(
            "Support is a probability among the lesions and patterns compared, from the recorded "
            "sensation and the muscles and reflexes noted; it is not a diagnosis and knows nothing "
            "else of the person."
        ),
        tr(
            "Skin maps differ between people and between sources; consistent with a lesion does "
            "not mean caused by it."
        ),
    ]
    if _signature_told(answer):
        told.append(tr("Signature skin is altered in nearly every complete lesion of that kind."))
    return told


@english()
def _signature_told(answer: Answer) -> bool:
    """Whether a reason speaks of signature skin; looked for in English, whatever is shown."""
    return any("signature" in words for words in reasons(answer))


def next_steps(answer: Answer, short: bool = False) -> list[str]:
    """What to test next, and what tells the first two apart."""
    ranking = answer.ranking
    ranked = ranking.verdict is Verdict.RANKED
    best = [q for q in answer.questions.best if q.gain_bits >= LEAST_BITS]
    if ranking.verdict is Verdict.CONTRADICTORY:
        best = []
    urgent = bool(red_flags(answer.scales.atlas, answer.drawing))
    first = [tr(PATHWAY_FIRST)] if urgent else []
    if not best and not urgent and ranked:
        first = [tr(NOTHING_MORE)]
    catalogue = answer.scales.catalogue
    if short:
        asking = [tr("{question}.", question=asked(catalogue, q)) for q in best[:1]]
        return [" ".join([*first, *asking])]
    lines = [
        tr("{question}: {means}.", question=asked(catalogue, q), means=meaning(catalogue, q))
        for q in best
    ]
    ties = [t for t in answer.tie_breakers if t.difference.skin or t.difference.signs]
    if ties and ranked:
        tie = ties[0]
        # The note of a pair reads like a finding ("Wrist: normal"), so it is left out here.
        bare = replace(tie, difference=replace(tie.difference, note=""))
        words = " ".join(told_apart(answer.scales.atlas, bare))
        lines.append(
            tr(
                "To tell {first} from {second}: {differences}",
                first=_name(tie.first), second=_name(tie.second), differences=words,
            )
        )  # fmt: skip
    return first + lines


def _named(candidate: Candidate) -> str:
    """A candidate with its side and support: "C6 nerve root, right (support 41%)"."""
    side = candidate.territory.side
    return tr(
        "{lesion}, {side} (support {support})",
        lesion=_name(candidate), side=tr("both sides") if side is Side.BOTH else side.word,
        support=probability(candidate.support),
    )  # fmt: skip


def _name(candidate: Candidate) -> str:
    """A name as it stands within a sentence."""
    name = candidate.territory.name
    return lower_first(name) if name[1:2].islower() else name
