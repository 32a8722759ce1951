"""The window in German, and mirrored: every text, room for it, and sides that stay."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QApplication,
    QComboBox,
    QDockWidget,
    QLabel,
    QLineEdit,
    QListWidget,
    QMenu,
    QTabBar,
    QTextBrowser,
    QWidget,
)
from pytestqt.qtbot import QtBot

from bodymap import language
from bodymap.atlas import Atlas
from bodymap.findings.samples import sample_file, sample_files
from bodymap.gui.app import application
from bodymap.gui.choices import Tool
from bodymap.gui.dictation_panel import EXAMPLE
from bodymap.gui.keeping import Keeping
from bodymap.gui.language_choice import lay_out
from bodymap.gui.panels import PANELS
from bodymap.gui.pointing import words_at
from bodymap.gui.session import Session
from bodymap.gui.settings import read_settings
from bodymap.gui.window import Window
from bodymap.language import ENGLISH, use
from bodymap.report.appearance import LIGHT
from bodymap.terms import Change, Side, View
from tests.english import ENGLISH_WORDS, english_texts
from tests.gui.conftest import Answers, Hand
from tests.gui.test_room_for_text import _clipped

WAYS = Qt.LayoutDirection


@pytest.fixture
def speak(qtbot: QtBot, atlas: Atlas) -> Iterator[object]:
    """Opens a window in a language, mirrored or not."""
    app = application()
    windows: list[Window] = []

    def opened(code: str, mirrored: bool = False) -> Hand:
        use(code)
        app.setLayoutDirection(WAYS.RightToLeft if mirrored else WAYS.LeftToRight)
        window = Window(Session(), Answers(), LIGHT)  # type: ignore[arg-type]
        windows.append(window)
        qtbot.addWidget(window)
        window.resize(1280, 800)
        window.show()
        window.session.begin(atlas)
        qtbot.waitExposed(window)
        return Hand(window, window.questions, qtbot)  # type: ignore[arg-type]

    yield opened
    for window in windows:
        window.close()
    use(ENGLISH)
    app.setLayoutDirection(WAYS.LeftToRight)


def _plain(text: str) -> str:
    document = QTextDocument()
    document.setHtml(text) if "<" in text else document.setPlainText(text)
    return document.toPlainText().replace("&", "")


def _texts(window: Window) -> Iterator[str]:
    """Everything that can be read in the window now."""
    for action in window.actions_by_id.values():
        yield action.text()
        yield action.toolTip()
    for menu in window.findChildren(QMenu):
        yield menu.title()
        yield from (action.text() for action in menu.actions())
    for widget in window.findChildren(QWidget):
        if not widget.isVisible() or widget.objectName().startswith("qt_"):
            continue
        yield widget.accessibleName()
        yield widget.toolTip()
        if isinstance(widget, QLabel | QAbstractButton):
            yield widget.text()
        elif isinstance(widget, QTextBrowser):
            yield widget.toPlainText()
        elif isinstance(widget, QComboBox):
            yield from (widget.itemText(n) for n in range(widget.count()))
        elif isinstance(widget, QLineEdit):
            yield widget.placeholderText()
        elif isinstance(widget, QListWidget):
            yield from (widget.item(n).text() for n in range(widget.count()))
        elif isinstance(widget, QTabBar):
            yield from (widget.tabText(n) for n in range(widget.count()))
        elif isinstance(widget, QDockWidget):
            yield widget.windowTitle()


def test_nothing_in_the_window_is_read_in_english(speak: object, qtbot: QtBot) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    window = hand.window
    window.open_path(sample_file("root-c6"), untitled=True)
    qtbot.waitUntil(lambda: window.session.answer is not None, timeout=20000)
    window.panels.ranking.table.selectRow(0)
    english, faults, read = english_texts("de", _plain), [], 0
    for panel in ("", *PANELS, "levels"):
        if panel:
            window.toggle_panel(panel)
        qtbot.wait(60)
        for text in {_plain(t) for t in _texts(window)}:
            read += 1
            if EXAMPLE in text:  # what is dictated is English
                continue
            if text in english or ENGLISH_WORDS.search(text):
                faults.append(f"{panel}: {text[:90]}")
        if panel:
            window.toggle_panel(panel)
    assert read > 500
    assert not faults, "\n".join(sorted(set(faults)))


@pytest.mark.parametrize("path", sample_files(), ids=lambda path: path.stem)
def test_reasons_questions_and_cautions_of_every_sample_are_german(
    speak: object, qtbot: QtBot, path: Path
) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    window, ranking = hand.window, hand.window.panels.ranking
    window.open_path(path, untitled=True)
    qtbot.waitUntil(lambda: window.session.answer is not None, timeout=20000)
    told = [ranking.verdict.text(), ranking.caution.text(), window.takings.draft()()]
    for row in range(min(8, len(window.session.ranking.candidates))):  # type: ignore[union-attr]
        ranking.table.selectRow(row)
        told.append(ranking.reasons.toPlainText())
    for label, yes, no in ranking.questions.rows:
        told += [label.text(), label.toolTip(), yes.accessibleName(), no.accessibleName()]
    for text in told:
        plain = re.sub(r"<[^>]*>", " ", text)
        found = ENGLISH_WORDS.search(plain)
        assert not found, plain[max(0, found.start() - 60) : found.end() + 60]


def test_practice_is_german_to_its_end(speak: object, qtbot: QtBot) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    window = hand.window
    told: list[str] = []
    window.session.told.connect(lambda sentence, _: told.append(sentence))
    window.toggle_panel("practice")
    panel = window.panels.practice
    panel.start(seed=7)
    told += [panel.complaint.text(), panel.hint.text()]
    assert panel.touched(View.FRONT, *_inside(window, "thenar"))
    panel.targets.search.setText("triceps")
    panel.test_current()
    panel.end()
    qtbot.waitUntil(lambda: not panel.background.busy, timeout=60000)
    told.append(panel.debrief.toPlainText())
    assert len(told) > 4
    for text in told:
        assert not ENGLISH_WORDS.search(text), text


def test_dictation_is_answered_in_german(speak: object) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    hand.window.toggle_panel("dictation")
    panel = hand.window.panels.dictation
    assert "Das Diktat versteht nur Englisch." in panel.heard.toPlainText()
    panel.phrase.setText("Taubheit am Daumen")
    assert "das Diktat versteht nur Englisch" in panel.heard.toPlainText()
    panel.phrase.setText("reduced pinprick over the right 5th finger tip since Tuesday")
    heard = panel.heard.toPlainText()
    assert "Nadelstich vermindert: Kleinfinger palmar" in heard
    assert "Hinweis: Eine Fingerkuppe ist als" in heard
    assert "Nicht verstanden: since tuesday" in heard
    assert not ENGLISH_WORDS.search(heard), heard
    panel.draw_it()
    told = panel.words.toPlainText()
    assert told.startswith("Nadelstich vermindert: Kleinfinger palmar")
    assert told.endswith(", rechts.")
    assert not ENGLISH_WORDS.search(told), told


@pytest.mark.parametrize(
    ("typed", "name"),
    [("fußrücken", "Fußrücken"), ("DORSUM foot middle", "Fußrücken"), ("c6 dermat", "Dermatom C6"),
     ("median carpal tunnel", "N. medianus im Karpaltunnel"), ("karpaltunnel", "N. medianus im "),
     ("skin nerve sural", "Unterschenkeläste des N. suralis"), ("thenar", "Daumenballen (Thenar)")],
)  # fmt: skip
def test_the_search_takes_german_and_english_names(speak: object, typed: str, name: str) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    hand.window.toggle_panel("find")
    panel = hand.window.panels.find
    panel.search.setText(typed)
    shown = [panel.list.item(n) for n in range(panel.list.count())]
    names = [item.text() for item in shown if not item.isHidden()]
    assert any(n.startswith(name) for n in names), names
    assert len(names) < 20


def test_lists_are_searched_in_both_languages(speak: object) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    window = hand.window
    for panel, typed in (
        ("regions", ("daumen palmar", "thumb palmar", "thumb-palmar")),
        ("signs", ("streckung im ellenbogen", "elbow extension")),
        ("practice", ("trizepssehnenreflex reflex", "triceps reflex")),
    ):
        window.toggle_panel(panel)
        search = getattr(window.panels, panel)
        search = search.targets if panel == "practice" else search
        found = set()
        for words in typed:
            search.search.setText(words)
            items = [search.list.item(n) for n in range(search.list.count())]
            found.add(tuple(i.text() for i in items if not i.isHidden()))
        assert len(found) == 1, found
        assert found.pop()


def _inside(window: Window, region: str) -> tuple[float, float]:
    """A point of a named region of the right side in front."""
    atlas = window.session.atlas
    assert atlas is not None
    skin = atlas.skin_of(atlas.cells_of_region(region, Side.RIGHT), View.FRONT)
    assert skin is not None
    point = skin.representative_point()
    return point.x, point.y


def test_what_changed_between_visits_is_told_in_german(speak: object, qtbot: QtBot) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    window = hand.window
    window.open_path(sample_file("neuropathy-visits"), untitled=True)
    window.toggle_panel("visits")
    panel = window.panels.visits
    panel.then.setCurrentIndex(0)
    panel.compare()
    qtbot.waitUntil(lambda: not panel.background.busy, timeout=20000)
    told = panel.text.toPlainText()
    assert "11. März 2024 bis 2. Juni 2025" in told
    assert "Ausfall" in told or "verändert" in told
    assert not ENGLISH_WORDS.search(told), told


def test_the_same_look_at_an_english_window_would_find_hundreds(
    speak: object, qtbot: QtBot
) -> None:
    hand: Hand = speak(ENGLISH)  # type: ignore[operator]
    hand.window.toggle_panel("examination")
    qtbot.wait(60)
    english = english_texts("de", _plain)
    assert sum(_plain(t) in english for t in _texts(hand.window)) > 100


@pytest.mark.parametrize("sample", ["root-c6", "saddle"])
def test_nothing_is_clipped_in_german(speak: object, qtbot: QtBot, sample: str) -> None:
    hand: Hand = speak("de")  # type: ignore[operator]
    window = hand.window
    window.open_path(sample_file(sample), untitled=True)
    qtbot.waitUntil(lambda: window.session.answer is not None, timeout=20000)
    faults = []
    for panel in ("", *PANELS, "levels"):
        if panel:
            window.toggle_panel(panel)
        qtbot.wait(60)
        assert window.size() == QSize(1280, 800), panel
        for widget in window.findChildren(QWidget):
            if widget.isVisible() and not widget.objectName().startswith("qt_"):
                hint = widget.sizeHint()
                whole = widget.width() >= hint.width() and widget.height() >= hint.height()
                cut = None if whole else _clipped(widget)
                faults += [f"{panel}: {cut}"] if cut else []
        if panel:
            window.toggle_panel(panel)
    assert not faults, "\n".join(dict.fromkeys(faults))


@pytest.mark.parametrize("sample", ["neuropathy-visits", "thoracic-level"])
def test_no_panel_has_to_be_moved_sideways_in_german(
    speak: object, qtbot: QtBot, sample: str
) -> None:
    hand = speak("de")  # type: ignore[operator]
    window = hand.window
    window.open_path(sample_file(sample), untitled=True)
    qtbot.waitUntil(lambda: window.session.answer is not None, timeout=20000)
    wide = set()
    for panel in ("", *PANELS):
        if panel:
            window.toggle_panel(panel)
        qtbot.wait(60)
        for area in window.findChildren(QAbstractScrollArea):
            if area.isVisible() and area.horizontalScrollBar().maximum() > 0:
                wide.add(f"{panel}: {type(area).__name__} {area.accessibleName()}")
        if panel:
            window.toggle_panel(panel)
    assert not wide


@pytest.mark.parametrize("code", [ENGLISH, "de"])
def test_a_mirrored_window_never_mirrors_the_figure(speak: object, qtbot: QtBot, code: str) -> None:
    pictures = []
    for mirrored in (False, True):
        hand: Hand = speak(code, mirrored)  # type: ignore[operator]
        hand.window.open_path(sample_file("root-c6"), untitled=True)
        qtbot.waitUntil(lambda h=hand: h.window.session.answer is not None, timeout=20000)
        hand.canvas.setFixedSize(800, 560)
        qtbot.wait(400)
        assert hand.window.layoutDirection() is (WAYS.RightToLeft if mirrored else WAYS.LeftToRight)
        pictures.append(hand.canvas.grab().toImage())
    assert pictures[0] == pictures[1]


@pytest.mark.parametrize("mirrored", [False, True], ids=["left to right", "right to left"])
@pytest.mark.parametrize("code", [ENGLISH, "de"])
def test_a_click_on_the_patients_right_paints_the_right(
    speak: object, atlas: Atlas, code: str, mirrored: bool
) -> None:
    hand: Hand = speak(code, mirrored)  # type: ignore[operator]
    hand.window.session.choose(tool=Tool.REGION, change=Change.ABSENT)
    # In front the patient's right is at x < 0, on the left of the screen (terms.View).
    hand.click(View.FRONT, -60.0, 560.0)
    painted = hand.window.session.drawing.altered_cm2(atlas)
    assert painted[~atlas.cells.left].sum() > 0
    assert painted[atlas.cells.left].sum() == 0
    words = words_at(hand.window.session, View.FRONT, -60.0, 560.0)
    assert words.startswith({ENGLISH: "Right:", "de": "Rechts:"}[code])
    assert hand.pixel(View.FRONT, -60.0, 560.0).x() < hand.pixel(View.FRONT, 60.0, 560.0).x()


def test_fields_of_both_sides_stay_where_the_patients_sides_are(
    speak: object, qtbot: QtBot
) -> None:
    hand: Hand = speak("de", True)  # type: ignore[operator]
    window = hand.window
    window.toggle_panel("levels")
    qtbot.wait(60)
    boxes = window.panels.levels.choices
    right, left = boxes["motor", "right", "C5"], boxes["motor", "left", "C5"]
    assert (
        right.mapTo(window, right.rect().center()).x()
        < left.mapTo(window, left.rect().center()).x()
    )


def test_the_menu_keeps_the_language_for_the_next_start(speak: object) -> None:
    hand: Hand = speak(ENGLISH)  # type: ignore[operator]
    window = hand.window
    window.keeping = Keeping(window)
    menu = next(m for m in window.findChildren(QMenu) if m.title() == "Lan&guage")
    assert [a.text() for a in menu.actions()] == ["English", "Deutsch"]
    assert [a.isChecked() for a in menu.actions()] == [True, False]
    try:
        menu.actions()[1].trigger()
        assert read_settings().language == "de"
        assert "Deutsch" in window.statusBar().currentMessage()
        assert language.language() == ENGLISH
    finally:
        window.choose_language(ENGLISH)
    assert read_settings().language == ENGLISH


def test_a_language_that_is_written_from_right_to_left_mirrors_the_window(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    head = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
    head += '"X-Language-Name: עברית\\n"\n"X-Direction: right-to-left\\n"\n'
    (tmp_path / "he.po").write_text(f'{head}\nmsgid "right"\nmsgstr "ימין"\n', "utf-8")
    monkeypatch.setattr(language, "_folder", lambda: tmp_path)
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    try:
        use("he")
        lay_out(app)
        assert language.languages()["he"] == "עברית"
        assert app.layoutDirection() is WAYS.RightToLeft
    finally:
        use(ENGLISH)
        lay_out(app)
    assert app.layoutDirection() is WAYS.LeftToRight


PROGRAM = """
from PySide6.QtWidgets import QMessageBox
from bodymap.gui.app import application
from bodymap.gui.language_choice import keys_shown, take_language
app = application()
take_language(app)
box = QMessageBox()
box.setStandardButtons(QMessageBox.StandardButton.Cancel)
print(box.buttons()[0].text(), keys_shown("Ctrl+N"))
"""


@pytest.mark.parametrize(
    ("code", "said"), [("", "Cancel Ctrl+N"), ("de", "Abbrechen Strg+N")], ids=["English", "German"]
)
def test_buttons_and_keys_of_qt_speak_the_language(code: str, said: str) -> None:
    environment = os.environ | {language.VARIABLE: code}
    result = subprocess.run(
        [sys.executable, "-c", PROGRAM], capture_output=True, text=True, env=environment,
        encoding="utf-8",
    )  # fmt: skip
    assert result.stdout.replace("&", "").strip() == said, result.stderr
