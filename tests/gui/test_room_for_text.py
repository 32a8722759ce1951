"""At both sizes of the window and of the text nothing is clipped, nothing overlaps, and no
panel makes the window larger than the screen."""

import itertools
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QDockWidget,
    QLabel,
    QPushButton,
    QScrollArea,
    QToolButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.gui.figure_legend import legend_height
from bodymap.gui.marks import legend_of
from bodymap.gui.panels import PANELS
from bodymap.gui.sheet_view import SHEET
from bodymap.gui.window import Window
from bodymap.terms import Change, Modality, Side
from tests.gui.conftest import Hand

SIZES = [QSize(1280, 800), QSize(1920, 1200)]


@pytest.fixture
def window(hand: Hand, qtbot: QtBot) -> Iterator[Window]:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    font = app.font()
    hand.window.open_path(sample_file("thoracic-level"), untitled=True)
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=20000)
    yield hand.window
    app.setFont(font)


def _plain(text: str) -> str:
    document = QTextDocument()
    document.setHtml(text) if "<" in text else document.setPlainText(text)
    return document.toPlainText()


def _clipped(widget: QWidget) -> str | None:
    """What of a label or button is cut off, or None."""
    if isinstance(widget, QLabel) and widget.text():
        words = _plain(widget.text()).replace("&", "")
        if widget.wordWrap():
            least = widget.heightForWidth(widget.width())
            return f"{words[:40]}: {widget.height()} < {least}" if widget.height() < least else None
        least = max(widget.fontMetrics().horizontalAdvance(line) for line in words.split("\n"))
        if widget.width() < least - 1 or widget.height() < widget.fontMetrics().height() - 1:
            return f"{words[:40]}: {widget.width()} < {least}"
    if isinstance(widget, QAbstractButton) and widget.text():
        if isinstance(widget, QToolButton) and widget.parent() is None:
            return None
        words = widget.text().replace("&", "")
        least = widget.fontMetrics().horizontalAdvance(words)
        if widget.width() < least or widget.height() < widget.fontMetrics().height() - 1:
            return f"{words}: {widget.width()} < {least}"
    return None


def _overlapping(parent: QWidget) -> list[str]:
    """Pairs of children of a layout that lie over each other."""
    layout = parent.layout()
    if layout is None or isinstance(parent, QDockWidget | Window):
        return []
    held = [layout.itemAt(n).widget() for n in range(layout.count())]
    seen = [w for w in held if w is not None and w.isVisible() and w.parentWidget() is parent]
    if not hasattr(layout, "itemAtPosition") and not hasattr(layout, "direction"):
        return []  # a stack shows one page at a time
    return [
        f"{type(a).__name__} {a.accessibleName()} over {type(b).__name__} {b.accessibleName()}"
        for a, b in itertools.combinations(seen, 2)
        if a.geometry().intersects(b.geometry())
    ]


@pytest.mark.parametrize("size", SIZES, ids=["1280x800", "1920x1200"])
@pytest.mark.parametrize("factor", [1.0, 2.0], ids=["100 %", "200 %"])
def test_nothing_is_clipped_and_nothing_overlaps(
    window: Window, qtbot: QtBot, size: QSize, factor: float
) -> None:
    window.resize(size)
    window.scale_text(factor)
    faults = []
    for panel in ("", *PANELS):
        if panel:
            window.toggle_panel(panel)
        qtbot.wait(60)
        assert window.size() == size, panel
        assert window.minimumSizeHint().height() <= size.height(), panel
        for widget in window.findChildren(QWidget):
            if widget.isVisible() and not widget.objectName().startswith("qt_"):
                cut = _clipped(widget)
                faults += [f"{panel}: {cut}"] if cut else []
                faults += [f"{panel}: {pair}" for pair in _overlapping(widget)]
        if panel:
            window.toggle_panel(panel)
    assert not faults, "\n".join(dict.fromkeys(faults))


@pytest.mark.parametrize("factor", [1.0, 2.0], ids=["100 %", "200 %"])
def test_every_tool_can_be_seen(window: Window, qtbot: QtBot, factor: float) -> None:
    window.scale_text(factor)
    qtbot.wait(60)
    for action in window.actions_by_id.values():
        for button in action.associatedObjects():
            if isinstance(button, QToolButton | QPushButton):
                assert button.isVisible(), action.text()
                right = button.mapTo(window, button.rect().topRight()).x()
                assert right <= window.width(), action.text()


def test_verdict_and_caution_stay_in_sight_at_large_text(window: Window, qtbot: QtBot) -> None:
    window.scale_text(2.0)
    qtbot.wait(60)
    ranking = window.panels.ranking
    for widget in (ranking.verdict, ranking.caution_area):
        top = widget.mapTo(window, widget.rect().topLeft()).y()
        bottom = widget.mapTo(window, widget.rect().bottomLeft()).y()
        assert 0 < top < bottom < window.height()
    lines = ranking.caution_area.height() / ranking.caution.fontMetrics().height()
    assert lines >= 4


def _at_the_right_edge(window: Window) -> set[str]:
    """Colours along the right edge of the lower part of the figure."""
    image = window.canvas.grab().toImage()
    right = image.width() - 2
    return {image.pixelColor(right, y).name() for y in range(image.height() - 90, image.height())}


def test_words_at_the_lower_edge_of_the_figure_are_never_cut_off(
    window: Window, qtbot: QtBot
) -> None:
    window.scale_text(2.0)
    qtbot.wait(60)
    # A legend with every instrument in one row, then the hint of an empty figure.
    window.open_path(sample_file("neuropathy-visits"), untitled=True)
    assert _at_the_right_edge(window) == {window.theme.canvas}
    window.session.new()
    assert _at_the_right_edge(window) == {window.theme.canvas}


@pytest.mark.parametrize("factor", [1.0, 2.0], ids=["100 %", "200 %"])
def test_a_long_legend_leaves_the_feet_alone(window: Window, qtbot: QtBot, factor: float) -> None:
    """Findings of every kind in every modality: the whole body stands above the strip."""
    drawing = Drawing()
    atlas, canvas = window.session.atlas, window.canvas
    assert atlas is not None
    regions = iter(atlas.facts.regions)
    for change in Change:
        for modality in Modality:
            drawing = drawing.with_region(atlas, modality, change, next(regions), Side.RIGHT)
    before = canvas.camera
    window.session.step("everything", drawing)
    window.scale_text(factor)
    qtbot.wait(60)
    height = legend_height(legend_of(window.session), canvas.width())
    assert height > 60
    assert canvas.camera.to_canvas(0.0, SHEET[3])[1] <= canvas.height() - height
    assert canvas.camera != before
    window.session.undo()
    if factor == 1.0:
        assert canvas.camera == before, "a short legend takes no more room"


@pytest.mark.parametrize("sample", ["neuropathy-visits", "thoracic-level", "saddle"])
def test_levels_need_no_scrolling_to_the_side(window: Window, qtbot: QtBot, sample: str) -> None:
    window.open_path(sample_file(sample), untitled=True)
    window.toggle_panel("levels")
    qtbot.wait(60)
    for area in window.panels.levels.findChildren(QScrollArea):
        assert area.horizontalScrollBar().maximum() == 0
