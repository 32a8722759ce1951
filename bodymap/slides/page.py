"""The empty deck and the text on its slides: 16:9, one plain face, colours of the theme.

Places are boxes (left, top, width, height) in inches. The title stands in the title
placeholder, the caution in the footer placeholder, so that both can be restyled once for
all slides.
"""

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from bodymap.language import language, later, tr
from bodymap.report.appearance import Theme
from bodymap.report.cautions import CAUTION
from bodymap.report.lettering import wrapped
from bodymap.slides.shapes import MAIN, POINT, boxed

if TYPE_CHECKING:
    from pptx.presentation import Presentation

Place = tuple[float, float, float, float]
"""left, top, width, height, inches."""

WIDTH, HEIGHT = 40 / 3, 7.5
"""Of a slide, 16:9, inches."""

TITLE: Place = (0.45, 0.2, 12.43, 0.72)
FOOT: Place = (0.45, 7.0, 10.4, 0.36)
NUMBER: Place = (11.9, 7.0, 0.98, 0.36)
COLUMN: Place = (8.05, 1.1, 4.85, 5.75)
"""Beside the figure."""

FULL: Place = (0.45, 1.25, 12.43, 5.5)
"""The whole room of a slide without figure."""

FIRST, CONTENT = later("Title Slide"), later("Title Only")
FORMS = (FIRST, CONTENT)
"""Names of the layouts: of the first slide, and of all others."""

PLACEHOLDERS = (
    later("Title"), later("Subtitle"), later("Footer Placeholder"),
    later("Slide Number Placeholder"), later("Slide Image Placeholder"),
    later("Notes Placeholder"),
)  # fmt: skip
"""What the places of a layout are called in the list of a slide's shapes, before a number."""

FACE = "Arial"
"""At hand, or replaced by a face of the same widths, everywhere."""

SLIM, SLIM_BOLD = 0.9, 0.97
"""Width of a line in this face, share of the widest usual one (see ``lettering``). Measured
in a face of the same widths on all sentences of six decks: at most 0.899, and 0.964 bold."""

LEAST = 14.0
"""Smallest text, points."""

LINE = 1.19
"""From one baseline to the next, share of the text size."""


@dataclass(frozen=True)
class Words:
    """A paragraph: size in points, colour by its place in the theme, room below in points."""

    text: str
    size: float = LEAST
    bold: bool = False
    colour: str = "TEXT_1"
    after: float = 4.0
    centred: bool = False

    def height(self, width: float) -> float:
        """How high it is in a box of a width (inches)."""
        slim = SLIM_BOLD if self.bold else SLIM
        lines = len(wrapped(self.text, self.size, width * 72 / slim)) or 1
        return (lines * LINE * self.size + self.after) / 72


def blank_deck(theme: Theme, title: str) -> "Presentation":
    """A deck without slides."""
    import pptx

    deck: Any = pptx.Presentation()
    _, _, deck.slide_width, deck.slide_height = boxed((0, 0, WIDTH, HEIGHT))
    for rel in [r for r in deck.part.package._rels.values() if "thumbnail" in r.reltype]:
        deck.part.package.drop_rel(rel.rId)
    for rel in [r for r in deck.part.rels.values() if "printerSettings" in r.reltype]:
        deck.part.rels.pop(rel.rId)
    for layout in list(deck.slide_layouts):
        if layout.name not in FORMS:
            deck.slide_layouts.remove(layout)
    known = deck.core_properties
    known.title, known.author, known.last_modified_by = title, "bodymap", "bodymap"
    _dress(deck, theme)
    for page in (deck.slide_master, *deck.slide_layouts):
        _arrange(page)
    for form in deck.slide_layouts:
        form._element.cSld.set("name", tr(form.name))
    made: Presentation = deck
    return made


def add_slide(deck: "Presentation", title: str, notes: str, form_name: str = CONTENT) -> Any:
    """A slide with its title, caution, number and notes."""
    form: Any = next(la for la in deck.slide_layouts if la.name == tr(form_name))
    slide = deck.slides.add_slide(form)
    heading: Any = slide.shapes.title
    heading.text_frame.text = title
    if form_name == CONTENT:
        size = next((s for s in (28.0, 24.0) if Words(title, s, True).height(TITLE[2]) < 0.6), 20.0)
        heading.text_frame.paragraphs[0].font.size = round(size * POINT)
    for shape in form.placeholders:
        if shape.placeholder_format.type.name in ("FOOTER", "SLIDE_NUMBER"):
            copied: Any = deepcopy(shape._element)
            slide.shapes._spTree.append(copied)
            copied.nvSpPr.cNvPr.set("id", str(len(slide.shapes) + 20))
            if shape.placeholder_format.type.name == "FOOTER":
                slide.placeholders[shape.placeholder_format.idx].text_frame.text = tr(CAUTION)
    told: Any = slide.notes_slide.notes_text_frame
    told.text = notes
    for shape in (*slide.placeholders, *slide.notes_slide.placeholders):
        word, _, number = shape.name.rpartition(" ")
        shape.name = f"{tr(word)} {number}"
    return slide


def spoken(deck: "Presentation") -> None:
    """Say of every text which language it is in: programs check spelling and read aloud by it."""
    deck.core_properties.language = language()
    for slide in deck.slides:
        for page in (slide, slide.notes_slide):
            element: Any = page._element
            for run in element.iter(f"{{{MAIN}}}r"):
                run.get_or_add_rPr().set("lang", language())


def write(slide: Any, place: Place, words: Sequence[Words], name: str) -> float:
    """A text box with paragraphs. Returns how far down they reach, inches."""
    from pptx.enum.dml import MSO_THEME_COLOR
    from pptx.enum.text import MSO_AUTO_SIZE, PP_ALIGN

    box = slide.shapes.add_textbox(*boxed(place))
    box.name = name
    frame = box.text_frame
    frame.word_wrap, frame.auto_size = True, MSO_AUTO_SIZE.NONE
    frame.margin_left = frame.margin_right = frame.margin_top = frame.margin_bottom = 0
    for order, paragraph in enumerate(words):
        line = frame.paragraphs[0] if order == 0 else frame.add_paragraph()
        run = line.add_run()
        run.text = paragraph.text
        run.font.size, run.font.bold = round(paragraph.size * POINT), paragraph.bold
        run.font.color.theme_color = getattr(MSO_THEME_COLOR, paragraph.colour)
        line.space_after = round(paragraph.after * POINT)
        if paragraph.centred:
            line.alignment = PP_ALIGN.CENTER
    return place[1] + sum(w.height(place[2]) for w in words)


def grown(words: Sequence[Words], width: float, height: float) -> list[Words]:
    """The paragraphs in letters as large as the room allows, at most a third larger."""
    for scale in (1.34, 1.23, 1.12):
        larger = [replace(w, size=round(scale * w.size), after=scale * w.after) for w in words]
        if sum(w.height(width) for w in larger) <= height:
            return larger
    return fitted(words, width, height)


def fitted(words: Sequence[Words], width: float, height: float) -> list[Words]:
    """The paragraphs as they are, or in letters as much smaller as the room demands, none
    smaller than the least."""
    for scale in (1.0, 0.92, 0.84, 0.76, 0.68, 0.6):
        smaller = [
            replace(w, size=max(LEAST, round(scale * w.size)), after=scale * w.after) for w in words
        ]
        if sum(w.height(width) for w in smaller) <= height:
            break
    return smaller


def _dress(deck: "Presentation", theme: Theme) -> None:
    """Write colours and face into the theme of the deck."""
    from pptx.opc.constants import RELATIONSHIP_TYPE
    from pptx.opc.oxml import serialize_part_xml
    from pptx.oxml import parse_xml

    part: Any = deck.slide_master.part.part_related_by(RELATIONSHIP_TYPE.THEME)
    root: Any = parse_xml(part.blob)
    root.set("name", "bodymap")
    colours = {
        "dk1": theme.text, "lt1": theme.canvas, "dk2": theme.muted_text, "lt2": theme.panel,
        "accent1": theme.accent, "accent2": theme.warning, "hlink": theme.accent,
    }  # fmt: skip
    for name, colour in colours.items():
        entry = next(root.iter(f"{{{MAIN}}}{name}"))
        for child in list(entry):
            entry.remove(child)
        value = colour.removeprefix("#").upper()
        entry.append(parse_xml(f'<a:srgbClr xmlns:a="{MAIN}" val="{value}"/>'))
    for kind in ("majorFont", "minorFont"):
        next(root.iter(f"{{{MAIN}}}{kind}")).find(f"{{{MAIN}}}latin").set("typeface", FACE)
    part._blob = serialize_part_xml(root)


def _arrange(page: Any) -> None:
    """Put the placeholders of the master or of a layout where a 16:9 slide wants them."""
    from pptx.enum.text import MSO_ANCHOR, PP_ALIGN

    first = page.name == FIRST
    places: dict[str, Place] = {
        "TITLE": TITLE, "CENTER_TITLE": (1.0, 1.3, 11.33, 1.5),
        "SUBTITLE": (1.0, 2.9, 11.33, 0.8), "BODY": FULL,
        "FOOTER": FOOT, "SLIDE_NUMBER": NUMBER,
    }  # fmt: skip
    for shape in list(page.placeholders):
        kind = shape.placeholder_format.type.name
        if kind == "DATE":
            shape._element.getparent().remove(shape._element)
            continue
        shape.left, shape.top, shape.width, shape.height = boxed(places[kind])
        frame = shape.text_frame
        if kind in ("TITLE", "CENTER_TITLE", "SUBTITLE"):
            frame.vertical_anchor = MSO_ANCHOR.BOTTOM if first else MSO_ANCHOR.MIDDLE
            if kind == "SUBTITLE":
                frame.vertical_anchor = MSO_ANCHOR.TOP
        if kind != "BODY":
            frame.margin_left = frame.margin_right = 0
        for line in frame.paragraphs:
            if kind in ("TITLE", "FOOTER"):
                line.alignment = PP_ALIGN.LEFT
        _styled(shape, kind)
    _master_styles(page)


def _styled(shape: Any, kind: str) -> None:
    """Sizes, sides and colours of a placeholder, for everything that inherits from it."""
    from pptx.oxml import parse_xml

    looks = {
        "FOOTER": ("l", LEAST, "accent2", 0), "SLIDE_NUMBER": ("r", LEAST, "tx2", 0),
        "CENTER_TITLE": ("l", 40.0, "tx1", 1), "SUBTITLE": ("l", 22.0, "tx2", 0),
        "TITLE": ("l", 28.0, "tx1", 1),
    }  # fmt: skip
    if kind not in looks:
        return
    side, size, colour, bold = looks[kind]
    body = shape.text_frame._txBody
    old = body.find(f"{{{MAIN}}}lstStyle")
    new = parse_xml(
        f'<a:lstStyle xmlns:a="{MAIN}"><a:lvl1pPr marL="0" indent="0" algn="{side}"><a:buNone/>'
        f'<a:defRPr sz="{round(100 * size)}" b="{bold}"><a:solidFill><a:schemeClr val="{colour}"/>'
        "</a:solidFill></a:defRPr></a:lvl1pPr></a:lstStyle>"
    )
    body.replace(old, new)
    for line in shape.text_frame.paragraphs:
        if line._p.pPr is not None:
            line._p.remove(line._p.pPr)


def _master_styles(page: Any) -> None:
    """Titles of the master stand left and bold."""
    for style in page._element.iter():
        if style.tag.endswith("}titleStyle"):
            level = style.find(f"{{{MAIN}}}lvl1pPr")
            level.set("algn", "l")
            level.find(f"{{{MAIN}}}defRPr").set("sz", "2800")
            level.find(f"{{{MAIN}}}defRPr").set("b", "1")
