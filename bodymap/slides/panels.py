"""What stands beside the figure and on the slides without one: legend, reasons, table."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from bodymap.language import number, tr
from bodymap.localise.answer import Answer
from bodymap.localise.explanation import Reasons
from bodymap.report.appearance import Theme
from bodymap.report.legend import Entry
from bodymap.report.lettering import text_width
from bodymap.report.ranking_report import probability
from bodymap.slides.compared_words import MORE
from bodymap.slides.page import COLUMN, LEAST, SLIM, SLIM_BOLD, Place, Words, grown, write
from bodymap.slides.shapes import POINT, boxed, described, lined, patterned, plain, rgb

if TYPE_CHECKING:
    from pptx.slide import Slide

SWATCH = (0.42, 0.3)
"""Inches."""

TABLE = 16.0
"""Size of the text of a table, points."""

COMPARED = 5
"""Candidates in the table."""


def sides_words() -> Words:
    """Whose right and left they are."""
    return Words(tr("Sides are the patient's."), colour="TEXT_2", after=14.0)


def draw_legend(
    slide: "Slide", rows: Sequence[Entry], theme: Theme, top: float, heading: str
) -> float:
    """Swatches with their words in the column, from a height down. Returns where it ends."""
    from pptx.enum.shapes import MSO_SHAPE

    left, _, width, _ = COLUMN
    head = [Words(heading, 16.0, True, after=0.0)]
    y = write(slide, (left, top, width, head[0].height(width)), head, tr("Legend: heading")) + 0.08
    for row in rows:
        swatch = slide.shapes.add_shape(MSO_SHAPE.RECTANGLE, *boxed((left, y + 0.03, *SWATCH)))
        plain(swatch)
        patterned(swatch, row.style, theme)
        lined(swatch, row.style.colour(theme), 0.75, row.style.dashed)
        name = tr("Legend: {words}", words=row.words)
        described(swatch, name, tr("Swatch: {words}", words=row.words))
        inset = SWATCH[0] + 0.14
        lines = [Words(row.words, after=0.0), Words(row.amount, colour="TEXT_2", after=0.0)]
        high = sum(line.height(width - inset) for line in lines)
        write(slide, (left + inset, y, width - inset, high), lines, name)
        y += high + 0.09
    return y


def column(slide: Any, top: float, told: Sequence[Words]) -> None:
    """Words beside the figure, from a height down, as large as there is room for."""
    high = COLUMN[1] + COLUMN[3] - top - 0.1
    told = grown(told, COLUMN[2], high)
    write(slide, (COLUMN[0], top + 0.1, COLUMN[2], high), told, tr("Words beside the figure"))


def fitting_reasons(why: Reasons, width: float, height: float) -> list[Words]:
    """The reasons under their headings, as many as there is room for, each kind in turn."""
    kinds = {tr("For"): why.in_favour, tr("Against"): why.against, tr("Missing"): why.missing}
    heads = {kind: Words(kind, LEAST, True, "ACCENT_1", 1.0) for kind in kinds}
    chosen: dict[str, list[Words]] = {kind: [] for kind in kinds}
    more = Words(tr(MORE), colour="TEXT_2", after=0.0)
    left, dropped = height - more.height(width), 0
    for turn in range(max(map(len, kinds.values()))):
        for kind, sentences in kinds.items():
            if turn >= len(sentences):
                continue
            words = Words(sentences[turn], after=5.0)
            need = words.height(width)
            if not chosen[kind]:
                need += heads[kind].height(width)
            if need > left:
                dropped += 1
                continue
            left -= need
            chosen[kind].append(words)
    found = [w for kind, words in chosen.items() if words for w in (heads[kind], *words)]
    return [*found, more] if dropped else found


def draw_table(slide: "Slide", answer: Answer, place: Place, theme: Theme) -> float:
    """The leading candidates and something else. Returns where it ends (inches)."""
    ranking = answer.ranking
    heads = tr("Consistent with"), tr("Side"), tr("Support"), tr("Explained"), tr("Involved")
    rows = [("", *heads)]
    for candidate in ranking.candidates[:COMPARED]:
        rows.append(
            (
                f"{candidate.place}.",
                candidate.territory.name,
                candidate.territory.side.word,
                probability(candidate.support),
                number(candidate.explained_fraction, ".0%"),
                number(candidate.involved_fraction, ".0%"),
            )
        )
    rows.append(("", tr("Something else"), "", probability(ranking.something_else), "", ""))
    least = (0.55, 0.0, 0.9, 1.3, 1.5, 1.4)
    widths = [max(w, longest) for w, longest in zip(least, _longest(rows), strict=True)]
    widths[1] = place[2] - sum(widths) + widths[1]
    told = [
        tr(
            "{candidate} {side}: support {support}, explained {explained}, involved {involved}",
            candidate=r[1], side=r[2], support=r[3], explained=r[4], involved=r[5],
        )
        for r in rows[1:-1]
    ]  # fmt: skip
    words = tr("Table of the leading candidates. {rows}.", rows="; ".join(told))
    return draw_grid(slide, rows, widths, place, theme, tr("Comparison"), words, (0, 3, 4, 5))


def _longest(rows: Sequence[Sequence[str]]) -> list[float]:
    """How wide each column must be for its longest word, its first row being bold."""
    return [
        max(
            text_width(word, TABLE) * (SLIM_BOLD if number == 0 else SLIM) / 72 + 0.25
            for number, said in enumerate(column)
            for word in said.split() or [""]
        )
        for column in zip(*rows, strict=True)
    ]


def draw_grid(
    slide: "Slide", rows: Sequence[Sequence[str]], widths: Sequence[float], place: Place,
    theme: Theme, name: str, words: str, right: Sequence[int] = (),
) -> float:  # fmt: skip
    """A table, its first row the headings. ``right`` are the columns that are set to the
    right, ``words`` stand for it where it is not seen. Returns where it ends (inches)."""
    high = 0.42
    frame = slide.shapes.add_table(len(rows), len(widths), *boxed((*place[:3], high * len(rows))))
    described(frame, name, words)
    table: Any = frame.table
    for order, width in enumerate(widths):
        table.columns[order].width = boxed((width, 0, 0, 0))[0]
    end = place[1]
    for line, row in enumerate(rows):
        cells = zip(row, widths, strict=True)
        need = max(
            Words(said, TABLE, line == 0, after=0.0).height(width - 0.2) for said, width in cells
        )
        tall = max(high, need + 0.14)
        table.rows[line].height = boxed((tall, 0, 0, 0))[0]
        end += tall
        for order, said in enumerate(row):
            _cell(table.cell(line, order), said, line, order in right, theme)
    frame.height = sum(row.height for row in table.rows)
    return end


def _cell(cell: Any, words: str, row: int, right: bool, theme: Theme) -> None:
    from pptx.enum.dml import MSO_THEME_COLOR
    from pptx.enum.text import MSO_ANCHOR, PP_ALIGN

    cell.text_frame.text = words
    cell.vertical_anchor = MSO_ANCHOR.MIDDLE
    cell.fill.solid()
    cell.fill.fore_color.rgb = rgb(theme.accent if row == 0 else theme.panel)
    line = cell.text_frame.paragraphs[0]
    line.font.size, line.font.bold = round(TABLE * POINT), row == 0
    if row == 0:
        line.font.color.rgb = rgb(theme.accent_text)
    else:
        line.font.color.theme_color = MSO_THEME_COLOR.TEXT_1
    if right:
        line.alignment = PP_ALIGN.RIGHT
