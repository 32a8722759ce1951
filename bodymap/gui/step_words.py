"""What is shown of a step: its title, where to touch, and what the answers point to so far."""

from bodymap.atlas import Atlas
from bodymap.examination.spots import point_place, region_place
from bodymap.examination.steps import Kind, Step, is_done
from bodymap.findings.record import BedsideRecord
from bodymap.gui.shown import Target
from bodymap.language import tr
from bodymap.localise.ranking import Ranking
from bodymap.localise.verdict import Verdict
from bodymap.report.ranking_report import probability
from bodymap.terms import Side

LEADING = 3
"""Candidates that are named beside the questions."""


def title_of(step: Step, record: BedsideRecord) -> str:
    """The heading of a step, and where to touch."""
    title = step.part.method.title
    if step.label != title:
        title += f": {step.label}"
    if len(step.sides) == 1:
        title += f", {step.sides[0].word}"
    state = tr(" — answered") if is_done(step, record) else ""
    where = "" if step.where.lower() == step.label.lower() else step.where
    heading = f"<span style='font-size:large'><b>{title}</b></span>{state}"
    return f"{heading}<br>{where[:1].upper()}{where[1:]}" if where else heading


def targets_of(atlas: Atlas, step: Step) -> tuple[Target, ...]:
    """Where to touch at a step, on each side that is asked."""
    found: list[Target] = []
    for side in step.sides or (Side.RIGHT, Side.LEFT):
        if step.kind is Kind.REFERENCE:
            found.append(Target(*region_place(atlas, step.place, side), side))
        elif step.site is not None:
            found.append(Target(*region_place(atlas, step.site.regions[0], side), side))
        elif step.kind is Kind.COMPARE:
            found.append(Target(*point_place(atlas, step.place, side), side))
    return tuple(found)


def leading_words(ranking: Ranking | None) -> str:
    """The first candidates with their support, or why there are none yet."""
    if ranking is None:
        return ""
    if ranking.verdict is not Verdict.RANKED:
        return tr("<b>So far:</b> {verdict}", verdict=tr(ranking.sentence))
    named = ", ".join(
        f"{c.territory.name} {c.territory.side.word} {probability(c.support)}"
        for c in ranking.candidates[:LEADING]
    )
    return tr("<b>So far consistent with:</b> {named}. Not a diagnosis.", named=named)
