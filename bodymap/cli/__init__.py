"""The command line. It calls the core and opens the window; the two never meet.

This module is light, so that help and faults come at once: whatever is heavy is
imported inside the command that needs it.
"""

from bodymap.cli.main import main

__all__ = ["main"]
