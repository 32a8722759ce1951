"""Writing a file whole or not at all.

The bytes go to a new file in the same folder, to the disk, are read back and
compared, and only then take the name. Whatever fails before leaves the old file
as it was. This module knows nothing of what the bytes mean.
"""

import contextlib
import os
import secrets
import stat
from pathlib import Path


def write_whole(path: Path, data: bytes) -> None:
    """Write ``data`` to ``path``; a link is followed, permissions are kept.

    A pipe or a device is written straight. Raises OSError, with the old file untouched.
    """
    target = Path(os.path.realpath(path))
    mode = _mode(target)
    if mode is not None and not stat.S_ISREG(mode):
        target.write_bytes(data)  # a folder refuses this by itself
        return
    if mode is not None and not os.access(target, os.W_OK):
        raise PermissionError(13, "it is write-protected", str(path))
    temporary = target.parent / f".bodymap-{secrets.token_hex(8)}.part"
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            with contextlib.suppress(OSError):
                temporary.chmod(stat.S_IMODE(mode))
        if temporary.read_bytes() != data:
            raise OSError("the disk gave back other bytes than were written")
        os.replace(temporary, target)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
    _settle(target.parent)


def _mode(path: Path) -> int | None:
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        return None


def _settle(folder: Path) -> None:
    """Ask the system to keep the new name; some systems cannot, and lose only time."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
