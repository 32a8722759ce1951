"""SVG to PNG and PDF, with Qt. A face, not the core: pictures are made in ``report``.

Works without a screen: where none is there Qt draws offscreen.
"""

import os
import sys
from collections.abc import Sequence
from typing import Any

from bodymap.errors import RequestError
from bodymap.language import tr

A4_LANDSCAPE_MM = (297.0, 210.0)
MARGIN_MM = 8.0

A4_LYING_MM = (297.0, 210.0)


def to_png(svg: str, height: int) -> bytes:
    """The picture as PNG of a height in pixels.

    Raises RequestError if it is too large to be drawn.
    """
    from PySide6.QtCore import QBuffer, QIODevice
    from PySide6.QtGui import QImage, QPainter

    _application()
    renderer = _renderer(svg)
    size = renderer.viewBoxF().size()
    width = max(1, round(height * size.width() / size.height()))
    image = QImage(width, height, QImage.Format.Format_RGB32)
    if image.isNull():
        raise RequestError(
            tr(
                "A picture {height} pixels high is too large; ask for a smaller one.",
                height=height,
            )
        )
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    renderer.render(painter)
    painter.end()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload] # the stub asks for bytes
    return bytes(buffer.data().data())


def to_pdf(svg: str | Sequence[str]) -> bytes:
    """A picture, or several pages of one size, as a vector PDF on A4.

    What is wider than high lies on landscape pages and keeps a margin; a page that is
    made for A4, upright or lying, fills its sheet and has its margins itself.
    """
    from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF
    from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter

    _application()
    sheets = [_renderer(page) for page in ([svg] if isinstance(svg, str) else svg)]
    size = sheets[0].viewBoxF().size()
    upright = size.height() > size.width()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setTitle("bodymap")
    writer.setResolution(600)
    whole_sheet = upright or (size.width(), size.height()) == A4_LYING_MM
    edge = 0.0 if whole_sheet else MARGIN_MM
    turned = QPageLayout.Orientation.Portrait if upright else QPageLayout.Orientation.Landscape
    page = QPageSize(QPageSize.PageSizeId.A4)
    writer.setPageLayout(
        QPageLayout(page, turned, QMarginsF(edge, edge, edge, edge), QPageLayout.Unit.Millimeter)
    )
    painter = QPainter(writer)
    for number, renderer in enumerate(sheets):
        if number:
            writer.newPage()
        room = QRectF(0, 0, writer.width(), writer.height())
        size = renderer.viewBoxF().size()
        scale = min(room.width() / size.width(), room.height() / size.height())
        width, height = size.width() * scale, size.height() * scale
        renderer.render(painter, QRectF((room.width() - width) / 2, 0, width, height))
    painter.end()
    return bytes(buffer.data().data())


def _renderer(svg: str) -> Any:
    from PySide6.QtCore import QByteArray
    from PySide6.QtSvg import QSvgRenderer

    renderer = QSvgRenderer(QByteArray(svg.encode("utf-8")))
    if not renderer.isValid():
        raise RequestError(tr("The picture could not be rendered; write it as .svg instead."))
    return renderer


def _application() -> Any:
    """Qt needs an application to draw text; the one that runs, or a quiet one."""
    from PySide6.QtGui import QGuiApplication

    running = QGuiApplication.instance()
    if running is None:
        screen = any(os.environ.get(n) for n in ("DISPLAY", "WAYLAND_DISPLAY"))
        if sys.platform.startswith("linux") and not screen:
            os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        running = QGuiApplication([])
        # Kept alive: Qt must not lose its application while Python still draws.
        globals()["_kept"] = running
    load_fonts()
    return running


def load_fonts() -> None:
    """Make the bundled font known, once: a bare machine has none."""
    from PySide6.QtGui import QFontDatabase

    from bodymap.atlas.assets import assets_folder

    if "DejaVu Sans" not in QFontDatabase.families():
        for path in sorted((assets_folder() / "fonts").glob("*.ttf")):
            QFontDatabase.addApplicationFont(str(path))
