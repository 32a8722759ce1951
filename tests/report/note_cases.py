"""Notes of samples and of records made for a test."""

from pathlib import Path
from typing import Any

from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.samples import sample_files
from bodymap.localise.answer import Answer, answered
from bodymap.localise.ranking import Scales
from bodymap.report.note import Form, Note, note
from bodymap.report.note_text import as_text

SAMPLES = sample_files()
NOTES = Path(__file__).parent / "notes"
SVG = "{http://www.w3.org/2000/svg}"


def answer_to(scales: Scales, record: dict[str, Any], drawing: Drawing | None = None) -> Answer:
    """The answer to a record, with nothing or with this drawing beside it."""
    drawing = (drawing or Drawing()).with_record(BedsideRecord(record))
    return answered(scales, drawing)


def text_of(answer: Answer, form: Form = Form.FULL, date: str | None = None) -> str:
    """The note as one line of text."""
    return " ".join(as_text(note(answer, date, form), None).split())


def lines_under(made: Note, heading: str) -> str:
    """What stands under a heading."""
    found = [s for s in made.sections if s.heading.startswith(heading)]
    return " ".join(line for section in found for line in section.lines)
