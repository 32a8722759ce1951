"""What the course of altered skin between two visits looks like: marks, words, amounts."""

from collections.abc import Iterator
from dataclasses import replace

from bodymap.atlas import Atlas
from bodymap.findings.dates import day
from bodymap.findings.pieces import Piece
from bodymap.findings.progress import Examined, Progress
from bodymap.language import capital, later, tr
from bodymap.report.appearance import COURSE_STYLES, Course, MarkStyle
from bodymap.terms import Side

BORDERS = later(
    "Borders drawn by hand differ from one drawing to the next, so that a narrow rim of new or "
    "gone skin may be no change (judgement; no figure)."
)

PERCENT = later("Percent of body surface.")


def course_pieces(progress: Progress) -> Iterator[tuple[MarkStyle, Piece]]:
    """Each kind of skin with its style: new, gone and unchanged, or, where it was examined
    at one visit only, what was altered there."""
    then = replace(COURSE_STYLES[Course.UNCHECKED], label=later("altered then, not examined again"))
    now = replace(COURSE_STYLES[Course.UNCHECKED], label=later("altered now, not examined before"))
    if progress.examined is Examined.THEN:
        yield then, progress.then
    elif progress.examined is Examined.NOW:
        yield now, progress.now
    else:
        yield COURSE_STYLES[Course.UNCHANGED], progress.unchanged
        yield COURSE_STYLES[Course.GONE], progress.gone
        yield COURSE_STYLES[Course.NEW], progress.new
        if progress.not_again:
            yield then, progress.not_again
        if progress.not_before:
            yield now, progress.not_before


def course_heading(progress: Progress) -> str:
    """Which modality, from which visit to which."""
    what = tr("all that was examined at both visits")
    if progress.modality is not None:
        what = progress.modality.label
    then, now = (day(date) for date in progress.dates)
    return tr("{what}: {then} to {now}", what=capital(what), then=then, now=now)


def area(cm2: float) -> str:
    """An area in words, cm²."""
    if cm2 < 0.05:
        return "0 cm²"
    return tr("{area:.0f} cm²", area=cm2) if cm2 >= 10 else tr("{area:.1f} cm²", area=cm2)


def share(percent: float) -> str:
    """A share of body surface in words, percent."""
    if percent < 0.0005:
        return "0 %"
    if percent < 0.01:
        return tr("under 0.01 %")
    return (
        tr("{share:.1f} %", share=percent) if percent >= 1 else tr("{share:.2f} %", share=percent)
    )


def measured(piece: Piece) -> str:
    """How much skin a piece is: "12 cm² (0.07 %)"."""
    return f"{area(piece.cm2)} ({share(piece.percent)})"


def by_side(atlas: Atlas, piece: Piece) -> str:
    """How much skin a piece is by side of the patient, and of body surface."""
    parts = [
        f"{side.word} {area(piece.on(atlas, side))}"
        for side in (Side.RIGHT, Side.LEFT)
        if piece.on(atlas, side) >= 0.05
    ]
    return f"{', '.join(parts)} ({share(piece.percent)})" if parts else tr("none")
