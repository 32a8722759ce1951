"""A handout: the roots and the nerves of one limb side by side, and how to tell the
classic confusions apart. One page, right side; sizes in millimetres of A4 landscape.
"""

from collections.abc import Iterator
from itertools import islice

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.assets import table
from bodymap.atlas.territories import Mask
from bodymap.errors import RequestError
from bodymap.geometry import Skin
from bodymap.language import later, tr
from bodymap.report.appearance import LIGHT
from bodymap.report.borders import names_of_cells
from bodymap.report.cautions import CAUTION
from bodymap.report.handout_key import Column, indent, key_columns
from bodymap.report.layout import Placed
from bodymap.report.lettering import text_width, wrapped
from bodymap.report.names import short
from bodymap.report.svg import element, group, path, skin_data, text
from bodymap.report.territory_colours import territory_colours
from bodymap.terms import MapName, Side, View

LIMBS: dict[str, tuple[tuple[str, ...], tuple[View, ...]]] = {
    "arm": (("upper-arm", "forearm", "hand"), (View.FRONT, View.BACK)),
    "leg": (("thigh", "leg", "foot", "buttocks"), (View.FRONT, View.BACK, View.SOLES)),
}
"""Body parts of a limb, and the views that show it."""

TITLES = {
    "arm": (later("Skin of the arm: roots and nerves"), later("Roots and nerves of the arm")),
    "leg": (later("Skin of the leg: roots and nerves"), later("Roots and nerves of the leg")),
}
"""The heading of each page, and what it is called."""

MAPS: dict[MapName, str] = {
    "dermatomes": later("Roots (dermatomes)"),
    "nerves": later("Skin nerves"),
}

SOURCE = later("Original maps after Lee 2008, Foerster 1933, Gray 1918, Stewart 2010, MRC 2010.")

WIDTH, HEIGHT, MARGIN = 297.0, 210.0, 10.0
FIGURES = 113.0
"""Height of the figures where there is room for it, mm; key and table stand below."""

Row = tuple[tuple[str, ...], ...]
"""Of the table: the lines of each cell."""

NAME, SMALL, HEADING = 2.8, 2.8, 4.6
"""Heights of text, mm."""

LINE_MM = 3.4
"""From one line of small text to the next."""

FINE = 10
"""Letters are written in tenths of a millimetre and scaled back: Qt draws whole sizes only."""

ROWS = 4
"""Confusions in the table."""

COLUMNS = ((0.0, 62.0), (64.0, 100.0), (166.0, 110.0))
"""Of the table: from the margin, and how wide, mm."""

HEAD_ROW, AFTER_ROW = 4.5, 0.7
"""Height of the table's heads, and the room below each row, mm."""

FOOT = 9.0
"""Room for the caution below the table, mm."""


def handout_svg(atlas: Atlas, limb: str) -> str:
    """The page for a limb.

    Raises RequestError for a limb that has no page.
    """
    if limb not in LIMBS:
        raise RequestError(tr("There is no handout of '{limb}'; write arm or leg.", limb=limb))
    theme = LIGHT
    heading, name = (tr(words) for words in TITLES[limb])
    rows = list(islice(_confusions(atlas, limb), ROWS))
    height = FIGURES
    while True:
        key: list[tuple[int, str]] = []
        maps = list(_maps(atlas, limb, height, key))
        columns = key_columns([words for _, words in key], WIDTH - 2 * MARGIN, SMALL)
        top = MARGIN + 14 + height + 5
        table_top = top + LINE_MM * max(len(lines) for _, lines in columns) + 1
        over = table_top + HEAD_ROW + sum(map(_height, rows)) - AFTER_ROW - (HEIGHT - FOOT)
        if over <= 0:
            break
        height -= over
    body = [
        element("rect", x=0, y=0, width=WIDTH, height=HEIGHT, fill=theme.canvas),
        _text(heading, MARGIN, MARGIN + 4, HEADING, theme.text, bold=True),
        *maps,
        *_key(columns, top),
        group(_table(rows, table_top), tr("Classic confusions")),
    ]
    foot = f"{tr(SOURCE)} {tr(CAUTION)}"
    body.append(_text(foot, MARGIN, HEIGHT - 5, SMALL, theme.warning))
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + element(
        "svg",
        "\n".join([element("title", name), *body]),
        xmlns="http://www.w3.org/2000/svg",
        version="1.1",
        viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}",
        width=f"{WIDTH:g}mm",
        height=f"{HEIGHT:g}mm",
    )


def _maps(atlas: Atlas, limb: str, height: float, key: list[tuple[int, str]]) -> Iterator[str]:
    """Both maps side by side under their heads, the figures of a height. Adds to the key."""
    half = (WIDTH - 2 * MARGIN) / 2
    for number, map_name in enumerate(MAPS):
        left, title = MARGIN + number * half, tr(MAPS[map_name])
        yield _text(title, left, MARGIN + 11, 3.8, LIGHT.text, bold=True)
        box = (left, MARGIN + 14, left + half - 6, MARGIN + 14 + height)
        yield group(_figures(atlas, limb, map_name, box, key), title)


def _limb(atlas: Atlas, limb: str) -> Mask:
    parts, _ = LIMBS[limb]
    known = np.array([atlas.facts.body_parts[r] for r in atlas.facts.regions])
    here: Mask = np.isin(known[atlas.region_of_cell], parts)
    return here & atlas.cells.on_side(Side.RIGHT)


def _figures(
    atlas: Atlas,
    limb: str,
    map_name: MapName,
    box: tuple[float, float, float, float],
    key: list[tuple[int, str]],
) -> Iterator[str]:
    """The views of a limb next to each other in a box, named or numbered."""
    theme, limb_mask = LIGHT, _limb(atlas, limb)
    views = LIMBS[limb][1]
    names = np.array(names_of_cells(atlas, map_name))
    colours = territory_colours(atlas, map_name, theme)
    left, top, right, bottom = box
    room = (right - left) / len(views)
    for number, view in enumerate(views):
        whole = atlas.skin_of(limb_mask, view)
        if whole is None:
            continue
        x0, y0, x1, y1 = whole.bounds
        scale = min((room - 6) / (x1 - x0), (bottom - top - 8) / (y1 - y0))
        if view is View.SOLES:
            scale = min(scale, 0.55 * (bottom - top) / (y1 - y0))
        dx = left + room * number + (room - scale * (x1 - x0)) / 2 - scale * x0
        placed = Placed(view, scale, dx, top + 7 + scale * y1, "", (0.0, 0.0))
        title = tr("sole") if view is View.SOLES else view.label
        yield _text(title, left + room * (number + 0.5), top + 3, 3.0, theme.muted_text, "middle")
        for name in dict.fromkeys(names[atlas.cells.in_view(view)].tolist()):
            skin = atlas.skin_of(limb_mask & (names == name), view)
            if skin is None:
                continue
            yield path(
                skin_data(skin, placed), fill=colours[name], stroke=theme.outline,
                stroke_width=0.18, fill_rule="evenodd",
            )  # fmt: skip
            yield from _name(atlas, map_name, name, skin, placed, key)
        yield path(skin_data(whole, placed), fill="none", stroke=theme.outline, stroke_width=0.4)
    yield _text(tr("RIGHT side of the patient"), left, bottom + 1.7, SMALL, theme.muted_text)


def _name(
    atlas: Atlas,
    map_name: MapName,
    name: str,
    skin: Skin,
    placed: Placed,
    key: list[tuple[int, str]],
) -> Iterator[str]:
    """The name in the largest piece of a territory, or a number where it does not fit."""
    piece = max(shapely.get_parts(skin), key=lambda p: p.area)
    circle = shapely.maximum_inscribed_circle(piece)
    (x, y), _ = shapely.get_coordinates(circle)
    room = 2 * shapely.length(circle) * placed.scale
    at = placed.to_sheet(float(x), float(y))
    words = short(atlas, map_name, name)
    if text_width(words, NAME) > 1.5 * room and map_name == "nerves":
        known = {n: number for number, n in key}
        if words not in known:
            key.append((len(key) + 1, words))
            known[words] = len(key)
        words = str(known[words])
    if room > 1.4 and (len(words) < 2 or room > 1.9):
        yield _text(words, at[0], at[1] + 0.9, NAME, LIGHT.text, "middle")


def _key(columns: list[Column], top: float) -> Iterator[str]:
    """Numbers and the nerves they stand for, column by column."""
    for left, lines in columns:
        for n, (number, words) in enumerate(lines):
            x, y = MARGIN + left, top + LINE_MM * n
            if number:
                yield _text(f"{number}  {words}", x, y, SMALL, LIGHT.text)
            else:
                yield _text(words, x + indent(SMALL), y, SMALL, LIGHT.text)


def _text(
    words: str, x: float, y: float, size: float, colour: str, anchor: str = "start",
    bold: bool = False,
) -> str:  # fmt: skip
    """A line of text at a place of the page, mm."""
    return text(
        words, FINE * x, FINE * y, FINE * size, colour, anchor, bold,
        transform=f"scale({1 / FINE:g})",
    )  # fmt: skip


def _confusions(atlas: Atlas, limb: str) -> Iterator[Row]:
    """The classic confusions of a limb: which two, skin of the one only, and what strength
    tells."""
    names = {s.id: s.name for s in atlas.facts.lesion_sites.values()}
    regions = {r.id: r.label for r in atlas.facts.regions.values()}
    lost_in = (later("first: {regions}"), later("second: {regions}"))
    parts = LIMBS[limb][0]
    for row in table(atlas.facts.folder, "pairs"):
        spots = [[r for r in row[k].split(";") if r] for k in ("lost_in_a_only", "lost_in_b_only")]
        mine = [atlas.facts.body_parts[r] in parts for group_ in spots for r in group_]
        if not mine or not all(mine):
            continue
        skin = "; ".join(
            tr(words, regions=", ".join(regions[r] for r in group_[:2]))
            for words, group_ in zip(lost_in, spots, strict=True)
            if group_
        )
        cells = (f"{names[row['a']]} / {names[row['b']]}", skin, tr(row["motor_reflex"]))
        yield tuple(wrapped(w, SMALL, wide) for w, (_, wide) in zip(cells, COLUMNS, strict=True))


def _height(row: Row) -> float:
    return LINE_MM * max(len(lines) for lines in row) + AFTER_ROW


def _table(rows: list[Row], top: float) -> Iterator[str]:
    """The confusions under their heads."""
    heads = tr("Which of the two?"), tr("Skin that tells"), tr("Strength and reflexes")
    for (x, _), words in zip(COLUMNS, heads, strict=True):
        yield _text(words, MARGIN + x, top + 3, 2.9, LIGHT.text, bold=True)
    y = top + HEAD_ROW
    for row in rows:
        for (x, _), lines in zip(COLUMNS, row, strict=True):
            for n, line in enumerate(lines):
                yield _text(line, MARGIN + x, y + 2.6 + LINE_MM * n, SMALL, LIGHT.text)
        y += _height(row)
