"""Memory that is free again goes back to the machine, so that a long day costs no more than a
short one."""

import ctypes
import sys

MMAP_THRESHOLD, ARENA_MAX = -3, -8
"""Parameters of ``mallopt`` (GNU C library, malloc.h)."""

LARGE_BYTES = 4 * 1024 * 1024
"""A block from this size on is given back when it is freed."""

ARENAS = 2
"""Threads share so many pools; each of its own would keep what its busiest moment took."""


def give_back_what_is_free() -> bool:
    """Ask the GNU C library not to hoard freed memory; says whether it listens.

    Its threshold grows by itself with every large block that is freed, and arrays of a
    ranking are large: over minutes of random use the window held a quarter more without this,
    and grew on. Elsewhere nothing is asked.
    """
    if not sys.platform.startswith("linux"):
        return False
    try:
        mallopt = ctypes.CDLL(None).mallopt
    except (AttributeError, OSError):
        return False  # another C library
    return bool(mallopt(MMAP_THRESHOLD, LARGE_BYTES)) and bool(mallopt(ARENA_MAX, ARENAS))
