"""Shared by all tests: no screen needed, a cache of its own, one atlas a session."""

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

# Before anything imports Qt or loads an atlas.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
_cache = tempfile.TemporaryDirectory(prefix="bodymap-tests-")
os.environ["BODYMAP_CACHE"] = _cache.name
os.environ["BODYMAP_STATE"] = os.environ["BODYMAP_CONFIG"] = _cache.name

from bodymap.atlas import Atlas, load_atlas


@pytest.fixture(scope="session")
def atlas() -> Iterator[Atlas]:
    """The atlas that bodymap ships."""
    yield load_atlas()
    assert Path(_cache.name).is_dir()


@pytest.fixture(scope="session", autouse=True)
def _one_application(qapp: object) -> None:
    """One Qt application for all tests: rendering would else start a smaller one that
    the window cannot use."""
