"""The chart note as a value: headings with lines, in the order of the trade.

One pure function makes it; ``note_text`` and ``note_page`` write it down. What was not
examined has no words in it but those that say so: "not tested" is never "normal".
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from bodymap.language import later, tr, trn
from bodymap.localise.answer import Answer
from bodymap.localise.red_flags import RedFlag, red_flags
from bodymap.report.cautions import CAUTION, FLAGS, URGENT
from bodymap.report.note_disagreements import disagreements
from bodymap.report.note_drawn import by_modality, distribution, not_told
from bodymap.report.note_levels import classification_lines, level_lines
from bodymap.report.note_localisation import alternatives, leading, limits, next_steps, reasons
from bodymap.report.note_method import heading, method_lines, remark_lines
from bodymap.report.note_points import point_results, starred
from bodymap.report.note_results import SAFETY_NET, Result, State, ended, labelled, sentence
from bodymap.report.note_sides import side_to_side
from bodymap.report.note_signs import anal_results, sign_results
from bodymap.report.note_tests import (
    filament_results,
    ladder_results,
    romberg_results,
    sharp_dull_results,
    temperature_results,
    two_point_results,
)
from bodymap.report.note_untested import untested
from bodymap.terms import Modality

TITLE = later("Sensory examination")


_FLAGS = {
    RedFlag.SPHINCTER: later("anal sensation or contraction absent"),
    RedFlag.WEAK_LEGS: later("weakness of both legs"),
    RedFlag.SADDLE: later("altered saddle skin"),
    RedFlag.SENSORY_LEVEL: later("loss with a level on the trunk or over both thighs"),
    RedFlag.CROSSED: later("face of one side with the body of the other"),
    RedFlag.HALF_OF_BODY: later("one half of the body"),
    RedFlag.MOUTH_AND_HAND: later("mouth and hand of one side"),
    RedFlag.BOTH_LEGS: later("both feet"),
}
"""The red flags in a few words, for the short form."""

IF_NEW = later("If new, sudden or progressing: emergency assessment by the local pathway.")


STAR = later("* For a cause other than the cord injury.")

RED_FLAGS, RED_FLAGS_SHORT = later("Red flags in the findings"), later("Red flags")
ALARMING = (RED_FLAGS, RED_FLAGS_SHORT)
"""Headings of what must not be overlooked."""

SINCE_SHORT = 2
"""Sentences on the course that a short note has room for."""


class Form(StrEnum):
    """How much is told: every section, or a few lines for a busy chart."""

    FULL = "full"
    SHORT = "short"


@dataclass(frozen=True)
class Section:
    """A heading and its lines, each a sentence or a few; ``alarming`` if it must not be
    overlooked."""

    heading: str
    lines: tuple[str, ...]
    alarming: bool = False


@dataclass(frozen=True)
class Note:
    """A note. ``head`` says when, by whom and in whom; ``caution`` stands at its end and
    on every page."""

    form: Form
    title: str
    head: str
    sections: tuple[Section, ...]
    caution: str


def note(
    answer: Answer,
    case_date: str | None = None,
    form: Form = Form.FULL,
    since: Sequence[str] = (),
) -> Note:
    """The note on a drawing and its record.

    ``case_date`` is the date of the examination (ISO 8601), if it was noted. ``since``
    are sentences on what changed since the last visit; they get a section of their own.
    """
    alarming = [tr(words) for words in ALARMING]
    sections = _full(answer, since) if form is Form.FULL else _short(answer, since)
    return Note(
        form,
        tr(TITLE),
        heading(answer.drawing.record, case_date),
        tuple(
            Section(heading, tuple(lines), heading in alarming)
            for heading, lines in sections
            if any(lines)
        ),
        tr(CAUTION),
    )


def _full(answer: Answer, since: Sequence[str]) -> list[tuple[str, list[str]]]:
    atlas, drawing = answer.scales.atlas, answer.drawing
    record = drawing.record
    found = _Found(answer)
    flags = [tr(FLAGS[flag]) for flag in red_flags(atlas, drawing)]
    star = [tr(STAR)] if starred(record) else []
    return [
        (tr("Method and reliability"), method_lines(drawing)),
        (tr("Small-fibre sensation: pinprick and temperature"), _lines(found.small)),
        (tr("Large-fibre sensation: light touch, vibration, joint position"), _lines(found.large)),
        (tr("Other tests"), _lines(found.other)),
        (tr("Romberg"), [sentence(r.words) for r in found.romberg]),
        (tr("Muscles and reflexes"), _lines(found.signs)),
        (tr("Remarks"), remark_lines(record)),
        (tr("Not tested"), [sentence(words) for words in untested(atlas, drawing)]),
        (tr("Distribution and side-to-side"), distribution(atlas, drawing)
         + side_to_side(atlas, drawing) + disagreements(atlas, drawing)),
        (tr("Levels"), level_lines(record) + classification_lines(record) + star),
        (tr("Since the last visit"), list(since)),
        (tr("Localisation"), [*leading(answer), *alternatives(answer), *reasons(answer)]),
        (tr(RED_FLAGS), flags),
        (tr("Limits"), limits(answer)),
        (tr("Next step"), [*next_steps(answer), labelled(SAFETY_NET, tr(URGENT))]),
    ]  # fmt: skip


def _short(answer: Answer, since: Sequence[str]) -> list[tuple[str, list[str]]]:
    atlas, drawing = answer.scales.atlas, answer.drawing
    found = _Found(answer)
    results = [*found.small, *found.large, *not_told(atlas, drawing), *found.other,
               *(replace(r, words=tr("Romberg: {result}", result=r.words)) for r in found.romberg),
               *found.signs]  # fmt: skip
    abnormal = _joined(r.words for r in results if r.state is State.ABNORMAL)
    normal = _joined(r.words for r in results if r.state is State.NORMAL)
    left_out = _joined(untested(atlas, drawing, every_point=False))
    levels = level_lines(drawing.record) + classification_lines(drawing.record, short=True)
    flags = [tr(_FLAGS[flag]) for flag in red_flags(atlas, drawing)]
    star = [tr(STAR)] if starred(drawing.record) else []
    if normal and not abnormal:
        abnormal = [tr("Nothing, where it was tested.")]
    return [
        (tr("Abnormal"), abnormal),
        (tr("Normal"), normal),
        (tr("Not judged"), _joined(r.words for r in results if r.state is State.OPEN)),
        (tr("Not tested"), left_out),
        (tr("Distribution"), [" ".join(disagreements(atlas, drawing))]),
        (tr("Levels"), [" ".join([*levels, *star])] if levels or star else []),
        (tr("Since the last visit"), [" ".join(_cut(since))] if since else []),
        (tr("Localisation"), [" ".join([*leading(answer), *alternatives(answer, short=True)])]),
        (tr("Next step"), next_steps(answer, short=True)),
        (tr(RED_FLAGS_SHORT), [f"{sentence('; '.join(flags))} {tr(IF_NEW)}"] if flags else []),
        (tr("Caution"), [tr(CAUTION)]),
    ]


def _cut(since: Sequence[str]) -> list[str]:
    """The first sentences, and how many more the full form has: nothing is hidden."""
    more = len(since) - SINCE_SHORT
    if more <= 0:
        return list(since)
    rest = trn(
        "{count} more sentence in the full note.", "{count} more sentences in the full note.", more
    )
    return [*since[:SINCE_SHORT], rest]


class _Found:
    """All results, sorted into the sections of the trade."""

    def __init__(self, answer: Answer) -> None:
        atlas, drawing = answer.scales.atlas, answer.drawing
        record = drawing.record
        drawn = by_modality(atlas, drawing)
        self.small = [
            *point_results(record, "pinprick"),
            *drawn[Modality.PINPRICK],
            *sharp_dull_results(record),
            *temperature_results(record),
            *drawn[Modality.TEMPERATURE],
        ]
        self.large = [
            *point_results(record, "light_touch"),
            *drawn[Modality.LIGHT_TOUCH],
            *ladder_results(record, "vibration"),
            *drawn[Modality.VIBRATION],
            *ladder_results(record, "joint_position"),
            *drawn[Modality.JOINT_POSITION],
        ]
        self.other = [
            *filament_results(record),
            *two_point_results(record),
            *anal_results(record),
        ]
        self.romberg = romberg_results(record)
        self.signs = sign_results(atlas, drawing)


def _lines(results: Iterable[Result]) -> list[str]:
    """Results as lines, what is abnormal before what is normal."""
    ordered = sorted(results, key=lambda r: list(State).index(r.state))
    return [labelled(r.state.value, ended(r.words)) for r in ordered]


def _joined(words: Iterable[str]) -> list[str]:
    text = "; ".join(words)
    return [sentence(text)] if text else []
