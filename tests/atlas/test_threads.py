"""The window, the answer and the pictures ask about the same skin from several threads."""

import subprocess
import sys
from pathlib import Path

import bodymap

TWO_THREADS = """
import threading
import numpy as np
import shapely
from bodymap.atlas import load_atlas
from bodymap.terms import View

atlas, rng = load_atlas(), np.random.default_rng(1)
for _ in range(200):
    track = np.cumsum(rng.normal(0, 9, (60, 2)), axis=0) + [-150, 500]
    skin = shapely.buffer(shapely.LineString(track), 20)
    start, found = threading.Barrier(2), []

    def work():
        start.wait()
        for _ in range(3):
            found.append(atlas.painted_units(View.FRONT, skin)[1].sum())

    threads = [threading.Thread(target=work) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 6 and len(set(found)) == 1, found
    assert not shapely.is_prepared(skin)
"""


def test_two_threads_may_ask_about_the_same_skin() -> None:
    """A shape that two threads prepare at once ends the process, so it is tried in one of
    its own (with shapely 2.2 and a shared prepared shape it ended every time)."""
    done = subprocess.run(
        [sys.executable, "-c", TWO_THREADS], capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stderr


def test_only_copies_are_prepared() -> None:
    package = Path(bodymap.__file__).parent
    users = [p.name for p in package.rglob("*.py") if "shapely.prepare(" in p.read_text("utf-8")]
    assert users == ["geometry.py"]
