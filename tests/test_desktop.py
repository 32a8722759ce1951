"""What a desktop is given: the entry, the type of a case file, the icon."""

import configparser
import re
import xml.etree.ElementTree as ET
from pathlib import Path

from PySide6.QtGui import QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from bodymap.atlas.assets import assets_folder

FOLDER = assets_folder() / "desktop"
TYPE = "application/vnd.bodymap.case+json"
MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"
SVG = "{http://www.w3.org/2000/svg}"


def _entry() -> configparser.SectionProxy:
    parser = configparser.ConfigParser(interpolation=None, delimiters=("=",), strict=True)
    parser.optionxform = str  # type: ignore[assignment, method-assign]
    text = (FOLDER / "bodymap.desktop").read_text(encoding="utf-8")
    assert text.startswith("[Desktop Entry]\n")
    parser.read_string(text)
    assert parser.sections() == ["Desktop Entry"]
    return parser["Desktop Entry"]


def test_the_entry_has_what_the_specification_asks_for() -> None:
    """freedesktop.org Desktop Entry Specification 1.5, recognized keys."""
    entry = _entry()
    for key in ("Type", "Name", "Exec", "Icon", "MimeType", "Categories"):
        assert entry[key].strip()
    assert all(re.fullmatch(r"[A-Za-z0-9-]+(\[[^]]+\])?", key) for key in entry)
    assert entry["Type"] == "Application"
    assert entry["Terminal"] == "false"
    for key in ("MimeType", "Categories", "Keywords"):
        assert entry[key].endswith(";")
    # Desktop Menu Specification: at least one main category.
    assert {"Education", "Science"} & set(entry["Categories"].split(";"))


def test_the_entry_starts_the_program_that_is_installed() -> None:
    import tomllib

    entry = _entry()
    program, place = entry["Exec"].split()
    assert place == "%f"  # one case in one window
    project = Path(__file__).resolve().parent.parent / "pyproject.toml"
    assert program in tomllib.loads(project.read_text(encoding="utf-8"))["project"]["scripts"]
    assert (FOLDER / f"{entry['Icon']}.svg").is_file()


def test_the_type_of_a_case_file() -> None:
    root = ET.parse(FOLDER / "bodymap-case.xml").getroot()
    assert root.tag == f"{MIME}mime-info"
    (kind,) = root.findall(f"{MIME}mime-type")
    assert kind.get("type") == TYPE
    assert kind.findtext(f"{MIME}comment")
    assert [g.get("pattern") for g in kind.findall(f"{MIME}glob")] == ["*.bodymap.json"]
    assert [s.get("type") for s in kind.findall(f"{MIME}sub-class-of")] == ["application/json"]
    assert _entry()["MimeType"].split(";")[:-1] == [TYPE]


def test_the_icon_is_a_square_picture_that_needs_nothing_else(qapp: object) -> None:
    file = FOLDER / "bodymap.svg"
    root = ET.parse(file).getroot()
    assert root.tag == f"{SVG}svg"
    box = (root.get("viewBox") or "").split()
    assert box[2] == box[3]
    assert root.findtext(f"{SVG}title") == "bodymap"
    text = file.read_text(encoding="utf-8")
    assert "href" not in text
    assert "url(" not in text  # clips and gradients are not drawn alike everywhere
    image = QImage(64, 64, QImage.Format.Format_ARGB32)
    image.fill(0)
    painter = QPainter(image)
    renderer = QSvgRenderer(str(file))
    assert renderer.isValid()
    renderer.render(painter)
    painter.end()
    colours = {image.pixel(x, y) for x in range(64) for y in range(64)}
    assert len(colours) > 3
    assert image.pixelColor(0, 0).alpha() == 0
