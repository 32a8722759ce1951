"""The guided examination in the real window, by keys and clicks as at the bedside.

Order, ladders and what an answer means are checked in ``tests/examination``; here, that a
hand gets there and how many presses it takes.
"""

import itertools
import re

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from scipy.stats import binom

from bodymap.classification.scores import POINTS
from bodymap.examination.parts import Part
from bodymap.examination.steps import SCREENING, Kind
from bodymap.gui.examination_panel import ExaminationPanel
from bodymap.terms import Change, Modality, Side
from tests.gui.conftest import Hand

Key = Qt.Key


class Bedside:
    """A hand at the guided examination that counts its presses; what the person says is
    pressed as well, but counted apart."""

    def __init__(self, hand: Hand, qtbot: QtBot) -> None:
        self.hand, self.qtbot = hand, qtbot
        self.presses = self.said = 0
        qtbot.waitUntil(hand.window.isActiveWindow)
        hand.press(Key.Key_B, Qt.KeyboardModifier.ControlModifier)
        self.presses += 1
        self.panel: ExaminationPanel = hand.window.panels.examination
        qtbot.waitUntil(self.panel.isVisible)

    def key(self, key: Key) -> None:
        """One press of a key, wherever the focus is."""
        focus = QApplication.focusWidget()
        assert focus is not None
        QTest.keyClick(focus, key)
        self.presses += 1

    def answer_of_the_person(self, wrong: bool = False) -> None:
        """The person says what was done, or the opposite."""
        pages = self.panel.pages
        run = pages.run if self.step.kind is Kind.TRIALS else pages.move_run
        given = run._given
        assert given is not None
        word = next(w for w in run.words if (w != given) is wrong)
        self.key(Key(ord(word[0].upper())))
        self.presses -= 1
        self.said += 1

    @property
    def step(self):  # type: ignore[no-untyped-def]
        """The question in hand."""
        assert self.panel.step is not None
        return self.panel.step

    @property
    def record(self):  # type: ignore[no-untyped-def]
        """What is recorded."""
        return self.hand.window.session.drawing.record

    def go_through(self, abnormal: dict[str, tuple[Key, ...]] | None = None) -> None:
        """Answer everything that is planned, normal but for some steps (by their key)."""
        abnormal = abnormal or {}
        self.panel.pages.romberg.needed = 0.05
        while self.panel.step is not None:
            step = self.step
            if step.key in abnormal:
                for key in abnormal[step.key]:
                    self.key(key)
            elif step.kind is Kind.TRIALS:
                self.key(Key.Key_Space)
                while self.panel.pages.run.running:
                    self.answer_of_the_person()
                self.key(Key.Key_Space)
            elif step.part is Part.JOINT_POSITION:
                self.key(Key.Key_M)
                for _ in step.sides:
                    while self.panel.pages.move_run.running:
                        self.answer_of_the_person()
                    self.key(Key.Key_Space)
            elif step.kind is Kind.ROMBERG:
                self.key(Key.Key_Space)
                self.key(Key.Key_Space)
                romberg = self.panel.pages.romberg
                self.qtbot.waitUntil(romberg.buttons["steady"].isVisible)
                self.key(Key.Key_Space)
            else:
                self.key(Key.Key_Space)
            assert self.panel.step is None or self.panel.step.key != step.key


@pytest.fixture
def bedside(hand: Hand, qtbot: QtBot) -> Bedside:
    return Bedside(hand, qtbot)


def test_a_normal_examination_takes_at_most_sixty_presses(bedside: Bedside) -> None:
    bedside.go_through()
    print(f"{bedside.presses} presses, {bedside.said} answers of the person")
    assert bedside.presses <= 60
    record = bedside.record
    for part in ("light_touch", "pinprick"):
        for side in ("right", "left"):
            assert record.at(part, side) == dict.fromkeys(SCREENING, "2")
    assert record.at("romberg")["result"] == "steady"
    assert record.at("joint_position", "left", "great-toe") == {
        "felt": "normal", "correct": 5, "trials": 5,
    }  # fmt: skip
    assert len(record.at("sharp_dull")[0]["trials"]) == 10
    assert not bedside.hand.drawn_cm2()
    assert "answered" in bedside.panel.title.text()


@pytest.mark.parametrize(
    ("key", "presses", "scores"),
    [("pinprick C6", (Key.Key_R, Key.Key_1), ("1", "2")),
     ("pinprick C6", (Key.Key_L, Key.Key_2), ("2", "0")),
     ("light touch T4", (Key.Key_B, Key.Key_1), ("1", "1"))],
)  # fmt: skip
def test_one_abnormal_point_takes_at_most_three_more(
    hand: Hand, qtbot: QtBot, key: str, presses: tuple[Key, ...], scores: tuple[str, str]
) -> None:
    """Against the count of a normal point, one press; an abnormal point leads to no other
    question of the plan."""
    bedside = Bedside(hand, qtbot)
    assert len(presses) - 1 <= 3
    part = Part.PINPRICK if key.startswith("pin") else Part.LIGHT_TOUCH
    bedside.panel.go_to_part(part)
    while bedside.step.key != key:
        bedside.key(Key.Key_Space)
    for press in presses:
        bedside.key(press)
    assert bedside.step.key != key
    point = key.split()[-1]
    record = bedside.record
    assert (record.at(part.field, "right", point), record.at(part.field, "left", point)) == scores
    assert hand.drawn_cm2() > 0


def test_answers_by_clicks_alone(bedside: Bedside) -> None:
    panel, pages = bedside.panel, bedside.panel.pages
    for _ in range(3):
        QTest.mouseClick(pages.compare.same, Qt.MouseButton.LeftButton)
    assert bedside.step.place == "C6"
    QTest.mouseClick(pages.compare.buttons[Side.LEFT, Change.ABSENT], Qt.MouseButton.LeftButton)
    assert bedside.record.at("light_touch", "left", "C6") == "0"
    assert bedside.record.at("light_touch", "right", "C6") == "2"
    layer = bedside.hand.window.session.drawing.layer(Modality.LIGHT_TOUCH, Change.ABSENT)
    assert layer.regions == {("thumb-dorsal", Side.LEFT)}
    assert panel.step is not None
    assert panel.step.place == "C7"


def test_skip_back_clear_and_undo(bedside: Bedside) -> None:
    first = bedside.step.key
    bedside.key(Key.Key_N)
    second = bedside.step.key
    bedside.key(Key.Key_Space)
    bedside.key(Key.Key_Backspace)
    assert bedside.step.key == second
    assert bedside.panel.clear.isEnabled()
    bedside.key(Key.Key_Delete)
    assert bedside.record.at("light_touch") is None
    bedside.key(Key.Key_Backspace)
    assert bedside.step.key == first
    bedside.hand.window.undo()
    assert bedside.record.at("light_touch", "left", "C4") == "2"
    bedside.hand.window.undo()
    assert not bedside.hand.window.session.drawing


def test_coming_back_changes_one_side_only(bedside: Bedside) -> None:
    bedside.key(Key.Key_Space)
    bedside.key(Key.Key_R)
    bedside.key(Key.Key_1)
    bedside.key(Key.Key_Backspace)
    bedside.key(Key.Key_L)
    bedside.key(Key.Key_2)
    assert bedside.record.at("light_touch") == {"right": {"C4": "1"}, "left": {"C4": "0"}}


def test_not_testable_with_a_reason(bedside: Bedside) -> None:
    bedside.key(Key.Key_Space)
    bedside.panel.remark.setFocus()
    QTest.keyClicks(bedside.panel.remark, "cast")
    QTest.mouseClick(
        bedside.panel.pages.compare.buttons[Side.RIGHT, None], Qt.MouseButton.LeftButton
    )
    assert bedside.record.at("light_touch", "right", "C4") == "NT"
    # Nothing was compared, so nothing is claimed of the other side: it is asked alone.
    assert bedside.record.at("light_touch", "left") is None
    assert bedside.step.place == "C4"
    assert not bedside.panel.pages.compare.labels[Side.RIGHT].isVisible()
    bedside.key(Key.Key_Space)
    assert bedside.record.at("light_touch", "left", "C4") == "2"
    assert bedside.record.at("reasons") == {"light touch right C4": "cast"}
    assert bedside.record.at("remarks") is None


def test_a_remark_is_typed_and_letters_are_no_answers(bedside: Bedside) -> None:
    bedside.key(Key.Key_Space)
    bedside.panel.remark.setFocus()
    QTest.keyClicks(bedside.panel.remark, "Rubber band, 1 n")
    assert bedside.step.place == "C4"
    QTest.mouseClick(bedside.panel.pages.compare.same, Qt.MouseButton.LeftButton)
    assert bedside.record.at("remarks") == {"light touch C4": "Rubber band, 1 n"}


def test_the_letters_of_tools_answer_while_a_question_is_in_hand(bedside: Bedside) -> None:
    tool = bedside.hand.window.session.choices.tool
    for key in (Key.Key_R, Key.Key_B, Key.Key_L):
        bedside.key(key)
    assert bedside.hand.window.session.choices.tool is tool
    assert bedside.panel.pages.compare.side is Side.LEFT


def test_order_and_parts_can_be_changed(bedside: Bedside) -> None:
    parts = bedside.panel.parts
    parts.list.setCurrentRow(4)
    for _ in range(4):
        QTest.mouseClick(parts.up, Qt.MouseButton.LeftButton)
    assert parts.parts[0] is Part.VIBRATION
    assert bedside.panel.course.plan.parts[0] is Part.VIBRATION
    item = parts.list.item(1)
    parts.list.setCurrentItem(item)
    parts.list.setFocus()
    QTest.keyClick(parts.list, Key.Key_Space)
    assert Part.LIGHT_TOUCH not in parts.parts
    assert bedside.panel.step is not None
    assert bedside.panel.step.part is not Part.LIGHT_TOUCH


def test_a_level_in_question_asks_for_every_segment(bedside: Bedside) -> None:
    assert not bedside.panel.level.isVisible()
    while bedside.step.place != "T8":
        bedside.key(Key.Key_Space)
    bedside.key(Key.Key_B)
    bedside.key(Key.Key_2)
    assert bedside.panel.level.isVisible()
    bedside.panel.every.setFocus()
    QTest.keyClick(bedside.panel.every, Key.Key_Space)
    asked = [s.place for s in bedside.panel.course.plan.steps_of(Part.PINPRICK, bedside.record)]
    assert asked[1:] == list(POINTS)
    assert not bedside.panel.level.isVisible()


def test_the_count_stands_beside_the_chance_of_guessing(bedside: Bedside) -> None:
    bedside.panel.go_to_part(Part.SHARP_DULL)
    bedside.key(Key.Key_Space)
    for number in range(10):
        bedside.answer_of_the_person(wrong=number < 2)
    words = bedside.panel.pages.run.tally.text()
    assert words.startswith("8 of 10 right")
    told = float(re.search(r"([\d.]+)%", words)[1])  # type: ignore[index]
    # scipy's binomial tail as an outside reference.
    assert told == pytest.approx(100 * binom.sf(7, 10, 0.5), abs=0.05)
    bedside.key(Key.Key_Space)
    trials = bedside.record.at("sharp_dull")[0]["trials"]
    assert sum(a == b for a, b in trials) == 8


def test_prompts_cannot_be_foreseen(bedside: Bedside) -> None:
    """500 prompts: both kinds near one half, and as often a change as none (5 standard
    deviations, binomial)."""
    run = bedside.panel.pages.run
    run.begin(500)
    for _ in range(500):
        run.said("sharp")
    given = [g for g, _ in run.trials]
    spread = 5 * (500 * 0.25) ** 0.5
    assert abs(given.count("sharp") - 250) < spread
    assert abs(sum(a != b for a, b in itertools.pairwise(given)) - 249.5) < spread


def test_wrong_moves_lead_up_the_limb(bedside: Bedside) -> None:
    bedside.panel.go_to_part(Part.JOINT_POSITION)
    bedside.key(Key.Key_M)
    for number in range(5):
        bedside.answer_of_the_person(wrong=number < 3)
    bedside.key(Key.Key_Space)
    for _ in range(5):
        bedside.answer_of_the_person()
    bedside.key(Key.Key_Space)
    assert bedside.record.at("joint_position", "right", "great-toe") == {
        "felt": "absent", "correct": 2, "trials": 5,
    }  # fmt: skip
    assert bedside.step.place == "ankle"
    assert bedside.step.sides == (Side.RIGHT,)


def test_readings_of_the_fork_by_age(bedside: Bedside) -> None:
    """Lower limit on the leg at 70: 3.5 of 8 (Martina 1998, from memory)."""
    panel = bedside.panel
    panel.go_to_part(Part.VIBRATION)
    panel.age.setFocus()
    bedside.qtbot.wait(10)
    QTest.keyClicks(panel.age, "70")
    QTest.keyClick(panel.age, Key.Key_Return)
    assert bedside.record.at("age") == 70
    assert "3.5/8" in panel.pages.fork.norm.text()
    for side, value in ((Side.RIGHT, "3"), (Side.LEFT, "3.5")):
        box = panel.pages.fork.readings.boxes[side]
        box.setFocus()
        bedside.qtbot.wait(10)
        QTest.keyClicks(box, value)
    QTest.keyClick(panel.pages.fork.readings.boxes[Side.LEFT].lineEdit(), Key.Key_Return)
    assert bedside.record.at("vibration", "right", "great-toe") == {
        "felt": "reduced", "eighths": 3.0,
    }  # fmt: skip
    assert bedside.record.at("vibration", "left", "great-toe") == {
        "felt": "normal", "eighths": 3.5,
    }  # fmt: skip
    assert bedside.step.place == "medial-malleolus"


def test_romberg_begins_with_the_caution_and_can_be_lost_or_left_out(bedside: Bedside) -> None:
    panel = bedside.panel
    panel.go_to_part(Part.ROMBERG)
    assert "ready to catch" in panel.pages.romberg.say.text()
    assert "ready to catch" in panel.caution.text()
    for _ in range(2):
        bedside.key(Key.Key_Space)
    bedside.key(Key.Key_X)
    found = bedside.record.at("romberg")
    assert found["result"] == "lost balance"
    assert found["seconds"] < 5
    panel.go_to_part(Part.ROMBERG)
    panel.remark.setFocus()
    QTest.keyClicks(panel.remark, "cannot stand")
    QTest.mouseClick(panel.pages.romberg.buttons["undone"], Qt.MouseButton.LeftButton)
    assert bedside.record.at("romberg") == {"result": "not done", "reason": "cannot stand"}


def test_filament_and_two_points(bedside: Bedside) -> None:
    panel = bedside.panel
    panel.go_to_part(Part.MONOFILAMENT)
    panel.pages.touches.boxes[Side.LEFT].setValue(1)
    bedside.key(Key.Key_Space)
    assert bedside.record.at("monofilament", "left", "hallux") == {"felt": 1, "of": 3}
    panel.go_to_part(Part.TWO_POINT)
    panel.pages.distances.boxes[Side.RIGHT].setValue(9)
    QTest.mouseClick(panel.pages.distances.take, Qt.MouseButton.LeftButton)
    assert bedside.record.at("two_point") == {"right": {"thumb": 9}}


def test_temperature_at_a_chosen_dermatome(bedside: Bedside) -> None:
    panel = bedside.panel
    panel.go_to_part(Part.TEMPERATURE)
    assert bedside.step.place == "foot"
    panel.pages.cold.point.setFocus()
    QTest.keyClicks(panel.pages.cold.point, "T10")
    QTest.mouseClick(panel.pages.cold.ask, Qt.MouseButton.LeftButton)
    assert (bedside.step.part, bedside.step.place) == (Part.TEMPERATURE, "T10")
    bedside.key(Key.Key_L)
    bedside.key(Key.Key_2)
    assert bedside.record.at("temperature") == {"right": {"T10": "normal"},
                                                "left": {"T10": "absent"}}  # fmt: skip
    assert bedside.hand.drawn_cm2() > 0
    assert bedside.step.place == "foot"


def test_the_note_is_one_click_away(bedside: Bedside, qtbot: QtBot) -> None:
    while bedside.step.place != "C6":
        bedside.key(Key.Key_Space)
    bedside.key(Key.Key_R)
    bedside.key(Key.Key_2)
    QTest.mouseClick(bedside.panel.note, Qt.MouseButton.LeftButton)
    clipboard = QApplication.clipboard()
    qtbot.waitUntil(lambda: "light touch absent at C6, right" in clipboard.text(), timeout=20000)
    assert "Not tested" in clipboard.text()


def test_a_key_that_is_held_down_answers_nothing(bedside: Bedside) -> None:
    held = QKeyEvent(QEvent.Type.KeyPress, Key.Key_1, Qt.KeyboardModifier.NoModifier, "1", True, 1)
    for _ in range(5):
        QApplication.sendEvent(bedside.panel, held)
    assert not bedside.record
    bedside.key(Key.Key_1)
    assert bedside.record.at("reference") == {"light_touch": "none"}


def test_a_cheek_that_is_not_normal_is_no_reference(bedside: Bedside) -> None:
    bedside.key(Key.Key_R)
    bedside.key(Key.Key_2)
    assert bedside.record.at("reference", "light_touch") == "none"
    assert bedside.step.place == "C4"


def test_nothing_that_was_begun_reaches_another_case(bedside: Bedside, qtbot: QtBot) -> None:
    panel, window = bedside.panel, bedside.hand.window
    panel.pages.romberg.needed = 0.2
    bedside.key(Key.Key_N)
    panel.remark.setText("of the person before")
    panel.age.setFocus()
    qtbot.wait(10)
    QTest.keyClicks(panel.age, "81")
    panel.go_to_part(Part.ROMBERG)
    for _ in range(2):
        bedside.key(Key.Key_Space)
    window.new_case()
    qtbot.wait(500)
    assert not window.session.drawing
    assert panel.remark.text() == ""
    assert panel.age.value() == 0
    assert bedside.step.place == "cheek", "what was passed over before is asked again"
    panel.go_to_part(Part.SHARP_DULL)
    bedside.key(Key.Key_Space)
    for _ in range(10):
        bedside.answer_of_the_person()
    window.new_case()
    bedside.key(Key.Key_Space)
    assert bedside.record.at("sharp_dull") is None


def test_a_run_goes_on_while_the_drawing_changes(bedside: Bedside) -> None:
    bedside.panel.go_to_part(Part.JOINT_POSITION)
    bedside.key(Key.Key_M)
    for _ in range(5):
        bedside.answer_of_the_person()
    bedside.key(Key.Key_Space)
    session = bedside.hand.window.session
    session.step("Something else", session.drawing.with_record(
        session.drawing.record.with_value(("age",), 50)))  # fmt: skip
    for _ in range(5):
        bedside.answer_of_the_person()
    bedside.key(Key.Key_Space)
    assert bedside.record.at("joint_position", "right", "great-toe", "correct") == 5
    assert bedside.record.at("joint_position", "left", "great-toe", "correct") == 5


def test_the_spot_of_a_run_is_that_where_it_began(bedside: Bedside) -> None:
    bedside.panel.go_to_part(Part.SHARP_DULL)
    assert bedside.panel.pages.side.isEnabled()
    bedside.key(Key.Key_Space)
    assert not bedside.panel.pages.side.isEnabled()
    assert not bedside.panel.pages.point.isEnabled()


def test_a_reading_below_its_limit_is_not_taken_for_normal(bedside: Bedside) -> None:
    """Lower limit on the leg at 50: 4 of 8 (Martina 1998, from memory)."""
    panel = bedside.panel
    session = bedside.hand.window.session
    session.step("Age", session.drawing.with_record(
        session.drawing.record.with_value(("age",), 50)))  # fmt: skip
    panel.go_to_part(Part.VIBRATION)
    panel.pages.fork.readings.boxes[Side.RIGHT].setValue(1.0)
    panel.pages.compare.same.click()
    assert bedside.record.at("vibration") is None
    assert "reduced" in panel.pages.fork.norm.text()
    panel.pages.fork.readings.boxes[Side.LEFT].setValue(5.0)
    QTest.keyClick(panel.pages.fork.readings.boxes[Side.LEFT].lineEdit(), Key.Key_Return)
    assert bedside.record.at("vibration", "right", "great-toe", "felt") == "reduced"
    assert bedside.record.at("vibration", "left", "great-toe", "felt") == "normal"


def test_a_fall_at_the_tenth_second_is_a_fall(bedside: Bedside, qtbot: QtBot) -> None:
    panel = bedside.panel
    panel.pages.romberg.needed = 0.05
    panel.go_to_part(Part.ROMBERG)
    for _ in range(2):
        bedside.key(Key.Key_Space)
    qtbot.waitUntil(panel.pages.romberg.buttons["steady"].isVisible)
    bedside.key(Key.Key_X)
    assert bedside.record.at("romberg")["result"] == "lost balance"


def test_a_remark_is_kept_where_the_question_is_passed_over(bedside: Bedside) -> None:
    bedside.key(Key.Key_Space)
    bedside.panel.remark.setText("asks for a pause")
    bedside.panel.skip.click()
    assert bedside.record.at("remarks") == {"light touch C4": "asks for a pause"}
    bedside.key(Key.Key_Backspace)
    assert bedside.panel.remark.text() == "asks for a pause"


def test_points_from_the_drawing(hand: Hand, qtbot: QtBot) -> None:
    hand.press(Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    panel = hand.window.panels.regions
    qtbot.waitUntil(panel.isVisible)
    QTest.keyClicks(panel.search, "thumb dorsal")
    QTest.keyClick(panel.search, Key.Key_Return)
    bedside = Bedside(hand, qtbot)
    QTest.mouseClick(bedside.panel.take, Qt.MouseButton.LeftButton)
    assert bedside.record.at("pinprick") == {"right": {"C6": "1"}}


def test_the_figure_shows_where_to_touch(bedside: Bedside) -> None:
    session = bedside.hand.window.session
    bedside.key(Key.Key_Space)
    assert {t.side for t in session.targets} == {Side.RIGHT, Side.LEFT}
    before = bedside.hand.canvas.grab().toImage()
    session.aim(())
    assert before != bedside.hand.canvas.grab().toImage()
    bedside.hand.press(Key.Key_B, Qt.KeyboardModifier.ControlModifier)
    assert not bedside.panel.isVisible()
    assert not session.targets


def test_a_place_that_is_out_of_sight_brings_the_whole_body_back(bedside: Bedside) -> None:
    """While a hand is enlarged the trunk is asked: the place to touch must be seen."""
    while bedside.step.place != "C6":
        bedside.key(Key.Key_Space)
    bedside.hand.look_at("right-hand-back")
    enlarged = bedside.hand.canvas.camera
    bedside.panel.pages.hold_focus()
    bedside.key(Key.Key_Space)
    assert bedside.step.place == "C7"
    assert bedside.hand.canvas.camera == enlarged, "the middle finger is on the same hand"
    while bedside.step.place != "T4":
        bedside.key(Key.Key_Space)
    assert bedside.hand.canvas.camera != enlarged
    for target in bedside.hand.window.session.targets:
        pixel = bedside.hand.pixel(target.view, target.x, target.y)
        assert bedside.hand.canvas.rect().contains(pixel)
