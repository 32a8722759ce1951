"""Where the name of each territory stands on the skin, and how large it can be.

For each connected piece of a territory on one side the place is the centre of the
largest ellipse of the words' proportions inside it, in one, two, three or four
lines, whichever lets the words be largest. Where words do not fit, the number that
the key explains may.
"""

import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import shapely
from shapely import Polygon
from shapely.affinity import affine_transform

from bodymap.atlas import Atlas
from bodymap.atlas.figure import sides_of
from bodymap.geometry import Skin, prepared, union_of_cells
from bodymap.language import ENGLISH, language
from bodymap.report.borders import names_of_cells
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.lettering import CAP_HEIGHT, LINE, broken, text_width
from bodymap.terms import DERMATOMES, MapName, Side, View

PADDING = 0.3
"""Free skin beside words at each end, share of the text size."""

NUMBER_PADDING = 0.12
"""The same beside a number, which has to stand on a finger."""

COARSE = 0.25
"""The outline of a piece is taken this coarsely to look for a place, sheet units."""


@dataclass(frozen=True)
class Fit:
    """Words at a place of a view: ``lines`` centred at x, y, at most ``size`` high (em)."""

    lines: tuple[str, ...]
    x: float
    y: float
    size: float


@dataclass(frozen=True)
class NamePlace:
    """One piece of a territory and where its name fits. View units, y up.

    ``words`` is the name as it stands on the skin, ``number`` its number in the key, with
    less room around it. A dermatome's name is as short as a number and stands in its place.
    ``area`` is square view units; ``main`` marks the largest piece of this name,
    view and side.
    """

    name: str
    view: View
    side: Side
    words: Fit
    number: Fit
    area: float
    main: bool


def spoken(atlas: Atlas, map_name: MapName, name: str) -> str:
    """The full name of a territory as a note would write it."""
    if map_name == "nerves":
        return atlas.facts.nerves[name].name
    if map_name == "regions":
        label = atlas.facts.regions[name].label
        return label[0].upper() + label[1:]
    return name


def short(atlas: Atlas, map_name: MapName, name: str) -> str:
    """The name as it stands on the skin: a nerve without the word nerve."""
    words = spoken(atlas, map_name, name)
    if map_name != "nerves" or language() != ENGLISH:
        return words
    level = re.fullmatch(r"Dorsal ramus of (T\d+), cutaneous branch", words)
    if level:
        return f"{level[1]} dorsal ramus"
    branch = re.fullmatch(r"(Lateral|Anterior) cutaneous branch of (T\d+)", words)
    if branch:
        return f"{branch[2]} {branch[1].lower()}"
    return re.sub(r"\bnerves?\b ?", "", words).replace(" ,", ",").strip()


@lru_cache(maxsize=8)
def numbers(atlas: Atlas, map_name: MapName) -> dict[str, int]:
    """The number of each territory in the key: from 1, in the order of the tables."""
    order: tuple[str, ...] = tuple(atlas.facts.nerves)
    if map_name == "dermatomes":
        order = DERMATOMES
    elif map_name == "regions":
        order = tuple(atlas.facts.regions)
    present = set(names_of_cells(atlas, map_name))
    return {name: i for i, name in enumerate((n for n in order if n in present), start=1)}


def name_places(atlas: Atlas, map_name: MapName, view: View) -> tuple[NamePlace, ...]:
    """The places of all names of a map in a view."""
    return _name_places(atlas, map_name, view, language())


@lru_cache(maxsize=24)
def _name_places(
    atlas: Atlas, map_name: MapName, view: View, _language: str
) -> tuple[NamePlace, ...]:
    names = np.array(names_of_cells(atlas, map_name))
    indices = atlas.cells.in_view(view)
    known = numbers(atlas, map_name)
    sides = sides_of(view)
    mine = indices[atlas.cells.on_side(sides[0])[indices]]
    found: list[NamePlace] = []
    for name in dict.fromkeys(names[mine].tolist()):
        skin = union_of_cells(atlas.cells.polygons[mine[names[mine] == name]])
        if skin is not None:
            number = name if map_name == "dermatomes" else str(known[name])
            found += _pieces(name, short(atlas, map_name, name), number, view, sides[0], skin)
    # The other half is the mirror image, and so are its names.
    for side in sides[1:]:
        found += [
            replace(p, side=side, words=replace(p.words, x=-p.words.x),
                    number=replace(p.number, x=-p.number.x))
            for p in found
        ]  # fmt: skip
    return tuple(found)


def _pieces(
    name: str, words: str, number: str, view: View, side: Side, skin: Skin
) -> list[NamePlace]:
    coarse = COARSE / BODY_LAYOUT[view].scale
    pieces = sorted(shapely.get_parts(skin).tolist(), key=lambda p: -p.area)
    found = []
    for order, piece in enumerate(pieces):
        shape = shapely.simplify(piece, coarse)
        best = max((_fit(shape, lines) for lines in broken(words)), key=lambda fit: fit.size)
        found.append(
            NamePlace(
                name,
                view,
                side,
                best,
                _fit(shape, (number,), NUMBER_PADDING),
                float(piece.area),
                order == 0,
            )
        )
    return found


def _fit(piece: Polygon, lines: tuple[str, ...], padding: float = PADDING) -> Fit:
    """The largest place for lines of text inside a piece."""
    width = max(text_width(line, 1.0) for line in lines) + 2 * padding
    height = CAP_HEIGHT + padding + LINE * (len(lines) - 1)
    slim = width / height
    # An ellipse of these proportions is a circle after x is divided by them.
    circle = shapely.maximum_inscribed_circle(
        affine_transform(piece, [1 / slim, 0, 0, 1, 0, 0]), tolerance=math.sqrt(piece.area) / 150
    )
    (x, y), (edge_x, edge_y) = shapely.get_coordinates(circle)
    x *= slim
    # The words' box inside that ellipse fits; it may grow until it meets the border.
    fits = 2 * math.hypot(edge_x - x / slim, edge_y - y) / math.sqrt(2) / height
    sizes = fits * np.linspace(1.0, 1.6, 25)
    boxes = shapely.box(
        x - sizes * width / 2, y - sizes * height / 2, x + sizes * width / 2, y + sizes * height / 2
    )
    inside = shapely.contains(prepared(piece), boxes)
    largest = max(1, int(np.cumprod(inside).sum()))
    size = float(sizes[largest - 1])
    return Fit(lines, float(x), float(y), size)
