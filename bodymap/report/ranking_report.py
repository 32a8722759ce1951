"""The answer as other programs read it, and as a person reads it in a terminal.

Shares and areas are exact; support is a probability over all candidates and
"something else". Candidates are consistent with the drawing or not; nothing here
names a cause.
"""

import textwrap
from typing import Any

from bodymap.language import english, number, tr, trn
from bodymap.localise.answer import Answer
from bodymap.localise.explanation import Reasons
from bodymap.localise.next_spots import NextSpot
from bodymap.localise.ranking import Candidate
from bodymap.localise.tie_breakers import TieBreaker
from bodymap.localise.verdict import Verdict
from bodymap.report.cautions import cautions
from bodymap.report.question_words import asked, meaning, told_apart
from bodymap.terms import Side

SHOWN = 10
"""Candidates in the table."""

LINE = 88
"""Characters in a line of text."""


@english()
def as_json(answer: Answer) -> dict[str, Any]:
    """The answer with its candidates: supports and fractions 0 to 1, areas in cm², gains
    in bits. ``next_spots`` are the best spots of skin, ``next_steps`` the best questions
    of any kind."""
    ranking = answer.ranking
    return {
        "verdict": ranking.verdict.value,
        "sentence": ranking.sentence,
        "candidates": [_candidate(c, answer.reasons(c)) for c in ranking.candidates],
        "something_else": ranking.something_else,
        "next_spots": [_question(answer, q) for q in answer.questions.skin],
        "next_steps": [_question(answer, q) for q in answer.questions.best],
        "tie_breakers": [_tie(answer, t) for t in answer.tie_breakers],
        "cautions": list(cautions(answer.scales.atlas, answer.drawing)),
    }


def as_text(answer: Answer) -> str:
    """The first ten candidates as a table, the reasons for the first, what tells it from
    the next, what to test, and the cautions."""
    ranking = answer.ranking
    parts = [_wrapped(tr(ranking.sentence))]
    if ranking.candidates:
        parts.append(_table(ranking.candidates[:SHOWN], ranking.something_else))
        parts.append(_why(answer))
    if answer.tie_breakers and ranking.verdict is Verdict.RANKED:
        tie = answer.tie_breakers[0]
        first, second = tie.first.territory.name, tie.second.territory.name
        lines = [tr("{first} or {second}?", first=first, second=second)]
        lines += [_wrapped(s, "  ") for s in told_apart(answer.scales.atlas, tie)]
        parts.append("\n".join(lines))
    if answer.questions.best:
        lines = [tr("What to test next")]
        for number, question in enumerate(answer.questions.best, start=1):
            words = asked(answer.scales.catalogue, question)
            means = meaning(answer.scales.catalogue, question)
            lines.append(
                _wrapped(
                    tr(
                        "{question}: {means} ({bits:.2f} bits).",
                        question=words,
                        means=means,
                        bits=question.gain_bits,
                    ),
                    f"  {number}. ",
                )
            )
        parts.append("\n".join(lines))
    said = cautions(answer.scales.atlas, answer.drawing)
    parts.append("\n".join(_wrapped(c) for c in said))
    return "\n\n".join(parts) + "\n"


def _candidate(candidate: Candidate, why: Reasons) -> dict[str, Any]:
    territory = candidate.territory
    found: dict[str, Any] = {
        "id": territory.id,
        "name": territory.name,
        "kind": territory.kind,
        "side": territory.side.value,
        "support": candidate.support,
        "place": candidate.place,
        "explained_fraction": candidate.explained_fraction,
        "involved_fraction": candidate.involved_fraction,
        "explained_cm2": candidate.explained_cm2,
        "unexplained_cm2": candidate.unexplained_cm2,
        "spared_cm2": candidate.spared_cm2,
        "for": list(why.in_favour),
        "against": list(why.against),
        "missing": list(why.missing),
    }
    if len(candidate.parts) > 1:
        found["sides"] = [side.value for _, side in candidate.parts]
    return found


def _question(answer: Answer, question: NextSpot) -> dict[str, Any]:
    catalogue = answer.scales.catalogue
    found: dict[str, Any] = {"side": question.side.value, "gain_bits": question.gain_bits}
    if question.region is not None and question.modality is not None:
        found |= {"modality": question.modality.value, "region": question.region}
    else:
        sign = question.sign or ""
        found |= {"sign": sign, "kind": catalogue.atlas.facts.signs[sign].kind}
    found["words"] = f"{asked(catalogue, question)}: {meaning(catalogue, question)}"
    return found


def _tie(answer: Answer, tie: TieBreaker) -> dict[str, Any]:
    return {
        "between": [tie.first.territory.id, tie.second.territory.id],
        "skin": [
            {"region": region, "side": side.value, "lost_in": _which(tie, first)}
            for region, side, first in tie.difference.skin
        ],
        "signs": [
            {"sign": sign, "side": side.value, "changed_in": _which(tie, first)}
            for sign, side, first in tie.difference.signs
        ],
        "words": told_apart(answer.scales.atlas, tie),
    }


def _which(tie: TieBreaker, first: bool) -> str:
    return (tie.first if first else tie.second).territory.id


def _table(candidates: tuple[Candidate, ...], something_else: float) -> str:
    other, consistent = tr("something else"), tr("consistent with")
    width = max(len(other), len(consistent), *(len(c.territory.name) for c in candidates))
    heads = tr("side"), tr("support"), tr("explained"), tr("involved")
    sides = max(5, *(len(s.word) for s in Side), len(heads[0]))
    support, explained, involved = (
        max(least, len(h)) for least, h in zip((7, 9, 8), heads[1:], strict=True)
    )
    head = (
        f"     {consistent:<{width}}  {heads[0]:<{sides}}  {heads[1]:>{support}}  "
        f"{heads[2]:>{explained}}  {heads[3]:>{involved}}"
    )
    rows = [
        f"{c.place:>3}. {c.territory.name:<{width}}  {c.territory.side.word:<{sides}}  "
        f"{probability(c.support):>{support}}  "
        f"{number(c.explained_fraction, '.0%'):>{explained}}  "
        f"{number(c.involved_fraction, '.0%'):>{involved}}"
        for c in candidates
    ]
    share = probability(something_else)
    rows.append(f"     {other:<{width}}  {'':<{sides}}  {share:>{support}}")
    note = tr(
        "     support: probability among all candidates, from the sensory findings and the\n"
        "     signs noted; explained: share of the drawing; involved: share of the territory"
    )
    return "\n".join([head, *rows, note])


def probability(share: float) -> str:
    """A probability in whole percents; nothing is called certain or impossible."""
    if share < 0.005:
        return f"<{number(0.01, '.0%')}"
    return f">{number(0.99, '.0%')}" if share > 0.995 else number(share, ".0%")


def _why(answer: Answer) -> str:
    ranking = answer.ranking
    first = ranking.candidates[0]
    why = answer.reasons(first)
    side = first.territory.side
    sides = tr("both sides") if side is Side.BOTH else side.word
    ties = sum(c.place == 1 for c in ranking.candidates) - 1
    title = f"{first.territory.name} ({sides})"
    if ties:
        title += trn(
            ", sharing the first place with {count} more",
            ", sharing the first place with {count} more",
            ties,
        )
    if ranking.verdict is not Verdict.RANKED:
        title += tr(": the closest, not put forward")
    lines = [title]
    for word, sentences in (
        (tr("for"), why.in_favour),
        (tr("against"), why.against),
        (tr("missing"), why.missing),
    ):
        lines += [_wrapped(s, f"  {word:<8} ") for s in sentences]
    return "\n".join(lines)


def _wrapped(text: str, head: str = "") -> str:
    return textwrap.fill(
        text, LINE, initial_indent=head, subsequent_indent=" " * len(head), break_on_hyphens=False
    )
