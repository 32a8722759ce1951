"""Which command was asked for, and how its faults reach the person.

Exit codes: 0 done; 2 one sentence on standard error says what is wrong; 130 stopped
by the keyboard; 141 the reader of the output went away.
"""

import difflib
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from bodymap.cli import commands
from bodymap.cli.parsers import PARSERS, top
from bodymap.errors import BodymapError, RequestError
from bodymap.language import ENGLISH, VARIABLE, tr, use

WRONG, STOPPED, READER_GONE = 2, 130, 141


def main(arguments: Sequence[str] | None = None) -> int:
    """Run bodymap with the arguments of the command line; returns the exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _run(given)
        sys.stdout.flush()
    except BodymapError as error:
        print(f"bodymap: {error}", file=sys.stderr)
        return WRONG
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:
        # Python flushes standard output once more at the end; give it nowhere to fail.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_GONE
    return code


def _run(given: list[str]) -> int:
    use(os.environ.get(VARIABLE) or ENGLISH)
    if given and given[0] in PARSERS:
        parser = PARSERS[given[0]]()
        options = parser.parse_args(given[1:])
        code: int = options.run(options)
        return code
    options, left = top().parse_known_args(given)
    _check_top(options.case, left)
    return commands.window(options.case)


def _check_top(case: str | None, left: list[str]) -> None:
    """Refuse what is neither a command nor a case, with the nearest command."""
    if case is None or (not left and Path(case).exists()):
        if left:
            raise RequestError(
                tr("There is no option '{option}'; 'bodymap --help' shows how.", option=left[0])
            )
        return
    near = difflib.get_close_matches(case, PARSERS, n=1, cutoff=0.6)
    if near:
        raise RequestError(
            tr(
                "There is no command and no file '{word}'; did you mean 'bodymap {near}'?",
                word=case,
                near=near[0],
            )
        )
    if left:
        raise RequestError(
            tr(
                "There is no command '{word}' that takes '{option}'; 'bodymap --help' lists them.",
                word=case,
                option=left[0],
            )
        )
    raise RequestError(
        tr("There is no command and no file '{word}'; 'bodymap --help' shows how.", word=case)
    )
