"""The legend of the canvas: a strip along its lower edge that says what the textures mean."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QApplication

from bodymap.gui.qt_shapes import colour, texture_brush
from bodymap.gui.text_scale import text_factor
from bodymap.report.appearance import MarkStyle, Theme

Row = tuple[MarkStyle, str]

LEGEND_PX = 56
"""Room kept free for the legend along the lower edge when the whole body is shown, at the
designed size of text."""

LEGEND_LARGEST = 1.5
"""The legend grows with the text up to this, so that it leaves the figure its room."""

LEGEND_LINE = 19
"""Height of a line of the legend, pixels; two lines fit below the whole body."""

FINER = 0.05
"""The legend gets smaller by steps of this until it has room."""


def legend_room() -> int:
    """Room for the legend at the size of text in hand, pixels."""
    return round(LEGEND_PX * min(text_factor(), LEGEND_LARGEST))


def paint_legend(
    painter: QPainter, rows: list[Row], theme: Theme, room: QRectF, ratio: float
) -> None:
    """Paint the legend along the lower edge of a room."""
    if not rows:
        return
    factor = legend_factor(rows, room.width())
    painter.save()
    painter.scale(factor, factor)
    room = QRectF(0, 0, room.width() / factor, room.height() / factor)
    _paint_rows(painter, rows, theme, room, ratio * factor)
    painter.restore()


def legend_factor(rows: list[Row], width: float) -> float:
    """How much larger than designed a legend is drawn on a canvas of some width, pixels: as
    large as the text, but smaller rather than taking room from the figure, and smaller still
    rather than cut off."""
    factor = min(text_factor(), LEGEND_LARGEST)
    while factor > 1 and _height(rows, width, factor) > legend_room():
        factor -= FINER
    return min(max(factor, 1.0), width / (widest_row(rows) + 28))


def legend_height(rows: list[Row], width: float) -> int:
    """Height of a legend from the lower edge of a canvas, pixels."""
    return round(_height(rows, width, legend_factor(rows, width)))


def _height(rows: list[Row], width: float, factor: float) -> float:
    lines = _places(rows, width / factor)[-1][1] + 1
    return factor * (8 + LEGEND_LINE * lines + 6)


def widest_row(rows: list[Row]) -> float:
    """Width of the widest entry of a legend at the designed size of text, pixels."""
    return max(_row_width(_legend_font(), words) for _, words in rows)


def _legend_font() -> QFont:
    font = QFont(QApplication.font())
    font.setPixelSize(12)
    return font


def _row_width(font: QFont, words: str) -> float:
    return 58 + QFontMetricsF(font).horizontalAdvance(words)


def _places(rows: list[Row], width: float) -> list[tuple[float, int]]:
    """Where each entry begins, and in which line."""
    font = _legend_font()
    places, x, line = [], 0.0, 0
    for _, words in rows:
        wide = _row_width(font, words)
        if x and x + wide > width - 36:
            x, line = 0.0, line + 1
        places.append((x, line))
        x += wide
    return places


def _paint_rows(
    painter: QPainter, rows: list[Row], theme: Theme, room: QRectF, ratio: float
) -> None:
    font = _legend_font()
    painter.setFont(font)
    places = _places(rows, room.width())
    height = 8 + LEGEND_LINE * (places[-1][1] + 1)
    wide = max(
        x + _row_width(font, words) for (x, _), (_, words) in zip(places, rows, strict=True)
    ) + 8  # fmt: skip
    box = QRectF(room.left() + 10, room.bottom() - height - 6, wide, height)
    painter.setPen(QPen(colour(theme.panel_border), 1))
    painter.setBrush(colour(theme.panel, 0.94))
    painter.drawRoundedRect(box, 6, 6)
    for (style, words), (x, line) in zip(rows, places, strict=True):
        top = box.top() + 6.5 + LEGEND_LINE * line
        swatch = QRectF(box.left() + 10 + x, top, 26, 14)
        ink = style.colour(theme)
        painter.fillRect(swatch, colour(ink, style.fill))
        painter.fillRect(swatch, texture_brush(style.texture, ink, 1.0, ratio))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour(ink), 1.2))
        painter.drawRect(swatch)
        painter.setPen(colour(theme.text))
        painter.drawText(QPointF(swatch.right() + 8, top + 11.5), words)
