"""The chart note of a case: text or Markdown to read or to a file, or pages as a PDF."""

import argparse
import sys
from pathlib import Path

from bodymap.cli.output import opened_drawing, write_out
from bodymap.errors import RequestError
from bodymap.language import tr

ENDINGS = {".txt": "text", ".md": "md", ".pdf": "pdf"}
"""What the ending of a file says, where no format is named."""


def note(options: argparse.Namespace) -> int:
    """Print or write the note of a case."""
    form = _format(options.format, options.out)
    from bodymap.localise.answer import answered
    from bodymap.localise.ranking import Scales
    from bodymap.report.note import Form
    from bodymap.report.note import note as made
    from bodymap.report.note_text import as_markdown, as_text
    from bodymap.report.visits_report import since_last

    atlas, drawing = opened_drawing(options.case)
    told = made(
        answered(Scales(atlas), drawing),
        drawing.date,
        Form.SHORT if options.short else Form.FULL,
        since_last(atlas, drawing),
    )
    if form == "pdf":
        from bodymap.rendering import to_pdf
        from bodymap.report.note_page import pages

        write_out(options.out, to_pdf(pages(atlas, drawing, told)))
        return 0
    text = as_text(told) if form == "text" else as_markdown(told)
    if options.out is not None:
        write_out(options.out, text.encode("utf-8"))
    else:
        sys.stdout.write(text)
    return 0


def _format(named: str | None, out: str | None) -> str:
    """The format that is named, or that the ending of the file says; text otherwise."""
    ending = Path(out).suffix.lower() if out is not None else ""
    if named is None and out is not None and ending not in ENDINGS:
        raise RequestError(
            tr("{file} names no kind of note; end it in .txt, .md or .pdf.", file=out)
        )
    form = named or ENDINGS.get(ending, "text")
    if form == "pdf" and out is None:
        raise RequestError(tr("A PDF is not text to read here; add --out with the name of a file."))
    if named is not None and ending in ENDINGS and ENDINGS[ending] != named:
        raise RequestError(
            tr(
                "{file} does not end as the format {format} does; change one of them.",
                file=out,
                format=named,
            )
        )
    return form
