"""The names of the map in hand, on the figure or beside it, as far as they can be read."""

import math
from collections.abc import Iterator, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPainterPath, QPen

from bodymap.atlas import Atlas
from bodymap.gui.camera import Camera
from bodymap.gui.overlays import Overlay
from bodymap.gui.qt_shapes import colour
from bodymap.report.appearance import Theme
from bodymap.report.call_outs import Label
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.lettering import LINE, text_width
from bodymap.report.middle_names import middle_names
from bodymap.report.names import Fit, NamePlace, name_places
from bodymap.terms import MapName, Side, View

READABLE_PX = 8.0
"""A name is written once it is this high on the screen."""

ROUNDING_PX = 0.5
"""Fonts come in whole pixels."""

EDGE = tuple((1.5 * math.cos(a), 1.5 * math.sin(a)) for a in (n * math.pi / 4 for n in range(8)))
"""The light edge of a name is the name itself, written around its place, pixels."""

NAME_PX = 13.0
"""No name grows beyond this on the screen."""

Named = tuple[str, Side]


class FigureNames:
    """Writes names on the figure of an atlas. ``lines`` are the inner lines of each view, on
    the sheet."""

    def __init__(self, atlas: Atlas, lines: dict[View, QPainterPath]) -> None:
        self._atlas = atlas
        self._lines = lines

    def write(
        self,
        painter: QPainter,
        camera: Camera,
        theme: Theme,
        overlay: Overlay,
        room: QRectF,
        marked: Sequence[QPainterPath],
    ) -> None:
        """Write names on a canvas; those on ``marked`` skin (sheet) get a light edge."""
        for view in View:
            placed = BODY_LAYOUT[view]
            for fit in self.inside(view, overlay.map_name, placed.scale * camera.scale):
                size = min(max(fit.size * placed.scale * camera.scale, READABLE_PX), NAME_PX)
                sheet = placed.to_sheet(fit.x, fit.y)
                x, y = camera.to_canvas(*sheet)
                if not room.contains(x, y):
                    continue
                high = LINE * size * len(fit.lines)
                wide = text_width(max(fit.lines, key=len), size)
                scale = camera.scale
                box = QRectF(sheet[0] - wide / scale / 2, sheet[1] - high / scale / 2,
                             wide / scale, high / scale)  # fmt: skip
                edged = any(path.intersects(box) for path in marked)
                _write_lines(painter, fit.lines, x, y, size, theme, edged)
        for label in self.beside(overlay, camera.scale):
            _write_beside(painter, label, camera, theme)

    def inside(self, view: View, map_name: MapName, scale: float) -> Iterator[Fit]:
        """The names of a view that are readable on their skin at a scale (pixels for each
        view unit)."""
        across: set[str] = set()
        for place, fit in self._readable(view, map_name, scale):
            if fit.x != 0.0 or place.name not in across:
                yield fit
            if fit.x == 0.0:
                across.add(place.name)

    def beside(self, overlay: Overlay, scale: float) -> Iterator[Label]:
        """The names that are not, and stand beside the figure. ``scale`` is in pixels for each
        sheet unit."""
        if not overlay.beside:
            return
        written: set[tuple[View, str, Side]] = set()
        for view in View:
            shown = self._readable(view, overlay.map_name, scale * BODY_LAYOUT[view].scale)
            written |= {(view, place.name, place.side) for place, _ in shown}
        for key, label in overlay.beside.items():
            if key not in written and label.size * scale >= READABLE_PX - ROUNDING_PX:
                yield label

    def _readable(
        self, view: View, map_name: MapName, scale: float
    ) -> Iterator[tuple[NamePlace, Fit]]:
        """Pieces of skin whose names are readable: on them, else once across the midline
        (there ``x`` is 0), else with little room around them."""
        middles = middle_names(self._atlas, view) if map_name == "dermatomes" else {}
        readable = READABLE_PX - ROUNDING_PX
        for place in name_places(self._atlas, map_name, view):
            middle = middles.get(place.name) if place.main else None
            if place.words.size * scale >= readable:
                yield place, place.words
            elif middle is not None and middle.size * scale >= readable:
                yield place, middle
            elif map_name == "dermatomes" and self._stands_free(place, scale):
                yield place, place.number

    def _stands_free(self, place: NamePlace, scale: float) -> bool:
        """Whether a name with little room around it is readable at a scale, and no line of
        the figure, such as an eye, runs through it."""
        fit, placed = place.number, BODY_LAYOUT[place.view]
        if fit.size * scale < READABLE_PX - ROUNDING_PX:
            return False
        high = READABLE_PX / scale * placed.scale
        wide = text_width(fit.lines[0], high)
        x, y = placed.to_sheet(fit.x, fit.y)
        return not self._lines[place.view].intersects(
            QRectF(x - wide / 2, y - high / 2, wide, high)
        )


def _write_lines(
    painter: QPainter,
    lines: tuple[str, ...],
    x: float,
    y: float,
    size: float,
    theme: Theme,
    edged: bool,
) -> None:
    painter.setFont(figure_font(size))
    top = y - LINE * size * len(lines) / 2
    inks = [(theme.halo, at) for at in EDGE] if edged else []
    for ink, (dx, dy) in [*inks, (theme.territory_text, (0.0, 0.0))]:
        painter.setPen(colour(ink))
        for number, line in enumerate(lines):
            row = QRectF(x - 300 + dx, top + number * LINE * size + dy, 600, LINE * size)
            painter.drawText(row, Qt.AlignmentFlag.AlignCenter, line)


def _write_beside(painter: QPainter, label: Label, camera: Camera, theme: Theme) -> None:
    assert label.points_at is not None
    size = min(label.size * camera.scale, NAME_PX)
    x, y = camera.to_canvas(label.x, label.y)
    painter.setPen(QPen(colour(theme.muted_text), 0.9))
    painter.drawLine(
        QPointF(*camera.to_canvas(*label.foot_of_line())),
        QPointF(*camera.to_canvas(*label.points_at)),
    )
    painter.setFont(figure_font(size))
    painter.setPen(colour(theme.text))
    row = QRectF(x - 60, y - size, 120, 2 * size)
    painter.drawText(row, Qt.AlignmentFlag.AlignCenter, label.lines[0])


def figure_font(size: float, bold: bool = False) -> QFont:
    """The font of the figure, so many pixels high."""
    font = QFont()
    font.setPixelSize(max(1, round(size)))
    font.setBold(bold)
    return font
