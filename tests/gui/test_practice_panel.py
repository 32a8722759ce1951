"""The practice panel, driven with real clicks and typing. No test knows the lesion by
peeking before it is named."""

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.gui.app import application
from bodymap.gui.practice_panel import PracticePanel
from bodymap.gui.session import Session
from bodymap.localise.ranking import Scales
from bodymap.practice.hidden_patients import Difficulty
from bodymap.practice.sitting import Sitting, Verdict
from bodymap.simulation.lesions import Lesion
from bodymap.terms import Change, Modality, Side, View

LEFT = Qt.MouseButton.LeftButton


class Desk:
    """A student at the panel."""

    def __init__(self, session: Session, panel: PracticePanel, atlas: Atlas, qtbot: QtBot) -> None:
        self._qtbot = qtbot
        self.session, self.panel, self.atlas = session, panel, atlas
        self.window = panel.window()
        self.practising: list[bool] = []
        panel.practising_changed.connect(self.practising.append)

    def click(self, widget: QWidget) -> None:
        QTest.mouseClick(widget, LEFT)

    def touch(self, region: str, side: Side) -> bool:
        """A click on the figure, as the canvas hands it on."""
        cells = self.atlas.cells
        for cell in np.flatnonzero(self.atlas.cells_of_region(region, side)).tolist():
            if cell in cells.in_view(View.FRONT):
                point = cells.polygons[cell].representative_point()
                return self.panel.touched(View.FRONT, point.x, point.y)
        raise AssertionError(region)

    def debrief(self) -> str:
        """What the debrief says once it is made."""
        self._qtbot.waitUntil(lambda: not self.panel.background.busy, timeout=20000)
        return self.panel.debrief.toPlainText()

    def answers(self) -> list[str]:
        touches = self.panel.touches
        return [touches.item(row).text() for row in range(touches.count())]

    def carpal_tunnel(self) -> None:
        """Start, then sit down with a certain patient."""
        self.panel.start(Difficulty.WHOLE, 1)
        assert self.panel.sitting is not None
        self.panel.sitting = Sitting(
            self.panel.sitting.practice, Difficulty.WHOLE, 1, Lesion("median-wrist", Side.RIGHT)
        )


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


@pytest.fixture
def desk(qtbot: QtBot, atlas: Atlas, scales: Scales) -> Desk:
    application()
    session = Session()
    panel = PracticePanel(session)
    window = QMainWindow()
    window.setCentralWidget(panel)
    qtbot.addWidget(window)
    window.resize(380, 680)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    session.begin(atlas, scales)
    return Desk(session, panel, atlas, qtbot)


def test_a_whole_sitting_with_the_mouse(desk: Desk, qtbot: QtBot) -> None:
    panel = desk.panel
    assert not panel.practising
    desk.click(panel.new)
    assert panel.practising
    assert desk.practising == [True]
    assert "It feels wrong" in panel.complaint.text()
    assert desk.touch("index-palmar", Side.RIGHT)
    assert desk.touch("little-palmar", Side.RIGHT)
    assert len(desk.answers()) == 2
    assert desk.answers()[0].startswith("1. pinprick, index finger, palmar (right): ")
    qtbot.keyClicks(panel.lesions.search, "ulnar nerve at the elbow, left")
    desk.click(panel.name_it)
    assert not panel.practising
    assert desk.practising == [True, False]
    assert panel.debrief.isVisible()
    said = desk.debrief()
    for words in ("The truth", "Altered skin", "Your path", "bits", "In the ranking"):
        assert words in said
    desk.click(panel.new)
    assert panel.practising
    assert desk.answers() == []
    assert not desk.session.drawing


def test_a_whole_sitting_with_the_keyboard(desk: Desk, qtbot: QtBot) -> None:
    """From the first key on, without a click."""
    panel = desk.panel
    QTest.keyClick(panel, Qt.Key.Key_N, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: panel.practising)
    desk.carpal_tunnel()
    QTest.keyClick(panel.side, Qt.Key.Key_Home)
    search = panel.targets.search
    assert panel.window().focusWidget() is search
    qtbot.keyClicks(search, "index palmar")
    assert panel.targets.list.isVisible()
    QTest.keyClick(search, Qt.Key.Key_Return)
    assert desk.answers() == ["1. pinprick, index finger, palmar (right): reduced"]
    assert search.text() == ""
    qtbot.keyClicks(search, "finger, palmar")
    first = panel.targets.current
    QTest.keyClick(search, Qt.Key.Key_Down)
    assert panel.targets.current != first
    QTest.keyClick(search, Qt.Key.Key_Escape)
    assert search.text() == ""
    assert not panel.targets.list.isVisible()
    desk.session.choose(modality=Modality.LIGHT_TOUCH)
    assert "In hand: cotton" in panel.hint.text()
    qtbot.keyClicks(search, "little palmar")
    QTest.keyClick(panel.side, Qt.Key.Key_End)
    QTest.keyClick(panel, Qt.Key.Key_T, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: len(desk.answers()) == 2)
    assert desk.answers()[1] == "2. light touch, little finger, palmar (left): normal"
    qtbot.keyClicks(panel.lesions.search, "carpal right")
    # Enter in the field must not end the sitting by accident.
    QTest.keyClick(panel.lesions.search, Qt.Key.Key_Return)
    assert panel.practising
    assert panel.window().focusWidget() is panel.lesions.list
    QTest.keyClick(panel.lesions.list, Qt.Key.Key_Return)
    assert panel.sitting is not None
    assert panel.sitting.verdict is Verdict.RIGHT
    assert "Right: Median nerve at the carpal tunnel, right." in desk.debrief()


def test_muscles_are_tested_from_the_same_field(desk: Desk, qtbot: QtBot) -> None:
    desk.carpal_tunnel()
    QTest.keyClick(desk.panel.side, Qt.Key.Key_Home)
    qtbot.keyClicks(desk.panel.targets.search, "abductor pollicis brevis")
    desk.click(desk.panel.test)
    assert len(desk.answers()) == 1
    assert desk.answers()[0].endswith("(right): weak")
    assert len(desk.session.drawing.signs.found) == 1


def test_answers_are_steps_of_the_session(desk: Desk) -> None:
    session = desk.session
    before = session.drawing.with_region(
        desk.atlas, Modality.PINPRICK, Change.ABSENT, "sole-medial", Side.LEFT
    )
    session.step("Own work", before)
    desk.carpal_tunnel()
    assert not session.drawing
    session.undo()
    assert session.drawing is before
    session.redo()
    desk.touch("index-palmar", Side.RIGHT)
    reduced = session.drawing.layer(Modality.PINPRICK, Change.REDUCED)
    assert reduced.regions == {("index-palmar", Side.RIGHT)}
    assert session.history.undo_name == "pinprick, index finger, palmar (right): reduced"
    desk.touch("index-palmar", Side.LEFT)
    normal = session.drawing.layer(Modality.PINPRICK, Change.NORMAL)
    assert normal.regions == {("index-palmar", Side.LEFT)}


def test_the_truth_is_nowhere_before_the_name(desk: Desk) -> None:
    panel = desk.panel
    told: list[str] = []
    desk.session.told.connect(lambda words, _: told.append(words))
    desk.carpal_tunnel()
    desk.touch("index-palmar", Side.RIGHT)
    texts = [panel.complaint.text(), panel.hint.text(), panel.debrief.toPlainText()]
    texts += desk.answers() + told
    assert not any("median" in t.lower() or "carpal" in t.lower() for t in texts)
    assert not panel.debrief.isVisible()


def test_give_up_tells_the_truth(desk: Desk) -> None:
    desk.carpal_tunnel()
    desk.touch("index-palmar", Side.RIGHT)
    desk.click(desk.panel.give_up)
    assert desk.practising == [True, False]
    assert "The lesion was: Median nerve" in desk.debrief()
    # The debrief of the last patient is gone with the next.
    desk.click(desk.panel.new)
    assert not desk.panel.debrief.isVisible()


def test_the_comparison_can_be_stopped_and_the_truth_is_still_told(desk: Desk) -> None:
    desk.carpal_tunnel()
    desk.touch("index-palmar", Side.RIGHT)
    desk.click(desk.panel.give_up)
    desk.click(desk.panel.background.cancel)
    said = desk.debrief()
    assert "The lesion was: Median nerve" in said
    assert "Your path was not compared." in said


def test_touches_count_only_while_practising(desk: Desk) -> None:
    panel = desk.panel
    assert not desk.touch("index-palmar", Side.RIGHT)
    desk.carpal_tunnel()
    assert not panel.touched(View.FRONT, 900.0, 900.0)
    panel.end()
    assert not desk.touch("index-palmar", Side.RIGHT)
    panel.end()
    panel.name_current()
    panel.test_current()
    assert desk.practising == [True, False]
    assert not desk.session.drawing


def test_difficulty_is_chosen(desk: Desk) -> None:
    panel = desk.panel
    QTest.keyClick(panel.difficulty, Qt.Key.Key_End)
    desk.click(panel.new)
    assert panel.sitting is not None
    assert panel.sitting.difficulty is Difficulty.NOISY


def test_before_the_atlas_nothing_begins(qtbot: QtBot) -> None:
    session = Session()
    panel = PracticePanel(session)
    qtbot.addWidget(panel)
    told: list[bool] = []
    session.told.connect(lambda _, failure: told.append(failure))
    assert not panel.new.isEnabled()
    panel.start()
    assert told == [True]
    assert not panel.practising


def test_everything_has_a_name_and_a_place_in_the_tab_order(desk: Desk) -> None:
    panel = desk.panel
    desk.carpal_tunnel()
    widgets = [
        panel.difficulty, panel.new, panel.targets.search, panel.targets.list, panel.side,
        panel.test, panel.touches, panel.lesions.search, panel.lesions.list, panel.name_it,
        panel.give_up, panel.debrief,
    ]  # fmt: skip
    for widget in widgets:
        assert widget.accessibleName(), widget
        assert widget.focusPolicy() & Qt.FocusPolicy.TabFocus, widget.accessibleName()
    reached, widget = [], panel.difficulty
    for _ in range(60):
        widget = widget.nextInFocusChain()
        if widget in widgets:
            reached.append(widget)
        if widget is panel.difficulty:
            break
    order = [w for w in reached if w is not panel.difficulty]
    assert order == widgets[1:]


@pytest.mark.parametrize("width", [350, 432])
def test_no_button_is_clipped(desk: Desk, qtbot: QtBot, width: int) -> None:
    panel = desk.panel
    panel.window().resize(width, 560)
    desk.carpal_tunnel()
    qtbot.keyClicks(panel.targets.search, "thumb")
    QTest.qWait(1)
    assert panel.width() == width
    for widget in (panel.new, panel.test, panel.name_it, panel.give_up, panel.difficulty):
        needed = widget.fontMetrics().horizontalAdvance(_text(widget))
        assert needed < widget.width(), _text(widget)
    longest = max(map(panel.difficulty.fontMetrics().horizontalAdvance,
                      (d.label for d in Difficulty)))  # fmt: skip
    assert longest + 28 < panel.difficulty.width()  # 28: arrow and frame
    for widget in (panel.new, panel.test, panel.name_it, panel.give_up, panel.difficulty):
        assert panel.rect().contains(widget.mapTo(panel, widget.rect().bottomRight()))


def _text(widget: QWidget) -> str:
    found = widget.property("text") or widget.property("currentText")
    return str(found).replace("&", "")
