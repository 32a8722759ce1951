"""What a person takes away from the window: pictures, print, slides.

Each shows what the figure shows now: the findings, a candidate held against them, or a
comparison; with legend, sides, sources and caution.
"""

from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtSvg import QSvgRenderer

from bodymap.errors import RequestError
from bodymap.gui.session import Session
from bodymap.localise.answer import answered
from bodymap.rendering import to_pdf, to_png
from bodymap.report.picture import PictureOptions, draw_svg

HEIGHT_PX = 1600
"""Height of a picture in pixels."""


class Takings:
    """Makes pictures and slides of a session."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def svg(self) -> str:
        """The picture as SVG.

        Raises RequestError before the atlas is there.
        """
        session = self._session
        if session.atlas is None:
            raise RequestError("The body map is not ready yet; try again in a moment.")
        chosen, comparison = session.chosen, session.comparison
        overlay = session.choices.overlay
        title = session.path.stem if session.path else "Sensory findings"
        if comparison is not None:
            title = ", ".join(t.name for t in comparison.members)
        options = PictureOptions(
            maps=(overlay,) if overlay else (),
            candidate=chosen.territory if chosen else None,
            comparison=comparison,
            title=title,
        )
        return draw_svg(session.atlas, session.drawing, options)

    def picture(self, ending: str) -> bytes:
        """The picture in the form that a file ending names.

        Raises RequestError for another ending.
        """
        svg = self.svg()
        if ending == ".svg":
            return svg.encode("utf-8")
        if ending == ".png":
            return to_png(svg, HEIGHT_PX)
        if ending == ".pdf":
            return to_pdf(svg)
        raise RequestError("the ending names no kind of picture; use .png, .svg or .pdf.")

    def image(self) -> QImage | None:
        """The picture for the clipboard, or None before the atlas is there."""
        if self._session.atlas is None:
            return None
        return QImage.fromData(to_png(self.svg(), HEIGHT_PX))

    def print_on(self, printer: QPrinter) -> None:
        """Print the picture as large as the page allows."""
        renderer = QSvgRenderer(QByteArray(self.svg().encode("utf-8")))
        painter = QPainter(printer)
        page = QRectF(painter.viewport())
        size = renderer.defaultSize()
        factor = min(page.width() / size.width(), page.height() / size.height())
        renderer.render(painter, QRectF(0, 0, size.width() * factor, size.height() * factor))
        painter.end()

    def slides(self) -> bytes:
        """Teaching slides of the case.

        Raises RequestError before the atlas is there.
        """
        from bodymap.slides.deck import make_deck

        session = self._session
        if session.scales is None:
            raise RequestError("The body map is not ready yet; try again in a moment.")
        answer = session.answer or answered(session.scales, session.drawing)
        return make_deck(answer, session.path.stem if session.path else "Sensory findings")
