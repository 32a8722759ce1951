"""Run bodymap as ``python -m bodymap``."""

import sys

from bodymap.cli import main

if __name__ == "__main__":
    sys.exit(main())
