"""Drawing with keys in the place of a pointer, and over the edge of a limb."""

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from bodymap.gui.marks import legend_of
from bodymap.practice.hidden_patients import Difficulty
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import Change, Modality, Side, View

from .conftest import Hand

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
CTRL = Qt.KeyboardModifier.ControlModifier
ARROWS = {
    (-1, 0): Qt.Key.Key_Left, (1, 0): Qt.Key.Key_Right,
    (0, -1): Qt.Key.Key_Up, (0, 1): Qt.Key.Key_Down,
}  # fmt: skip

THIGH = (-75.0, 420.0)
EDGE = [(-106.0, 440.0), (-105.0, 420.0), (-103.0, 400.0)]
"""Along the outer edge of the right thigh, front view."""


def _area(hand: Hand, view: View = View.FRONT) -> float:
    """Drawn area of reduced pinprick in a view, square units."""
    skin = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).drawn.get(view)
    return 0.0 if skin is None else float(skin.area)


def _key(hand: Hand, key: Qt.Key, modifier: Qt.KeyboardModifier = NONE) -> None:
    QTest.keyClick(hand.canvas, key, modifier)


def _lead_to(hand: Hand, place: tuple[float, float], view: View = View.FRONT) -> None:
    """Lead the hand to a place with arrow keys alone: first roughly, then finely."""
    for step, modifier in ((8, NONE), (1, CTRL)):
        for axis in (0, 1):
            for _ in range(400):
                at = hand.canvas.hand_at()
                assert at is not None
                goal = hand.pixel(view, *place)
                off = (goal.x() - at.x(), goal.y() - at.y())[axis]
                if abs(off) < step:
                    break
                sign = 1 if off > 0 else -1
                _key(hand, ARROWS[(sign, 0) if axis == 0 else (0, sign)], modifier)


def _begin(hand: Hand, tool: Qt.Key) -> None:
    hand.press(Qt.Key.Key_K)
    assert hand.window.actions_by_id["by-keys"].isChecked()
    assert hand.canvas.hasFocus()
    hand.press(tool)


def test_a_stroke_of_the_brush_without_a_pointer(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, THIGH)
    _key(hand, Qt.Key.Key_Space)
    for _ in range(4):
        _key(hand, Qt.Key.Key_Down)
    assert not hand.window.session.drawing
    _key(hand, Qt.Key.Key_Space)
    assert [s.name for s in hand.window.session.history.past] == ["Paint reduced pinprick"]
    # A capsule: a disc of 22 pixels and a strip of four steps of 8 pixels, by its formula.
    scale = hand.canvas.camera.scale * BODY_LAYOUT[View.FRONT].scale
    wanted = (3.1416 * 11**2 + 22 * 32) / scale**2
    assert _area(hand) == pytest.approx(wanted, rel=0.03)
    atlas = hand.window.session.atlas
    assert atlas is not None
    sides = {bool(atlas.cells.left[n]) for n in
             hand.window.session.drawing.altered_cm2(atlas).nonzero()[0]}  # fmt: skip
    assert sides == {False}
    # Delete sets the same brush down to take away; a second one lifts it.
    _key(hand, Qt.Key.Key_Delete)
    for _ in range(4):
        _key(hand, Qt.Key.Key_Up)
    _key(hand, Qt.Key.Key_Delete)
    assert _area(hand) == pytest.approx(0.0, abs=0.02 * wanted)


def test_lines_round_some_skin_without_a_pointer(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_G)
    for corner in [(-90, 440), (-60, 440), (-60, 400), (-90, 400)]:
        _lead_to(hand, corner)
        _key(hand, Qt.Key.Key_Space)
    _key(hand, Qt.Key.Key_Return)
    assert _area(hand) == pytest.approx(1200, rel=0.12)
    hand.press(Qt.Key.Key_Z, CTRL)
    # The same drawn freely: set down, lead round, lift; the line closes itself.
    hand.press(Qt.Key.Key_O)
    _lead_to(hand, (-90, 440))
    _key(hand, Qt.Key.Key_Space)
    for corner in [(-60, 440), (-60, 400), (-90, 400)]:
        _lead_to(hand, corner)
    _key(hand, Qt.Key.Key_Space)
    assert _area(hand) == pytest.approx(1200, rel=0.12)
    assert len(hand.window.session.history.past) == 1


def test_escape_gives_a_line_up_and_k_ends_it_all(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, THIGH)
    _key(hand, Qt.Key.Key_Space)
    _key(hand, Qt.Key.Key_Down)
    hand.press(Qt.Key.Key_Escape)
    assert not hand.canvas.under_way
    _key(hand, Qt.Key.Key_Space)
    hand.press(Qt.Key.Key_K)
    assert not hand.canvas.under_way
    assert not hand.window.session.drawing
    before = hand.canvas.camera
    _key(hand, Qt.Key.Key_Down)
    assert hand.canvas.camera != before, "arrows move the sheet again"


def test_regions_and_what_lies_under_the_hand(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_R)
    _lead_to(hand, THIGH)
    told = [
        w for w in hand.window.findChildren(QLabel) if w.accessibleName() == "Under the pointer"
    ]
    assert "thigh" in told[0].text()
    _key(hand, Qt.Key.Key_Return)
    regions = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).regions
    assert [side for _, side in regions] == [Side.RIGHT]
    _key(hand, Qt.Key.Key_Delete)
    assert not hand.window.session.drawing


def test_the_hand_stays_on_its_skin_when_the_figure_is_enlarged(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, THIGH)
    before = hand.canvas.pointer_place()
    assert before is not None
    hand.window.zoom_by(3.0)
    after = hand.canvas.pointer_place()
    assert after is not None
    assert after[0] is View.FRONT
    assert after[1:] == pytest.approx(before[1:], abs=0.5)
    # Led on to the border of the canvas, the figure moves and the hand goes on.
    for _ in range(90):
        _key(hand, Qt.Key.Key_Up)
    there = hand.canvas.pointer_place()
    assert there is not None
    assert there[2] > before[2] + 90
    at = hand.canvas.hand_at()
    assert at is not None
    assert hand.canvas.rect().contains(at.toPoint())


def test_a_patient_is_touched_by_keys(hand: Hand) -> None:
    hand.press(Qt.Key.Key_T, CTRL)
    hand.window.panels.practice.start(Difficulty.WHOLE, 3)
    before = hand.window.session.drawing
    hand.press(Qt.Key.Key_K)
    _lead_to(hand, (-310.0, 495.0))
    _key(hand, Qt.Key.Key_Space)
    assert hand.window.session.drawing is not before
    assert hand.window.session.practising


def test_a_stroke_under_way_never_reaches_another_case(hand: Hand) -> None:
    session = hand.window.session
    for begin in (session.new, lambda: hand.window.panels.practice.start(Difficulty.WHOLE, 3)):
        hand.press(Qt.Key.Key_B)
        if not hand.canvas.by_keys:
            hand.press(Qt.Key.Key_K)
        hand.canvas.setFocus()
        _lead_to(hand, THIGH)
        _key(hand, Qt.Key.Key_Space)
        _key(hand, Qt.Key.Key_Down)
        assert hand.canvas.under_way
        begin()
        assert not hand.canvas.under_way
        assert not session.drawing


def test_a_hand_taken_to_other_skin_draws_nothing_on_the_way(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, THIGH)
    _key(hand, Qt.Key.Key_Space)
    _key(hand, Qt.Key.Key_Down)
    hand.press(Qt.Key.Key_F11)
    assert not hand.canvas.under_way
    drawn = _area(hand)
    assert drawn > 0, "what was drawn before is kept"
    _key(hand, Qt.Key.Key_Down)
    assert _area(hand) == drawn
    assert len(hand.window.session.history.past) == 1


def test_a_nudged_mouse_does_not_lead_the_hand_of_the_keys(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, THIGH)
    _key(hand, Qt.Key.Key_Space)
    at = hand.canvas.hand_at()
    QTest.mouseMove(hand.canvas, hand.pixel(View.FRONT, 75.0, 420.0))
    assert hand.canvas.hand_at() == at
    # A press of the mouse is a stroke of its own; what the keys drew is kept.
    hand.click(View.FRONT, 75.0, 420.0)
    names = [step.name for step in hand.window.session.history.past]
    assert names == ["Paint reduced pinprick"] * 2
    spot = _area(hand) / 2
    scale = hand.canvas.camera.scale * BODY_LAYOUT[View.FRONT].scale
    assert spot == pytest.approx(3.1416 * (11 / scale) ** 2, rel=0.03)


def test_the_ring_is_as_wide_as_the_stroke_when_the_figure_is_enlarged(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, THIGH)
    _key(hand, Qt.Key.Key_Space)
    hand.window.zoom_by(3.0)
    at = hand.canvas.hand_at()
    assert at is not None

    image = QImage(hand.canvas.size(), QImage.Format.Format_ARGB32_Premultiplied)
    hand.canvas.render(image)
    ink = QColor(hand.window.theme.accent)

    def inked(x: int) -> bool:
        seen = image.pixelColor(round(at.x()) + x, round(at.y()))
        off = seen.red() - ink.red(), seen.green() - ink.green(), seen.blue() - ink.blue()
        return max(map(abs, off)) < 30

    # A brush of 22 pixels draws 66 pixels wide on skin that was enlarged three times.
    assert any(map(inked, (32, 33, 34)))
    assert not any(map(inked, range(14, 30)))


def test_what_a_press_brought_about_is_said(hand: Hand, monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []
    monkeypatch.setattr(hand.canvas.keys, "_say", said.append)
    _begin(hand, Qt.Key.Key_R)
    _lead_to(hand, THIGH)
    said.clear()
    _key(hand, Qt.Key.Key_Space)
    assert len(said) == 1
    assert "found: reduced pinprick" in said[0]
    hand.press(Qt.Key.Key_T, CTRL)
    hand.window.panels.practice.start(Difficulty.WHOLE, 3)
    said.clear()
    _key(hand, Qt.Key.Key_Space)
    touches = hand.window.panels.practice.touches
    assert said[0] == touches.item(0).text()
    assert "Hand set down" not in said


def _back_of_thigh(hand: Hand) -> QColor:
    """What the canvas shows on the back of the right thigh, just inside its outer edge."""
    image = QImage(hand.canvas.size(), QImage.Format.Format_ARGB32_Premultiplied)
    hand.canvas.render(image)
    # From behind the patient's right is at x > 0.
    return image.pixelColor(hand.pixel(View.BACK, 101.0, 421.0))


def test_what_a_brush_paints_beyond_the_edge_is_seen_while_it_moves(
    hand: Hand, qtbot: QtBot
) -> None:
    hand.press(Qt.Key.Key_B)
    hand.window.session.choose(brush=24.0)
    before = _back_of_thigh(hand)
    points = [hand.pixel(View.FRONT, *place) for place in EDGE]
    QTest.mousePress(hand.canvas, LEFT, NONE, points[0])
    for point in points[1:]:
        QTest.mouseMove(hand.canvas, point)
    qtbot.waitUntil(lambda: _back_of_thigh(hand) != before, timeout=5000)
    assert not hand.window.session.drawing
    QTest.mouseRelease(hand.canvas, LEFT, NONE, points[-1])
    assert _area(hand, View.BACK) > 20


def test_an_outline_ends_at_the_edge_unless_shift_is_held(hand: Hand) -> None:
    corners = [(-120.0, 440.0), (-80.0, 440.0), (-80.0, 400.0), (-120.0, 400.0)]
    hand.press(Qt.Key.Key_G)
    for corner in corners:
        hand.click(View.FRONT, *corner)
    QTest.keyClick(hand.canvas, Qt.Key.Key_Return)
    assert _area(hand) > 500
    assert _area(hand, View.BACK) == 0.0
    hand.press(Qt.Key.Key_Z, CTRL)
    for corner in corners:
        hand.click(View.FRONT, *corner)
    QTest.keyClick(hand.canvas, Qt.Key.Key_Return, SHIFT)
    atlas = hand.window.session.atlas
    assert atlas is not None
    skin = hand.window.session.drawing.layer(Modality.PINPRICK, Change.REDUCED).drawn[View.BACK]
    place = skin.representative_point()
    found = atlas.place(View.BACK, place.x, place.y)
    assert found is not None
    assert found.side is Side.RIGHT
    assert len(hand.window.session.history.past) == 1


def test_the_line_shows_where_it_goes_on(hand: Hand) -> None:
    hand.press(Qt.Key.Key_G)
    for corner in [(-120.0, 440.0), (-80.0, 440.0), (-80.0, 400.0)]:
        hand.click(View.FRONT, *corner)
    before = _back_of_thigh(hand)
    hand.canvas.lead(QPointF(hand.pixel(View.FRONT, -120.0, 400.0)), down=False)
    assert _back_of_thigh(hand) == before
    QTest.mouseMove(hand.canvas, hand.pixel(View.FRONT, -119.0, 401.0))
    hand.canvas.lead(QPointF(hand.pixel(View.FRONT, -120.0, 400.0)), False, other_way=True)
    assert _back_of_thigh(hand) != before


def test_undo_gives_up_the_stroke_under_way_first(hand: Hand) -> None:
    hand.press(Qt.Key.Key_R)
    hand.click(View.FRONT, *THIGH)
    _begin(hand, Qt.Key.Key_B)
    _lead_to(hand, (75.0, 420.0))
    _key(hand, Qt.Key.Key_Space)
    _key(hand, Qt.Key.Key_Down)
    hand.press(Qt.Key.Key_Z, CTRL)
    assert not hand.canvas.under_way
    assert len(hand.window.session.history.past) == 1, "the region is still there"
    hand.press(Qt.Key.Key_Z, CTRL)
    assert not hand.window.session.drawing


def test_k_brings_the_keys_back_from_a_panel(hand: Hand) -> None:
    _begin(hand, Qt.Key.Key_B)
    hand.window.panels.ranking.table.setFocus()
    hand.press(Qt.Key.Key_K)
    assert hand.canvas.by_keys
    assert hand.canvas.hasFocus()
    assert hand.window.actions_by_id["by-keys"].isChecked()
    hand.press(Qt.Key.Key_K)
    assert not hand.canvas.by_keys


@pytest.mark.parametrize("shown", ["plexus", "compare", "find"])
def test_findings_are_seen_as_soon_as_skin_is_marked(hand: Hand, shown: str) -> None:
    window = hand.window
    window.toggle_panel(shown)
    if shown == "plexus":
        QTest.mouseClick(window.panels.plexus.graph.buttons["upper-trunk"], LEFT)
    elif shown == "compare":
        window.panels.compare.first.name("root-c6")
        window.panels.compare.second.name("median-wrist")
        window.panels.compare.compare()
    else:
        QTest.keyClicks(window.panels.find.search, "C6 dermatome")
        QTest.keyClick(window.panels.find.search, Qt.Key.Key_Return)
    assert window.session.covered
    hand.press(Qt.Key.Key_B)
    hand.drag(View.FRONT, THIGH, (-75.0, 400.0))
    assert not window.session.covered
    assert [style.label for style, _ in legend_of(window.session)] == ["reduced"]
    if shown == "plexus":
        assert not window.panels.plexus.graph.cut
