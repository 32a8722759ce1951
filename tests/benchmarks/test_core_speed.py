"""Speed of the core as ratios to a floor measured in the same run.

F is one vectorised shapely intersection of the drawing with every territory, the
least that a program without cells would do. Run with
``pytest tests/benchmarks --benchmark-enable``; the ratios are printed and checked.
Only there: a machine under load must not fail the ordinary tests.
"""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas, load_atlas
from bodymap.atlas.atlas import build
from bodymap.findings.brush import BrushStroke
from bodymap.findings.drawing import Drawing
from bodymap.geometry import stroke
from bodymap.localise.ranking import Scales
from bodymap.terms import Change, Modality, View

pytestmark = pytest.mark.skipif(
    "--benchmark-enable" not in sys.argv, reason="benchmarks run with --benchmark-enable"
)


def median_seconds(work: Callable[[], object], rounds: int = 15) -> float:
    """Median time of a piece of work."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return float(np.median(times))


@pytest.fixture(scope="module")
def drawing(atlas: Atlas) -> Drawing:
    """1,500 vertices and more of painted skin on arm and trunk."""
    rng = np.random.default_rng(3)
    found = Drawing()
    while True:
        track = rng.uniform([40, 480], [300, 760]) + np.cumsum(rng.normal(0, 9, (12, 2)), axis=0)
        brush = stroke(track, float(rng.uniform(4, 9)))
        found = found.painted(atlas, Modality.PINPRICK, Change.REDUCED, View.FRONT, brush)
        skin = found.layer(Modality.PINPRICK, Change.REDUCED).drawn.get(View.FRONT)
        if skin is not None and shapely.get_num_coordinates(skin) >= 1500:
            return found


@pytest.fixture(scope="module")
def floor(atlas: Atlas, drawing: Drawing) -> float:
    """F in seconds."""
    painted = drawing.altered_skin(atlas, View.FRONT)
    skins = [atlas.skin_of(t.extent, View.FRONT) for t in atlas.territories]
    territories = np.array([s for s in skins if s is not None])
    return median_seconds(lambda: shapely.area(shapely.intersection(painted, territories)))


def test_full_rerank_costs_at_most_one_floor(
    atlas: Atlas, drawing: Drawing, floor: float, benchmark: Callable[..., object]
) -> None:
    scales = Scales(atlas)
    benchmark(lambda: scales.rank(drawing.altered_cm2(atlas)))
    ratio = benchmark.stats.stats.median / floor  # type: ignore[attr-defined]
    print(f"full re-rank: {ratio:.2f} F (F = {1e3 * floor:.1f} ms)")
    assert ratio <= 1.0


def test_brush_movement_costs_little(
    atlas: Atlas, drawing: Drawing, floor: float, benchmark: Callable[..., object]
) -> None:
    """Geometry and ranking of one pointer movement, 95th percentile (the repaint is
    measured with the window)."""
    scales = Scales(atlas)
    base = drawing.altered_cm2(atlas)
    rng = np.random.default_rng(5)
    brush = BrushStroke(atlas, View.FRONT, 6.0)
    where = np.array([120.0, 640.0])
    times = []
    for _ in range(400):
        where = np.clip(where + rng.normal(0, 4, 2), [60, 560], [200, 740])
        start = time.perf_counter()
        brush.move_to(*where)
        scales.rank(np.maximum(base, brush.covered_cm2))
        times.append(time.perf_counter() - start)
    benchmark(lambda: brush.move_to(*(where + rng.normal(0, 4, 2))))
    ratio = float(np.quantile(times, 0.95)) / floor
    print(f"brush movement, 95th percentile: {ratio:.3f} F")
    assert ratio <= 0.15


def test_cached_atlas_loads_in_a_fiftieth_of_building(
    atlas: Atlas, tmp_path: Path, benchmark: Callable[..., object]
) -> None:
    building = median_seconds(lambda: build(atlas.facts), rounds=3)
    load_atlas(cache=tmp_path)
    benchmark(lambda: load_atlas(cache=tmp_path))
    ratio = benchmark.stats.stats.median / building  # type: ignore[attr-defined]
    print(f"cached load: 1/{1 / ratio:.0f} of building ({building:.2f} s)")
    assert ratio <= 1 / 50


def test_command_line_help_does_not_pay_for_geometry() -> None:
    program = "import sys, bodymap.cli; sys.exit('shapely' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program]).returncode == 0
