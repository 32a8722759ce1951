"""The window by hand: every test presses, drags or types, and looks at values."""

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QSlider, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from bodymap.findings.samples import sample_file
from bodymap.findings.signs import SignChange
from bodymap.gui.actions import TABLE
from bodymap.gui.panels import PANELS
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.report.appearance import DARK
from bodymap.terms import Change, Modality, Side, View

from .conftest import Hand

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier

# Along the thumb of the right hand, front view, from base to tip.
THUMB = [(-306, 499), (-312, 496), (-318, 493), (-324, 490), (-330, 486)]


def _pixels(hand: Hand) -> np.ndarray:
    """The canvas as colours, without the ring of the brush (the pointer is sent away)."""
    QApplication.sendEvent(hand.canvas, QEvent(QEvent.Type.Leave))
    image = hand.canvas.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    data = np.frombuffer(image.constBits(), dtype=np.uint8)
    return data.reshape(image.height(), image.width(), 4)[:, :, :3].copy()


def _choose(hand: Hand, action: str) -> None:
    button = next(
        b
        for b in hand.window.findChildren(QToolButton)
        if b.defaultAction() is hand.window.actions_by_id[action]
    )
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def test_pin_reduced_thumb_shows_c6_then_undo_save_reopen(hand: Hand, tmp_path: object) -> None:
    """The main job by hand. That the thumb is C6: ISNCSCI 2019 key point."""
    window, session = hand.window, hand.window.session
    _choose(hand, "modality-pinprick")
    _choose(hand, "change-reduced")
    hand.look_at("right-palm")
    session.choose(brush=70.0)
    hand.drag(View.FRONT, *THUMB)
    assert [(m, c) for m, c, _ in session.drawing] == [(Modality.PINPRICK, Change.REDUCED)]
    assert "C6 nerve root, right" in hand.names()[:3]
    assert not any(name.endswith(", left") for name in hand.names()[:3])
    drawn = hand.drawn_cm2()
    assert drawn > 5

    assert window.actions_by_id["undo"].text() == "&Undo: Paint reduced pinprick"
    hand.press(Qt.Key.Key_Z, CTRL)
    assert not session.drawing
    assert hand.names() == []
    hand.press(Qt.Key.Key_Z, CTRL, SHIFT)
    assert hand.drawn_cm2() == pytest.approx(drawn)

    path = hand.answers.save = tmp_path / "thumb.json"  # type: ignore[operator]
    assert window.isWindowModified()
    hand.press(Qt.Key.Key_S, CTRL)
    assert not window.isWindowModified()
    ranked = hand.names()
    hand.press(Qt.Key.Key_N, CTRL)
    assert hand.names() == []
    hand.answers.open = path
    hand.press(Qt.Key.Key_O, CTRL)
    assert hand.names() == ranked
    assert hand.drawn_cm2() == pytest.approx(drawn, rel=1e-9)


def test_ranking_follows_while_the_brush_moves(hand: Hand, qtbot: QtBot) -> None:
    hand.look_at("right-palm")
    points = [hand.pixel(View.FRONT, *p) for p in THUMB]
    QTest.mousePress(hand.canvas, Qt.MouseButton.LeftButton, pos=points[0])
    QTest.mouseMove(hand.canvas, points[2])
    qtbot.waitUntil(lambda: "C6 nerve root, right" in hand.names(), timeout=2000)
    assert not hand.window.session.drawing
    QTest.mouseRelease(hand.canvas, Qt.MouseButton.LeftButton, pos=points[2])
    assert hand.window.session.drawing


def test_escape_gives_a_stroke_up(hand: Hand) -> None:
    hand.look_at("right-palm")
    QTest.mousePress(hand.canvas, Qt.MouseButton.LeftButton, pos=hand.pixel(View.FRONT, *THUMB[0]))
    QTest.mouseMove(hand.canvas, hand.pixel(View.FRONT, *THUMB[3]))
    hand.press(Qt.Key.Key_Escape)
    QTest.mouseRelease(hand.canvas, Qt.MouseButton.LeftButton)
    assert not hand.window.session.drawing
    assert hand.names() == []


def test_eraser_takes_away_and_alt_erases_with_the_brush(hand: Hand) -> None:
    hand.look_at("right-palm")
    hand.drag(View.FRONT, *THUMB)
    before = hand.drawn_cm2()
    hand.press(Qt.Key.Key_E)
    hand.drag(View.FRONT, THUMB[0], THUMB[1])
    after = hand.drawn_cm2()
    assert 0 < after < before
    hand.press(Qt.Key.Key_B)
    QTest.mouseClick(hand.canvas, Qt.MouseButton.LeftButton, ALT, hand.pixel(View.FRONT, *THUMB[4]))
    assert hand.drawn_cm2() < after


def test_region_tool_fills_and_alt_clears(hand: Hand) -> None:
    session = hand.window.session
    hand.press(Qt.Key.Key_R)
    hand.look_at("right-palm")
    hand.click(View.FRONT, *THUMB[2])
    layer = session.drawing.layer(Modality.PINPRICK, Change.REDUCED)
    assert layer.regions == {("thumb-palmar", Side.RIGHT)}
    hand.click(View.FRONT, *THUMB[2], alt=True)
    assert not session.drawing


@pytest.mark.parametrize("number", range(1, 6))
def test_instruments_and_findings_by_key(hand: Hand, number: int) -> None:
    hand.press(Qt.Key(Qt.Key.Key_0 + number), CTRL)
    hand.press(Qt.Key(Qt.Key.Key_0 + number), ALT)
    chosen = hand.window.session.choices
    assert chosen.modality is list(Modality)[number - 1]
    assert chosen.change is list(Change)[number - 1]
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, 60, 400)
    assert [(m, c) for m, c, _ in hand.window.session.drawing] == [(chosen.modality, chosen.change)]


def test_choosing_a_candidate_shows_three_remainders(hand: Hand, qtbot: QtBot) -> None:
    window = hand.window
    window.open_path(sample_file("root-c6"), untitled=True)
    qtbot.waitUntil(lambda: window.session.answer is not None)
    plain = _pixels(hand)
    table = window.panels.ranking.table
    row = table.visualRect(table.model().index(0, 1)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=row)
    chosen = window.session.chosen
    assert chosen is not None
    assert chosen.territory.id == "root-c6"
    parts = window.session.remainders()[View.FRONT]
    assert parts.explained is not None
    assert parts.spared is not None
    text = window.panels.ranking.reasons.toPlainText()
    assert "Explains" in text
    assert "neither drawn nor marked as tested" in text
    assert (plain != _pixels(hand)).any(axis=2).sum() > 300
    hand.press(Qt.Key.Key_Escape)
    assert window.session.chosen is None
    assert np.array_equal(plain, _pixels(hand))


def test_overlays_change_the_picture_and_come_back(hand: Hand) -> None:
    pictures = {}
    for key in "0123":
        hand.press(Qt.Key(ord(key)))
        _pixels(hand)  # asks for the map
        hand.ready()
        pictures[key] = _pixels(hand)
    for one in "0123":
        for other in "0123":
            differ = (pictures[one] != pictures[other]).any(axis=2).sum()
            assert (differ > 2000) == (one != other)
    strength = next(
        s for s in hand.window.findChildren(QSlider) if "Strength" in s.accessibleName()
    )
    strength.setValue(10)
    assert (pictures["3"] != _pixels(hand)).any(axis=2).sum() > 2000


def test_wheel_zooms_at_the_pointer(hand: Hand, qtbot: QtBot) -> None:
    at = QPointF(300, 250)
    before = hand.canvas.camera.to_sheet(at.x(), at.y())
    scale = hand.canvas.camera.scale
    event = QWheelEvent(
        at, hand.canvas.mapToGlobal(at), QPoint(), QPoint(0, 360), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(hand.canvas, event)
    assert hand.canvas.camera.scale > 1.5 * scale
    assert hand.canvas.camera.to_sheet(at.x(), at.y()) == pytest.approx(before, abs=1e-6)
    hand.press(Qt.Key.Key_F)
    assert hand.canvas.camera.scale == pytest.approx(scale)


def test_middle_button_and_space_pan(hand: Hand) -> None:
    hand.look_at("face")
    for button, space in ((Qt.MouseButton.MiddleButton, False), (Qt.MouseButton.LeftButton, True)):
        left = hand.canvas.camera.left
        if space:
            QTest.keyPress(hand.canvas, Qt.Key.Key_Space)
        QTest.mousePress(hand.canvas, button, pos=QPoint(300, 300))
        QTest.mouseMove(hand.canvas, QPoint(340, 320))
        QTest.mouseRelease(hand.canvas, button, pos=QPoint(340, 320))
        if space:
            QTest.keyRelease(hand.canvas, Qt.Key.Key_Space)
        assert hand.canvas.camera.left < left
    assert not hand.window.session.drawing


def test_brush_size_by_keys(hand: Hand) -> None:
    size = hand.window.session.choices.brush
    hand.press(Qt.Key.Key_BracketRight)
    assert hand.window.session.choices.brush > size
    hand.press(Qt.Key.Key_BracketLeft)
    assert hand.window.session.choices.brush == pytest.approx(size)


def test_words_under_the_pointer(hand: Hand) -> None:
    hand.look_at("right-palm")
    hand.drag(View.FRONT, *THUMB)
    QTest.mouseMove(hand.canvas, hand.pixel(View.FRONT, *THUMB[1]))
    said = hand.window._place.text()
    for word in ("Right", "thumb, palmar", "C6", "digital nerves of the thumb",
                 "reduced pinprick"):  # fmt: skip
        assert word in said


def test_regions_by_keyboard_alone(hand: Hand, qtbot: QtBot) -> None:
    """The whole main job without a mouse: search a region, mark it, read the answer."""
    window = hand.window
    hand.press(Qt.Key.Key_R, CTRL)
    qtbot.waitUntil(lambda: window.panels.regions.isVisible())
    QTest.keyClicks(window.panels.regions.search, "thumb palmar")
    QTest.keyClick(window.panels.regions.search, Qt.Key.Key_Return)
    assert "C6 nerve root, right" in hand.names()
    current = window.panels.regions.list.currentItem()
    assert "right: reduced pinprick" in current.text()
    QTest.keyClick(window.panels.regions.list, Qt.Key.Key_Delete)
    assert not window.session.drawing


def test_every_focusable_widget_has_a_name_and_every_action_a_key(hand: Hand) -> None:
    for panel in ("", *PANELS):
        if panel:
            hand.window.toggle_panel(panel)
        for widget in hand.window.findChildren(QWidget):
            own = not widget.objectName().startswith("qt_")
            if own and widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.isVisible():
                said = widget.accessibleName() or getattr(widget, "text", str)()
                assert said, (panel, type(widget), widget.parent())
        if panel:
            hand.window.toggle_panel(panel)
    assert hand.canvas.accessibleName()
    for row in TABLE:
        assert not hand.window.actions_by_id[row.id].shortcut().isEmpty(), row.id
    keys = [row.keys for row in TABLE]
    assert len(keys) == len(set(keys))


def test_unsaved_work_is_asked_about_once(hand: Hand) -> None:
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, 60, 400)
    hand.answers.unsaved = "cancel"
    assert not hand.window.close()
    assert hand.answers.asked == 1
    assert hand.window.session.drawing
    hand.answers.unsaved = "discard"
    assert hand.window.close()
    assert hand.answers.asked == 2


def test_a_bad_file_says_one_sentence_and_changes_nothing(hand: Hand, tmp_path: object) -> None:
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, 60, 400)
    drawing = hand.window.session.drawing
    bad = tmp_path / "bad.json"  # type: ignore[operator]
    bad.write_text('{"format": "bodymap-case", "version": 1, "findings": [{')
    hand.answers.open = bad
    hand.press(Qt.Key.Key_O, CTRL)
    assert "bad.json" in hand.window.statusBar().currentMessage()
    assert hand.window.session.drawing is drawing


def test_dark_and_light(hand: Hand) -> None:
    light = _pixels(hand)
    hand.press(Qt.Key.Key_D, CTRL)
    assert hand.window.theme is DARK
    dark = _pixels(hand)
    assert dark.mean() < light.mean() - 80
    hand.press(Qt.Key.Key_D, CTRL)
    assert np.array_equal(light, _pixels(hand))


def test_caution_is_always_in_sight(hand: Hand) -> None:
    assert hand.window.panels.ranking.caution.isVisible()
    assert "does not diagnose" in hand.window.panels.ranking.caution.text()
    hand.press(Qt.Key.Key_F1)
    assert "local pathway" in hand.answers.told[0]


def test_mirror_moves_findings_to_the_other_side(hand: Hand) -> None:
    hand.look_at("right-palm")
    hand.drag(View.FRONT, *THUMB)
    hand.press(Qt.Key.Key_M, CTRL)
    assert "C6 nerve root, left" in hand.names()[:3]
    assert not any(name.endswith(", right") for name in hand.names()[:3])


def test_a_case_opened_before_the_body_map_is_ready_is_refused_kindly(qtbot: QtBot) -> None:
    window = Window(Session())
    qtbot.addWidget(window)
    window.open_path(sample_file("root-c6"))
    assert "not ready yet" in window.statusBar().currentMessage()


def test_a_name_stays_readable_on_marked_skin(hand: Hand) -> None:
    """Names are written over the marks, with a light edge: the halo colour of the theme
    shows around the letters only once the skin under them is marked."""
    hand.look_at("right-palm")
    halo = np.array([0xF5, 0xF8, 0xFB])  # the light theme's halo, blue first
    before = (_pixels(hand) == halo).all(axis=2).sum()
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, -275, 480)
    after = (_pixels(hand) == halo).all(axis=2).sum()
    assert hand.window.session.drawing
    assert after > before + 20


def test_close_ups_are_one_click_away(hand: Hand) -> None:
    menu = hand.window.close_up_menu
    button = next(b for b in hand.window.findChildren(QToolButton) if b.menu() is menu)
    assert button.isVisible()
    assert len(menu.actions()) == 12
    scale = hand.canvas.camera.scale
    hand.press(Qt.Key.Key_F5)
    assert hand.canvas.camera.scale > 3 * scale


def _wait_for_answer(hand: Hand, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: hand.window.session.answer is not None, timeout=10000)


def test_next_question_is_numbered_on_the_skin_and_answered_with_one_click(
    hand: Hand, qtbot: QtBot
) -> None:
    window, session = hand.window, hand.window.session
    for region in ("little-palmar", "ring-palmar-ulnar", "palm-ulnar"):
        atlas = session.atlas
        assert atlas is not None
        drawing = session.drawing.with_region(
            atlas, Modality.PINPRICK, Change.REDUCED, region, Side.RIGHT
        )
        session.step(region, drawing)
    _wait_for_answer(hand, qtbot)
    panel = window.panels.ranking.questions
    assert panel.isVisible()
    assert len(panel.questions) == 3
    label, yes, no = panel.rows[0]
    assert label.text().startswith("1. ")
    assert yes.accessibleName().endswith(("altered", "weak", "reduced"))
    before = dict(session.drawing.layers), session.drawing.signs.found
    supports = {c.parts: c.support for c in session.ranking.candidates}  # type: ignore[union-attr]
    QTest.mouseClick(no, Qt.MouseButton.LeftButton)
    assert (dict(session.drawing.layers), session.drawing.signs.found) != before
    # The ranking has followed at once, before the questions come anew.
    assert {c.parts: c.support for c in session.ranking.candidates} != supports  # type: ignore[union-attr]
    hand.press(Qt.Key.Key_Z, CTRL)
    assert (dict(session.drawing.layers), session.drawing.signs.found) == before
    _wait_for_answer(hand, qtbot)
    hand.press(Qt.Key.Key_1, CTRL, ALT)
    assert (dict(session.drawing.layers), session.drawing.signs.found) != before


def test_spots_to_test_are_marked_on_the_figure(hand: Hand, qtbot: QtBot) -> None:
    from bodymap.gui.marks import questions_of

    hand.window.open_path(sample_file("saddle"), untitled=True)
    _wait_for_answer(hand, qtbot)
    answer = hand.window.session.answer
    assert answer is not None
    numbers = [n for n, q in enumerate(answer.questions.best, start=1) if q.region]
    marked = questions_of(hand.window.session)
    assert [n for n, _ in marked] == numbers
    assert numbers
    for number, (x, y) in marked:
        at = hand.canvas.camera.to_canvas(x, y)
        place = hand.canvas.place_at(QPointF(*at))
        assert place is not None
        atlas = hand.window.session.atlas
        assert atlas is not None
        found = atlas.place(*place)
        question = answer.questions.best[number - 1]
        assert found is not None
        assert found.region.whole == question.region
        assert found.side is question.side


def test_muscles_and_reflexes_are_noted_by_keyboard_and_move_the_ranking(
    hand: Hand, qtbot: QtBot
) -> None:
    """Triceps and its reflex speak for C7 (MRC 2010, from memory)."""
    window, session = hand.window, hand.window.session
    atlas = session.atlas
    assert atlas is not None
    drawing = session.drawing.with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "index-palmar", Side.RIGHT
    )
    session.step("index finger", drawing)
    before = {c.parts: c.support for c in session.ranking.candidates}  # type: ignore[union-attr]
    hand.press(Qt.Key.Key_G, CTRL)
    assert window.panels.signs.isVisible()
    assert window.panels.signs.search.hasFocus()
    QTest.keyClicks(window.panels.signs.search, "triceps")
    shown = [b.text() for b in window.panels.signs.buttons.values() if b.isVisible()]
    assert shown == ["Weak", "Normal"]
    QTest.mouseClick(window.panels.signs.buttons[SignChange.WEAK], Qt.MouseButton.LeftButton)
    assert session.drawing.signs.found == {("triceps", Side.RIGHT): SignChange.WEAK}
    assert "right weak" in window.panels.signs.list.currentItem().text()
    after = {c.parts: c.support for c in session.ranking.candidates}  # type: ignore[union-attr]
    c7 = (("root-c7", Side.RIGHT),)
    assert after[c7] > before[c7]
    assert window.actions_by_id["undo"].text() == "&Undo: Triceps (right) weak"
    hand.press(Qt.Key.Key_Z, CTRL)
    assert not session.drawing.signs
    QTest.keyClicks(window.panels.signs.search, " reflex")
    shown = [b.text() for b in window.panels.signs.buttons.values() if b.isVisible()]
    assert shown == ["Reduced", "Absent", "Brisk", "Normal"]


def test_a_new_stroke_drops_the_answer_that_was_being_worked_out(hand: Hand, qtbot: QtBot) -> None:
    hand.look_at("right-palm")
    hand.drag(View.FRONT, *THUMB)
    session = hand.window.session
    points = [hand.pixel(View.FRONT, *p) for p in THUMB]
    QTest.mousePress(hand.canvas, Qt.MouseButton.LeftButton, pos=points[0])
    QTest.mouseMove(hand.canvas, points[1])
    assert session.previewing is False
    QTest.mouseRelease(hand.canvas, Qt.MouseButton.LeftButton, pos=points[1])
    _wait_for_answer(hand, qtbot)
    assert session.answer is not None
    assert session.answer.drawing is session.drawing


def test_a_pinned_candidate_stays_on_top_while_painting(hand: Hand) -> None:
    """Also where it has become so improbable that it is in no list."""
    hand.look_at("right-palm")
    hand.drag(View.FRONT, *THUMB)
    table = hand.window.panels.ranking.table
    row = hand.names().index("C6 nerve root, right")
    table.setCurrentIndex(table.model().index(row, 1))
    hand.press(Qt.Key.Key_P)
    assert hand.names()[0] == "◆ C6 nerve root, right"
    hand.window.fit()
    hand.press(Qt.Key.Key_E)
    hand.look_at("right-palm")
    hand.drag(View.FRONT, *THUMB)
    hand.window.fit()
    hand.press(Qt.Key.Key_R)
    for _ in range(2):
        hand.click(View.FRONT, 60, 400)
    hand.click(View.FRONT, 60, 330)
    assert hand.names()[0] == "◆ C6 nerve root, right"
    model = table.model()
    assert int(model.index(0, 0).data()) > 40
    assert model.index(0, 2).data() == "<1%"
    table.setCurrentIndex(model.index(0, 1))
    hand.press(Qt.Key.Key_P)
    assert not any(name.startswith("◆") for name in hand.names())


class _Windows(QObject):
    """Remembers every window that is shown."""

    def __init__(self) -> None:
        super().__init__()
        self.shown: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.shown.append(f"{type(watched).__name__} {watched.accessibleName()}")
        return False


def test_no_part_of_a_panel_flashes_as_a_window_of_its_own(hand: Hand) -> None:
    app, windows = QApplication.instance(), _Windows()
    assert app is not None
    app.installEventFilter(windows)
    for panel in PANELS:
        hand.window.toggle_panel(panel)
        hand.window.toggle_panel(panel)
    app.removeEventFilter(windows)
    assert not windows.shown
