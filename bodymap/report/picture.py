"""A picture to take away: the figure with findings, territories, legend and caution.

Plain SVG 1.1 without clips or masks, so that every renderer shows the same. Each
finding keeps its exact skin: the ground of a mark is the drawn skin itself. The
proportions of the whole are those of an A4 page, landscape.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Territory
from bodymap.findings.drawing import Drawing
from bodymap.findings.progress import Progress
from bodymap.language import later, tr
from bodymap.localise.comparison import Comparison
from bodymap.report.appearance import (
    LIGHT,
    Theme,
)
from bodymap.report.cautions import cautions
from bodymap.report.figure_svg import DASHES, contours, ground, headings, names, territories
from bodymap.report.labels import labels
from bodymap.report.layout import BODY_LAYOUT, SHEET_HEIGHT, SHEET_WIDTH, Box
from bodymap.report.legend import (
    COLUMN,
    HEADING,
    KEY_STEP,
    SMALL,
    WORDS,
    Room,
    key,
    legend,
    marked,
    rule,
)
from bodymap.report.lettering import text_width, wrapped
from bodymap.report.names import numbers, spoken
from bodymap.report.picture_marks import letters, picture_marks
from bodymap.report.svg import element, group, text
from bodymap.terms import MAP_NAMES, MapName, View

MARGIN = 28.0
HEAD = 30.0
"""Room above the figure for the title, sheet units."""

TITLE, CAUTION_SIZE, SOURCE_SIZE = 26.0, 14.5, 11.5
"""Sizes of text, sheet units."""

CORNERS = (Room(22.0, 700.0, 216.0, 452.0), Room(1296.0, 700.0, 216.0, 452.0))
"""Free parts of the sheet, outside the legs and below the hands, for the key."""

SOURCES = later(
    "Original figure and maps. Dermatomes after Lee 2008 and Foerster 1933, nerves after "
    "Gray 1918, Standring 2020, Stewart 2010 and MRC 2010; shares of body surface after Lund "
    "and Browder 1944. Published maps differ."
)


@dataclass(frozen=True)
class PictureOptions:
    """What a picture shows: maps; a candidate, a comparison, the course between two visits
    or none of them; some views or all.

    The first map is filled and named; of further ones the borders are laid over it.
    """

    maps: tuple[MapName, ...] = ()
    candidate: Territory | None = None
    comparison: Comparison | None = None
    course: Progress | None = None
    theme: Theme = LIGHT
    views: tuple[View, ...] = tuple(View)
    title: str = ""

    @property
    def map_name(self) -> MapName | None:
        """The map that is filled and named."""
        return self.maps[0] if self.maps else None


def draw_svg(atlas: Atlas, drawing: Drawing, options: PictureOptions) -> str:
    """The picture as SVG text.

    Findings are marked by modality and change; where the options name a candidate, what
    it explains, does not explain and would have taken as well is marked instead.
    """
    theme = options.theme
    left, top, right, bottom = _frame(atlas, options)
    column = right + 14.0
    whole = bool(set(options.views) >= set(View))
    body = [
        group(_view(atlas, drawing, view, options), tr(BODY_LAYOUT[view].title))
        for view in BODY_LAYOUT
        if view in options.views
    ]
    told, row = legend(
        atlas,
        drawing,
        options.candidate,
        column,
        top + 14,
        theme,
        options.comparison,
        options.course,
    )
    if not whole:
        note = tr("Areas count all views, also those not shown.")
        told.append(text(note, column, row - 4, SMALL, theme.muted_text))
        row += 20
    body.append(group(told, tr("Legend")))
    if options.map_name is not None:
        # With few views the column may have to grow below the figure for the key.
        rows = _key_rows(atlas, options.map_name, options.views)
        overlay = tr("Overlay: {map}", map=_words(options.map_name))
        body.append(text(overlay, column, row + HEADING, HEADING, theme.text, bold=True))
        for further, dashes in zip(options.maps[1:], DASHES[1:], strict=False):
            row += 22
            line = row + HEADING - 4
            body.append(
                element(
                    "line",
                    x1=column,
                    y1=line,
                    x2=column + 38,
                    y2=line,
                    stroke=theme.text,
                    stroke_width=1.5,
                    stroke_dasharray=dashes,
                )
            )
            words = tr("borders of {map}", map=_words(further))
            body.append(text(words, column + 48, line + 4.5, WORDS, theme.text))
        if rows:
            bottom = max(bottom, row + min(240.0, 40 + 2 * KEY_STEP * len(rows)))
            rooms = [
                *(CORNERS if whole else ()),
                Room(column, row + HEADING + 8, COLUMN - 20, bottom - row - HEADING - 8),
            ]
            body.append(group(key(rows, rooms, theme), tr("Key")))
        row += HEADING + 8
    bottom = max(bottom, row)
    width = column + COLUMN - left - MARGIN
    warned = cautions(atlas, drawing)
    foot, end = _foot(warned, left + MARGIN, bottom + 10, width - MARGIN, theme)
    body.append(group(foot, tr("Caution and sources")))
    height = end + 16 - top + HEAD
    head = [
        element("title", options.title or "bodymap"),
        element("desc", f"{tr('Sensory findings drawn on a body figure.')} {warned[0]}"),
        element("rect", x=left, y=top - HEAD, width=width + MARGIN, height=height,
                fill=theme.canvas),
        text(options.title or tr("Sensory findings"), left + MARGIN, top + 6, TITLE, theme.text,
             bold=True),
    ]  # fmt: skip
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + element(
        "svg",
        "\n" + "\n".join([*head, *body]) + "\n",
        xmlns="http://www.w3.org/2000/svg",
        version="1.1",
        viewBox=f"{left:g} {top - HEAD:g} {width + MARGIN:g} {height:g}",
        width=width + MARGIN,
        height=height,
    )


def _words(map_name: MapName) -> str:
    return tr("named regions") if map_name == "regions" else tr(map_name)


def _frame(atlas: Atlas, options: PictureOptions) -> Box:
    """left, top, right, bottom of the part of the sheet that the chosen views need."""
    if set(options.views) >= set(View):
        return 0.0, 0.0, SHEET_WIDTH, SHEET_HEIGHT
    boxes = []
    for view in options.views:
        placed = BODY_LAYOUT[view]
        x0, _, x1, y1 = placed.box_to_sheet(atlas.figures[view].outline.bounds)
        half = text_width(tr(placed.title), 22.0) / 2
        boxes.append((min(x0, placed.dx - half), placed.title_at[1] - 20,
                      max(x1, placed.dx + half), y1 + 44))  # fmt: skip
    sides = np.array(boxes)
    return (
        float(sides[:, 0].min()) - 40, float(sides[:, 1].min()) - 34,
        float(sides[:, 2].max()) + 40, float(sides[:, 3].max()),
    )  # fmt: skip


def _view(atlas: Atlas, drawing: Drawing, view: View, options: PictureOptions) -> Iterator[str]:
    theme, placed = options.theme, BODY_LAYOUT[view]
    yield from ground(atlas, view, theme)
    if options.map_name:
        yield from territories(atlas, options.map_name, view, theme)
    found = list(picture_marks(atlas, drawing, view, options))
    for mark in found:
        yield marked(mark.style, mark.skin, placed, theme, mark.shift, mark.title)
    yield from contours(atlas, view, theme, options.maps)
    taken: list[tuple[float, float]] = []
    if options.map_name:
        yield from names(atlas, options.map_name, view, theme, [m.skin for m in found])
        for label in labels(atlas, options.map_name)[view]:
            x0, y0, x1, y1 = label.box.bounds
            corners = [(x0, y0), (x1, y0), (x0, y1), (x1, y1)]
            taken += [(label.x, y0), (label.x, label.y), (label.x, y1), *corners]
    for mark in found:
        if mark.letter:
            yield from letters(mark, placed, theme, taken)
    yield from headings(view, theme)


def _foot(
    sentences: Sequence[str], x: float, y: float, width: float, theme: Theme
) -> tuple[list[str], float]:
    """Cautions and sources under everything, and where they end."""
    drawn = [rule(x, y, width, theme)]
    y += 6
    for order, sentence in enumerate((*sentences, tr(SOURCES))):
        last = order == len(sentences)
        size = SOURCE_SIZE if last else CAUTION_SIZE if order < len(sentences) - 1 else 12.5
        bold = size == CAUTION_SIZE
        colour = theme.muted_text if last else theme.warning
        for line in wrapped(sentence, size, width * (0.9 if bold else 1.0)):
            y += size * 1.3
            drawn.append(text(line, x, y, size, colour, bold=bold))
        y += 2
    return drawn, y


def _key_rows(atlas: Atlas, map_name: MapName, views: Sequence[View]) -> list[tuple[int, str]]:
    """Numbers that stand on the chosen views, with the names they mean."""
    assert map_name in MAP_NAMES
    shown = {la.name for v in views for la in labels(atlas, map_name)[v] if la.number}
    known = numbers(atlas, map_name)
    words = {n: spoken(atlas, map_name, n).removesuffix(", cutaneous branch") for n in shown}
    return [(n, words[name]) for name, n in known.items() if name in shown]
