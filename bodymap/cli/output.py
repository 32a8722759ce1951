"""What leaves the command line: JSON to standard output, files whole or not at all; and the
case that comes in."""

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bodymap.errors import RequestError
from bodymap.faults import cause
from bodymap.language import lower_first, tr

if TYPE_CHECKING:
    from bodymap.atlas import Atlas
    from bodymap.findings.drawing import Drawing


def opened_drawing(path: str) -> "tuple[Atlas, Drawing]":
    """The atlas, and the drawing of a case; one with a record alone is drawn from it."""
    from bodymap.atlas import load_atlas
    from bodymap.examination.exchange import opened

    atlas = load_atlas()
    return atlas, opened(path, atlas).drawing


def print_json(value: Any) -> None:
    """Print a value as JSON, in one piece."""
    # JSON is UTF-8 whatever the terminal speaks (RFC 8259, section 8.1).
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, indent=2) + "\n"
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def write_out(out: str, data: bytes) -> None:
    """Write a file whole or not at all; RequestError if that fails."""
    from bodymap.findings.whole_file import write_whole

    try:
        write_whole(Path(out), data)
    except (OSError, ValueError) as error:
        why = lower_first(cause(error))
        raise RequestError(tr("{file} cannot be written ({cause}).", file=out, cause=why)) from None
