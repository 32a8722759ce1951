"""How long work takes."""

import time
from collections.abc import Callable

import numpy as np


def median_seconds(work: Callable[[], object], rounds: int = 15) -> float:
    """Median time of a piece of work."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return float(np.median(times))
