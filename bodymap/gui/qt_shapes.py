"""Skin, colours and textures as Qt draws them: paths on the sheet, tiled brushes.

Paths are in sheet units (y down), so one transform shows them at any zoom.
"""

from collections import OrderedDict
from collections.abc import Iterable
from functools import lru_cache

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from bodymap.geometry import Floats, Skin
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.shading import rings_of, smoothed
from bodymap.report.textures import TEXTURES
from bodymap.terms import View


def colour(name: str, opacity: float = 1.0) -> QColor:
    """A colour ('#rrggbb') of some opacity."""
    result = QColor(name)
    result.setAlphaF(opacity)
    return result


def path_of(lines: Iterable[Floats], view: View, closed: bool = True) -> QPainterPath:
    """Polylines (n, 2) of a view as one path on the sheet, filled by the even-odd rule."""
    placed = BODY_LAYOUT[view]
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for points in lines:
        x = placed.dx + placed.scale * np.asarray(points)[:, 0]
        y = placed.dy - placed.scale * np.asarray(points)[:, 1]
        polygon = QPolygonF([QPointF(a, b) for a, b in zip(x.tolist(), y.tolist(), strict=True)])
        path.addPolygon(polygon)
        if closed:
            path.closeSubpath()
    return path


FINE = 0.02
"""How far drawn skin may leave the atlas's, sheet units: half a pixel at the largest zoom."""

PATHS = 64
"""So many shapes are kept as paths."""

_paths: OrderedDict[tuple[int, View], tuple[Skin, QPainterPath]] = OrderedDict()


def skin_path(skin: Skin, view: View) -> QPainterPath:
    """A piece of skin of a view as a path on the sheet; the latest are remembered."""
    key = (id(skin), view)
    known = _paths.get(key)
    if known is None:
        # The shape is kept with its path, so that no other one can have its number.
        known = skin, path_of(rings_of(smoothed(skin, view, FINE)), view)
        _paths[key] = known
        while len(_paths) > PATHS:
            _paths.popitem(last=False)
    else:
        _paths.move_to_end(key)
    return known[1]


@lru_cache(maxsize=64)
def texture_tile(texture: str, ink: str, opacity: float, ratio: float) -> QPixmap:
    """One tile of a texture, in device pixels for a pixel ratio."""
    kind = TEXTURES[texture]
    enlarged = 1.15
    size = max(4, round(kind.size * enlarged * ratio))
    tile = QPixmap(size, size)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(size / kind.size, size / kind.size)
    pen = QPen(colour(ink, opacity), kind.width or 1.0)
    painter.setPen(pen)
    for line in kind.lines:
        # Drawn nine times, so that what leaves the tile on one side comes in on the other.
        for dx in (-kind.size, 0.0, kind.size):
            for dy in (-kind.size, 0.0, kind.size):
                painter.drawPolyline(QPolygonF([QPointF(x + dx, y + dy) for x, y in line]))
    for x, y, radius in kind.rings:
        painter.drawEllipse(QPointF(x, y), radius, radius)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(ink, opacity))
    for x, y, radius in kind.dots:
        painter.drawEllipse(QPointF(x, y), radius, radius)
    painter.end()
    tile.setDevicePixelRatio(ratio)
    return tile


def texture_brush(texture: str, ink: str, opacity: float, ratio: float) -> QBrush:
    """A brush that tiles a texture."""
    return QBrush(texture_tile(texture, ink, opacity, ratio))
