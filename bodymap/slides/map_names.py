"""Where the names of a map stand on a slide: on their skin where there is room, or outside the
figure at the end of a line. Lengths in inches."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from bodymap.geometry import Skin, prepared
from bodymap.report.lettering import CAP_HEIGHT, text_width
from bodymap.slides.page import LEAST, Place
from bodymap.slides.shapes import INCH, Placing

HIGH = 0.25
"""Height of a name's box."""

CAP = 0.5 * LEAST * CAP_HEIGHT / 72 + 0.03
"""Half the height of its letters, and a little."""

REACH = np.arange(0.2, 2.2, 0.06)
TURNS = np.linspace(0.0, 2 * np.pi, 64, endpoint=False)
"""Lengths and directions of a line to a name that are tried."""

ALONG = np.linspace(0.1, 1.0, 10)
"""Where a line is looked at for the skin that it crosses, share of its length."""

LEAST_ROOM = 0.015
"""Skin slimmer than this is not pointed at."""


@dataclass(frozen=True)
class Piece:
    """Skin of one view that is to be named."""

    words: str
    skin: Skin
    placing: Placing


@dataclass(frozen=True)
class Written:
    """A name centred at x, y; the skin it points at, if it stands outside."""

    words: str
    x: float
    y: float
    target: tuple[float, float] | None = None

    @property
    def end(self) -> tuple[float, float]:
        """Where the line from the skin ends: at the edge of the name's box."""
        if self.target is None:
            return self.x, self.y
        dx, dy = self.target[0] - self.x, self.target[1] - self.y
        half = text_width(self.words, LEAST) / 144 + 0.02
        share = min(half / max(abs(dx), 1e-9), CAP / max(abs(dy), 1e-9), 1.0)
        return self.x + share * dx, self.y + share * dy


def place_names(
    pieces: Sequence[Piece], figures: Sequence[Skin], taken: list[shapely.Polygon], panel: Place
) -> list[Written]:
    """A place for every name that has one: on the skin of each view where it fits there, else
    once outside. No two names and no line cross; ``taken`` is what stands there already."""
    taken, lines = list(taken), list[shapely.LineString]()
    found, waiting = list[Written](), []
    for piece in pieces:
        x, y, room = _middle(piece)
        box = _box(piece.words, x, y)
        width = text_width(piece.words, LEAST) / 72
        if np.hypot(width, LEAST * CAP_HEIGHT / 72) <= 2 * room and not _meets(box, taken):
            found.append(Written(piece.words, x, y))
            taken.append(box)
        else:
            waiting.append((room, piece.words, x, y))
    named = {written.words for written in found}
    for room, words, x, y in sorted(waiting, reverse=True):
        if words in named or room < LEAST_ROOM:
            continue
        outside = _outside(words, (x, y), figures, taken, lines, panel)
        if outside is not None:
            named.add(words)
            found.append(outside)
            taken.append(_box(words, outside.x, outside.y))
            lines.append(shapely.LineString([(x, y), (outside.x, outside.y)]))
    return found


def _middle(piece: Piece) -> tuple[float, float, float]:
    """The middle of the largest circle in a piece, and its radius."""
    largest = max(shapely.get_parts(piece.skin), key=lambda p: p.area)
    circle = shapely.maximum_inscribed_circle(largest)
    (x, y), _ = piece.placing.on_slide(shapely.get_coordinates(circle)) / INCH
    return float(x), float(y), float(shapely.length(circle) * piece.placing.scale / INCH)


def _box(words: str, x: float, y: float) -> shapely.Polygon:
    half = text_width(words, LEAST) / 144 + 0.02
    return shapely.box(x - half, y - HIGH / 2, x + half, y + HIGH / 2)


def _meets(shape: shapely.Geometry, others: Sequence[shapely.Geometry]) -> bool:
    return bool(shapely.intersects(shape, others).any()) if others else False


def _outside(
    words: str, at: tuple[float, float], figures: Sequence[Skin],
    taken: list[shapely.Polygon], lines: list[shapely.LineString], panel: Place,
) -> Written | None:  # fmt: skip
    """The place with the shortest way over other skin, or None where there is none."""
    reach, turn = (values.ravel() for values in np.meshgrid(REACH, TURNS))
    xs, ys = at[0] + reach * np.cos(turn), at[1] + reach * np.sin(turn)
    half = text_width(words, LEAST) / 144 + 0.02
    left, top, width, height = panel
    free = (xs - half > left) & (xs + half < left + width)
    free &= (ys - HIGH / 2 > top) & (ys + HIGH / 2 < top + height)
    reach, xs, ys = reach[free], xs[free], ys[free]
    boxes = shapely.box(xs - half, ys - HIGH / 2, xs + half, ys + HIGH / 2)
    ends = np.stack([np.broadcast_to(at, (len(xs), 2)), np.column_stack([xs, ys])], axis=1)
    ways = shapely.linestrings(ends)
    clear = np.ones(len(xs), dtype=bool)
    for other in (*taken, *lines):
        clear &= ~shapely.intersects(other, boxes) & ~shapely.intersects(other, ways)
    cost = np.where(clear, reach, np.inf)
    for figure in figures:
        clear &= ~shapely.intersects(prepared(figure), boxes)
        for share in ALONG:
            x, y = at[0] + share * (xs - at[0]), at[1] + share * (ys - at[1])
            cost += reach * shapely.contains_xy(figure, x, y) / len(ALONG)
    cost[~clear] = np.inf
    if not np.isfinite(cost).any():
        return None
    best = int(np.argmin(cost))
    return Written(words, float(xs[best]), float(ys[best]), at)
