"""Unsaved work is offered again; settings and recent cases survive."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.findings.samples import sample_file
from bodymap.gui.app import application
from bodymap.gui.keeping import Keeping
from bodymap.gui.session import Session
from bodymap.gui.settings import read_settings
from bodymap.gui.window import Window
from bodymap.report.appearance import LIGHT
from bodymap.terms import Change, Modality, Side

from .conftest import Answers


@pytest.fixture
def folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("BODYMAP_STATE", str(tmp_path / "state"))
    monkeypatch.setenv("BODYMAP_CONFIG", str(tmp_path / "config"))
    return tmp_path


def _window(qtbot: QtBot, atlas: Atlas) -> Window:
    application()
    window = Window(Session(), Answers(), LIGHT)  # type: ignore[arg-type]
    qtbot.addWidget(window)
    window.keeping = Keeping(window)
    window.show()
    window.session.begin(atlas)
    return window


def test_settings_and_recent_cases_survive(qtbot: QtBot, atlas: Atlas, folders: Path) -> None:
    first = _window(qtbot, atlas)
    first.session.choose(brush=44.0, overlay="nerves")
    case = folders / "hand.json"
    case.write_bytes(sample_file("carpal-tunnel").read_bytes())
    first.open_path(case)
    first.toggle_theme()
    first.close()
    second = _window(qtbot, atlas)
    assert second.session.choices.brush == 44.0
    assert second.session.choices.overlay == "nerves"
    assert second.theme.dark
    assert second.keeping is not None
    assert [a.text() for a in second.keeping.recent.actions()] == ["hand.json"]
    second.keeping.recent.actions()[0].trigger()
    assert second.session.path == case
    second.close()


def test_two_windows_on_one_file_are_noticed(qtbot: QtBot, atlas: Atlas, folders: Path) -> None:
    case = folders / "case.json"
    case.write_bytes(sample_file("root-c6").read_bytes())
    first, second = _window(qtbot, atlas), _window(qtbot, atlas)
    first.open_path(case)
    assert first.keeping is not None
    first.keeping.journalling.journal.flush()
    second.open_path(case)
    assert "also open in another window" in second.statusBar().currentMessage()
    # One saves; the other does not silently write over it.
    for window in (first, second):
        drawing = window.session.drawing.with_region(
            atlas, Modality.PINPRICK, Change.REDUCED, "cheek", Side.LEFT
        )
        window.session.step("cheek", drawing)
    assert first.save_case()
    saved = case.read_bytes()
    assert not second.save_case()
    assert "changed by another hand" in second.statusBar().currentMessage()
    assert case.read_bytes() == saved
    for window in (first, second):
        window.close()


def test_a_clean_close_leaves_nothing_to_restore(qtbot: QtBot, atlas: Atlas, folders: Path) -> None:
    window = _window(qtbot, atlas)
    drawing = window.session.drawing.with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "cheek", Side.LEFT
    )
    window.session.step("cheek", drawing)
    window.close()
    again = _window(qtbot, atlas)
    assert not again.restore_bar.isVisible()
    again.close()
    assert read_settings().recent == ()
