"""Pictures as PNG and PDF, read back with other programs' eyes."""

import io

import pypdf
import pytest
import shapely
from PySide6.QtGui import QImage

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.rendering import to_pdf, to_png
from bodymap.report.appearance import DARK
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.picture import PictureOptions, draw_svg
from bodymap.terms import Change, Modality, View


@pytest.fixture(scope="module")
def drawing(atlas: Atlas) -> Drawing:
    thigh = shapely.Point(60, 400).buffer(40)
    return Drawing().painted(atlas, Modality.PINPRICK, Change.REDUCED, View.FRONT, thigh)


@pytest.mark.parametrize("height", [300, 1400])
def test_png_has_the_height_asked_for(atlas: Atlas, drawing: Drawing, height: int) -> None:
    svg = draw_svg(atlas, drawing, PictureOptions())
    image = QImage.fromData(to_png(svg, height), "PNG")
    assert image.height() == height
    assert 1.2 < image.width() / image.height() < 1.6


def test_png_shows_the_finding_where_it_was_drawn(atlas: Atlas, drawing: Drawing) -> None:
    """The pixels of the drawn disc change, its mirror image on the other thigh does not."""
    options = PictureOptions(theme=DARK)
    height = 1200
    with_it = QImage.fromData(to_png(draw_svg(atlas, drawing, options), height), "PNG")
    without = QImage.fromData(to_png(draw_svg(atlas, Drawing(), options), height), "PNG")
    box = [float(v) for v in draw_svg(atlas, drawing, options)
           .split('viewBox="')[1].split('"')[0].split()]  # fmt: skip
    scale = height / box[3]

    def changed(x: float, y: float) -> bool:
        sheet = BODY_LAYOUT[View.FRONT].to_sheet(x, y)
        at = [round((s - o) * scale) for s, o in zip(sheet, box, strict=False)]
        return with_it.pixelColor(*at) != without.pixelColor(*at)

    assert all(changed(60 + dx, 400 + dy) for dx in (-20, 0, 20) for dy in (-20, 0, 20))
    assert not any(changed(-60 + dx, 400 + dy) for dx in (-20, 0, 20) for dy in (-20, 0, 20))


def test_pdf_is_one_landscape_a4_page_with_text_and_fonts(atlas: Atlas, drawing: Drawing) -> None:
    """ISO 216: A4 is 210 by 297 mm, 595 by 842 points."""
    svg = draw_svg(atlas, drawing, PictureOptions(maps=("dermatomes",), title="Invented case"))
    reader = pypdf.PdfReader(io.BytesIO(to_pdf(svg)))
    assert len(reader.pages) == 1
    page = reader.pages[0]
    assert float(page.mediabox.width) == pytest.approx(842, abs=1)
    assert float(page.mediabox.height) == pytest.approx(595, abs=1)
    words = " ".join(page.extract_text().replace("ﬁ", "fi").split())
    for expected in ("does not diagnose", "RIGHT", "LEFT", "C6", "T10", "Invented case",
                     "reduced: pinprick", "Sides are the patient's"):  # fmt: skip
        assert expected in words, expected
    for font in page["/Resources"]["/Font"].values():
        descendant = font.get_object()["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in descendant["/FontDescriptor"].get_object()
    # Vector, not a photograph of itself.
    assert not page.images
