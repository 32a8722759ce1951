"""The order of the slides: findings, question, maps, candidates one by one, comparison, next
test.

``make_deck`` is the whole of it: an answer goes in, the bytes of a presentation come out
(PresentationML, ECMA-376).
"""

import io
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from bodymap.geometry import Floats, Skin, union_of, without
from bodymap.language import later, tr
from bodymap.localise.answer import Answer
from bodymap.localise.comparison import Comparison
from bodymap.localise.ranking import Candidate
from bodymap.localise.remainders import remainders
from bodymap.localise.verdict import Verdict
from bodymap.report.appearance import (
    CHANGE_STYLES,
    LIGHT,
    REMAINDER_STYLES,
    MarkStyle,
    Remainder,
    Theme,
)
from bodymap.report.cautions import CAUTION_LONG, cautions
from bodymap.report.legend import Entry, amount, entries
from bodymap.report.picture import SOURCES
from bodymap.slides import compared_words, words
from bodymap.slides.compared import compared_slides, leading_slide
from bodymap.slides.figure import Mark, draw_figure, scene
from bodymap.slides.maps import maps_slide
from bodymap.slides.page import (
    COLUMN,
    FIRST,
    FULL,
    Words,
    add_slide,
    blank_deck,
    fitted,
    grown,
    spoken,
    write,
)
from bodymap.slides.panels import (
    column,
    draw_legend,
    draw_table,
    fitting_reasons,
    sides_words,
)
from bodymap.terms import Change, Modality, View

if TYPE_CHECKING:
    from pptx.presentation import Presentation

SHOWN = 2
"""Candidates with a slide of their own."""

ALTERED = MarkStyle(later("altered, in one modality or more"), "#1f5f8b", "#7db8e0", "brick", 0.3)
"""Skin of a drawing in several modalities, all in one: the colours of the themes' accent."""


def make_deck(
    answer: Answer, title: str, theme: Theme = LIGHT, comparison: Comparison | None = None
) -> bytes:
    """A 16:9 deck of native, editable shapes for teaching a case, as a .pptx file.

    Works for every drawing, also an empty one and one that no single lesion explains. A
    comparison of lesions is shown as well; where nothing is drawn the deck is of it alone.
    All words are in the language in hand.
    """
    deck = blank_deck(theme, title)
    alone = comparison is not None and not answer.drawing
    _title(deck, title, alone)
    if not alone:
        _case(deck, answer, theme)
    if comparison is not None:
        compared_slides(deck, answer.scales.atlas, comparison, theme, alone)
    if not alone and answer.ranking.candidates:
        _next(deck, answer)
    _closing(deck, answer)
    spoken(deck)
    out = io.BytesIO()
    deck.save(out)
    return out.getvalue()


def _case(deck: "Presentation", answer: Answer, theme: Theme) -> None:
    _findings(deck, answer, theme)
    if answer.ranking.candidates:
        _question(deck, answer, theme)
    if words.urgent(answer):
        _urgent(deck, answer)
    maps_slide(deck, answer.scales.atlas, answer.drawing, theme)
    for order in range(min(SHOWN, len(answer.ranking.candidates))):
        _candidate(deck, answer, order, theme)
    if answer.ranking.candidates:
        leading_slide(deck, answer, theme)
        _comparison(deck, answer, theme)


def _title(deck: "Presentation", title: str, compared: bool) -> None:
    notes = compared_words.title_notes() if compared else words.title_notes()
    slide = add_slide(deck, title, notes, FIRST)
    under = compared_words.SUBTITLE if compared else words.SUBTITLE
    slide.placeholders[1].text_frame.text = tr(under)
    write(slide, (1.0, 4.3, 11.1, 2.0), [Words(tr(CAUTION_LONG), 18.0)], tr("Caution"))


def _findings(deck: "Presentation", answer: Answer, theme: Theme) -> None:
    """A slide for each modality that was tested; one with the bare figure without any."""
    atlas, drawing = answer.scales.atlas, answer.drawing
    shown = scene(atlas, _covered(answer))
    tested = sorted({m for m, _, _ in drawing}, key=[*Modality].index)
    for modality in (*tested, *(() if tested else (None,))):
        part = drawing.only([modality] if modality else [])
        title = tr("Nothing is drawn")
        if modality:
            title = tr("What was found: {modality}", modality=modality.label)
        rows = entries(atlas, part, None)
        told = [f"{row.words}, {row.amount}" for row in rows]
        slide = add_slide(deck, title, words.findings_notes(title, told))
        marks = list(_finding_marks(answer, [modality] if modality else []))
        listed = "; ".join(told) or tr("No findings")
        alt = tr("Body figure with the findings. {findings}.", findings=listed)
        draw_figure(slide, atlas, marks, theme, shown, alt)
        end = draw_legend(slide, rows, theme, COLUMN[1], tr("Findings"))
        said = [sides_words()]
        if not answer.ranking.candidates:
            said.append(Words(tr(answer.ranking.sentence), 16.0, True))
        for ask in words.ASKED if rows else words.ASKED_EMPTY:
            said.append(Words(tr(ask), 16.0, after=10.0))
        column(slide, end, said)


def _covered(answer: Answer) -> Floats:
    return answer.drawing.altered_cm2(answer.scales.atlas)


def _finding_marks(answer: Answer, modalities: list[Modality]) -> Iterator[Mark]:
    atlas = answer.scales.atlas
    for modality, change, layer in answer.drawing.only(modalities):
        skin = {v: s for v in View if (s := layer.skin(atlas, v)) is not None}
        style = CHANGE_STYLES[change]
        areas = amount(atlas, layer.painted_cm2(atlas))
        found = tr(
            "{change} {modality}", "finding", change=tr(style.label), modality=modality.label
        )
        name = tr("Findings: {finding}", finding=found)
        yield Mark(name, style, skin, f"{found}: {areas}.")


def _question(deck: "Presentation", answer: Answer, theme: Theme) -> None:
    atlas, drawing = answer.scales.atlas, answer.drawing
    slide = add_slide(deck, tr(words.QUESTION), words.question_notes())
    modalities = sorted({m for m, _, _ in drawing}, key=[*Modality].index)
    if len(modalities) == 1:
        marks, rows = list(_finding_marks(answer, modalities)), entries(atlas, drawing, None)
    else:
        marks, rows = _together(answer)
    draw_figure(
        slide, atlas, marks, theme, scene(atlas, _covered(answer)),
        tr("Body figure with all findings. {findings}", findings=" ".join(m.words for m in marks)),
    )  # fmt: skip
    end = draw_legend(slide, rows, theme, COLUMN[1], tr("All findings"))
    told = [sides_words(), Words(tr("Which is it, and why?"), 18.0, True)]
    for head, look in words.WAYS:
        told += [Words(tr(head), 16.0, True, "ACCENT_1", 1.0), Words(tr(look), 16.0)]
    column(slide, end, told)


def _together(answer: Answer) -> tuple[list[Mark], tuple[Entry, ...]]:
    """Findings in several modalities as two marks: altered in any, and else normal."""
    atlas, drawing = answer.scales.atlas, answer.drawing
    altered: dict[View, Skin] = {}
    normal: dict[View, Skin] = {}
    for view in View:
        skin = drawing.altered_skin(atlas, view)
        sound = union_of(la.skin(atlas, view) for _, change, la in drawing if not change.altered)
        rest = without(sound, skin)
        altered |= {view: skin} if skin is not None else {}
        normal |= {view: rest} if rest is not None else {}
    drawn = drawing.altered_cm2(atlas)
    sound_cm2 = np.clip(drawing.normal_cm2(atlas), 0.0, atlas.cells.area_cm2 - drawn)
    rows = [Entry(ALTERED, tr(ALTERED.label), amount(atlas, drawn))]
    told = tr("Altered: {amount}.", amount=rows[0].amount)
    marks = [Mark(tr("Findings: altered"), ALTERED, altered, told)]
    if normal:
        style = CHANGE_STYLES[Change.NORMAL]
        rows.append(Entry(style, tr("tested, and normal"), amount(atlas, sound_cm2)))
        told = tr("Normal: {amount}.", amount=rows[1].amount)
        marks.append(Mark(tr("Findings: normal"), style, normal, told))
    return marks, tuple(rows)


def _urgent(deck: "Presentation", answer: Answer) -> None:
    slide = add_slide(deck, tr("Before any ranking: is it urgent?"), words.urgent_notes(answer))
    told = [Words(text, 24.0, True, "ACCENT_2", 16.0) for text in words.urgent(answer)]
    told += [Words(tr(text), 20.0, after=10.0) for text in words.ASKED_URGENT]
    write(slide, FULL, fitted(told, FULL[2], FULL[3]), tr("Urgent"))


def _candidate(deck: "Presentation", answer: Answer, order: int, theme: Theme) -> None:
    atlas, candidate = answer.scales.atlas, answer.ranking.candidates[order]
    notes = words.candidate_notes(answer, candidate)
    slide = add_slide(deck, words.candidate_title(answer, order), notes)
    taken = atlas.cells.area_cm2 * candidate.territory.extent
    shown = scene(atlas, np.maximum(_covered(answer), taken))
    rows = _shares(answer, candidate)
    alt = tr(
        "Body figure held against {candidate}. {amounts}.",
        candidate=words.sided(candidate),
        amounts="; ".join(f"{row.words}: {row.amount}" for row in rows),
    )
    draw_figure(slide, atlas, _remainder_marks(answer, candidate, rows), theme, shown, alt)
    top = COLUMN[1]
    if order == 0 and answer.ranking.verdict is not Verdict.RANKED:
        top = _noted(slide, tr(answer.ranking.sentence), tr("Verdict"))
    elif same := words.same_place(answer, candidate):
        top = _noted(slide, same, tr("Same place"))
    end = draw_legend(slide, rows, theme, top, words.numbers(candidate))
    room = COLUMN[1] + COLUMN[3] - end - 0.1
    reasons = fitting_reasons(answer.reasons(candidate), COLUMN[2], room)
    write(slide, (COLUMN[0], end + 0.1, COLUMN[2], room), reasons, tr("Reasons"))


def _noted(slide: Any, sentence: str, name: str) -> float:
    said = [Words(sentence, 14.0, True, "ACCENT_2", 0.0)]
    return write(slide, (*COLUMN[:3], said[0].height(COLUMN[2])), said, name) + 0.1


def _shares(answer: Answer, candidate: Candidate) -> list[Entry]:
    """The legend of a candidate, each row with its share."""
    explained, involved = candidate.explained_fraction, candidate.involved_fraction
    rows = entries(answer.scales.atlas, answer.drawing, candidate.territory)
    said = [
        tr("{share:.0%} of the drawing: {amount}", share=explained, amount=rows[0].amount),
        tr("{share:.0%} of the drawing: {amount}", share=1 - explained, amount=rows[1].amount),
        tr("{share:.0%} of the territory: {amount}", share=1 - involved, amount=rows[2].amount),
    ]
    nothing = tr("none")
    return [
        Entry(row.style, row.words, nothing if row.amount == nothing else told)
        for row, told in zip(rows, said, strict=True)
    ]


def _remainder_marks(answer: Answer, candidate: Candidate, rows: list[Entry]) -> list[Mark]:
    atlas, name = answer.scales.atlas, words.sided(candidate)
    held = remainders(atlas, answer.drawing, candidate.territory)
    amounts = {row.style: row.amount for row in rows}
    found = []
    for kind in (Remainder.SPARED, Remainder.EXPLAINED, Remainder.UNEXPLAINED):
        style = REMAINDER_STYLES[kind]
        skin = {v: s for v, r in held.items() if (s := getattr(r, kind.value)) is not None}
        told = f"{name}: {tr(style.label)}, {amounts[style]}."
        found.append(Mark(f"{name}: {tr(words.KINDS[kind])}", style, skin, told))
    return found


def _comparison(deck: "Presentation", answer: Answer, theme: Theme) -> None:
    slide = add_slide(deck, tr("The leading candidates compared"), words.table_notes(answer))
    said = [Words(tr(answer.ranking.sentence), 18.0, True)]
    end = write(slide, (*FULL[:3], said[0].height(FULL[2])), said, tr("Verdict"))
    end = draw_table(slide, answer, (FULL[0], end + 0.1, FULL[2], 4.0), theme)
    note = [Words(tr(words.TERMS), 16.0, colour="TEXT_2")]
    write(slide, (FULL[0], end + 0.2, FULL[2], note[0].height(FULL[2])), note, tr("Terms"))


def _next(deck: "Presentation", answer: Answer) -> None:
    slide = add_slide(deck, tr("What to test next"), words.next_notes(answer))
    told = []
    for number, (ask, means) in enumerate(words.questions(answer), start=1):
        told += [Words(f"{number}. {ask}", 18.0, True, after=2.0), Words(means, 16.0, after=10.0)]
    if not told:
        told = [Words(tr(text), 18.0, after=10.0) for text in words.NO_QUESTION]
    for heading, sentences in words.ties(answer):
        told.append(Words(heading, 18.0, True, "ACCENT_1", 2.0))
        told += [Words(sentence, 16.0) for sentence in sentences]
    kept: list[Words] = []
    for paragraph in told:
        if sum(w.height(FULL[2]) for w in (*kept, paragraph)) < FULL[3]:
            kept.append(paragraph)
    write(slide, FULL, grown(kept, FULL[2], FULL[3]), tr("Questions"))


def _closing(deck: "Presentation", answer: Answer) -> None:
    title = tr("Cautions and sources")
    slide = add_slide(deck, title, words.closing_notes(answer))
    said = cautions(answer.scales.atlas, answer.drawing)
    told = [Words(s, 18.0, False, "ACCENT_2", 10.0) for s in said]
    told.append(Words(tr("Sources. {sources}", sources=tr(SOURCES)), 14.0, colour="TEXT_2"))
    write(slide, FULL, grown(told, FULL[2], FULL[3]), title)
