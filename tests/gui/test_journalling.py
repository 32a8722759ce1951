"""A session whose window is gone comes back, and the bar that offers it."""

import json
import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from bodymap.atlas import Atlas
from bodymap.errors import RequestError
from bodymap.findings.case_file import encode_case, open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.journal import LeftOver, left_over
from bodymap.findings.samples import sample_file
from bodymap.gui.journalling import Journalling
from bodymap.gui.restore_bar import RestoreBar
from bodymap.gui.session import Session
from bodymap.localise.ranking import Scales
from bodymap.terms import Change, Modality, Side

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


@pytest.fixture
def session(qapp: object, atlas: Atlas, scales: Scales) -> Session:
    session = Session()
    session.begin(atlas, scales)
    return session


@pytest.fixture
def journalling(session: Session, tmp_path: Path) -> Iterator[Journalling]:
    made = Journalling(session, tmp_path / "state")
    yield made
    made.close()


def _mark(session: Session, region: str) -> None:
    assert session.atlas is not None
    drawing = session.drawing.with_region(
        session.atlas, Modality.PINPRICK, Change.REDUCED, region, Side.RIGHT
    )
    session.step(f"Mark {region}", drawing)


def _crash(journalling: Journalling) -> LeftOver:
    """What another window would find if this one had been killed now."""
    assert journalling.journal.flush()
    file = journalling.journal.file
    dead = file.with_name(f"{os.getpid()}-gone-{os.urandom(8).hex()}.journal")
    dead.write_bytes(file.read_bytes())
    (left,) = left_over(file.parent)
    return left


def _same(one: Drawing, other: Drawing, atlas: Atlas) -> bool:
    """The same regions by name, and the same skin (where its rings begin may differ)."""
    regions = [{k: layer.regions for k, layer in d.layers.items()} for d in (one, other)]
    cm2 = one.altered_cm2(atlas) - other.altered_cm2(atlas)
    return regions[0] == regions[1] and bool(abs(cm2).max() < 1e-6)


def test_every_step_is_kept_until_it_is_saved(
    session: Session, journalling: Journalling, tmp_path: Path
) -> None:
    journal = journalling.journal
    assert journal.flush()
    assert not journal.file.exists()
    for region in ("thenar", "thumb-palmar"):
        _mark(session, region)
        left = _crash(journalling)
        assert left.data == encode_case(session.case)
        left.discard()
    session.undo()
    left = _crash(journalling)
    assert left.data == encode_case(session.case)
    left.discard()
    session.save(tmp_path / "case.json")
    assert journal.flush()
    assert journalling.left_over() == []
    assert b'"case":null' in journal.file.read_bytes()
    session.new()
    assert journal.flush()
    assert not journal.file.exists()


def test_restored_work_is_unsaved_work_on_the_same_file(
    session: Session, journalling: Journalling, tmp_path: Path, atlas: Atlas
) -> None:
    file = tmp_path / "case.json"
    file.write_bytes(sample_file("root-c6").read_bytes())
    session.open(file)
    _mark(session, "thenar")
    expected, left = session.drawing, _crash(journalling)
    session.new()
    journalling.restore(left)
    assert journalling.journal.flush()
    assert session.dirty
    assert session.path == file
    assert _same(session.drawing, expected, atlas)
    assert journalling.left_over() == []
    assert not left.file.exists()
    session.save(file)
    assert _same(open_case(file, atlas).drawing, expected, atlas)
    session.undo()
    before = open_case(sample_file("root-c6"), atlas)
    assert encode_case(session.case) == encode_case(before)


def test_restored_work_without_a_file_is_unsaved(
    session: Session, journalling: Journalling, atlas: Atlas
) -> None:
    session.open(sample_file("root-c6"), untitled=True)
    _mark(session, "thenar")
    expected, left = session.drawing, _crash(journalling)
    session.new()
    journalling.restore(left)
    assert session.dirty
    assert session.path is None
    assert _same(session.drawing, expected, atlas)
    again = _crash(journalling)  # and it is kept against the next crash at once
    assert again.open(atlas).drawing
    assert dict(again.open(atlas).extra) == dict(session.case.extra)


def test_fields_that_bodymap_does_not_know_come_back(
    session: Session, journalling: Journalling, tmp_path: Path
) -> None:
    entry = {"modality": "pinprick", "change": "reduced", "side": "left",
             "regions": ["thenar"], "note": "after cooling"}  # fmt: skip
    document = {"format": "bodymap-case", "version": 1, "visit": 3, "findings": [entry]}
    for untitled in (False, True):
        file = tmp_path / "case.json"
        file.write_text(json.dumps(document))
        session.open(file, untitled)
        _mark(session, "thumb-palmar")
        left = _crash(journalling)
        session.new()
        journalling.restore(left)
        assert session.path == (None if untitled else file)
        written = json.loads(encode_case(session.case))
        assert written["visit"] == 3
        assert entry in written["findings"]


def test_the_journal_holds_the_work_at_every_moment_of_restoring(
    session: Session, journalling: Journalling
) -> None:
    _mark(session, "thenar")
    left = _crash(journalling)
    session.new()
    seen: list[bool] = []

    def look() -> None:
        assert journalling.journal.flush()
        page = journalling.journal.file.read_bytes()
        seen.append(b"thenar" in page)

    session.drawing_changed.connect(look)
    session.case_changed.connect(look)
    journalling.restore(left)
    assert len(seen) >= 2
    assert all(seen)


def test_a_file_changed_since_is_not_written_over(
    session: Session, journalling: Journalling, tmp_path: Path
) -> None:
    file = tmp_path / "case.json"
    file.write_bytes(sample_file("root-c6").read_bytes())
    session.open(file)
    assert not journalling.file_changed()
    _mark(session, "thenar")
    left = _crash(journalling)
    file.write_bytes(sample_file("saddle").read_bytes())
    assert journalling.file_changed()
    session.undo()
    assert not session.dirty
    assert journalling.file_changed()
    journalling.restore(left)
    assert session.path is None
    assert session.dirty
    session.save(file)
    assert not journalling.file_changed()


def test_work_is_taken_once(session: Session, journalling: Journalling) -> None:
    _mark(session, "thenar")
    left = _crash(journalling)
    left.discard()
    before = session.drawing
    with pytest.raises(RequestError, match="Another window"):
        journalling.restore(left)
    assert session.drawing is before


def test_another_window_on_the_same_file_is_noticed(
    session: Session, journalling: Journalling, tmp_path: Path
) -> None:
    file = tmp_path / "case.json"
    file.write_bytes(sample_file("root-c6").read_bytes())
    other = Session()
    assert session.atlas is not None
    other.begin(session.atlas, session.scales)
    others = Journalling(other, tmp_path / "state")
    other.open(file)
    assert others.journal.flush()
    assert journalling.opened_elsewhere(file)
    assert not others.opened_elsewhere(file)
    others.close()
    assert not journalling.opened_elsewhere(file)


class TestBar:
    @pytest.fixture
    def lefts(self, session: Session, journalling: Journalling) -> list[LeftOver]:
        _mark(session, "thenar")
        left = _crash(journalling)
        return [left, replace(left, file=left.file.with_name("second"), path=Path("/x/c.json"))]

    def test_offers_one_after_the_other(self, qtbot: QtBot, lefts: list[LeftOver]) -> None:
        bar = RestoreBar()
        qtbot.addWidget(bar)
        restored: list[object] = []
        bar.restore.connect(restored.append)
        assert bar.isHidden()
        bar.offer(lefts)
        assert not bar.isHidden()
        assert "a new case" in bar.words.text()
        assert "1 more" in bar.words.text()
        QTest.mouseClick(bar.restore_button, LEFT)
        assert restored == [lefts[0]]
        assert not bar.isHidden()  # whoever restores says when it is done
        bar.settle(lefts[0])
        assert "c.json" in bar.words.text()
        bar.settle(lefts[1])
        assert bar.isHidden()

    def test_discarding_takes_two_presses(self, qtbot: QtBot, lefts: list[LeftOver]) -> None:
        bar = RestoreBar()
        qtbot.addWidget(bar)
        discarded: list[object] = []
        bar.discard.connect(discarded.append)
        bar.offer(lefts)
        QTest.mouseClick(bar.discard_button, LEFT)
        assert discarded == []
        assert "again" in bar.discard_button.accessibleName()
        QTest.mouseClick(bar.discard_button, LEFT)
        assert discarded == [lefts[0]]
        assert bar.discard_button.text() == "Discard"

    def test_has_names_for_a_screen_reader(self, qtbot: QtBot, lefts: list[LeftOver]) -> None:
        bar = RestoreBar()
        qtbot.addWidget(bar)
        bar.offer(lefts)
        for widget in (bar, bar.words, bar.restore_button, bar.discard_button):
            assert widget.accessibleName()
