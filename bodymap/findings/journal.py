"""The crash journal: what is not saved yet, kept outside the window's memory.

Each window writes its whole case into one file of its own after every step, and
removes the file when it closes. A file whose process has ended is therefore work
that nobody saved. The name of the file says which process wrote it, nothing else;
inside stand the path of the case, a hash of the file as it was last read or saved,
and the case. Files are written whole (``whole_file``), in a thread of their own.
"""

import atexit
import contextlib
import hashlib
import os
import re
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import msgspec
import platformdirs

from bodymap.atlas import Atlas
from bodymap.errors import CaseError
from bodymap.faults import cause
from bodymap.findings.case_file import Case, parse_case
from bodymap.findings.case_form import LARGEST_FILE
from bodymap.findings.drawing import Drawing
from bodymap.findings.running import UNKNOWN, began, is_running
from bodymap.findings.whole_file import write_whole
from bodymap.language import tr

FORMAT = "bodymap-journal"
LARGEST = 4 * LARGEST_FILE
"""Bytes. A case as text inside a journal is escaped, so it may grow."""

PART_SECONDS = 3600.0
"""A half-written file that is older than this was left by a process that was killed."""

_NAME = re.compile(r"(\d{1,10})-([0-9A-Za-z]{1,40})-[0-9a-f]{16}\.journal")

Supplier = Callable[[], bytes]


class Page(msgspec.Struct, frozen=True):
    """What stands in a journal. Without ``case`` nothing is unsaved, and only ``path``
    tells other windows what is open here."""

    format: str
    written: float
    path: str | None = None
    file_hash: str | None = None
    case: str | None = None
    case_hash: str | None = None


def journal_folder() -> Path:
    """Where journals are kept (``BODYMAP_STATE`` names another folder)."""
    chosen = os.environ.get("BODYMAP_STATE") or platformdirs.user_state_dir("bodymap")
    return Path(chosen) / "journals"


def file_hash(path: Path | None) -> str | None:
    """The hash of a case file as it lies on the disk, or None if it cannot be read."""
    try:
        return None if path is None else _hash(path.read_bytes())
    except (OSError, ValueError):
        return None


class Wish(NamedTuple):
    """What the journal is to hold: the work on ``path``, or that none is unsaved."""

    path: Path | None
    supplier: Supplier | None


class Journal:
    """The journal of one window. No call waits for the disk but ``flush``, ``adopt`` and
    ``close``. ``failed`` gets a sentence, in another thread, when writing begins to fail."""

    def __init__(
        self, folder: Path | None = None, failed: Callable[[str], None] | None = None
    ) -> None:
        pid = os.getpid()
        name = f"{pid}-{began(pid) or UNKNOWN}-{secrets.token_hex(8)}.journal"
        self.file = (folder or journal_folder()) / name
        self._failed = failed
        self._failing = False
        self._path: Path | None = None
        self._file_hash: str | None = None
        self._wanted: Wish | None = None
        self._look = False
        self._busy = False
        self._closed = False
        self._change = threading.Condition()
        self._thread = threading.Thread(target=self._work, daemon=True, name="journal")
        self._thread.start()
        # A process that ends in good order but without ``close`` still keeps its last step.
        atexit.register(self.flush)

    @property
    def path(self) -> Path | None:
        """The case file that the work belongs to."""
        return self._path

    def rest(self, path: Path | None, as_it_was: bool = False) -> None:
        """Nothing is unsaved; the case is that of ``path``, or has no file.

        The file is looked at again, unless it is still the one that was opened
        (``as_it_was``, after undo).
        """
        self._path = None if path is None else Path(os.path.abspath(path))
        self._want(Wish(self._path, None), look=not as_it_was)

    def note(self, supplier: Supplier) -> None:
        """There is unsaved work; ``supplier`` gives its bytes, in another thread.

        A note that comes before the last one was begun replaces it.
        """
        self._want(Wish(self._path, supplier))

    def adopt(self, left: "LeftOver", path: Path | None) -> bool:
        """Make a left-over journal this window's own, in one step, as work on ``path``;
        False if it is gone, for another window took it."""
        if not self.flush():
            return False
        with self._change:
            try:
                os.replace(left.file, self.file)
            except OSError:
                return False
            self._path = path
            self._file_hash = None if path is None else left.file_hash
            return True

    def file_changed(self) -> bool:
        """Whether another hand has written the case file since it was opened or saved."""
        self.flush()
        now = file_hash(self._path)
        return now is not None and now != self._file_hash

    def flush(self, seconds: float = 5.0) -> bool:
        """Wait until the last note is on the disk; False if that takes too long."""
        with self._change:
            return self._change.wait_for(lambda: not (self._wanted or self._busy), seconds)

    def close(self) -> None:
        """The window was closed in good order: its journal is removed."""
        self.flush()
        with self._change:
            self._closed = True
            self._wanted = None
            self._change.notify_all()
        self._thread.join(5.0)
        atexit.unregister(self.flush)
        _remove(self.file)

    # In the thread of the journal

    def _want(self, wish: Wish, look: bool = False) -> None:
        with self._change:
            if not self._closed:
                self._wanted = wish
                self._look = self._look or look  # a note that follows does not undo it
                self._change.notify_all()

    def _work(self) -> None:
        while True:
            with self._change:
                self._change.wait_for(lambda: self._wanted or self._closed)
                wish, look = self._wanted, self._look
                self._wanted, self._look = None, False
                if wish is None:
                    return
                self._busy = True
            try:
                self._fulfil(wish, look)
                self._failing = False
            except Exception as error:  # whatever fails, the next step is tried again
                self._fail(error)
            finally:
                with self._change:
                    self._busy = False
                    self._change.notify_all()

    def _fulfil(self, wish: Wish, look: bool) -> None:
        if look:
            self._file_hash = file_hash(wish.path)
        path = None if wish.path is None else str(wish.path)
        if wish.supplier is not None:
            data = wish.supplier()
            text = data.decode("utf-8")
            self._put(Page(FORMAT, time.time(), path, self._file_hash, text, _hash(data)))
        elif path is not None:
            self._put(Page(FORMAT, time.time(), path, self._file_hash))
        else:
            _remove(self.file)

    def _put(self, page: Page) -> None:
        self.file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        write_whole(self.file, msgspec.json.encode(page))

    def _fail(self, error: Exception) -> None:
        if not self._failing and self._failed is not None:
            with contextlib.suppress(Exception):
                self._failed(
                    tr(
                        "Unsaved work cannot be kept against a crash ({cause}); save the case "
                        "soon.",
                        cause=cause(error),
                    )
                )
        self._failing = True


@dataclass(frozen=True)
class LeftOver:
    """Unsaved work of a window that is gone."""

    file: Path
    written: datetime
    path: Path | None
    file_hash: str | None
    data: bytes

    def open(self, atlas: Atlas) -> Case:
        """The case as it was left; ``opened`` is what its file holds, or nothing if that is
        not the file any more that this work began from.

        Raises CaseError if this bodymap cannot use the work.
        """
        case = parse_case(self.data, tr("the unsaved work"), atlas)
        with contextlib.suppress(OSError, ValueError, CaseError):
            data = b"" if self.path is None else self.path.read_bytes()
            if _hash(data) == self.file_hash:
                saved = parse_case(data, str(self.path), atlas)
                return replace(saved, drawing=case.drawing, extra=case.extra)
        return replace(case, opened=Drawing())

    @property
    def file_changed(self) -> bool:
        """Whether the case file is no longer the one that this work began from."""
        return self.path is not None and file_hash(self.path) != self.file_hash

    def discard(self) -> None:
        """Remove the journal; the case file is not touched."""
        _remove(self.file)


def left_over(folder: Path | None = None) -> list[LeftOver]:
    """Unsaved work of windows that are gone, newest first. Never raises: a damaged
    journal is passed over, and stays where it is."""
    found = []
    for file in _journals(folder):
        page = None if _writer_runs(file) else _read(file)
        if page is None or page.case is None:
            continue
        path = None if page.path is None else Path(page.path)
        data = page.case.encode("utf-8")
        if file_hash(path) == page.case_hash:
            continue  # the very work stands in its file: it was saved, then came the end
        try:
            written = datetime.fromtimestamp(page.written, UTC)
        except (ValueError, OverflowError, OSError):
            continue
        found.append(LeftOver(file, written, path, page.file_hash, data))
    return sorted(found, key=lambda left: left.written, reverse=True)


def opened_elsewhere(
    path: Path, folder: Path | None = None, besides: Journal | None = None
) -> bool:
    """Whether another living window has this case file open (``besides``: one's own)."""
    for file in _journals(folder):
        if (besides is None or file.name != besides.file.name) and _writer_runs(file):
            page = _read(file)
            if page is not None and page.path is not None and _same(Path(page.path), path):
                return True
    return False


def sweep(folder: Path | None = None) -> None:
    """Remove what windows that are gone left without unsaved work, and half-written files."""
    for file in _journals(folder):
        page = None if _writer_runs(file) else _read(file)
        if page is not None and (
            page.case is None or (page.path and file_hash(Path(page.path)) == page.case_hash)
        ):
            _remove(file)
    with contextlib.suppress(OSError):
        for part in (folder or journal_folder()).glob(".bodymap-*.part"):
            with contextlib.suppress(OSError):
                if time.time() - part.stat().st_mtime > PART_SECONDS:
                    part.unlink()


def _journals(folder: Path | None) -> list[Path]:
    try:
        return [f for f in (folder or journal_folder()).iterdir() if _NAME.fullmatch(f.name)]
    except OSError:
        return []


def _writer_runs(file: Path) -> bool:
    match = _NAME.fullmatch(file.name)
    return match is not None and is_running(int(match[1]), match[2])


def _read(file: Path) -> Page | None:
    try:
        with file.open("rb") as opened:
            page = msgspec.json.decode(opened.read(LARGEST), type=Page)
        text = page.case
        whole = text is None or _hash(text.encode("utf-8")) == page.case_hash
        fits = page.path is None or "\0" not in page.path
        return page if page.format == FORMAT and whole and fits else None
    except (OSError, ValueError, RecursionError):
        return None


def _same(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):
        return os.path.realpath(one) == os.path.realpath(other)


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _remove(file: Path) -> None:
    with contextlib.suppress(OSError):
        file.unlink()
