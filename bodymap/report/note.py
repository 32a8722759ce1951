"""The chart note as a value: headings with lines, in the order of the trade.

One pure function makes it; ``note_text`` and ``note_page`` write it down. What was not
examined has no words in it but those that say so: "not tested" is never "normal".
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from bodymap.language import english
from bodymap.localise.answer import Answer
from bodymap.localise.red_flags import RedFlag, red_flags
from bodymap.report.cautions import CAUTION, FLAGS, URGENT
from bodymap.report.note_disagreements import disagreements
from bodymap.report.note_drawn import by_modality, distribution, not_told
from bodymap.report.note_levels import classification_lines, level_lines
from bodymap.report.note_localisation import alternatives, leading, limits, next_steps, reasons
from bodymap.report.note_method import heading, method_lines, remark_lines
from bodymap.report.note_points import point_results, starred
from bodymap.report.note_results import Result, State, ended
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

TITLE = "Sensory examination"


_FLAGS = {
    RedFlag.SPHINCTER: "anal sensation or contraction absent",
    RedFlag.WEAK_LEGS: "weakness of both legs",
    RedFlag.SADDLE: "altered saddle skin",
    RedFlag.SENSORY_LEVEL: "loss with a level on the trunk or over both thighs",
    RedFlag.CROSSED: "face of one side with the body of the other",
    RedFlag.HALF_OF_BODY: "one half of the body",
    RedFlag.MOUTH_AND_HAND: "mouth and hand of one side",
    RedFlag.BOTH_LEGS: "both feet",
}
"""The red flags in a few words, for the short form."""

IF_NEW = "If new, sudden or progressing: emergency assessment by the local pathway."


STAR = "* For a cause other than the cord injury."

SINCE_SHORT = 2
"""Sentences on the course that a short note has room for."""


class Form(StrEnum):
    """How much is told: every section, or a few lines for a busy chart."""

    FULL = "full"
    SHORT = "short"


@dataclass(frozen=True)
class Section:
    """A heading and its lines, each a sentence or a few."""

    heading: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Note:
    """A note. ``head`` says when, by whom and in whom; ``caution`` stands at its end and
    on every page."""

    form: Form
    title: str
    head: str
    sections: tuple[Section, ...]
    caution: str = CAUTION


@english()
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
    sections = _full(answer, since) if form is Form.FULL else _short(answer, since)
    return Note(
        form,
        TITLE,
        heading(answer.drawing.record, case_date),
        tuple(Section(heading, tuple(lines)) for heading, lines in sections if any(lines)),
    )


def _full(answer: Answer, since: Sequence[str]) -> list[tuple[str, list[str]]]:
    atlas, drawing = answer.scales.atlas, answer.drawing
    record = drawing.record
    found = _Found(answer)
    flags = [FLAGS[flag] for flag in red_flags(atlas, drawing)]
    star = [STAR] if starred(record) else []
    return [
        ("Method and reliability", method_lines(drawing)),
        ("Small-fibre sensation: pinprick and temperature", _lines(found.small)),
        ("Large-fibre sensation: light touch, vibration, joint position", _lines(found.large)),
        ("Other tests", _lines(found.other)),
        ("Romberg", [_sentence(r.words.removeprefix("Romberg: ")) for r in found.romberg]),
        ("Muscles and reflexes", _lines(found.signs)),
        ("Remarks", remark_lines(record)),
        ("Not tested", [_sentence(words) for words in untested(atlas, drawing)]),
        ("Distribution and side-to-side", distribution(atlas, drawing)
         + side_to_side(atlas, drawing) + disagreements(atlas, drawing)),
        ("Levels", level_lines(record) + classification_lines(record) + star),
        ("Since the last visit", list(since)),
        ("Localisation", [*leading(answer), *alternatives(answer), *reasons(answer)]),
        ("Red flags in the findings", flags),
        ("Limits", limits(answer)),
        ("Next step", [*next_steps(answer), f"Safety net: {URGENT}"]),
    ]  # fmt: skip


def _short(answer: Answer, since: Sequence[str]) -> list[tuple[str, list[str]]]:
    atlas, drawing = answer.scales.atlas, answer.drawing
    found = _Found(answer)
    results = [*found.small, *found.large, *not_told(atlas, drawing), *found.other,
               *found.romberg, *found.signs]  # fmt: skip
    abnormal = _joined(r.words for r in results if r.state is State.ABNORMAL)
    normal = _joined(r.words for r in results if r.state is State.NORMAL)
    left_out = _joined(untested(atlas, drawing, every_point=False))
    levels = level_lines(drawing.record) + classification_lines(drawing.record, short=True)
    flags = [_FLAGS[flag] for flag in red_flags(atlas, drawing)]
    star = [STAR] if starred(drawing.record) else []
    if normal and not abnormal:
        abnormal = ["Nothing, where it was tested."]
    return [
        ("Abnormal", abnormal),
        ("Normal", normal),
        ("Not judged", _joined(r.words for r in results if r.state is State.OPEN)),
        ("Not tested", left_out),
        ("Distribution", [" ".join(disagreements(atlas, drawing))]),
        ("Levels", [" ".join([*levels, *star])] if levels or star else []),
        ("Since the last visit", [" ".join(_cut(since))] if since else []),
        ("Localisation", [" ".join([*leading(answer), *alternatives(answer, short=True)])]),
        ("Next step", next_steps(answer, short=True)),
        ("Red flags", [f"{_sentence('; '.join(flags))} {IF_NEW}"] if flags else []),
        ("Caution", [CAUTION]),
    ]


def _cut(since: Sequence[str]) -> list[str]:
    """The first sentences, and how many more the full form has: nothing is hidden."""
    more = len(since) - SINCE_SHORT
    rest = [f"{more} more sentence{'s' * (more > 1)} in the full note."] if more > 0 else []
    return [*since[:SINCE_SHORT], *rest]


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
    return [f"{r.state.value}: {_sentence(r.words, capital=False)}" for r in ordered]


def _joined(words: Iterable[str]) -> list[str]:
    text = "; ".join(words)
    return [_sentence(text)] if text else []


def _sentence(words: str, capital: bool = True) -> str:
    first = words[:1].upper() if capital else words[:1]
    return ended(f"{first}{words[1:]}")
