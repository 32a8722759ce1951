"""A note as pages: A4 portrait, each an SVG, with the findings on the figure, page numbers
and the caution on every page. Millimetres, y down.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.language import capital, tr
from bodymap.report.appearance import LIGHT
from bodymap.report.lettering import WIDTHS, text_width
from bodymap.report.note import Note, Section
from bodymap.report.note_figure import figure
from bodymap.report.note_results import SAFETY_NET, SORTING, unlabelled
from bodymap.report.svg import element, group, text

WIDTH, HEIGHT, MARGIN = 210.0, 297.0, 16.0
"""A4, and the free edge."""

TOP, BOTTOM = 17.5, 280.0
"""Where text begins on further pages, and where it ends."""

TITLE, HEADING, WORDS, SMALL = 6.0, 3.7, 3.1, 2.5
"""Heights of text."""

STEP = 1.4
"""From one baseline to the next, share of the text size."""

CLOSER = (1.0, 0.95, 0.9)
"""Shares of the usual distance of lines."""

LABEL = 19.0
"""Width of the column with the word that sorts a line, if none is too wide for it."""

GAP = 1.5
"""Free room between that word and the line."""

WIDEST = 1000
"""Taken for a character of which no width is known, 1/1000 of the text size."""

BOLD = 1.13
"""How much wider bold letters are at most (DejaVu Sans, from memory)."""

LABELS = (*SORTING, SAFETY_NET)


@dataclass(frozen=True)
class _Row:
    """A line of print. ``above`` is free room above it; ``keep`` holds it to the next."""

    words: str
    indent: float = 0.0
    label: str = ""
    size: float = WORDS
    bold: bool = False
    colour: str = LIGHT.text
    above: float = 0.0
    keep: bool = False

    def height(self, closer: float) -> float:
        return closer * (self.size * STEP + self.above)


def pages(atlas: Atlas, drawing: Drawing, note: Note) -> tuple[str, ...]:
    """The pages of a note, as SVG."""
    head, at = _head(note)
    shown, at = figure(atlas, drawing, MARGIN, at + 2.0, WIDTH - 2 * MARGIN)
    rows = [row for section in note.sections for row in _rows(section)]
    # A last page with a few lines is spared by setting the lines a little closer.
    settings = [list(_parted(rows, at, closer)) for closer in CLOSER]
    fewest = min(map(len, settings))
    closer, parts = next((c, p) for c, p in zip(CLOSER, settings, strict=True) if len(p) == fewest)
    made = []
    for number, (start, mine) in enumerate(parts, start=1):
        body = [*head, group(shown, tr("Findings on the figure"))] if number == 1 else []
        if number > 1:
            body.append(text(f"{note.title}. {note.head}"[:110], MARGIN, 15.0, SMALL,
                             LIGHT.muted_text))  # fmt: skip
        body += _set(mine, start, closer)
        body += _foot(note, number, len(parts))
        made.append(_page(note, body))
    return tuple(made)


def _head(note: Note) -> tuple[list[str], float]:
    drawn = [text(note.title, MARGIN, 22.0, TITLE, LIGHT.text, bold=True)]
    y = 24.0
    for line in broken_lines(note.head, WORDS, WIDTH - 2 * MARGIN):
        y += WORDS * STEP
        drawn.append(text(line, MARGIN, y, WORDS, LIGHT.muted_text))
    drawn.append(_rule(y + 2.2))
    return drawn, y + 2.2


def _rows(section: Section) -> Iterator[_Row]:
    """The heading of a section and its lines, broken to the width of the page."""
    colour = LIGHT.warning if section.alarming else LIGHT.text
    widest = max(_width(tr(label), WORDS) for label in LABELS)
    column = LABEL if widest + GAP <= LABEL else BOLD * widest + GAP
    yield _Row(section.heading, size=HEADING, bold=True, colour=colour, above=2.6, keep=True)
    for line in section.lines:
        label, words = unlabelled(line, LABELS)
        words = capital(words)
        indent = column if label else 3.2
        lines = broken_lines(words, WORDS, WIDTH - 2 * MARGIN - indent)
        for number, part in enumerate(lines):
            yield _Row(
                part,
                indent,
                (label or "–") if number == 0 else "",
                above=0.7 if number == 0 else 0.0,
                colour=colour,
                # No line of a paragraph stands alone on a page.
                keep=len(lines) > 1 and number in (0, len(lines) - 2),
            )


def _parted(
    rows: Sequence[_Row], start: float, closer: float
) -> Iterator[tuple[float, list[_Row]]]:
    """The rows of each page, with where it begins."""
    y, mine, at = start, list[_Row](), 0
    while at < len(rows):
        end = at + 1
        while end < len(rows) and rows[end - 1].keep:
            end += 1
        block = rows[at:end]
        if y + sum(r.height(closer) for r in block) > BOTTOM and (mine or y > TOP):
            yield start, mine
            start = y = TOP
            mine = []
        mine += block
        y += sum(r.height(closer) for r in block)
        at = end
    yield start, mine


def _set(rows: Sequence[_Row], y: float, closer: float) -> Iterator[str]:
    for row in rows:
        y += row.height(closer)
        if row.label:
            named = row.label != "–"
            colour = row.colour if named else LIGHT.muted_text
            yield text(row.label, MARGIN, y, row.size, colour, bold=named)
        yield text(row.words, MARGIN + row.indent, y, row.size, row.colour, bold=row.bold)


def _foot(note: Note, number: int, count: int) -> list[str]:
    page = tr("Page {number} of {count}", number=number, count=count)
    return [
        _rule(HEIGHT - 14.5),
        text(note.caution, MARGIN, HEIGHT - 10.5, SMALL, LIGHT.warning),
        text(page, WIDTH - MARGIN, HEIGHT - 10.5, SMALL, LIGHT.muted_text, "end"),
    ]  # fmt: skip


def _rule(y: float) -> str:
    return element("line", x1=MARGIN, y1=y, x2=WIDTH - MARGIN, y2=y, stroke=LIGHT.panel_border,
                   stroke_width=0.25)  # fmt: skip


def _page(note: Note, body: Sequence[str]) -> str:
    ground = element("rect", x=0, y=0, width=WIDTH, height=HEIGHT, fill=LIGHT.canvas)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + element(
        "svg",
        "\n".join([element("title", note.title), ground, *body]),
        xmlns="http://www.w3.org/2000/svg",
        version="1.1",
        viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}",
        width=f"{WIDTH:g}mm",
        height=f"{HEIGHT:g}mm",
    )


def broken_lines(words: str, size: float, width: float) -> list[str]:
    """Text in lines that fit a width; a word that is too long is broken as well."""
    lines: list[str] = []
    for word in words.split():
        if lines and _width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] += f" {word}"
            continue
        while _width(word, size) > width:
            kept = next(n for n in range(len(word), 0, -1) if _width(word[:n], size) <= width)
            lines.append(word[:kept])
            word = word[kept:]
        lines.append(word)
    return lines


def _width(words: str, size: float) -> float:
    unknown = sum(c not in WIDTHS for c in words)
    return text_width(words, size) + unknown * size * (WIDEST - 640) / 1000
