"""The painting tools, the comparison, the search and what is taken away, by hand."""

from pathlib import Path

import pytest
import shapely
from PySide6.QtCore import QEvent, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QImage,
    QPointingDevice,
    QTabletEvent,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from bodymap.findings.samples import sample_file
from bodymap.gui.choices import Tool
from bodymap.localise.comparison import classic_confusions
from bodymap.terms import Change, Modality, Side, View

from .conftest import Hand

LEFT = Qt.MouseButton.LeftButton
ALT = Qt.KeyboardModifier.AltModifier
CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier

# A square on the front of the right thigh, front view, corner by corner.
SQUARE = [(-90, 440), (-60, 440), (-60, 400), (-90, 400)]


def _reduced(hand: Hand, view: View = View.FRONT) -> float:
    """Drawn area of reduced pinprick in a view, square units."""
    skin = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).drawn.get(view)
    return 0.0 if skin is None else float(skin.area)


def test_freehand_outline_closes_itself_and_is_one_step(hand: Hand) -> None:
    hand.press(Qt.Key.Key_O)
    assert hand.window.session.choices.tool is Tool.OUTLINE
    hand.drag(View.FRONT, *SQUARE)
    # What the line encloses: 30 by 40 units, within a pixel or two of the corners.
    assert _reduced(hand) == pytest.approx(1200, rel=0.12)
    assert [s.name for s in hand.window.session.history.past] == ["Outline reduced pinprick"]


def test_straight_outline_by_corners_enter_closes_escape_gives_up(hand: Hand) -> None:
    hand.press(Qt.Key.Key_G)
    assert hand.window.session.choices.tool is Tool.STRAIGHT
    for corner in SQUARE[:3]:
        hand.click(View.FRONT, *corner)
    hand.press(Qt.Key.Key_Escape)
    QTest.keyClick(hand.canvas, Qt.Key.Key_Return)
    assert not hand.window.session.drawing
    for corner in SQUARE:
        hand.click(View.FRONT, *corner)
    QTest.keyClick(hand.canvas, Qt.Key.Key_Return)
    assert _reduced(hand) == pytest.approx(1200, rel=0.12)
    # With Alt the same outline takes it away again.
    for corner in SQUARE:
        hand.click(View.FRONT, *corner, alt=True)
    last = hand.pixel(View.FRONT, *SQUARE[0])
    QTest.mouseDClick(hand.canvas, LEFT, ALT, last)
    assert _reduced(hand) < 150


def test_whole_territory_of_the_overlay_with_one_click(hand: Hand) -> None:
    atlas = hand.window.session.atlas
    assert atlas is not None
    hand.press(Qt.Key.Key_T)
    hand.press(Qt.Key.Key_1)
    hand.click(View.FRONT, -40, 600)
    mask = atlas.cells_of_dermatome("T10", Side.RIGHT)
    assert hand.drawn_cm2() == pytest.approx(float(atlas.cells.area_cm2[mask].sum()), rel=1e-3)
    assert "dermatome T10 (right)" in str(hand.window.session.history.undo_name)
    hand.click(View.FRONT, -40, 600, alt=True)
    assert hand.drawn_cm2() < 0.1
    hand.press(Qt.Key.Key_2)
    hand.click(View.FRONT, -90, 420)
    assert hand.window.session.history.undo_name is not None
    assert "right" in hand.window.session.history.undo_name


def test_smoothing_keeps_the_area_and_takes_notches(hand: Hand) -> None:
    hand.press(Qt.Key.Key_O)
    notched = [(-90, 440), (-76, 440), (-75, 410), (-74, 440), (-60, 440), (-60, 400), (-90, 400)]
    hand.drag(View.FRONT, *notched)
    before = _reduced(hand)
    hand.press(Qt.Key.Key_L, CTRL)
    skin = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).drawn[View.FRONT]
    assert skin.is_valid
    assert _reduced(hand) == pytest.approx(before, rel=0.1)
    assert hand.window.session.history.undo_name == "Smooth pinprick"


def test_change_what_was_found_under_the_pointer(hand: Hand) -> None:
    hand.press(Qt.Key.Key_O)
    hand.drag(View.FRONT, *SQUARE)
    area = _reduced(hand)
    hand.press(Qt.Key.Key_2, ALT)
    assert hand.window.session.choices.change is Change.ABSENT
    QTest.mouseMove(hand.canvas, hand.pixel(View.FRONT, -75, 420))
    hand.press(Qt.Key.Key_C)
    absent = hand.window.session.drawing.layer(Modality.PINPRICK, Change.ABSENT)
    assert absent.drawn[View.FRONT].area == pytest.approx(area, rel=1e-6)
    assert _reduced(hand) == 0.0


def test_a_lighter_stylus_paints_a_narrower_line(hand: Hand) -> None:
    widths = []
    for pressure in (1.0, 0.1):
        for kind in (QEvent.Type.TabletPress, QEvent.Type.TabletMove):
            where = QPointF(hand.pixel(View.FRONT, -75, 430))
            event = QTabletEvent(
                kind, QPointingDevice.primaryPointingDevice(), where, where, pressure, 0.0, 0.0,
                0.0, 0.0, 0.0, Qt.KeyboardModifier.NoModifier, LEFT, LEFT,
            )  # fmt: skip
            QApplication.sendEvent(hand.canvas, event)
        hand.drag(View.FRONT, (-75, 430), (-75, 400))
        widths.append(_reduced(hand))
        hand.press(Qt.Key.Key_Z, CTRL)
    assert widths[1] < 0.6 * widths[0]


def test_others_fade_with_the_slider(hand: Hand) -> None:
    from bodymap.gui.marks import marks_of

    hand.press(Qt.Key.Key_O)
    hand.drag(View.FRONT, *SQUARE)
    hand.press(Qt.Key.Key_1, CTRL)
    assert [m.opacity for m in marks_of(hand.window.session)] == [0.45]
    hand.window.bars.others.setValue(10)
    assert [m.opacity for m in marks_of(hand.window.session)] == [0.1]


def test_root_against_nerve_from_menu_to_figure(hand: Hand) -> None:
    """C6 against the median nerve at the wrist: the palmar middle finger is the nerve's, the
    radial forearm the root's (pairs.csv: Stewart 2010, from memory)."""
    from bodymap.gui.marks import legend_of

    panel = hand.window.panels.compare
    hand.press(Qt.Key.Key_K, CTRL)
    assert panel.isVisible()
    scales = hand.window.session.scales
    assert scales is not None
    assert panel.classics.count() == 1 + len(classic_confusions(scales))
    QTest.keyClicks(panel.first, "C6 nerve root")
    QTest.keyClicks(panel.second, "Median nerve at the carpal tunnel")
    QTest.mouseClick(panel.compare_button, LEFT)
    comparison = hand.window.session.comparison
    assert comparison is not None
    atlas = scales.atlas
    finger = atlas.cells_of_region("middle-palmar", Side.RIGHT)
    forearm = atlas.cells_of_region("forearm-back-radial", Side.RIGHT)
    assert comparison.alone[1][finger].any()
    assert not comparison.alone[0][finger].any()
    assert comparison.alone[0][forearm].any()
    words = [label for _, label in legend_of(hand.window.session)]
    assert words[0] == "only C6 nerve root"
    assert words[-1] == "shared by all"
    assert "Brachioradialis" in panel.text.toPlainText()
    hand.press(Qt.Key.Key_Escape)
    assert hand.window.session.comparison is None


def test_the_same_lesion_twice_is_refused_kindly(hand: Hand) -> None:
    panel = hand.window.panels.compare
    hand.press(Qt.Key.Key_K, CTRL)
    for box in (panel.first, panel.second):
        box.name("root-c6")
    QTest.mouseClick(panel.compare_button, LEFT)
    assert hand.window.session.comparison is None
    assert "named twice" in hand.window.statusBar().currentMessage()


@pytest.mark.parametrize("words", ["sural", "T10", "thenar", "carpal", "conus"])
def test_anything_is_found_and_shown(hand: Hand, words: str) -> None:
    hand.press(Qt.Key.Key_F, CTRL)
    finder = hand.window.panels.find
    assert finder.search.hasFocus()
    QTest.keyClicks(finder.search, words)
    QTest.keyClick(finder.search, Qt.Key.Key_Return)
    place = hand.window.session.place
    assert place is not None
    assert words.lower() in f"{place.name} {place.words}".lower()
    assert place.skin.any()
    hand.press(Qt.Key.Key_Escape)
    assert hand.window.session.place is None


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_picture_is_saved_with_caution_and_sides(hand: Hand, tmp_path: Path, ending: str) -> None:
    hand.window.open_path(sample_file("root-c6"), untitled=True)
    path = hand.answers.picture = tmp_path / f"case.{ending}"
    hand.press(Qt.Key.Key_E, CTRL)
    hand.made()
    data = path.read_bytes()
    assert data.startswith({"png": b"\x89PNG", "svg": b"<?xml", "pdf": b"%PDF"}[ending])
    if ending == "svg":
        text = data.decode()
        assert "does not diagnose" in text
        assert "RIGHT" in text


def test_a_picture_that_cannot_be_written_is_told(hand: Hand, tmp_path: Path) -> None:
    hand.answers.picture = tmp_path / "nowhere" / "case.png"
    hand.press(Qt.Key.Key_E, CTRL)
    hand.made()
    assert "cannot be written" in hand.window.statusBar().currentMessage()
    hand.answers.picture = tmp_path / "case.gif"
    hand.press(Qt.Key.Key_E, CTRL)
    assert "no kind of picture" in hand.window.statusBar().currentMessage()
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(("key", "limb"), [(Qt.Key.Key_A, "arm"), (Qt.Key.Key_L, "leg")])
def test_a_handout_is_saved_from_the_menu(
    hand: Hand, tmp_path: Path, key: Qt.Key, limb: str
) -> None:
    path = hand.answers.picture = tmp_path / f"{limb}.svg"
    hand.press(key, CTRL, ALT)
    hand.made()
    text = path.read_text(encoding="utf-8")
    assert {"arm": "C6", "leg": "L5"}[limb] in text
    assert {"arm": "Median nerve", "leg": "fibular"}[limb] in text


def test_what_is_being_made_is_shown_and_can_be_stopped(
    hand: Hand, tmp_path: Path, qtbot: QtBot
) -> None:
    bar = hand.window.background
    hand.answers.slides = tmp_path / "c6.pptx"
    assert not bar.isVisible()
    hand.press(Qt.Key.Key_E, CTRL, SHIFT)
    assert bar.isVisible()
    QTest.mouseClick(bar.cancel, LEFT)
    assert not bar.isVisible()
    # The next thing made is delivered; the one given up is not.
    hand.answers.picture = tmp_path / "case.svg"
    hand.press(Qt.Key.Key_E, CTRL)
    hand.made()
    qtbot.wait(4000)
    assert [path.name for path in tmp_path.iterdir()] == ["case.svg"]


def test_picture_and_text_go_to_the_clipboard(hand: Hand, qtbot: QtBot) -> None:
    hand.window.open_path(sample_file("carpal-tunnel"), untitled=True)
    hand.press(Qt.Key.Key_P, CTRL, SHIFT)
    hand.made()
    image = QGuiApplication.clipboard().image()
    assert image.height() == 1600
    qtbot.waitUntil(lambda: hand.window.session.answer is not None)
    hand.press(Qt.Key.Key_C, CTRL, SHIFT)
    text = QGuiApplication.clipboard().text()
    assert "Median nerve at the carpal tunnel" in text
    assert "What to test next" in text


def test_a_cut_in_the_plexus_is_answered_by_the_skin(hand: Hand) -> None:
    from bodymap.gui.marks import legend_of

    hand.press(Qt.Key.Key_K, CTRL, SHIFT)
    panel = hand.window.panels.plexus
    button = panel.graph.buttons["upper-trunk"]
    assert button.accessibleName() == "Cut Upper trunk"
    QTest.mouseClick(button, LEFT)
    place = hand.window.session.place
    assert place is not None
    assert place.skin.any()
    assert [words for _, words in legend_of(hand.window.session)] == [
        "lost by cutting on the right: Upper trunk"
    ]
    assert "Deltoid" in panel.text.toPlainText()
    atlas = hand.window.session.atlas
    assert atlas is not None
    assert not (place.skin & atlas.cells.left).any()
    # The same cut on the left: the mirror image, and the legend says so.
    panel.side.setFocus()
    QTest.keyClicks(panel.side, "l")
    QTest.keyClick(panel.side, Qt.Key.Key_Return)
    other = hand.window.session.place
    assert other is not None
    assert other.name == "lost by cutting on the left: Upper trunk"
    assert not (other.skin & ~atlas.cells.left).any()
    area = atlas.cells.area_cm2
    assert area[other.skin].sum() == pytest.approx(area[place.skin].sum(), rel=1e-9)
    hand.press(Qt.Key.Key_Escape)
    assert hand.window.session.place is None
    assert not button.isChecked()


def test_a_dictated_finding_is_shown_then_drawn(hand: Hand) -> None:
    panel, session = hand.window.panels.dictation, hand.window.session
    hand.press(Qt.Key.Key_I, CTRL)
    QTest.keyClicks(panel.phrase, "reduced PP thumb and index finger since Tuesday")
    heard = panel.heard.toPlainText()
    assert "Reduced pinprick over the whole thumb and index finger." in heard
    assert "tuesday" in heard.split("Not understood:")[1]
    # Without a side nothing is drawn.
    assert panel.side.isVisible()
    QTest.keyClick(panel.phrase, Qt.Key.Key_Return)
    assert not session.drawing
    assert "choose a side" in hand.window.statusBar().currentMessage()
    QTest.keyClick(panel.side, Qt.Key.Key_Down)
    QTest.keyClick(panel.phrase, Qt.Key.Key_Return)
    layer = session.drawing.layer(Modality.PINPRICK, Change.REDUCED)
    assert {side for _, side in layer.regions} == {Side.RIGHT}
    said = "Reduced pinprick over the whole thumb and index finger, right."
    assert panel.words.toPlainText() == said
    QTest.mouseClick(panel.copy, LEFT)
    assert QGuiApplication.clipboard().text() == said
    session.undo()
    assert not session.drawing


def test_slides_are_saved_from_the_menu(hand: Hand, tmp_path: Path, qtbot: QtBot) -> None:
    from pptx import Presentation

    hand.window.open_path(sample_file("root-c6"), untitled=True)
    qtbot.waitUntil(lambda: hand.window.session.answer is not None)
    path = hand.answers.slides = tmp_path / "c6.pptx"
    hand.press(Qt.Key.Key_E, CTRL, SHIFT)
    hand.made()
    assert len(Presentation(str(path)).slides) >= 6


def test_a_simulated_patient_from_first_touch_to_debrief(hand: Hand) -> None:
    """The story of a student: start, touch on the figure, name a lesion, read the truth;
    meanwhile nothing gives the answer away."""
    from bodymap.practice.hidden_patients import Difficulty

    window = hand.window
    hand.press(Qt.Key.Key_T, CTRL)
    panel = window.panels.practice
    assert panel.isVisible()
    panel.start(Difficulty.WHOLE, 3)
    assert window.session.practising
    assert not window.panels.ranking.isVisible()
    assert not window.actions_by_id["copy"].isEnabled()
    before = window.session.drawing
    hand.click(View.FRONT, -310, 495)
    hand.click(View.FRONT, 310, 495)
    assert window.session.drawing is not before
    assert len([*window.session.drawing]) >= 1
    QTest.mouseClick(panel.give_up, LEFT)
    assert not window.session.practising
    assert window.panels.ranking.isVisible()
    assert window.actions_by_id["copy"].isEnabled()


def test_overview_shows_and_moves_what_is_seen(hand: Hand) -> None:
    canvas = hand.canvas
    assert not canvas.centre_on_overview(QPointF(canvas.width() - 80, 60))
    hand.look_at("right-palm")
    before = canvas.camera
    target = QPointF(canvas.width() - 40, 40)
    QTest.mouseClick(canvas, LEFT, pos=target.toPoint())
    assert canvas.camera != before
    assert canvas.camera.scale == before.scale
    assert not hand.window.session.drawing


def test_the_brush_goes_on_over_the_edge_to_the_back_but_with_shift(hand: Hand) -> None:
    """A line along the outer edge of the right thigh: what hangs over it in front lies on
    the back of the right thigh."""
    atlas = hand.window.session.atlas
    assert atlas is not None
    hand.press(Qt.Key.Key_B)
    hand.window.session.choose(brush=24.0)
    edge = [(-106, 440), (-105, 420), (-103, 400)]
    points = [hand.pixel(View.FRONT, *place) for place in edge]
    QTest.mousePress(hand.canvas, LEFT, SHIFT, points[0])
    for point in points[1:]:
        QTest.mouseMove(hand.canvas, point)
    QTest.mouseRelease(hand.canvas, LEFT, SHIFT, points[-1])
    assert _reduced(hand, View.BACK) == 0.0
    hand.press(Qt.Key.Key_Z, CTRL)
    hand.drag(View.FRONT, *edge)
    skin = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).drawn[View.BACK]
    assert skin.area > 20
    place = skin.representative_point()
    found = atlas.place(View.BACK, place.x, place.y)
    assert found is not None
    assert found.side is Side.RIGHT
    assert len(hand.window.session.history.past) == 1


def test_text_grows_and_shrinks(hand: Hand) -> None:
    before = QApplication.font().pointSizeF()
    hand.window.actions_by_id["text-larger"].trigger()
    assert QApplication.font().pointSizeF() > before
    hand.window.actions_by_id["text-smaller"].trigger()
    assert QApplication.font().pointSizeF() == pytest.approx(before)


def test_right_to_left_never_swaps_the_patients_sides(hand: Hand) -> None:
    hand.window.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    QApplication.processEvents()
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, -312, 496)
    regions = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).regions
    assert regions == {("thumb-palmar", Side.RIGHT)}
    # In front the patient's right stands on the left of the picture, as one faces them.
    right = hand.pixel(View.FRONT, -312, 496).x()
    assert right < hand.pixel(View.FRONT, 312, 496).x()


def test_help_explains_the_numbers(hand: Hand) -> None:
    hand.press(Qt.Key.Key_F1, SHIFT)
    assert "probability" in hand.answers.told[-1]
    assert "halves what is possible" in hand.answers.told[-1]


def test_a_simulated_patient_never_reaches_the_file_of_a_real_one(
    hand: Hand, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "case.json"
    file.write_bytes(sample_file("stocking-record").read_bytes())
    hand.window.open_path(file)
    before = file.read_bytes()
    hand.window.toggle_panel("practice")
    panel = hand.window.panels.practice
    qtbot.waitUntil(panel.isVisible)
    QTest.mouseClick(panel.new, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: panel.practising)
    hand.press(Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert file.read_bytes() == before
    hand.answers.save = tmp_path / "practice.json"
    hand.press(Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert file.read_bytes() == before
    assert hand.answers.save.exists()


def _dropped(window: QWidget, path: Path) -> None:
    """A file dragged in and let go over the window."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    action, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(400, 300), action, data, LEFT, none)
    QApplication.sendEvent(window, enter)
    if enter.isAccepted():
        QApplication.sendEvent(window, QDropEvent(QPointF(400, 300), action, data, LEFT, none))


def test_a_file_can_be_dragged_in(hand: Hand) -> None:
    _dropped(hand.window, sample_file("root-c6"))
    assert hand.window.session.path == sample_file("root-c6")
    assert hand.drawn_cm2() > 0


def test_no_case_is_opened_during_a_sitting(hand: Hand, qtbot: QtBot, tmp_path: Path) -> None:
    """Neither dropped, nor a sample, nor a new one: answers of a simulated patient must
    never reach the file of a real one."""
    file = tmp_path / "case.json"
    file.write_bytes(sample_file("stocking-record").read_bytes())
    before = file.read_bytes()
    hand.window.toggle_panel("practice")
    panel = hand.window.panels.practice
    QTest.mouseClick(panel.new, LEFT)
    qtbot.waitUntil(lambda: panel.practising)
    _dropped(hand.window, file)
    hand.window.open_path(file)
    hand.window.new_case()
    assert hand.window.session.path is None
    assert panel.practising
    hand.click(View.FRONT, 60, 400)
    hand.answers.save = tmp_path / "practice.json"
    hand.press(Qt.Key.Key_S, CTRL)
    assert file.read_bytes() == before
    QTest.mouseClick(panel.give_up, LEFT)
    hand.window.open_path(file)
    assert hand.window.session.path == file


def test_a_whole_territory_is_marked_by_keyboard(hand: Hand, qtbot: QtBot) -> None:
    hand.press(Qt.Key.Key_F, CTRL)
    panel = hand.window.panels.find
    qtbot.waitUntil(panel.isVisible)
    QTest.keyClicks(panel.search, "C6 dermatome")
    QTest.keyClick(panel.search, Qt.Key.Key_Return)
    panel.side.setFocus()
    QTest.keyClicks(panel.side, "R")
    panel.mark.setFocus()
    QTest.keyClick(panel.mark, Qt.Key.Key_Space)
    atlas = hand.window.session.atlas
    assert atlas is not None
    wanted = atlas.cells.area_cm2[atlas.cells_of_dermatome("C6", Side.RIGHT)].sum()
    assert hand.drawn_cm2() == pytest.approx(wanted, rel=1e-6)
    assert len(hand.window.session.history.past) == 1


def test_painted_skin_is_told_in_the_list_of_regions(hand: Hand, qtbot: QtBot) -> None:
    hand.press(Qt.Key.Key_R, CTRL)
    panel = hand.window.panels.regions
    qtbot.waitUntil(panel.isVisible)
    hand.press(Qt.Key.Key_B)
    hand.window.session.choose(brush=30.0)
    hand.drag(View.FRONT, (-60, 400), (-60, 380))
    said = [panel.list.item(row).text() for row in range(panel.list.count())]
    assert any("right, a part: reduced pinprick" in words for words in said)
    assert not any("left" in words for words in said)


def test_the_short_note_is_copied(hand: Hand, qtbot: QtBot) -> None:
    hand.window.open_path(sample_file("carpal-tunnel"), untitled=True)
    hand.window.actions_by_id["copy-short-note"].trigger()
    clipboard = QGuiApplication.clipboard()
    qtbot.waitUntil(lambda: "carpal tunnel" in clipboard.text(), timeout=20000)
    assert len(clipboard.text().splitlines()) < 14


def test_samples_stand_beside_an_empty_figure(hand: Hand) -> None:
    browser = hand.window.panels.ranking.reasons
    assert "sample:root-c6" in browser.toHtml()
    browser.anchorClicked.emit(QUrl("sample:root-c6"))
    assert hand.drawn_cm2() > 0
    assert hand.window.session.path is None


def test_a_picture_of_chosen_size(hand: Hand, tmp_path: Path) -> None:
    hand.answers.picture, hand.answers.height = tmp_path / "small.png", 300
    hand.press(Qt.Key.Key_E, CTRL)
    hand.made()
    assert QImage(str(hand.answers.picture)).height() == 300


@pytest.mark.parametrize("tool", [Qt.Key.Key_B, Qt.Key.Key_O])
def test_a_shape_that_cannot_be_computed_is_told_and_changes_nothing(
    hand: Hand, monkeypatch: pytest.MonkeyPatch, tool: Qt.Key
) -> None:
    """The library's own failure, raised where a gesture ends: GEOS does so on shapes that
    nearly coincide."""
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, -75.0, 420.0)
    before = hand.window.session.drawing

    def refuse(*_: object, **__: object) -> None:
        raise shapely.GEOSException("TopologyException: side location conflict")

    hand.press(tool)
    with monkeypatch.context() as patched:
        patched.setattr(shapely, "intersection", refuse)
        hand.drag(View.FRONT, *SQUARE)
    assert hand.window.session.drawing is before
    assert "could not be computed" in hand.window.statusBar().currentMessage()
    hand.drag(View.FRONT, *SQUARE)
    assert hand.window.session.drawing is not before
