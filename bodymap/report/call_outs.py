"""Names that stand beside the figure, each at the end of a thin line to the skin it means."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.affinity import affine_transform

from bodymap.atlas import Atlas
from bodymap.geometry import Floats, prepared
from bodymap.language import tr
from bodymap.report.layout import BODY_LAYOUT, SIDE_MARKS, SIDE_SIZE, TITLE_SIZE
from bodymap.report.lettering import CAP_HEIGHT, LINE, text_width
from bodymap.report.names import NamePlace

CALL_OUT = 9.0
"""Size of words outside the figure, sheet units, unless it is said otherwise."""

LEAST_AREA = 55.0
"""A smaller piece of skin, square sheet units, gets no call-out: nothing to point at."""

CLEAR = 1.6
"""Between a call-out's line and its text, sheet units."""

GAP = 40.0
"""Pieces farther apart in height than this, sheet units, do not contend for room."""

REACH = np.arange(10.0, 150.0, 4.0)
"""Lengths of a call-out's line that are tried, sheet units."""

TURNS = np.linspace(0.0, 2 * np.pi, 48, endpoint=False)
"""Directions that are tried."""

ORDERS: tuple[Callable[[NamePlace], tuple[float, ...]], ...] = (
    lambda p: (-p.number.y,),
    lambda p: (p.number.y,),
    lambda p: (abs(p.number.x),),
    lambda p: (-abs(p.number.x),),
    lambda p: (p.number.size,),
    lambda p: (-p.number.size,),
    lambda p: (abs(p.number.x) + p.number.y,),
    lambda p: (abs(p.number.x) - p.number.y,),
    lambda p: (p.number.y - abs(p.number.x),),
)
"""In which order pieces get their call-outs: by height, by distance from the midline,
by room, along the limbs."""


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
        """Where a call-out's line, on its way to the middle of the text, meets its room."""
        assert self.points_at is not None
        x0, y0, x1, y1 = self.box.bounds
        dx, dy = self.points_at[0] - self.x, self.points_at[1] - self.y
        share = min(
            ((x1 - x0) / 2 + CLEAR) / max(abs(dx), 1e-9),
            ((y1 - y0) / 2 + CLEAR) / max(abs(dy), 1e-9),
        )
        return self.x + share * dx, self.y + share * dy


def clusters(places: list[NamePlace]) -> list[list[NamePlace]]:
    """Pieces of one side of which each is near the next by height, such as those of a hand."""
    found: list[list[NamePlace]] = []
    for place in sorted(places, key=lambda p: (p.side, -p.number.y)):
        last = found[-1][-1] if found else None
        gap = GAP / BODY_LAYOUT[place.view].scale
        if last and last.side is place.side and last.number.y - place.number.y < gap:
            found[-1].append(place)
        else:
            found.append([place])
    return found


class Placer:
    """Finds free places beside the figure, one after another.

    ``size`` is that of the words, ``headings`` the least size of titles and side marks that
    are kept clear of; sheet units.
    """

    def __init__(self, atlas: Atlas, size: float = CALL_OUT, headings: float = 0.0) -> None:
        self._size = size
        self._figures: list[Polygon] = []
        for view, placed in BODY_LAYOUT.items():
            a, b, c, d, e, f = placed.matrix
            outline = affine_transform(atlas.figures[view].outline, [a, b, c, d, e, f])
            parts = shapely.get_parts(shapely.simplify(outline, 0.4))
            self._figures += prepared(parts).tolist()
        self._taken: list[Polygon] = []
        self._lines: list[LineString] = []
        self._crossed = 0
        for placed in BODY_LAYOUT.values():
            self._taken.append(_room(tr(placed.title), *placed.title_at, max(TITLE_SIZE, headings)))
        for mark in SIDE_MARKS:
            self._taken.append(_room(mark.text, *mark.on_sheet, max(SIDE_SIZE, headings)))

    def call_outs(self, places: list[NamePlace], number: bool) -> list[Label]:
        """Labels beside the figure for pieces of skin of a view.

        One label takes another's room, so several orders are tried; the one in which
        most find a place and fewest lines cross is kept.
        """
        best: tuple[tuple[int, int, float], list[Label], list[Polygon], list[LineString]]
        best = ((len(places) + 1, 0, 0.0), [], [], [])
        before = len(self._taken), len(self._lines)
        for order in ORDERS:
            self._crossed = 0
            tried = [self._call_out(p, number) for p in sorted(places, key=order)]
            taken, lines = self._taken[before[0] :], self._lines[before[1] :]
            del self._taken[before[0] :], self._lines[before[1] :]
            worth = (tried.count(None), self._crossed, sum(line.length for line in lines))
            if worth < best[0]:
                best = (worth, [la for la in tried if la], taken, lines)
            if worth[:2] == (0, 0):
                break
        self._taken += best[2]
        self._lines += best[3]
        return best[1]

    def _call_out(self, place: NamePlace, number: bool) -> Label | None:
        """A label beside the figure, with the least line over other skin; None if there
        is no room."""
        x, y = BODY_LAYOUT[place.view].to_sheet(place.number.x, place.number.y)
        words = place.number.lines if number else place.words.lines
        reach, turn = (v.ravel() for v in np.meshgrid(REACH, TURNS))
        xs, ys = x + reach * np.cos(turn), y + reach * np.sin(turn)
        half_w = text_width(words[0], self._size) / 2 + 2.0
        half_h = self._size * CAP_HEIGHT / 2 + 2.0
        boxes = shapely.box(xs - half_w, ys - half_h, xs + half_w, ys + half_h)
        lines = shapely.linestrings(
            np.stack([np.column_stack([np.full_like(xs, x), np.full_like(ys, y)]),
                      np.column_stack([xs, ys])], axis=1)
        )  # fmt: skip
        free = np.ones(len(xs), dtype=bool)
        over = np.zeros(len(xs))
        along = np.linspace(0.0, 1.0, 24)[:, None]
        for figure in self._figures:
            if figure.distance(shapely.Point(x, y)) > REACH[-1] + 20:
                continue
            free &= ~shapely.intersects(figure, boxes)
            over += shapely.contains_xy(figure, x + along * (xs - x), y + along * (ys - y)).mean(0)
        for taken in self._taken:
            free &= ~shapely.intersects(taken, boxes) & ~shapely.intersects(taken, lines)
        uncrossed = free.copy()
        for line in self._lines:
            free &= ~shapely.intersects(line, boxes)
            uncrossed &= ~shapely.intersects(line, boxes) & ~shapely.intersects(line, lines)
        # Better a line across another than a territory without a name.
        if uncrossed.any():
            free = uncrossed
        else:
            self._crossed += 1
        if not free.any():
            return None
        cost: Floats = np.where(free, reach * (1 + over) + 6 * np.abs(np.sin(turn)), np.inf)
        best = int(np.argmin(cost))
        self._taken.append(boxes[best])
        self._lines.append(lines[best])
        at = (float(xs[best]), float(ys[best]))
        return Label(place.name, words, *at, self._size, number, (float(x), float(y)))


def _room(words: str, x: float, baseline: float, size: float) -> Polygon:
    half = text_width(words, size) * 0.56 + 4
    return shapely.box(x - half, baseline - size, x + half, baseline + 0.3 * size)
