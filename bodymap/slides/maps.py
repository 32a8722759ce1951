"""The slide with both maps of the part of the body where the findings lie: its dermatomes and
its nerves, each territory a shape of its own, with the altered skin round in a thick line."""

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Mask
from bodymap.findings.drawing import Drawing
from bodymap.geometry import common
from bodymap.language import capital, later, number, tr
from bodymap.report.appearance import Theme
from bodymap.report.borders import names_of_cells
from bodymap.report.layout import SIDE_MARKS
from bodymap.report.names import numbers, short
from bodymap.report.territory_colours import territory_colours
from bodymap.slides.compared_words import shares
from bodymap.slides.limbs import Part, part_of, place_words, views_of
from bodymap.slides.map_names import Piece, Written, place_names
from bodymap.slides.page import Place, Words, add_slide, write
from bodymap.slides.shapes import (
    INCH,
    Placing,
    boxed,
    described,
    filled,
    freeform,
    laid,
    lined,
    plain,
)
from bodymap.slides.view_names import HIGH, centred, lines_of
from bodymap.terms import MapName, Side, View

if TYPE_CHECKING:
    from pptx.presentation import Presentation

PANELS: dict[MapName, Place] = {
    "dermatomes": (0.45, 1.0, 4.4, 5.85),
    "nerves": (4.95, 1.0, 4.4, 5.85),
}
"""Where each map stands, inches."""

KEY: Place = (9.5, 1.0, 3.38, 5.85)
"""The names of the numbered nerves."""

HEADS: dict[MapName, str] = {"dermatomes": later("Dermatomes"), "nerves": later("Skin nerves")}

HEAD, CAPTION, MARGIN = 0.34, 0.3, 0.16
"""Room for the name of a map and of a view, and round the skin for names outside it."""

ROUND = 2.25
"""Width of the line round the altered skin, points."""

HEADINGS = 1.0
"""Room in the key for its heading, its last line, and what stands between, inches."""

OTHERS = later("Further nerves: see the notes.")


def maps_slide(deck: "Presentation", atlas: Atlas, drawing: Drawing, theme: Theme) -> None:
    """Add the slide; none where no skin is altered."""
    covered = drawing.altered_cm2(atlas)
    if not covered.any():
        return
    part, side, shown = part_of(atlas, covered)
    where = place_words(part, side)
    told = {m: _told(atlas, m, covered * shown) for m in PANELS}
    title = tr("Roots and nerves of the {place}", place=where)
    slide = add_slide(deck, title, _notes(atlas, where, told, shown))
    alone = side if part.one_side else None
    listed = _listed(atlas, shown, told["nerves"], alone)
    for map_name, place in PANELS.items():
        name = tr(HEADS[map_name])
        head = [Words(name, 16.0, True, after=0.0)]
        write(slide, (*place[:3], HEAD), head, tr("Map: {map}", map=name))
        known = listed if map_name == "nerves" else {}
        words = tr(
            "{map} of the {place}. The altered skin lies in {names}.",
            map=name,
            place=where,
            names=", ".join(f"{n} ({number(s, '.0%')})" for n, s in told[map_name]),
        )
        _map(slide, atlas, map_name, (part, side, shown), drawing, theme, known, words)
    _key(slide, listed, _all(atlas, shown), alone, theme)


def _told(atlas: Atlas, map_name: MapName, covered_cm2: Any) -> list[tuple[str, float]]:
    return [(short(atlas, map_name, n), s) for n, s in shares(atlas, map_name, covered_cm2)]


def _all(atlas: Atlas, shown: Mask) -> list[str]:
    """The nerves with skin in a part of the body, in the order of the tables."""
    names = np.array(names_of_cells(atlas, "nerves"))
    here = set(names[shown].tolist())
    return [n for n in numbers(atlas, "nerves") if n in here]


def _listed(
    atlas: Atlas, shown: Mask, told: Sequence[tuple[str, float]], side: Side | None
) -> dict[str, str]:
    """The numbered nerves, id to the words of the key: those that the findings touch and
    then the largest, as many as the key has room for, numbered in the order of the tables."""
    names = np.array(names_of_cells(atlas, "nerves"))
    area = atlas.cells.area_cm2 * shown
    rank = {words: order for order, (words, _) in enumerate(told)}
    every = _all(atlas, shown)
    order = sorted(
        every,
        key=lambda n: (rank.get(short(atlas, "nerves", n), len(rank)), -area[names == n].sum()),
    )
    left, kept = KEY[3] - _legend_height(side) - HEADINGS, set()
    for name in order:
        left -= _row(short(atlas, "nerves", name)).height(KEY[2] - 0.4)
        if left < 0:
            break
        kept.add(name)
    return {n: short(atlas, "nerves", n) for n in every if n in kept}


def _row(words: str) -> Words:
    return Words(capital(words), after=2.0)


def _key(
    slide: Any, listed: dict[str, str], every: list[str], side: Side | None, theme: Theme
) -> None:
    from pptx.enum.shapes import MSO_SHAPE

    left, y, width, _ = KEY
    swatch = slide.shapes.add_shape(MSO_SHAPE.RECTANGLE, *boxed((left, y + 0.05, 0.42, 0.24)))
    plain(swatch)
    lined(swatch, theme.accent, ROUND)
    name = tr("Legend: altered skin")
    described(swatch, name, tr("Swatch: altered skin"))
    lines = _legend_words(side)
    y = write(slide, (left + 0.56, y, width - 0.56, _legend_height(side)), lines, name) + 0.1
    head = [Words(tr(HEADS["nerves"]), 16.0, True, after=0.0)]
    write(slide, (left, y, width, 0.3), head, tr("Key: heading"))
    y += 0.34
    for order, words in enumerate(listed.values(), start=1):
        row = _row(words)
        high = row.height(width - 0.4)
        count = [Words(str(order), colour="TEXT_2", after=0.0)]
        write(slide, (left, y, 0.36, high), count, tr("Key: {name}", name=order))
        write(slide, (left + 0.4, y, width - 0.4, high), [row], tr("Key: {name}", name=words))
        y += high
    if len(listed) < len(every):
        others = [Words(tr(OTHERS), colour="TEXT_2")]
        write(slide, (left, y, width, 0.3), others, tr("Key: others"))


def _legend_words(side: Side | None) -> list[Words]:
    """What the thick line means, and whose sides they are."""
    here = {
        Side.RIGHT: tr("RIGHT side of the patient."),
        Side.LEFT: tr("LEFT side of the patient."),
    }
    whose = here[side] if side is not None else tr("RIGHT is the patient's.")
    return [Words(tr("Altered skin, all modalities"), after=0.0), Words(whose, colour="TEXT_2")]


def _legend_height(side: Side | None) -> float:
    return max(0.6, sum(w.height(KEY[2] - 0.56) for w in _legend_words(side)))


def _map(
    slide: Any, atlas: Atlas, map_name: MapName, where: tuple[Part, Side, Mask],
    drawing: Drawing, theme: Theme, listed: dict[str, str], words: str,
) -> None:  # fmt: skip
    part, side, shown = where
    names = np.array(names_of_cells(atlas, map_name))
    colours = territory_colours(atlas, map_name, theme)
    skins = {v: s for v in views_of(part, side) if (s := atlas.skin_of(shown, v)) is not None}
    placings, room = _placed({v: s.bounds for v, s in skins.items()}, PANELS[map_name])
    ground, lines, texts = (slide.shapes.add_group_shape() for _ in range(3))
    written = dict(zip(listed, map(str, range(1, 99)), strict=False))
    pieces = []
    for view, placing in placings.items():
        for name in dict.fromkeys(names[shown & _in(atlas, view)].tolist()):
            skin = atlas.skin_of(shown & (names == name), view)
            if skin is None:
                continue
            said = f"{short(atlas, map_name, name)}, {view.label}"
            tint = partial(filled, colour=colours[name])
            border = partial(lined, colour=theme.territory_border, width=0.75)
            laid(ground, skin, placing, said, tint, border)
            # Names stand on one side, so that each stands once.
            half = atlas.skin_of(shown & (names == name) & atlas.cells.on_side(side), view)
            label = written.get(name, "") if map_name == "nerves" else name
            if half is not None and label:
                pieces.append(Piece(label, half, placing))
        edge = shapely.boundary(skins[view])
        rings = [placing.on_slide(shapely.get_coordinates(r)) for r in shapely.get_parts(edge)]
        edges = freeform(lines, rings, tr("Outline, {view}", view=view.label), False)
        lined(edges, theme.outline, 1.0)
        altered = common(drawing.altered_skin(atlas, view), skins[view])
        if altered is not None:
            thick = partial(lined, colour=theme.accent, width=ROUND)
            said = tr("Altered skin, {view}", view=view.label)
            laid(lines, altered, placing, said, plain, thick)
        _captions(texts, view, placing, skins[view].bounds, part, room)
    taken = [_box(s) for s in texts.shapes]
    figures = [_on_slide(s, placings[v]) for v, s in skins.items()]
    for label in place_names(pieces, figures, taken, PANELS[map_name]):
        _write(lines, texts, label, theme)
    name = tr(HEADS[map_name])
    described(ground, tr("Map: {map}, skin", map=name), words)
    outlined, named = tr("Map: {map}, altered skin", map=name), tr("Map: {map}, names", map=name)
    described(lines, outlined, tr("Outline, and the altered skin."))
    described(texts, named, tr("Names of the territories and views."))


def _in(atlas: Atlas, view: View) -> Mask:
    here = np.zeros(len(atlas.cells), dtype=bool)
    here[atlas.cells.in_view(view)] = True
    return here


def _placed(bounds: dict[View, Any], panel: Place) -> tuple[dict[View, Placing], float]:
    """The views side by side or one above the other, whichever shows them larger, and the
    width that each has for its name."""
    left, top, width, height = panel
    top, height = top + HEAD, height - HEAD
    found: list[tuple[float, dict[View, Placing], float]] = []
    for across in (True, False):
        count = len(bounds)
        wide, high = (width / count, height) if across else (width, height / count)
        placings, least = {}, np.inf
        caption = CAPTION + HIGH * (max(lines_of(v.label, wide) for v in bounds) - 1)
        for order, (view, (x0, y0, x1, y1)) in enumerate(bounds.items()):
            x = left + wide * order if across else left
            y = top if across else top + high * order
            scale = min((wide - 2 * MARGIN) / (x1 - x0), (high - 2 * caption - 0.1) / (y1 - y0))
            least = min(least, scale * (y1 - y0))
            middle = (x + wide / 2, y + high / 2)
            placings[view] = Placing(
                scale * INCH,
                INCH * (middle[0] - scale * (x0 + x1) / 2),
                INCH * (middle[1] + scale * (y0 + y1) / 2),
            )
        found.append((least, placings, wide))
    return max(found, key=lambda way: way[0])[1:]


def _captions(
    texts: Any, view: View, placing: Placing, bounds: Any, part: Part, room: float
) -> None:
    """The name of a view above it, and where both sides are shown RIGHT and LEFT below."""
    x0, y0, x1, y1 = bounds
    (left, top), (right, bottom) = placing.on_slide(np.array([[x0, y1], [x1, y0]])) / INCH
    centred(texts, view.label, (left + right) / 2, top - 0.1, True, room)
    if part.one_side:
        return
    for mark in (m for m in SIDE_MARKS if m.view is view):
        share = 0.5 if mark.x == 0 else 0.15 if mark.x < 0 else 0.85
        centred(texts, mark.text, left + share * (right - left), bottom + 0.24, bold=False)


def _write(lines: Any, texts: Any, label: Written, theme: Theme) -> None:
    if label.target is not None:
        ends = INCH * np.array([label.target, label.end])
        name = tr("Line to {name}", name=label.words)
        lined(freeform(lines, [ends], name, False), theme.text, 0.75)
    centred(texts, label.words, label.x, label.y + 0.065, bold=True)


def _box(shape: Any) -> shapely.Polygon:
    sides = (shape.left, shape.top, shape.left + shape.width, shape.top + shape.height)
    return shapely.box(*(side / INCH for side in sides))


def _on_slide(skin: Any, placing: Placing) -> Any:
    return shapely.transform(skin, lambda points: placing.on_slide(points) / INCH)


def _notes(
    atlas: Atlas, where: str, told: dict[MapName, list[tuple[str, float]]], shown: Mask
) -> str:
    parts = [
        tr(
            "{map} of the altered skin: {names}.",
            map=tr(HEADS[m]),
            names=", ".join(f"{n} {number(s, '.0%')}" for n, s in rows),
        )
        for m, rows in told.items()
    ]
    return tr(
        "The {place}, by roots and by nerves; the thick line goes round the altered skin. Ask on "
        "which of the two maps the border of the findings follows a border of the map, and where "
        "it crosses one. {told} Skin nerves of the {place}: {every}. Published maps differ, and "
        "so do people.",
        place=where,
        told=" ".join(parts),
        every=", ".join(short(atlas, "nerves", n) for n in _all(atlas, shown)),
    )
