"""What a person takes away from the window: pictures, print, slides.

Each shows what the figure shows now: the findings, a candidate held against them, or a
comparison; with legend, sides, sources and caution. Everything is made in two steps: what
it shows is settled in the window's thread, the making may run in any.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtSvg import QSvgRenderer

from bodymap.errors import RequestError
from bodymap.gui.session import Session
from bodymap.language import later, tr
from bodymap.localise.answer import answered
from bodymap.rendering import to_pdf, to_png
from bodymap.report.picture import PictureOptions, draw_svg

if TYPE_CHECKING:
    from bodymap.report.note import Note

HEIGHT_PX = 1600
"""Height of a picture in pixels."""

NOT_READY = later("The body map is not ready yet; try again in a moment.")
UNTITLED = later("Sensory findings")


class Takings:
    """Makes pictures and slides of a session."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def draft(self) -> Callable[[], str]:
        """What draws the picture as SVG, of the figure as it is now; may run in any thread.

        Raises RequestError before the atlas is there.
        """
        session = self._session
        atlas, drawing = session.atlas, session.drawing
        if atlas is None:
            raise RequestError(tr(NOT_READY))
        chosen, comparison = session.chosen, session.comparison
        overlay = session.choices.overlay
        title = session.path.stem if session.path else tr(UNTITLED)
        if comparison is not None:
            title = ", ".join(t.name for t in comparison.members)
        options = PictureOptions(
            maps=(overlay,) if overlay else (),
            candidate=chosen.territory if chosen else None,
            comparison=comparison,
            course=session.laid_over,
            title=title,
        )
        return lambda: draw_svg(atlas, drawing, options)

    def picture(self, ending: str, height: int = HEIGHT_PX) -> Callable[[], bytes]:
        """What makes the picture in the form that a file ending names; ``height`` of a png
        in pixels.

        Raises RequestError for another ending and before the atlas is there.
        """
        draft = self.draft()
        return in_form(draft, ending, height)

    def handout(self, limb: str, ending: str) -> Callable[[], bytes]:
        """What makes a page that compares roots and nerves of a limb.

        Raises RequestError for another ending and before the atlas is there.
        """
        from bodymap.report.handout import handout_svg

        atlas = self._session.atlas
        if atlas is None:
            raise RequestError(tr(NOT_READY))
        return in_form(lambda: handout_svg(atlas, limb), ending)

    def image(self) -> Callable[[], QImage]:
        """What makes the picture for the clipboard.

        Raises RequestError before the atlas is there.
        """
        draft = self.draft()
        return lambda: QImage.fromData(to_png(draft(), HEIGHT_PX))

    def print_on(self, printer: QPrinter, svg: str) -> None:
        """Print a picture as large as the page allows."""
        renderer = QSvgRenderer(QByteArray(svg.encode("utf-8")))
        painter = QPainter(printer)
        page = QRectF(painter.viewport())
        size = renderer.defaultSize()
        factor = min(page.width() / size.width(), page.height() / size.height())
        renderer.render(painter, QRectF(0, 0, size.width() * factor, size.height() * factor))
        painter.end()

    def note_text(self, short: bool = False) -> Callable[[], str]:
        """What makes the chart note, in full or short, as text that a chart can wrap.

        Raises RequestError before the atlas is there.
        """
        made = self._note(short)

        def text() -> str:
            from bodymap.report.note_text import as_text

            return as_text(made(), None)

        return text

    def note(self, ending: str) -> Callable[[], bytes]:
        """What makes the chart note in the form that a file ending names.

        Raises RequestError for another ending and before the atlas is there.
        """
        if ending not in (".txt", ".md", ".pdf"):
            raise RequestError(tr("the ending names no kind of note; use .txt, .md or .pdf."))
        made, session = self._note(), self._session
        atlas, drawing = session.atlas, session.drawing
        if atlas is None:
            raise RequestError(tr(NOT_READY))

        def data() -> bytes:
            from bodymap.report.note_page import pages
            from bodymap.report.note_text import as_markdown, as_text

            if ending == ".pdf":
                return to_pdf(pages(atlas, drawing, made()))
            return (as_text if ending == ".txt" else as_markdown)(made()).encode("utf-8")

        return data

    def _note(self, short: bool = False) -> "Callable[[], Note]":
        session = self._session
        scales, drawing, answer = session.scales, session.drawing, session.answer
        if scales is None:
            raise RequestError(tr(NOT_READY))

        def made() -> "Note":
            from bodymap.report.note import Form, note
            from bodymap.report.visits_report import since_last

            form = Form.SHORT if short else Form.FULL
            now = answer if answer is not None and answer.drawing is drawing else None
            since = since_last(scales.atlas, drawing)
            return note(now or answered(scales, drawing), drawing.date, form, since)

        return made

    def slides(self) -> Callable[[], bytes]:
        """What makes teaching slides of the case, and of the lesions that are compared.

        Raises RequestError before the atlas is there.
        """
        session = self._session
        scales, drawing, answer = session.scales, session.drawing, session.answer
        comparison = session.comparison
        title = session.path.stem if session.path else UNTITLED
        if scales is None:
            raise RequestError(tr(NOT_READY))

        def made() -> bytes:
            from bodymap.slides.compared_words import compared_title
            from bodymap.slides.deck import make_deck

            alone = comparison is not None and not drawing
            named = compared_title(comparison) if comparison is not None and alone else title
            return make_deck(answer or answered(scales, drawing), named, comparison=comparison)

        return made


def in_form(draft: Callable[[], str], ending: str, height: int = HEIGHT_PX) -> Callable[[], bytes]:
    """What turns a drawn page into the form that a file ending names.

    Raises RequestError for an ending that names no kind of picture.
    """
    forms: dict[str, Callable[[str], bytes]] = {
        ".svg": lambda svg: svg.encode("utf-8"),
        ".png": lambda svg: to_png(svg, height),
        ".pdf": to_pdf,
    }
    if ending not in forms:
        raise RequestError(tr("the ending names no kind of picture; use .png, .svg or .pdf."))
    form = forms[ending]
    return lambda: form(draft())
