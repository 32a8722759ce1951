"""Findings on the skin as sentences, for who reads them.

In English they are those of the dictation, which understands them again; dictation is
English, so another language takes the words of the note.
"""

from collections.abc import Iterable

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.language import ENGLISH, language, tr
from bodymap.report.note_results import sentence
from bodymap.report.note_skin import skin_said
from bodymap.wording.describe import findings_of
from bodymap.wording.finding import Finding
from bodymap.wording.sentences import sentences, told_together


def findings_said(atlas: Atlas, findings: Iterable[Finding]) -> str:
    """The findings in sentences, altered skin first; nothing if there are none."""
    if language() == ENGLISH:
        return " ".join(sentences(atlas, findings))
    told = told_together(atlas, findings)
    return " ".join(sentence(skin_said(one, labelled=False)) for one in told)


def drawing_said(atlas: Atlas, drawing: Drawing) -> str:
    """The findings of a drawing in sentences, or one that says there are none."""
    return findings_said(atlas, findings_of(atlas, drawing)) or tr("No findings on the skin.")
