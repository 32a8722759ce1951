"""What is written on the figure of a picture: names, numbers and call-outs.

A name that fits its skin stands there in words. Else its number stands there, which
the key beside the figure explains (a dermatome's name is as short as a number). Where
not even that fits, it stands outside the figure at the end of a thin line.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.affinity import affine_transform

from bodymap.atlas import Atlas
from bodymap.geometry import Floats
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, SIDE_SIZE, TITLE_SIZE
from bodymap.report.lettering import CAP_HEIGHT, LINE, text_width
from bodymap.report.names import NamePlace, name_places
from bodymap.terms import MapName, View

WORDS_LEAST, WORDS_MOST = 7.5, 13.0
"""Size of words on the skin, sheet units. 7.5 is about 3.3 points on an A4 page and
8 pixels in a picture 1,400 pixels high."""

NUMBER_LEAST, NUMBER_MOST = 6.5, 11.0
"""Size of numbers, and of dermatomes' names where they have to be small."""

CALL_OUT = 9.0
"""Size of words outside the figure, sheet units."""

LEAST_AREA = 55.0
"""A smaller piece of skin, square sheet units, gets no call-out: nothing to point at."""

REACH = np.arange(10.0, 95.0, 5.0)
TURNS = np.linspace(0.0, 2 * np.pi, 32, endpoint=False)


@dataclass(frozen=True)
class Label:
    """Lines of text centred at x, y of the sheet. ``number`` where it is the key's number;
    ``points_at`` is the place of the skin that a call-out means."""

    name: str
    lines: tuple[str, ...]
    x: float
    y: float
    size: float
    number: bool
    points_at: tuple[float, float] | None = None

    @property
    def box(self) -> Polygon:
        """The room that the text takes, sheet units."""
        width = max(text_width(line, self.size) for line in self.lines)
        height = self.size * (CAP_HEIGHT + LINE * (len(self.lines) - 1))
        x, y = self.x, self.y
        return shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    def foot_of_line(self) -> tuple[float, float]:
        """Where a call-out's line ends: on the edge of the text's room, nearest the skin."""
        assert self.points_at is not None
        room = shapely.buffer(self.box, 1.6, join_style="mitre")
        near = shapely.shortest_line(room, shapely.Point(self.points_at))
        x, y = shapely.get_coordinates(near)[0].tolist()
        return x, y


@lru_cache(maxsize=8)
def labels(atlas: Atlas, map_name: MapName) -> dict[View, tuple[Label, ...]]:
    """Everything written on the skin of each view for a map."""
    places = {view: name_places(atlas, map_name, view) for view in View}
    found: dict[View, tuple[Label, ...]] = {}
    placer = _Placer(atlas)
    for view, here in places.items():
        inside = [_inside(place, map_name) for place in here]
        written = {(la.name, p.side) for la, p in zip(inside, here, strict=True) if la}
        outside = [
            p for p in here
            if p.main and (p.name, p.side) not in written
            and p.area * BODY_LAYOUT[view].scale ** 2 >= LEAST_AREA
        ]  # fmt: skip
        # From the top down, so that lines fan out instead of crossing.
        outside.sort(key=lambda p: -p.number.y)
        calls = [placer.call_out(p, map_name != "dermatomes") for p in outside]
        found[view] = (*(la for la in inside if la), *(la for la in calls if la))
    return found


def _inside(place: NamePlace, map_name: MapName) -> Label | None:
    placed = BODY_LAYOUT[place.view]
    fit, number = place.words, False
    least, most = WORDS_LEAST, WORDS_MOST
    if map_name == "dermatomes":
        least = NUMBER_LEAST
    elif fit.size * placed.scale < least:
        fit, number = place.number, True
        least, most = NUMBER_LEAST, NUMBER_MOST
    size = fit.size * placed.scale
    if size < least:
        return None
    x, y = placed.to_sheet(fit.x, fit.y)
    return Label(place.name, fit.lines, x, y, min(size, most), number)


class _Placer:
    """Finds free places beside the figure, one after another."""

    def __init__(self, atlas: Atlas) -> None:
        self._figures: list[Polygon] = []
        for view, placed in BODY_LAYOUT.items():
            a, b, c, d, e, f = placed.matrix
            outline = affine_transform(atlas.figures[view].outline, [a, b, c, d, e, f])
            self._figures += shapely.get_parts(shapely.simplify(outline, 0.4)).tolist()
        shapely.prepare(np.array(self._figures, dtype=object))
        self._taken: list[Polygon] = []
        self._lines: list[LineString] = []
        for placed in BODY_LAYOUT.values():
            self._taken.append(_room(placed.title, *placed.title_at, TITLE_SIZE))
        for mark in SIDE_MARKS:
            self._taken.append(_room(mark.text, *mark.on_sheet, SIDE_SIZE))

    def call_out(self, place: NamePlace, number: bool) -> Label | None:
        """A label beside the figure, with the least line over other skin; None if there
        is no room."""
        x, y = BODY_LAYOUT[place.view].to_sheet(place.number.x, place.number.y)
        words = place.number.lines if number else place.words.lines
        reach, turn = (v.ravel() for v in np.meshgrid(REACH, TURNS))
        xs, ys = x + reach * np.cos(turn), y + reach * np.sin(turn)
        half_w = text_width(words[0], CALL_OUT) / 2 + 2.0
        half_h = CALL_OUT * CAP_HEIGHT / 2 + 2.0
        boxes = shapely.box(xs - half_w, ys - half_h, xs + half_w, ys + half_h)
        lines = shapely.linestrings(
            np.stack([np.column_stack([np.full_like(xs, x), np.full_like(ys, y)]),
                      np.column_stack([xs, ys])], axis=1)
        )  # fmt: skip
        free = np.ones(len(xs), dtype=bool)
        over = np.zeros(len(xs))
        along = np.linspace(0.0, 1.0, 24)[:, None]
        for figure in self._figures:
            free &= ~shapely.intersects(figure, boxes)
            over += shapely.contains_xy(figure, x + along * (xs - x), y + along * (ys - y)).mean(0)
        for taken in self._taken:
            free &= ~shapely.intersects(taken, boxes) & ~shapely.intersects(taken, lines)
        for line in self._lines:
            free &= ~shapely.intersects(line, boxes) & ~shapely.intersects(line, lines)
        if not free.any():
            return None
        cost: Floats = np.where(free, reach * (1 + over) + 6 * np.abs(np.sin(turn)), np.inf)
        best = int(np.argmin(cost))
        self._taken.append(boxes[best])
        self._lines.append(lines[best])
        at = (float(xs[best]), float(ys[best]))
        return Label(place.name, words, *at, CALL_OUT, number, (float(x), float(y)))


def _room(words: str, x: float, baseline: float, size: float) -> Polygon:
    half = text_width(words, size) * 0.56 + 4
    return shapely.box(x - half, baseline - size, x + half, baseline + 0.3 * size)
