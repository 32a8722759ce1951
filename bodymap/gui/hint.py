"""Words painted on the canvas: what to do first, and that the map is being prepared."""

import math

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen

from bodymap.gui.qt_shapes import colour
from bodymap.gui.text_scale import text_factor
from bodymap.language import tr
from bodymap.report.appearance import Theme

HINT_PX, LARGEST = 13, 1.5
"""Size of the hint at the designed size of text, and how far it grows with it."""

BESIDE_PX = 18
"""Room beside the words at each end, pixels."""


def paint_hint(painter: QPainter, font: QFont, room: QRectF, theme: Theme) -> None:
    """What to do first, along the lower edge of an empty figure."""
    words = tr("Choose an instrument and what was found, then paint on the skin.")
    font.setPixelSize(round(HINT_PX * min(text_factor(), LARGEST)))
    painter.setFont(font)
    box = hint_box(QFontMetricsF(font), room, words)
    painter.setPen(QPen(colour(theme.panel_border), 1))
    painter.setBrush(colour(theme.panel, 0.95))
    painter.drawRoundedRect(box, 8, 8)
    painter.setPen(colour(theme.text))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, words)


def hint_box(metrics: QFontMetricsF, room: QRectF, words: str) -> QRectF:
    """The box of the hint, pixels: words that are wider than the room go on in another line."""
    wrapped = metrics.boundingRect(
        QRectF(0, 0, room.width() - 2 * BESIDE_PX - 20, room.height()),
        Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap,
        words,
    )
    width, height = math.ceil(wrapped.width()) + 2 * BESIDE_PX, math.ceil(wrapped.height()) + 14
    left = room.left() + (room.width() - width) / 2
    return QRectF(left, room.bottom() - height - 10, width, height)


def paint_preparing(painter: QPainter, room: QRectF, theme: Theme) -> None:
    """In the place of the figure, until there is one."""
    painter.fillRect(room, colour(theme.canvas))
    painter.setPen(colour(theme.muted_text))
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, tr("Preparing the body map…"))
