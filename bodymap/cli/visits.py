"""The visits of a case: what changed between two of them, to read, for programs, or as a
picture."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bodymap.cli.output import print_json, write_out
from bodymap.cli.pictures import PICTURES, picture_form
from bodymap.errors import RequestError
from bodymap.faults import shown
from bodymap.language import tr

if TYPE_CHECKING:
    from bodymap.findings.drawing import Drawing

HEIGHT_PX = 1600


def visits(options: argparse.Namespace) -> int:
    """Print what changed from one visit to a later one; draw it if asked to."""
    from bodymap.atlas import load_atlas
    from bodymap.examination.visits_compared import visits_compared
    from bodymap.findings.case_file import open_case
    from bodymap.report.picture import PictureOptions, draw_svg
    from bodymap.report.visits_report import as_json, as_text

    form = picture_form(options.picture) if options.picture else ""
    atlas = load_atlas()
    drawing = open_case(options.case, atlas).drawing
    pair = _pair(drawing, options.between)
    found = visits_compared(atlas, *pair) if pair else None
    if form:
        if found is None:
            raise RequestError(
                tr("{file} holds one visit, so there is no picture of two.", file=options.case)
            )
        course = found.of(options.modality)
        if course is None:
            raise RequestError(
                tr("At neither visit was {modality} examined.", modality=options.modality.label)
            )
        picture = PictureOptions(course=course, title=Path(options.case).stem)
        write_out(options.picture, PICTURES[form](draw_svg(atlas, found.now, picture), HEIGHT_PX))
    if options.format == "json":
        print_json(as_json(atlas, drawing, found))
    else:
        sys.stdout.write(as_text(atlas, drawing, found))
    return 0


def _pair(drawing: "Drawing", dates: list[str] | None) -> "tuple[Drawing, Drawing] | None":
    """The visits of two dates, or the last two; None where there is only one."""
    from bodymap.findings.visits import number_of
    from bodymap.findings.visits import visits as visits_of

    known = visits_of(drawing)
    if dates is None:
        return (known[-2], known[-1]) if len(known) > 1 else None
    then, now = (number_of(drawing, date) for date in dates)
    if then >= now:
        first, second = map(shown, dates)
        raise RequestError(
            tr(
                "'{first}' is not before '{second}'; name the earlier visit first.",
                first=first,
                second=second,
            )
        )
    return known[then], known[now]
