"""Which running process it is: its number, and a token of when it began.

Numbers of processes are used again, so the number alone does not tell whether the
process that wrote something still runs. The token goes into file names: letters and
digits only, and empty where the system does not tell.
"""

import contextlib
import os
import subprocess
import sys
from pathlib import Path

UNKNOWN = "x"
"""The token where the system does not tell when a process began."""


def began(pid: int) -> str | None:
    """When a process began, as a token; None if it has ended."""
    if sys.platform == "linux":
        return _began_linux(pid)
    if sys.platform == "win32":
        return _began_windows(pid)
    return _began_posix(pid)


def is_running(pid: int, token: str) -> bool:
    """Whether the very process that had this number and token still runs."""
    found = began(pid)
    return found is not None and (token == found or UNKNOWN in (token, found))


def _exists(pid: int) -> bool:
    if pid <= 0:
        return False
    try:
        os.kill(pid, 0)
    except PermissionError:
        return True
    except (OSError, OverflowError):
        return False
    return True


def _began_linux(pid: int) -> str | None:
    """proc(5): state is field 3, the start in clock ticks since the boot field 22."""
    if not _exists(pid):
        return None
    try:
        fields = Path(f"/proc/{pid}/stat").read_text("ascii", "replace").rpartition(")")[2].split()
        boot = Path("/proc/sys/kernel/random/boot_id").read_text("ascii").replace("-", "")
        # A process that ended and waits to be collected answers to signals, but is gone.
        return None if fields[0] in "ZX" else f"{boot[:12].strip()}t{int(fields[19])}"
    except (OSError, IndexError, ValueError):
        return UNKNOWN if _exists(pid) else None


def _began_posix(pid: int) -> str | None:
    if not _exists(pid):
        return None
    with contextlib.suppress(OSError, subprocess.SubprocessError):
        told = subprocess.run(
            ["ps", "-o", "lstart=", "-p", str(pid)],
            capture_output=True,
            text=True,
            timeout=2,
            env={**os.environ, "LC_ALL": "C", "TZ": "UTC"},
        )
        return "".join(c for c in told.stdout if c.isascii() and c.isalnum()) or UNKNOWN
    return UNKNOWN


def _began_windows(pid: int) -> str | None:
    """There os.kill(pid, 0) would interrupt the process, so it is asked otherwise."""
    if sys.platform != "win32":
        return UNKNOWN
    import ctypes
    from ctypes import wintypes

    kernel = ctypes.WinDLL("kernel32", use_last_error=True)
    kernel.OpenProcess.restype = wintypes.HANDLE
    handle = kernel.OpenProcess(0x1000, False, pid)  # PROCESS_QUERY_LIMITED_INFORMATION
    if not handle:
        return UNKNOWN if ctypes.get_last_error() == 5 else None  # 5: access denied
    process = wintypes.HANDLE(handle)
    try:
        times = [wintypes.FILETIME() for _ in range(4)]
        code = wintypes.DWORD()
        if kernel.GetExitCodeProcess(process, ctypes.byref(code)) and code.value != 259:
            return None  # 259: STILL_ACTIVE
        if not kernel.GetProcessTimes(process, *map(ctypes.byref, times)):
            return UNKNOWN
        return f"w{times[0].dwHighDateTime:x}{times[0].dwLowDateTime:08x}"
    finally:
        kernel.CloseHandle(process)
