"""The debrief of a sitting as the practice panel shows it."""

from html import escape

from bodymap.language import tr
from bodymap.practice.debrief import Debrief
from bodymap.practice.sitting import Sitting
from bodymap.practice.words import (
    efficiency_told,
    judged,
    missed_title,
    missed_told,
    path_told,
    support_told,
    truth_told,
)


def debrief_html(sitting: Sitting, debrief: Debrief) -> str:
    """The truth, the path against the best questions, and what was missed."""
    parts = [f"<p><b>{escape(judged(sitting.practice.textbook, debrief))}</b></p>"]
    for title, sentences in (
        (tr("The truth"), truth_told(sitting, debrief)),
        (tr("Your path"), [efficiency_told(debrief), *path_told(sitting, debrief)]),
        (missed_title(sitting, debrief), missed_told(sitting, debrief)),
        (tr("In the ranking"), [support_told(debrief)]),
    ):
        if sentences:
            said = "".join(f'<p style="margin: 3px 0 0 0">{escape(s)}</p>' for s in sentences)
            parts.append(f'<p style="margin: 12px 0 0 0"><b>{escape(title)}</b></p>{said}')
    return "".join(parts)
