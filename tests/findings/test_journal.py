"""The crash journal: what a killed window had drawn comes back, and nothing damaged does."""

import json
import os
import random
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings import journal as journals
from bodymap.findings.case_file import Case, encode_case, open_case, parse_case, save_case
from bodymap.findings.journal import Journal, left_over, opened_elsewhere, sweep
from bodymap.findings.running import began, is_running
from bodymap.findings.samples import sample_file
from bodymap.terms import View

needs_kill = pytest.mark.skipif(os.name != "posix", reason="kill -9 is a thing of POSIX")

PAINTER = """
import itertools, random, sys, time
from pathlib import Path
import shapely
from bodymap.findings.case_file import Case, encode_case
from bodymap.findings.drawing import Drawing, Layer
from bodymap.findings.journal import Journal
from bodymap.terms import Change, Modality, View

journal, layer = Journal(Path(sys.argv[1])), Layer()
for step in itertools.count(1):
    layer = layer.painted(View.FRONT, shapely.box(10, 560 + 2 * step, 30, 561 + 2 * step))
    drawing = Drawing().with_layer(Modality.PINPRICK, Change.REDUCED, layer)
    case = Case(drawing, {"step": step})
    print(step, flush=True)
    journal.note(lambda case=case: encode_case(case))
    time.sleep(random.uniform(0.0, 0.04))
    journal.flush()  # the next stroke takes longer than one write
"""

OPENER = """
import sys, time
from pathlib import Path
from bodymap.findings.journal import Journal

journal = Journal(Path(sys.argv[1]))
journal.rest(Path(sys.argv[2]))
journal.flush()
print("open", flush=True)
time.sleep(60)
"""


def _start(program: str, *arguments: object) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", program, *map(str, arguments)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def _kill(process: subprocess.Popen[str]) -> str:
    """Kill, read what it still had said, and leave it uncollected (a zombie)."""
    process.send_signal(signal.SIGKILL)
    os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOWAIT)
    assert process.stdout is not None
    return process.stdout.read()


def _collect(process: subprocess.Popen[str]) -> None:
    process.wait()
    assert process.stdout is not None
    process.stdout.close()


def _abandoned(folder: Path, case: Case, path: Path | None = None) -> Path:
    """A journal with unsaved work, as if the process that wrote it had ended."""
    journal = Journal(folder)
    journal.rest(path)
    journal.note(lambda: encode_case(case))
    assert journal.flush()
    dead = folder / f"{os.getpid()}-gone-{os.urandom(8).hex()}.journal"
    journal.file.rename(dead)
    journal.close()
    return dead


@pytest.fixture
def case(atlas: Atlas) -> Case:
    return open_case(sample_file("root-c6"), atlas)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    made = Journal(tmp_path)
    yield made
    made.close()


class TestRoundTrip:
    def test_the_case_comes_back_whole(self, tmp_path: Path, atlas: Atlas, case: Case) -> None:
        file = tmp_path / "a case.json"
        save_case(case, file)
        changed = case.with_drawing(case.drawing.mirrored())
        _abandoned(tmp_path, changed, file)
        (left,) = left_over(tmp_path)
        assert left.data == encode_case(changed)
        found = left.open(atlas)
        cm2 = found.drawing.altered_cm2(atlas) - changed.drawing.altered_cm2(atlas)
        assert abs(cm2).max() < 1e-6
        assert dict(found.extra) == dict(case.extra)
        assert encode_case(found.with_drawing(found.opened)) == encode_case(case)
        assert left.path == file
        assert not left.file_changed
        left.discard()
        assert left_over(tmp_path) == []
        assert file.exists()

    def test_a_name_tells_nothing_of_the_case(self, tmp_path: Path, case: Case) -> None:
        file = _abandoned(tmp_path, case, tmp_path / "secret.json")
        assert "secret" not in file.name
        assert case.drawing

    def test_newest_first(self, tmp_path: Path, case: Case) -> None:
        files = [_abandoned(tmp_path, case) for _ in range(3)]
        assert [left.file for left in left_over(tmp_path)] == files[::-1]

    def test_a_living_window_leaves_nothing(self, journal: Journal, case: Case) -> None:
        journal.note(lambda: encode_case(case))
        assert journal.flush()
        assert journal.file.exists()
        assert left_over(journal.file.parent) == []
        sweep(journal.file.parent)
        assert journal.file.exists()

    def test_closing_removes_it(self, tmp_path: Path, case: Case) -> None:
        journal = Journal(tmp_path)
        journal.note(lambda: encode_case(case))
        journal.close()
        journal.note(lambda: encode_case(case))
        assert list(tmp_path.iterdir()) == []

    def test_saved_work_is_not_offered(self, tmp_path: Path, case: Case) -> None:
        """The end came between saving and the journal's next writing."""
        file = tmp_path / "case.json"
        abandoned = _abandoned(tmp_path, case, file)
        assert len(left_over(tmp_path)) == 1
        save_case(case, file)
        assert left_over(tmp_path) == []
        sweep(tmp_path)
        assert not abandoned.exists()
        assert file.exists()

    def test_a_file_changed_by_another_hand_is_noticed(self, tmp_path: Path, case: Case) -> None:
        file = tmp_path / "case.json"
        save_case(Case(), file)
        _abandoned(tmp_path, case, file)
        file.write_text("another hand")
        assert left_over(tmp_path)[0].file_changed
        assert file.read_text() == "another hand"

    def test_no_folder_no_work(self, tmp_path: Path) -> None:
        assert left_over(tmp_path / "none") == []
        assert not opened_elsewhere(tmp_path / "case.json", tmp_path / "none")
        sweep(tmp_path / "none")

    def test_the_folder_is_the_persons_own(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, case: Case
    ) -> None:
        monkeypatch.setenv("BODYMAP_STATE", str(tmp_path / "state"))
        journal = Journal()
        journal.note(lambda: encode_case(case))
        journal.flush()
        assert journal.file.parent.is_relative_to(tmp_path / "state")
        if os.name == "posix":
            assert journal.file.parent.stat().st_mode & 0o077 == 0
        journal.close()


class TestWriting:
    def test_no_call_waits_and_the_latest_wins(self, journal: Journal, case: Case) -> None:
        begun, go_on, asked = threading.Event(), threading.Event(), list[int]()

        def slow() -> bytes:
            begun.set()
            assert go_on.wait(10)
            return encode_case(case)

        def counted(number: int) -> bytes:
            asked.append(number)
            return encode_case(Case(case.drawing, {"number": number}))

        journal.note(slow)
        assert begun.wait(10)
        for number in range(100):
            journal.note(lambda number=number: counted(number))
        go_on.set()
        assert journal.flush()
        assert asked == [99]
        page = journals._read(journal.file)
        assert page is not None
        assert json.loads(page.case or "")["number"] == 99

    def test_the_hash_of_a_file_survives_a_quick_note(
        self, journal: Journal, tmp_path: Path, case: Case
    ) -> None:
        file = tmp_path / "case.json"
        save_case(case, file)
        journal.rest(file)
        journal.note(lambda: encode_case(case))
        assert not journal.file_changed()
        file.write_text("another hand")
        journal.rest(file, as_it_was=True)
        assert journal.file_changed()
        journal.rest(file)
        assert not journal.file_changed()

    def test_failure_is_told_once_and_the_next_step_is_tried(
        self, tmp_path: Path, case: Case
    ) -> None:
        told: list[str] = []
        blocked = tmp_path / "folder"
        blocked.write_text("a file where the folder should be")
        journal = Journal(blocked, told.append)
        for _ in range(3):
            journal.note(lambda: encode_case(case))
            journal.flush()
        assert len(told) == 1
        assert "save the case soon" in told[0]
        blocked.unlink()
        journal.note(lambda: encode_case(case))
        journal.flush()
        assert journal.file.exists()
        journal.close()

    def test_a_step_that_cannot_be_written_leaves_the_one_before(
        self, journal: Journal, case: Case
    ) -> None:
        journal.note(lambda: encode_case(case))
        journal.flush()
        before = journal.file.read_bytes()
        journal.note(lambda: encode_case(Case(extra={"number": float("nan")})))
        journal.flush()
        assert journal.file.read_bytes() == before

    def test_only_one_window_takes_over(self, tmp_path: Path, atlas: Atlas, case: Case) -> None:
        _abandoned(tmp_path, case)
        (left,) = left_over(tmp_path)
        first, second = Journal(tmp_path), Journal(tmp_path)
        assert first.adopt(left, None)
        assert not second.adopt(left, None)
        assert left_over(tmp_path) == []
        page = journals._read(first.file)
        assert page is not None
        assert parse_case((page.case or "").encode(), "journal", atlas).drawing
        first.close()
        second.close()


class TestDamage:
    @pytest.mark.parametrize("data", [b"", b"{}", b"[" * 5000, b"\xff\xfe", b'{"format": 1}'])
    def test_rubbish_is_passed_over(self, tmp_path: Path, case: Case, data: bytes) -> None:
        (tmp_path / f"1-gone-{'0' * 16}.journal").write_bytes(data)
        (tmp_path / f"1-gone-{'1' * 16}.journal").mkdir()
        (tmp_path / "notes.txt").write_bytes(data)
        good = _abandoned(tmp_path, case)
        assert [left.file for left in left_over(tmp_path)] == [good]
        sweep(tmp_path)
        assert len(list(tmp_path.iterdir())) == 4

    def test_cut_or_altered_work_is_never_offered_as_whole(
        self, tmp_path: Path, case: Case
    ) -> None:
        file = _abandoned(tmp_path, case)
        whole, chance = file.read_bytes(), random.Random(7)
        (kept,) = left_over(tmp_path)
        for _ in range(150):
            place = chance.randrange(len(whole))
            file.write_bytes(whole[:place])
            assert left_over(tmp_path) == []
            altered = bytearray(whole)
            altered[place] ^= 1 << chance.randrange(8)
            file.write_bytes(altered)
            for left in left_over(tmp_path):  # a flip in the time or the path: the case stands
                assert left.data == kept.data
        assert file.exists()

    @pytest.mark.parametrize("written", ["1e400", "-1e300", "1e18"])
    def test_an_impossible_time(self, tmp_path: Path, case: Case, written: str) -> None:
        file = _abandoned(tmp_path, case)
        page = json.loads(file.read_bytes())
        text = json.dumps(page).replace(json.dumps(page["written"]), written)
        file.write_text(text)
        assert left_over(tmp_path) == []

    def test_half_written_files_go_after_a_while(self, tmp_path: Path) -> None:
        old, new = tmp_path / ".bodymap-old.part", tmp_path / ".bodymap-new.part"
        for part in (old, new):
            part.write_bytes(b"half")
        os.utime(old, (0, 0))
        sweep(tmp_path)
        assert not old.exists()
        assert new.exists()


class TestProcesses:
    def test_a_number_used_again_is_another_process(self) -> None:
        token = began(os.getpid())
        assert token is not None
        assert token.isalnum()
        assert is_running(os.getpid(), token)
        if token != "x":
            assert not is_running(os.getpid(), token + "1")
        assert not is_running(2**31 - 1, token)
        assert not is_running(0, token)

    @needs_kill
    def test_killed_at_twenty_moments(self, tmp_path: Path, atlas: Atlas) -> None:
        """The last step or the last but one comes back, always valid."""
        chance, came_back = random.Random(), 0
        for batch in range(5):
            folders = [tmp_path / f"{batch}-{number}" for number in range(4)]
            painters = [_start(PAINTER, folder) for folder in folders]
            for folder, painter in zip(folders, painters, strict=True):
                assert painter.stdout is not None
                painter.stdout.readline()
                threading.Event().wait(chance.uniform(0.0, 0.25))
                said = [1, *map(int, _kill(painter).split())]
                lefts = left_over(folder)
                _collect(painter)
                assert [left.file for left in left_over(folder)] == [left.file for left in lefts]
                if not lefts:
                    assert said == [1]  # killed before the first step was on the disk
                    continue
                (left,) = lefts
                case = left.open(atlas)
                step = case.extra["step"]
                assert step in said[-2:]
                skin = case.drawing.altered_skin(atlas, View.FRONT)
                assert shapely.get_num_geometries(skin) == step
                came_back += 1
        assert came_back >= 10

    @needs_kill
    def test_two_windows_on_one_file(self, tmp_path: Path, journal: Journal, case: Case) -> None:
        file, other = tmp_path / "case.json", tmp_path / "other.json"
        link = tmp_path / "link.json"
        save_case(case, file)
        save_case(case, other)
        link.symlink_to(file)
        journal.rest(file)
        journal.flush()
        assert not opened_elsewhere(file, tmp_path, journal)
        window = _start(OPENER, tmp_path, file)
        assert window.stdout is not None
        assert window.stdout.readline() == "open\n"
        assert opened_elsewhere(file, tmp_path, journal)
        assert opened_elsewhere(link, tmp_path, journal)
        assert not opened_elsewhere(other, tmp_path, journal)
        _kill(window)
        assert not opened_elsewhere(file, tmp_path, journal)
        assert left_over(tmp_path) == []
        _collect(window)
        sweep(tmp_path)
        assert [f for f in tmp_path.glob("*.journal") if f != journal.file] == []
