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
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bodymap.atlas import Atlas, load_atlas
from bodymap.atlas.atlas import build
from bodymap.findings.brush import BrushStroke
from bodymap.findings.drawing import Drawing
from bodymap.localise.answer import answered
from bodymap.localise.evidence import Evidence
from bodymap.localise.hypotheses import Row
from bodymap.localise.likelihood import Likelihoods
from bodymap.localise.ranking import Scales
from bodymap.terms import Change, Modality, Side, View

from .timing import median_seconds

pytestmark = pytest.mark.skipif(
    "--benchmark-enable" not in sys.argv, reason="benchmarks run with --benchmark-enable"
)


def _fresh(drawing: Drawing) -> Drawing:
    """The same drawing, of which nothing has been worked out yet."""
    return replace(drawing, layers={kind: replace(la) for kind, la in drawing.layers.items()})


def test_full_rerank_costs_at_most_one_floor(
    atlas: Atlas, drawing: Drawing, floor: float, benchmark: Callable[..., object]
) -> None:
    """All single hypotheses (levels and cut heights among them), from nothing."""
    scales = Scales(atlas)

    def work() -> None:
        evidence = Evidence.of(scales.catalogue.spots, _fresh(drawing))
        scales.rank(evidence, pairs=False)

    benchmark(work)
    ratio = benchmark.stats.stats.median / floor  # type: ignore[attr-defined]
    looks = sum(len(f.vectors) * len(f.states.names) for f in scales.likelihoods.families)
    print(f"full re-rank of {scales.likelihoods.rows} rows ({looks} looks): {ratio:.2f} F "
          f"(F = {1e3 * floor:.1f} ms)")  # fmt: skip
    assert ratio <= 1.0


def test_brush_movement_costs_little(
    atlas: Atlas, drawing: Drawing, floor: float, benchmark: Callable[..., object]
) -> None:
    """Geometry and ranking of one pointer movement, 95th percentile (the repaint is
    measured with the window). The ranking follows every movement here."""
    scales = Scales(atlas)
    base = Evidence.of(scales.catalogue.spots, drawing)
    sums = scales.likelihoods.sums(base.columns)
    rng = np.random.default_rng(5)
    brush = BrushStroke(atlas, View.FRONT, 6.0)
    where = np.array([120.0, 640.0])
    times = []
    for _ in range(400):
        where = np.clip(where + rng.normal(0, 4, 2), [60, 560], [200, 740])
        start = time.perf_counter()
        brush.move_to(*where)
        now = base.with_painted(Modality.PINPRICK, Change.REDUCED, brush.covered_cm2)
        fresh = sums.copy()
        scales.likelihoods.add_change(fresh, now.columns - base.columns)
        scales.rank(now, pairs=False, most=12, sums=fresh)
        times.append(time.perf_counter() - start)
    benchmark(lambda: brush.move_to(*(where + rng.normal(0, 4, 2))))
    ratio = float(np.quantile(times, 0.95)) / floor
    print(f"brush movement, 95th percentile: {ratio:.3f} F")
    assert ratio <= 0.15


def test_pairs_and_next_spots_within_twenty_floors(
    atlas: Atlas, drawing: Drawing, floor: float, benchmark: Callable[..., object]
) -> None:
    """The whole answer: single lesions, pairs, next questions and tie-breakers."""
    scales = Scales(atlas)
    scattered = drawing
    for region in ("great-toe-dorsal", "cheek", "thigh-back-upper", "little-palmar"):
        scattered = scattered.with_region(
            atlas, Modality.PINPRICK, Change.REDUCED, region, Side.LEFT
        )
    answered(scales, scattered)
    benchmark(lambda: answered(scales, _fresh(scattered)))
    ratio = benchmark.stats.stats.median / floor  # type: ignore[attr-defined]
    print(f"pairs and next spots: {ratio:.1f} F")
    assert ratio <= 20


def test_cost_for_each_hypothesis_does_not_grow(
    atlas: Atlas, drawing: Drawing, floor: float, benchmark: Callable[..., object]
) -> None:
    """From 200 to 50,000 hypotheses (the known ones over and over, their skin shifted
    so that none shares memory with another)."""
    scales = Scales(atlas)
    columns = Evidence.of(scales.catalogue.spots, drawing).columns
    known = [h for h in scales.catalogue.hypotheses if len(h.rows) == 1]
    rng = np.random.default_rng(8)
    each = []
    for count in (200, 2_000, 10_000, 50_000):
        made = []
        for number in range(count):
            old = known[number % len(known)]
            shift = int(rng.integers(len(atlas.cells)))
            row = Row(0.0, tuple(np.roll(g, shift) for g in old.rows[0].grades[:1]) * 3)
            made.append(replace(old, rows=(row,)))
        likelihoods = Likelihoods(made, scales.weights, scales.catalogue.spots)
        seconds = median_seconds(lambda lk=likelihoods: lk.of_all(columns), rounds=3)
        each.append(seconds / count)
        print(f"{count:>6} hypotheses: {seconds / floor:.2f} F, "
              f"{1e6 * seconds / count:.1f} µs each")  # fmt: skip
    benchmark(lambda: None)
    assert each[-1] <= 2 * each[0]


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
