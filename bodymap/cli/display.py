"""Whether a window can be opened, asked before Qt is started.

Where it finds no screen Qt ends the whole process with a message of its own, so
there is nothing to catch afterwards.
"""

import ctypes
import importlib.util
import os
import re
import socket
import sys
from pathlib import Path

from bodymap.language import tr

SECONDS = 2.0


def screen_fault() -> str | None:
    """Why no window can be opened, in a few words; None if nothing speaks against it."""
    if importlib.util.find_spec("PySide6") is None:
        return tr("PySide6 is not installed")
    if not sys.platform.startswith("linux"):
        return None
    chosen = os.environ.get("QT_QPA_PLATFORM", "").split(":")[0].split(";")[0]
    if chosen not in ("", "xcb", "wayland"):
        return None
    display, wayland = os.environ.get("DISPLAY"), os.environ.get("WAYLAND_DISPLAY")
    if wayland and chosen != "xcb" and _wayland_answers(wayland):
        return None
    if chosen == "wayland" or not (display or wayland):
        nothing = not (display or wayland)
        return tr("no display is set") if nothing else tr("the display does not answer")
    if not display or not _x_answers(display):
        return tr("the display {name} does not answer", name=display or wayland)
    return _missing_library()


def _wayland_answers(name: str) -> bool:
    path = Path(os.environ.get("XDG_RUNTIME_DIR", "/")) / name
    return _answers(socket.AF_UNIX, str(path))


def _x_answers(display: str) -> bool:
    """Whether the X server of a DISPLAY such as :0, unix:0 or host:10.0 takes a call."""
    parts = re.fullmatch(r"(.*):(\d+)(?:\.\d+)?", display)
    if parts is None:
        return False
    host, number = parts[1], int(parts[2])
    if host.startswith("/"):
        return _answers(socket.AF_UNIX, display) or _answers(socket.AF_UNIX, f"{host}:{number}")
    if host in ("", "unix") or host.startswith("unix/"):
        local = f"/tmp/.X11-unix/X{number}"
        return _answers(socket.AF_UNIX, local) or _answers(socket.AF_UNIX, "\0" + local)
    try:
        socket.create_connection((host, 6000 + number), SECONDS).close()
    except (OSError, OverflowError):
        return False
    return True


def _answers(family: int, address: str) -> bool:
    with socket.socket(family, socket.SOCK_STREAM) as caller:
        caller.settimeout(SECONDS)
        try:
            caller.connect(address)
        except OSError:
            return False
    return True


def _missing_library() -> str | None:
    """The system library that Qt's X11 part needs and does not find."""
    found = importlib.util.find_spec("PySide6")
    for folder in (found.submodule_search_locations or ()) if found else ():
        plugin = Path(folder) / "Qt" / "plugins" / "platforms" / "libqxcb.so"
        if plugin.is_file():
            try:
                ctypes.CDLL(str(plugin))
            except OSError as error:
                library = str(error).split(":")[0]
                return tr("the system library {library} is missing", library=library)
    return None
