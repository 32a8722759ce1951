"""Icons in the colour of the text, and swatches of what marks look like."""

from functools import lru_cache

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPen, QPixmap
from PySide6.QtSvg import QSvgRenderer

from bodymap.atlas.assets import assets_folder
from bodymap.gui.qt_shapes import colour, texture_brush
from bodymap.report.appearance import MarkStyle, Theme

SIZE = 22
RATIO = 2.0
"""Icons are drawn twice as fine as shown, for screens that can show it."""


@lru_cache(maxsize=64)
def icon(name: str, ink: str) -> QIcon:
    """The icon of assets/icons in a colour ('#rrggbb')."""
    text = (assets_folder() / "icons" / f"{name}.svg").read_text(encoding="utf-8")
    renderer = QSvgRenderer(QByteArray(text.replace('"ink"', f'"{ink}"').encode()))
    pixmap = _blank(SIZE)
    painter = QPainter(pixmap)
    renderer.render(painter, QRectF(0, 0, SIZE, SIZE))
    painter.end()
    return QIcon(pixmap)


def swatch(style: MarkStyle, theme: Theme) -> QIcon:
    """A small square of skin marked in a style."""
    pixmap = _blank(SIZE)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    box = QRectF(2, 2, SIZE - 4, SIZE - 4)
    ink = style.colour(theme)
    painter.fillRect(box, colour(theme.skin))
    painter.fillRect(box, colour(ink, style.fill))
    painter.fillRect(box, texture_brush(style.texture, ink, 1.0, RATIO))
    painter.setPen(QPen(colour(ink), 1.3))
    painter.drawRect(box)
    painter.end()
    return QIcon(pixmap)


def _blank(size: int) -> QPixmap:
    pixmap = QPixmap(round(size * RATIO), round(size * RATIO))
    pixmap.setDevicePixelRatio(RATIO)
    pixmap.fill(Qt.GlobalColor.transparent)
    return pixmap
