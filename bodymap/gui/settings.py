"""What survives between two sittings: how the window looked, and the last cases.

Nothing of a case is kept here but the path of its file. A value that is missing, of
another kind or out of range falls back to what bodymap starts with; a folder that
cannot be read or written costs only that.
"""

import base64
import contextlib
import math
import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal, get_args

import platformdirs
from PySide6.QtCore import QSettings

from bodymap.gui.choices import BRUSH_LEAST, BRUSH_MOST, Choices
from bodymap.terms import MAP_NAMES, MapName

ThemeChoice = Literal["system", "light", "dark"]
THEME_CHOICES: tuple[ThemeChoice, ...] = get_args(ThemeChoice)

MOST_RECENT = 10
TEXT_LEAST, TEXT_MOST = 0.75, 2.5
"""Limits of the text scale."""

LARGEST_STATE = 64 * 1024
"""Bytes of a window's geometry or docks; Qt needs a few hundred."""

_START = Choices()


@dataclass(frozen=True)
class Settings:
    """Everything that survives. ``geometry`` and ``docks`` are what QMainWindow.saveGeometry
    and saveState gave; ``recent`` are paths of case files, newest first."""

    theme: ThemeChoice = "system"
    geometry: bytes = b""
    docks: bytes = b""
    overlay: MapName | None = _START.overlay
    overlay_strength: float = _START.overlay_strength
    brush: float = _START.brush
    text_scale: float = 1.0
    language: str = ""
    """Code of the language that was chosen; empty: none was."""
    recent: tuple[Path, ...] = ()


def settings_file(folder: Path | None = None) -> Path:
    """Where the settings are kept (``BODYMAP_CONFIG`` names another folder)."""
    chosen = folder or os.environ.get("BODYMAP_CONFIG") or platformdirs.user_config_dir("bodymap")
    return Path(chosen) / "settings.ini"


def read_settings(file: Path | None = None) -> Settings:
    """The settings in a file; whatever cannot be used is as bodymap starts."""
    store = _store(file)
    start = Settings()
    theme, overlay = _text(store, "theme"), _text(store, "overlay")
    return Settings(
        theme=next((t for t in THEME_CHOICES if t == theme), start.theme),
        geometry=_bytes(store, "geometry"),
        docks=_bytes(store, "docks"),
        overlay=None
        if overlay == "none"
        else next((m for m in MAP_NAMES if m == overlay), start.overlay),
        overlay_strength=_number(store, "overlay_strength", 0.0, 1.0, start.overlay_strength),
        brush=_number(store, "brush", BRUSH_LEAST, BRUSH_MOST, start.brush),
        language=_text(store, "language")[:20],
        text_scale=_number(store, "text_scale", TEXT_LEAST, TEXT_MOST, start.text_scale),
        recent=_recent(_list(store, "recent")),
    )


def write_settings(settings: Settings, file: Path | None = None) -> None:
    """Keep the settings; where that is not possible, nothing happens."""
    store = _store(file)
    with contextlib.suppress(OSError):
        Path(store.fileName()).parent.mkdir(parents=True, exist_ok=True)
    for key, value in (
        ("theme", settings.theme),
        ("geometry", base64.b64encode(settings.geometry).decode("ascii")),
        ("docks", base64.b64encode(settings.docks).decode("ascii")),
        ("overlay", settings.overlay or "none"),
        ("overlay_strength", repr(float(settings.overlay_strength))),
        ("brush", repr(float(settings.brush))),
        ("text_scale", repr(float(settings.text_scale))),
        ("language", settings.language),
        ("recent", [str(path) for path in settings.recent]),
    ):
        store.setValue(f"{_GROUP}/{key}", value)
    store.sync()


def with_recent(settings: Settings, path: Path) -> Settings:
    """The settings after a case file was opened or saved: it is the newest."""
    newest = Path(os.path.abspath(path))
    return replace(settings, recent=_recent([str(newest), *map(str, settings.recent)]))


_GROUP = "window"


def _store(file: Path | None) -> QSettings:
    return QSettings(str(file or settings_file()), QSettings.Format.IniFormat)


def _text(store: QSettings, key: str) -> str:
    value: Any = store.value(f"{_GROUP}/{key}")
    return value if isinstance(value, str) else ""


def _list(store: QSettings, key: str) -> Sequence[str]:
    """A list; Qt gives back a list of one as the one."""
    value: Any = store.value(f"{_GROUP}/{key}")
    if isinstance(value, str):
        return [value]
    return [v for v in value if isinstance(v, str)] if isinstance(value, list) else []


def _bytes(store: QSettings, key: str) -> bytes:
    try:
        found = base64.b64decode(_text(store, key), validate=True)
    except ValueError:
        return b""
    return found if len(found) <= LARGEST_STATE else b""


def _number(store: QSettings, key: str, least: float, most: float, start: float) -> float:
    try:
        found = float(_text(store, key))
    except ValueError:
        return start
    return found if math.isfinite(found) and least <= found <= most else start


def _recent(paths: Sequence[str]) -> tuple[Path, ...]:
    """Existing files, each once, at most so many."""
    found: dict[Path, None] = {}
    for text in paths:
        with contextlib.suppress(OSError, ValueError):
            if text and Path(text).is_file():
                found.setdefault(Path(text))
    return tuple(found)[:MOST_RECENT]
