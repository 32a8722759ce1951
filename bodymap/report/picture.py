"""A picture to take away: the figure with findings, territories, legend and caution.

Plain SVG 1.1 without clips or masks, so that every renderer shows the same. Each
finding keeps its exact skin: the ground of a mark is the drawn skin itself.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Territory
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Skin
from bodymap.localise.explanation import remainders
from bodymap.report.appearance import (
    CHANGE_STYLES,
    LIGHT,
    MARK_WIDTH,
    MODALITY_LETTERS,
    REMAINDER_STYLES,
    MarkStyle,
    Remainder,
    Theme,
)
from bodymap.report.cautions import CAUTION, SADDLE, involves_saddle
from bodymap.report.figure_svg import contours, ground, headings, names, territories
from bodymap.report.layout import BODY_LAYOUT, SHEET_HEIGHT, SHEET_WIDTH, Placed
from bodymap.report.lettering import text_width, wrapped
from bodymap.report.names import numbers, short
from bodymap.report.svg import element, group, path, skin_data, text
from bodymap.report.textures import marks
from bodymap.terms import Change, MapName, Modality, View

FOOT = 128.0
"""Room under the figure for legend, sources and caution, sheet units."""

KEY_WIDTH = 330.0
"""Room beside the figure for the key of numbered names, sheet units."""

SOURCES = (
    "Original figure and maps. Dermatomes after Lee 2008 and Foerster 1933, nerves after "
    "Gray 1918, Standring 2020, Stewart 2010 and MRC 2010; shares of body surface after Lund "
    "and Browder 1944. Published maps differ."
)


@dataclass(frozen=True)
class PictureOptions:
    """What a picture shows: one map or none, a candidate or none, some views or all."""

    map_name: MapName | None = None
    candidate: Territory | None = None
    theme: Theme = LIGHT
    views: tuple[View, ...] = tuple(View)
    title: str = ""


@dataclass(frozen=True)
class _Mark:
    """Skin of one view that is marked in one style, and the letter of its modality."""

    style: MarkStyle
    skin: Skin
    letter: str
    shift: float


def draw_svg(atlas: Atlas, drawing: Drawing, options: PictureOptions) -> str:
    """The picture as SVG text."""
    theme = options.theme
    key = _key_rows(atlas, options)
    left, top, right, bottom = _frame(atlas, options, bool(key))
    children = [element("rect", x=left, y=top, width=right - left, height=bottom - top + FOOT,
                        fill=theme.canvas)]  # fmt: skip
    if options.title:
        children.append(text(options.title, left + 16, top + 24, 17, theme.text, bold=True))
    for view in options.views:
        children.append(group(_view(atlas, drawing, view, options), BODY_LAYOUT[view].title))
    if key:
        children.append(group(_key(key, right - KEY_WIDTH + 8, top + 40, theme), "Key"))
    foot = _foot(atlas, drawing, options, left + 16, bottom, right - left - 32)
    children.append(group(foot, "Legend and caution"))
    description = f"Sensory findings drawn on a body figure. {CAUTION}"
    head = [element("title", options.title or "bodymap"), element("desc", description)]
    box = f"{left:g} {top:g} {right - left:g} {bottom - top + FOOT:g}"
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + element(
        "svg",
        "\n" + "\n".join([*head, *children]) + "\n",
        xmlns="http://www.w3.org/2000/svg",
        version="1.1",
        viewBox=box,
        width=right - left,
        height=bottom - top + FOOT,
    )


def _frame(atlas: Atlas, options: PictureOptions, key: bool) -> tuple[float, float, float, float]:
    """left, top, right, bottom of the part of the sheet that the chosen views need."""
    if set(options.views) >= set(View):
        return 0.0, 0.0, SHEET_WIDTH + (KEY_WIDTH if key else 0.0), SHEET_HEIGHT
    boxes = []
    for view in options.views:
        placed = BODY_LAYOUT[view]
        x0, y0, x1, y1 = placed.box_to_sheet(atlas.figures[view].outline.bounds)
        boxes.append((x0, min(y0, placed.title_at[1]), x1, y1))
    left, top = min(b[0] for b in boxes) - 30, min(b[1] for b in boxes) - 56
    # The legend needs room even under a single narrow view.
    right = max(max(b[2] for b in boxes) + 30, left + 640)
    return left, top, right + (KEY_WIDTH if key else 0.0), max(b[3] for b in boxes) + 40


def _view(atlas: Atlas, drawing: Drawing, view: View, options: PictureOptions) -> Iterator[str]:
    theme, placed = options.theme, BODY_LAYOUT[view]
    yield from ground(atlas, view, theme)
    if options.map_name:
        yield from territories(atlas, options.map_name, view, theme)
    found = list(_marks(atlas, drawing, view, options))
    for mark in found:
        yield _marked(mark, placed, theme)
    yield from contours(atlas, view, theme, options.map_name)
    if options.map_name:
        yield from names(atlas, options.map_name, view, theme)
    for mark in found:
        if mark.letter:
            yield from _letters(mark, placed, theme)
    yield from headings(view, theme)


def _marks(atlas: Atlas, drawing: Drawing, view: View, options: PictureOptions) -> Iterator[_Mark]:
    if options.candidate is not None:
        parts = remainders(atlas, drawing, options.candidate).get(view)
        if parts is not None:
            for kind, skin in (
                (Remainder.SPARED, parts.spared),
                (Remainder.EXPLAINED, parts.explained),
                (Remainder.UNEXPLAINED, parts.unexplained),
            ):
                if skin is not None:
                    yield _Mark(REMAINDER_STYLES[kind], skin, "", 0.0)
        return
    modalities = sorted({m for m, _, _ in drawing})
    for modality, change, layer in drawing:
        skin = layer.skin(atlas, view)
        if skin is not None:
            letter = MODALITY_LETTERS[modality] if len(modalities) > 1 else ""
            shift = modalities.index(modality) / len(modalities)
            yield _Mark(CHANGE_STYLES[change], skin, letter, shift)


def _marked(mark: _Mark, placed: Placed, theme: Theme) -> str:
    colour = mark.style.colour(theme)
    data = skin_data(mark.skin, placed)
    texture = marks(mark.style.texture, mark.skin, placed, mark.shift)
    children = [
        path(data, class_="ground", fill=colour, fill_opacity=mark.style.fill,
             fill_rule="evenodd"),
        path(skin_data(texture, placed), fill=colour, fill_rule="evenodd") if texture else "",
        path(data, fill="none", stroke=colour, stroke_width=MARK_WIDTH,
             stroke_dasharray="4 3" if mark.style.dashed else None),
    ]  # fmt: skip
    return group(children, title=mark.style.label)


def _letters(mark: _Mark, placed: Placed, theme: Theme) -> Iterator[str]:
    for piece in shapely.get_parts(mark.skin):
        if piece.area * placed.scale**2 > 60:
            at = piece.representative_point()
            x, y = placed.to_sheet(at.x, at.y)
            x += 16 * (mark.shift - 0.3)
            colour = mark.style.colour(theme)
            yield element("circle", cx=x, cy=y, r=7.5, fill=theme.canvas, stroke=colour)
            yield text(mark.letter, x, y + 3.8, 10.5, theme.text, "middle", bold=True)


def _foot(
    atlas: Atlas, drawing: Drawing, options: PictureOptions, x: float, y: float, width: float
) -> Iterator[str]:
    theme = options.theme
    at = x
    row = y + 14
    for style, words in _legend(drawing, options):
        long = 40 + text_width(words, 12.5) + 26
        if at > x and at + long > x + width:
            at, row = x, row + 22
        swatch = shapely.box(at, -row - 5, at + 30, -row + 11)
        yield _marked(_Mark(style, swatch, "", 0.0), _PLAIN, theme)
        yield text(words, at + 38, row + 2, 12.5, theme.text)
        at += long
    row += 26
    note = CAUTION
    if involves_saddle(atlas, drawing):
        note = f"{SADDLE} {CAUTION}"
    for line in wrapped(note, 13, width):
        yield text(line, x, row, 13, theme.warning, bold=True)
        row += 17
    for line in wrapped("Sides are the patient's. " + SOURCES, 10.5, width):
        yield text(line, x, row, 10.5, theme.muted_text)
        row += 14


_PLAIN = Placed(View.FRONT, 1.0, 0.0, 0.0, "", (0.0, 0.0))
"""A sheet that is its own view, for swatches."""


def _legend(drawing: Drawing, options: PictureOptions) -> Iterator[tuple[MarkStyle, str]]:
    if options.candidate is not None:
        name = f"{options.candidate.name} ({options.candidate.side})"
        for kind in Remainder:
            yield (
                REMAINDER_STYLES[kind],
                f"{REMAINDER_STYLES[kind].label}: {name}"
                if (kind is Remainder.EXPLAINED)
                else REMAINDER_STYLES[kind].label,
            )
        return
    found: dict[Change, list[Modality]] = {}
    for modality, change, _ in drawing:
        found.setdefault(change, []).append(modality)
    several = len({m for m, _, _ in drawing}) > 1
    for change, modalities in found.items():
        words = ", ".join(
            f"{m.label} ({MODALITY_LETTERS[m]})" if several else m.label for m in modalities
        )
        yield CHANGE_STYLES[change], f"{CHANGE_STYLES[change].label}: {words}"


def _key_rows(atlas: Atlas, options: PictureOptions) -> list[tuple[int, str]]:
    """Numbers and names, where the map's names are too long to stand on the skin."""
    if options.map_name in (None, "dermatomes"):
        return []
    known = numbers(atlas, options.map_name)
    return [(n, short(atlas, options.map_name, name)) for name, n in known.items()]


def _key(rows: list[tuple[int, str]], x: float, y: float, theme: Theme) -> Iterator[str]:
    step = min(13.0, (SHEET_HEIGHT - 60) / max(len(rows), 1))
    for order, (number, name) in enumerate(rows):
        row = y + order * step
        yield text(str(number), x + 18, row, step * 0.8, theme.muted_text, "end")
        yield text(name, x + 24, row, step * 0.8, theme.text)
