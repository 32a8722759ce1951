"""What each command does, from its options to its output.

Output goes to standard output in one piece, or to a file whole or not at all.
"""

import argparse
import json
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bodymap.errors import RequestError

if TYPE_CHECKING:
    from bodymap.atlas import Atlas
    from bodymap.findings.drawing import Drawing
    from bodymap.terms import Modality

WITHOUT_SCREEN = "without one, 'bodymap rank', 'bodymap draw' and 'bodymap regions' work"


def window(case: str | None) -> int:
    """Open the window, with a case if one is named."""
    from bodymap.cli.display import screen_fault

    fault = screen_fault()
    if fault:
        raise RequestError(f"No window can be opened ({fault}); {WITHOUT_SCREEN}.")
    from bodymap.gui.app import run

    return run(None if case is None else Path(case))


def rank(options: argparse.Namespace) -> int:
    """Print the ranking of a case."""
    from bodymap.findings.contradiction import is_contradictory
    from bodymap.localise.ranking import Scales
    from bodymap.report.ranking_report import as_json, as_text

    atlas, drawing = _opened(options.case)
    if options.modality:
        drawing = _only(drawing, options.modality)
    ranking = Scales(atlas).rank(drawing.altered_cm2(atlas), is_contradictory(atlas, drawing))
    if options.format == "json":
        _print_json(as_json(atlas, drawing, ranking))
    else:
        sys.stdout.write(as_text(atlas, drawing, ranking))
    return 0


def regions(options: argparse.Namespace) -> int:
    """List the named regions that match all words."""
    from bodymap.cli.region_list import matching, region_rows, table

    rows = matching(region_rows(), options.words)
    if options.format == "json":
        _print_json([row.as_json() for row in rows])
    else:
        sys.stdout.write(table(rows, shutil.get_terminal_size((100, 24)).columns))
    return 0


def sample(options: argparse.Namespace) -> int:
    """List the samples, name the file of one, or copy it."""
    from bodymap.findings.samples import sample_file, sample_files

    if options.name is None:
        files = sample_files()
        width = max(len(path.stem) for path in files)
        for path in files:
            shows = json.loads(path.read_bytes())["shows"]["sentence"]
            print(f"{path.stem:<{width}}  {shows}")
        return 0
    path = sample_file(options.name)
    if options.out is None:
        print(path)
    else:
        _write(options.out, path.read_bytes())
    return 0


def _opened(path: str) -> "tuple[Atlas, Drawing]":
    from bodymap.atlas import load_atlas
    from bodymap.findings.case_file import open_case

    atlas = load_atlas()
    return atlas, open_case(path, atlas).drawing


def _only(drawing: "Drawing", modalities: "list[Modality]") -> "Drawing":
    from bodymap.findings.drawing import Drawing

    return Drawing({k: layer for k, layer in drawing.layers.items() if k[0] in modalities})


def _print_json(value: Any) -> None:
    # JSON is UTF-8 whatever the terminal speaks (RFC 8259, section 8.1).
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, indent=2) + "\n"
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def _write(out: str, data: bytes) -> None:
    from bodymap.findings.whole_file import write_whole

    try:
        write_whole(Path(out), data)
    except (OSError, ValueError) as error:
        cause = getattr(error, "strerror", None) or str(error)
        raise RequestError(f"{out} cannot be written ({cause.lower()}).") from None


def draw(options: argparse.Namespace) -> int:
    """Write a picture of the case."""
    raise NotImplementedError
