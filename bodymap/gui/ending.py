"""Work beside the window ends before the program does.

A thread that is torn down inside a library when Python ends aborts the whole program, so
its end is waited for; what takes too long is left by ending the program at once. By then
everything is saved.
"""

import os
import sys
import threading
import time

WORK = {"atlas", "thinker", "overlay", "background"}
"""Names of the threads that work for a window."""

PATIENCE = 3.0
"""So long the end of work is waited for, seconds."""


def end_work(code: int, patience: float = PATIENCE) -> int:
    """Wait until all threads have ended, and return the exit code; or end with it at once."""
    end = time.monotonic() + patience
    for thread in threading.enumerate():
        if thread is not threading.current_thread() and thread.name in WORK:
            thread.join(max(end - time.monotonic(), 0.0))
            if thread.is_alive():
                sys.stdout.flush()
                sys.stderr.flush()
                os._exit(code)
    return code
