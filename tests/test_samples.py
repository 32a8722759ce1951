"""Every sample shows what it says, through all three doors: core, command line, window."""

import json
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.cli import main
from bodymap.findings.case_file import open_case
from bodymap.findings.samples import sample_files
from bodymap.gui.app import application
from bodymap.gui.session import Session
from bodymap.gui.window import Window
from bodymap.localise.answer import Answer, answered
from bodymap.localise.ranking import Scales
from bodymap.report.ranking_report import as_json

SAMPLES = sample_files()


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


def _answer(path: Path, atlas: Atlas, scales: Scales) -> Answer:
    return answered(scales, open_case(path, atlas).drawing)


def test_there_are_samples_of_every_kind() -> None:
    names = {path.stem for path in SAMPLES}
    assert {"root-c6", "carpal-tunnel", "upper-trunk", "stocking", "saddle", "trunk-band",
            "face-v2", "scattered"} <= names  # fmt: skip


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_core_shows_what_the_sample_says(path: Path, atlas: Atlas, scales: Scales) -> None:
    shows = json.loads(path.read_bytes())["shows"]
    ranking = _answer(path, atlas, scales).ranking
    assert ranking.verdict == shows["verdict"]
    if shows["first"]:
        best = ranking.candidates[0].territory
        assert best.id in shows["first"]
        assert best.side == shows["side"]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_command_line_gives_the_same(
    path: Path, atlas: Atlas, scales: Scales, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["rank", str(path), "--format", "json"]) == 0
    printed = json.loads(capfdbinary.readouterr().out)
    assert printed == json.loads(json.dumps(as_json(_answer(path, atlas, scales))))
    assert len(printed["candidates"]) >= 1
    assert any("does not diagnose" in caution for caution in printed["cautions"])


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_window_gives_the_same(path: Path, atlas: Atlas, scales: Scales, qtbot: QtBot) -> None:
    application()
    window = Window(Session())
    qtbot.addWidget(window)
    window.session.begin(atlas)
    window.open_path(path, untitled=True)
    qtbot.waitUntil(lambda: window.session.answer is not None)
    shown = window.session.ranking
    expected = _answer(path, atlas, scales).ranking
    assert shown is not None
    assert shown.verdict is expected.verdict
    assert [(c.territory.id, c.territory.side, c.support) for c in shown.candidates] == [
        (c.territory.id, c.territory.side, c.support) for c in expected.candidates
    ]
    model = window.panels.ranking.table.model()
    if expected.candidates:
        assert expected.candidates[0].territory.name in model.index(0, 1).data()
