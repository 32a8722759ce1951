"""The classification as a person reads it, in a terminal or beside the figure."""

import textwrap

from bodymap.classification.classify import UNDETERMINED, Classification
from bodymap.classification.levels import READING
from bodymap.classification.scores import SIDES
from bodymap.classification.sums import FIELDS as SUMS
from bodymap.language import later, tr, trn
from bodymap.report.cautions import CAUTION

LINE = 88
POINTS_SHOWN = 6
"""Points that are named for each undetermined field; the JSON has all."""

HEADINGS = {
    "sensory_level": later("Sensory level"),
    "motor_level": later("Motor level"),
    "neurological_level": later("Neurological level"),
    "light_touch": later("Light touch"),
    "pinprick": later("Pinprick"),
    "upper_extremity": later("Arm muscles"),
    "lower_extremity": later("Leg muscles"),
    "sacral_sensory_sparing": later("Sacral sensory sparing"),
    "completeness": later("Completeness"),
    "impairment_scale": later("Impairment scale"),
    "partial_preservation": later("Partial preservation"),
}

TWO_SIDED: tuple[tuple[str, ...], ...] = (
    ("sensory_level",),
    ("motor_level",),
    ("partial_preservation", "sensory"),
    ("partial_preservation", "motor"),
)
SINGLE = ("neurological_level", "sacral_sensory_sparing", "completeness", "impairment_scale")

NOT_APPLICABLE = "NA"

FEW = 3
"""More possible results than this are told as a range beside the figure."""


def as_text(found: Classification) -> str:
    """The classification as a person reads it in a terminal."""
    parts = [tr("Classification by ISNCSCI (revised 2019). Sides are the patient's.")]
    parts.append(
        "\n".join(
            [_row("", tr("right"), tr("left"), tr("total")), *_two_sided(found), *_sums(found)]
        )
    )
    parts.append("\n".join(_single(found)))
    if found.undetermined:
        parts.append("\n".join(_open(found)))
    parts += [_wrapped(note) for note in (*notes_on(found), tr(CAUTION))]
    return "\n\n".join(parts) + "\n"


def as_html(found: Classification) -> str:
    """The results as a table for the window, with what undetermined ones could be."""
    rows = [_cells("", *(f"<b>{w}</b>" for w in (tr("right"), tr("left"), tr("total"))))]
    for field in (*TWO_SIDED, *((name,) for name in SUMS)):
        which = (*SIDES, "total") if field[0] in SUMS else SIDES
        values = [_with_possible(found, (*field, w)) for w in which]
        rows.append(_cells(_heading(field), *values))
    for name in SINGLE:
        rows.append(_cells(_heading((name,)), _with_possible(found, (name,))))
    return f"<table width='100%' cellspacing='0' cellpadding='2'>{''.join(rows)}</table>"


def notes_on(found: Classification) -> tuple[str, ...]:
    """What a reader should know beside the results."""
    starred = any(True in results.values() for results in found.results.values())
    notes = (*found.notes, *((STARRED,) if starred else ()), READING)
    return tuple(tr(note) for note in notes)


def points_to_test(found: Classification) -> list[str]:
    """For each undetermined result but the sums, the untested points that bear on it.
    Takes seconds on a nearly empty record."""
    lines = []
    for field in found.undetermined:
        if field[0] not in SUMS:
            points = found.settle(field)
            more = len(points) - POINTS_SHOWN
            named = ", ".join(points[:POINTS_SHOWN]) + _more(more)
            lines.append(tr("{result}: test {points}", result=_heading(field), points=named))
    return lines


def _with_possible(found: Classification, field: tuple[str, ...]) -> str:
    value = found.result(*field)
    if value != UNDETERMINED:
        return f"<b>{tr(value)}</b>"
    names = found.possible(field)
    # Many levels in a row are told as a range, as sums are.
    few = len(names) <= FEW or field[0] in SUMS
    return f"{UNDETERMINED} ({_listed(found, field) if few else _range(names)})"


def _range(names: tuple[str, ...]) -> str:
    """Many levels in a row; that a zone may not apply is no level of the row."""
    levels = [name for name in names if name != NOT_APPLICABLE]
    told = tr("{first} to {last}", first=levels[0], last=levels[-1])
    return told if len(levels) == len(names) else tr("{range}, or NA", range=told)


def _cells(heading: str, *values: str) -> str:
    # Columns of one width, so that the words of right and left break alike.
    room = "colspan='3'" if len(values) == 1 else "width='24%'"
    cells = "".join(f"<td {room} style='padding-left:8px'>{value}</td>" for value in values)
    return f"<tr><td width='28%'>{heading}</td>{cells}</tr>"


STARRED = later(
    "* rests on a starred score: above the level it is taken as normal, at or below it as examined."
)


def _two_sided(found: Classification) -> list[str]:
    rows = []
    for field in TWO_SIDED:
        right, left = (found.result(*field, side) for side in SIDES)
        rows.append(_row(_heading(field), right, left))
    return rows


def _sums(found: Classification) -> list[str]:
    rows = []
    for name in SUMS:
        right, left, total = (found.result(name, which) for which in (*SIDES, "total"))
        rows.append(_row(_heading((name,)), right, left, total))
    return rows


def _single(found: Classification) -> list[str]:
    rows = [_row(_heading((name,)), tr(found.result(name)), "") for name in SINGLE]
    count = found.muscles
    if count is not None and found.result("impairment_scale")[0] in "CD":
        rows[-1] += "   " + tr(
            "({strong} of {count} key muscles below the level reach 3)",
            strong=count[0], count=count[1],
        )  # fmt: skip
    return rows


def _open(found: Classification) -> list[str]:
    lines = [tr("{mark}: what untested points leave undetermined", mark=UNDETERMINED)]
    for field in found.undetermined:
        lines.append(_wrapped(f"{_heading(field)}: {_listed(found, field)}.", "  "))
        if field[0] not in SUMS:
            points = found.settle(field)
            more = len(points) - POINTS_SHOWN
            named = ", ".join(points[:POINTS_SHOWN]) + _more(more)
            lines.append(_wrapped(tr("to test: {points}", points=named), "    "))
    return lines


def _heading(field: tuple[str, ...]) -> str:
    """What a result is called: "Partial preservation, sensory"."""
    return ", ".join((tr(HEADINGS[field[0]]), *(tr(word) for word in field[1:])))


def _more(count: int) -> str:
    return " " + trn("and {count} more", "and {count} more", count) if count > 0 else ""


def _listed(found: Classification, field: tuple[str, ...]) -> str:
    """What a field could be: "B or C"; sums as a range."""
    names = found.possible(field)
    if field[0] in SUMS:
        return tr("{least} to {most}", least=names[0], most=names[-1])
    said = [tr(name) for name in names]
    return tr("{several} or {last}", several=", ".join(said[:-1]), last=said[-1])


def _row(heading: str, first: str, second: str, third: str = "") -> str:
    return f"{heading:<32}{first:>12}{second:>8}{third:>8}".rstrip()


def _wrapped(text: str, indent: str = "") -> str:
    return textwrap.fill(
        text,
        LINE,
        initial_indent=indent,
        subsequent_indent=indent + "  " * bool(indent),
        break_on_hyphens=False,
    )
