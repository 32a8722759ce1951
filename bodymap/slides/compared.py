"""The slides that hold lesions against each other: skin of each alone, skin that they share,
and what tells them apart."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask, Territory
from bodymap.findings.pieces import skins_of
from bodymap.language import later, tr
from bodymap.localise.answer import Answer
from bodymap.localise.comparison import Comparison, laid_together
from bodymap.localise.tie_breakers import TieBreaking
from bodymap.report.appearance import ALONE_STYLES, MarkStyle, Theme
from bodymap.report.legend import Entry, amount, compared_masks, comparison_entries
from bodymap.slides import compared_words as words
from bodymap.slides.figure import Mark, draw_figure, scene
from bodymap.slides.page import COLUMN, FULL, Words, add_slide, grown, write
from bodymap.slides.panels import column, draw_grid, draw_legend, sides_words

if TYPE_CHECKING:
    from pptx.presentation import Presentation
    from pptx.slide import Slide

LEADING = later("The leading candidates compared on the skin")


def compared_slides(
    deck: "Presentation", atlas: Atlas, comparison: Comparison, theme: Theme, alone: bool
) -> None:
    """The figure of a comparison, each territory by itself where there is no case (``alone``),
    and a table for each pair."""
    _together(deck, atlas, comparison, words.compared_title(comparison), theme)
    if alone:
        for member, style in zip(comparison.members, ALONE_STYLES, strict=False):
            _territory(deck, atlas, member, style, theme)
    for (a, b, difference), (head, said) in zip(
        comparison.differences, words.told(atlas, comparison), strict=True
    ):
        title = tr("Told apart: {question}", question=head)
        slide = add_slide(deck, title, words.apart_notes(head, said))
        first, second = comparison.members[a], comparison.members[b]
        rows = words.table_rows(atlas, difference, first, second)
        wide, end = (FULL[2] - 1.9) / 2, FULL[1] - 0.25
        if len(rows) > 1:
            end = draw_grid(slide, rows, (1.9, wide, wide), FULL, theme, title, " ".join(said))
        under = [] if difference.skin else [tr(words.NO_SKIN)]
        under += [f"{tr(difference.note).rstrip('.')}."] if difference.note else []
        room = FULL[1] + FULL[3] - end - 0.25
        note = grown([Words(sentence, 16.0) for sentence in under], FULL[2], room)
        if note:
            write(slide, (FULL[0], end + 0.25, FULL[2], room), note, tr("Beside the table"))


def leading_slide(deck: "Presentation", answer: Answer, theme: Theme) -> None:
    """The first two candidates held against each other on the skin; none where one stands
    alone."""
    if len(answer.ranking.candidates) < 2:
        return
    first, second = answer.ranking.candidates[:2]
    between = TieBreaking(answer.scales).between(first.parts, second.parts)
    members = (first.territory, second.territory)
    comparison = laid_together(members, ((0, 1, between),))
    _together(deck, answer.scales.atlas, comparison, tr(LEADING), theme)


def _together(
    deck: "Presentation", atlas: Atlas, comparison: Comparison, title: str, theme: Theme
) -> None:
    masks = list(compared_masks(comparison))
    rows = comparison_entries(atlas, comparison)
    told = [f"{row.words}: {row.amount}" for row in rows]
    slide = add_slide(deck, title, words.compared_notes(atlas, comparison, told))
    names = [words.sided_name(t) for t in comparison.members]
    whole = np.logical_or.reduce([t.extent for t in comparison.members])
    alt = tr(
        "Body figure that compares {lesions}. {amounts}.",
        lesions="; ".join(names),
        amounts="; ".join(told),
    )
    _figure(slide, atlas, tr("Compared"), zip(rows, masks, strict=True), whole, theme, alt)
    heading = tr("Compared: {names}", names="; ".join(names))
    end = draw_legend(slide, rows, theme, COLUMN[1], heading)
    side = sides_words()
    room = COLUMN[1] + COLUMN[3] - end - 0.1
    said = words.told_in_room(atlas, comparison, COLUMN[2], room - side.height(COLUMN[2]))
    column(slide, end, [side, *said])


def _territory(
    deck: "Presentation", atlas: Atlas, territory: Territory, style: MarkStyle, theme: Theme
) -> None:
    """One lesion: skin that is nearly always lost, its territory, and the fringe."""
    masks = [
        (replace(style, label=tr("lost in nearly every complete lesion"), texture="cross",
                 fill=0.5), territory.signature),
        (replace(style, label=tr("the rest of its territory")),
         territory.extent & ~territory.signature),
        (replace(style, label=tr("fringe: skin that some maps or some lesions reach"),
                 texture="ring", fill=0.1, dashed=True), territory.fringe),
    ]  # fmt: skip
    area, name = atlas.cells.area_cm2, words.sided_name(territory)
    rows = [Entry(each, each.label, amount(atlas, area * mask)) for each, mask in masks]
    told = [f"{row.words}: {row.amount}" for row in rows]
    slide = add_slide(deck, name, words.territory_notes(atlas, territory, told))
    whole = territory.extent | territory.fringe
    alt = tr(
        "Body figure with the skin of {lesion}. {amounts}.", lesion=name, amounts="; ".join(told)
    )
    _figure(slide, atlas, name, zip(rows, masks, strict=True), whole, theme, alt)
    end = draw_legend(slide, rows, theme, COLUMN[1], tr("Skin of this lesion"))
    said = (Words(s) for s in words.territory_said(atlas, territory))
    column(slide, end, [sides_words(), *said])


def _figure(
    slide: "Slide", atlas: Atlas, name: str,
    shown: Iterable[tuple[Entry, tuple[MarkStyle, Mask]]], whole: Mask, theme: Theme, alt: str,
) -> None:  # fmt: skip
    marks = []
    for row, (style, mask) in shown:
        told = f"{row.words}: {row.amount}."
        marks.append(Mark(f"{name}: {row.words}", style, dict(skins_of(atlas, mask)), told))
    draw_figure(slide, atlas, marks, theme, scene(atlas, atlas.cells.area_cm2 * whole, True), alt)
