"""The ranking as other programs read it, and as a person reads it in a terminal.

Every number comes from areas. ``support`` stays null until there is an engine that
can give a probability; ``agreement`` is what the order rests on today. Candidates
are consistent with the drawing or not; nothing here names a cause.
"""

import textwrap
from typing import Any

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.localise.explanation import Reasons, reasons
from bodymap.localise.ranking import Candidate, Ranking, Verdict
from bodymap.report.cautions import cautions
from bodymap.terms import Side

SHOWN = 10
"""Candidates in the table."""

LINE = 88
"""Characters in a line of text."""

SIDES = {Side.LEFT: "left", Side.RIGHT: "right", Side.BOTH: "both"}


def as_json(atlas: Atlas, drawing: Drawing, ranking: Ranking) -> dict[str, Any]:
    """The ranking with all candidates, fractions 0 to 1 and areas in cm²."""
    altered, normal = drawing.altered_cm2(atlas), drawing.normal_cm2(atlas)
    return {
        "verdict": ranking.verdict.value,
        "sentence": ranking.sentence,
        "candidates": [
            _candidate(c, reasons(atlas, altered, normal, c)) for c in ranking.candidates
        ],
        "next_spots": [],
        "cautions": list(cautions(atlas, drawing)),
    }


def as_text(atlas: Atlas, drawing: Drawing, ranking: Ranking) -> str:
    """The first ten candidates as a table, the reasons for the first, and the cautions."""
    parts = [_wrapped(ranking.sentence)]
    if ranking.candidates:
        parts.append(_table(ranking.candidates[:SHOWN]))
        left = len(ranking.candidates) - SHOWN
        if left > 0:
            parts[-1] += f"\n    and {left} more that share skin with the drawing"
        parts.append(_why(atlas, drawing, ranking))
    parts.append("\n".join(_wrapped(c) for c in cautions(atlas, drawing)))
    return "\n\n".join(parts) + "\n"


def _candidate(candidate: Candidate, why: Reasons) -> dict[str, Any]:
    territory = candidate.territory
    return {
        "id": territory.id,
        "name": territory.name,
        "kind": territory.kind,
        "side": territory.side.value,
        "support": None,
        "agreement": candidate.agreement,
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


def _table(candidates: tuple[Candidate, ...]) -> str:
    width = max(len(c.territory.name) for c in candidates)
    head = f"     {'consistent with':<{width}}  side   explained  involved  agreement"
    rows = [
        f"{c.place:>3}. {c.territory.name:<{width}}  {SIDES[c.territory.side]:<5}  "
        f"{c.explained_fraction:>9.0%}  {c.involved_fraction:>8.0%}  {c.agreement:>9.2f}"
        for c in candidates
    ]
    note = "     explained: share of the drawing; involved: share of the territory"
    return "\n".join([head, *rows, note])


def _why(atlas: Atlas, drawing: Drawing, ranking: Ranking) -> str:
    first = ranking.candidates[0]
    why = reasons(atlas, drawing.altered_cm2(atlas), drawing.normal_cm2(atlas), first)
    side = first.territory.side
    sides = "both sides" if side is Side.BOTH else SIDES[side]
    ties = sum(c.place == 1 for c in ranking.candidates) - 1
    title = f"{first.territory.name} ({sides})"
    if ties:
        title += f", sharing the first place with {ties} more"
    if ranking.verdict is not Verdict.RANKED:
        title += ": the closest, not put forward"
    lines = [title]
    for word, sentences in (
        ("for", why.in_favour),
        ("against", why.against),
        ("missing", why.missing),
    ):
        lines += [_wrapped(s, f"  {word:<8} ") for s in sentences]
    return "\n".join(lines)


def _wrapped(text: str, head: str = "") -> str:
    return textwrap.fill(
        text, LINE, initial_indent=head, subsequent_indent=" " * len(head), break_on_hyphens=False
    )
