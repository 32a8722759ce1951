"""What the course of altered skin between two visits looks like: marks, words, amounts."""

from collections.abc import Iterator
from dataclasses import replace

from bodymap.atlas import Atlas
from bodymap.findings.dates import day
from bodymap.findings.progress import Examined, Piece, Progress
from bodymap.report.appearance import COURSE_STYLES, Course, MarkStyle
from bodymap.terms import Side

BORDERS = (
    "Borders drawn by hand differ from one drawing to the next, so that a narrow rim of new or "
    "gone skin may be no change (judgement; no figure)."
)

PERCENT = "Percent of body surface."


def course_pieces(progress: Progress) -> Iterator[tuple[MarkStyle, Piece]]:
    """Each kind of skin with its style: new, gone and unchanged, or, where it was examined
    at one visit only, what was altered there."""
    if progress.examined is Examined.THEN:
        label = "altered then, not examined again"
        yield replace(COURSE_STYLES[Course.UNCHECKED], label=label), progress.then
    elif progress.examined is Examined.NOW:
        label = "altered now, not examined before"
        yield replace(COURSE_STYLES[Course.UNCHECKED], label=label), progress.now
    else:
        yield COURSE_STYLES[Course.UNCHANGED], progress.unchanged
        yield COURSE_STYLES[Course.GONE], progress.gone
        yield COURSE_STYLES[Course.NEW], progress.new


def course_heading(progress: Progress) -> str:
    """Which modality, from which visit to which."""
    what = progress.modality.label if progress.modality else "all that was examined at both visits"
    then, now = (day(date) for date in progress.dates)
    return f"{what[:1].upper()}{what[1:]}: {then} to {now}"


def area(cm2: float) -> str:
    """An area in words, cm²."""
    if cm2 < 0.05:
        return "0 cm²"
    return f"{cm2:.0f} cm²" if cm2 >= 10 else f"{cm2:.1f} cm²"


def share(percent: float) -> str:
    """A share of body surface in words, percent."""
    if percent < 0.0005:
        return "0 %"
    if percent < 0.01:
        return "under 0.01 %"
    return f"{percent:.1f} %" if percent >= 1 else f"{percent:.2f} %"


def measured(piece: Piece) -> str:
    """How much skin a piece is: "12 cm² (0.07 %)"."""
    return f"{area(piece.cm2)} ({share(piece.percent)})"


def by_side(atlas: Atlas, piece: Piece) -> str:
    """How much skin a piece is by side of the patient, and of body surface."""
    parts = [
        f"{side} {area(piece.on(atlas, side))}"
        for side in (Side.RIGHT, Side.LEFT)
        if piece.on(atlas, side) >= 0.05
    ]
    return f"{', '.join(parts)} ({share(piece.percent)})" if parts else "none"
