"""The calibration of the ranking on thousands of simulated patients, as a document.

``bodymap calibrate docs`` writes ``calibration.md`` and the reliability curve beside
it. The same seed gives the same numbers, however many processors share the work.
"""

import os
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache

from bodymap.atlas import load_atlas
from bodymap.localise.ranking import Scales
from bodymap.simulation.case_mix import patients
from bodymap.simulation.patients import Clinic
from bodymap.simulation.trial import Asked, Outcome, asked, tried

CHUNK = 125
"""Patients that one process works on at a time."""

ASKED_SHARE = 0.1
"""Share of the patients that are asked further questions, which takes longer."""


@dataclass(frozen=True)
class Calibration:
    """What was measured: outcomes by published incidence and with all kinds alike, and
    what further questions gained."""

    patients: int
    seed: int
    outcomes: list[Outcome]
    even: list[Outcome]
    asked: Asked


def calibrated(
    count: int, seed: int, progress: Callable[[float], None] = lambda share: None
) -> Calibration:
    """Rank ``count`` patients drawn by incidence, a fifth as many with every kind alike,
    and question a tenth further."""
    jobs = [("mix", n, size) for n, size in enumerate(_chunks(count))]
    jobs += [("even", n, size) for n, size in enumerate(_chunks(max(count // 5, 1)))]
    few = max(int(count * ASKED_SHARE), 1)
    jobs += [("asked", n, size) for n, size in enumerate(_chunks(few, CHUNK // 5))]
    found: dict[str, list[list[Outcome] | Asked]] = {"mix": [], "even": [], "asked": []}
    with ProcessPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
        results = pool.map(_worked, [(kind, seed, n, size) for kind, n, size in jobs])
        for number, ((kind, _, _), result) in enumerate(zip(jobs, results, strict=True), start=1):
            found[kind].append(result)
            progress(number / len(jobs))
    outcomes = [o for part in found["mix"] if isinstance(part, list) for o in part]
    even = [o for part in found["even"] if isinstance(part, list) for o in part]
    parts = [part for part in found["asked"] if isinstance(part, Asked)]
    return Calibration(count, seed, outcomes, even, _together(parts))


def _chunks(count: int, size: int = CHUNK) -> list[int]:
    return [min(size, count - start) for start in range(0, count, size)]


@cache
def _tools() -> tuple[Scales, Clinic]:
    atlas = load_atlas()
    return Scales(atlas), Clinic(atlas)


def _worked(job: tuple[str, int, int, int]) -> list[Outcome] | Asked:
    kind, seed, number, size = job
    scales, clinic = _tools()
    own = seed * 10_000 + number + {"mix": 0, "even": 3_000, "asked": 6_000}[kind]
    drawn = patients(clinic, scales.catalogue, size, own, even=kind == "even")
    return asked(scales, clinic, drawn) if kind == "asked" else tried(scales, drawn)


def _together(parts: list[Asked]) -> Asked:
    total = sum(p.patients for p in parts)

    def mean(name: str) -> float:
        return float(sum(getattr(p, name) * p.patients for p in parts) / max(total, 1))

    return Asked(total, *(mean(n) for n in ("alone", "suggested", "suggested_skin", "random")))
