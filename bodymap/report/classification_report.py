"""The classification as a person reads it, in a terminal or beside the figure."""

import textwrap

from bodymap.classification.classify import UNDETERMINED, Classification
from bodymap.classification.levels import READING
from bodymap.classification.scores import SIDES
from bodymap.classification.sums import FIELDS as SUMS
from bodymap.report.cautions import CAUTION

LINE = 88
POINTS_SHOWN = 6
"""Points that are named for each undetermined field; the JSON has all."""

HEADINGS = {
    "sensory_level": "Sensory level",
    "motor_level": "Motor level",
    "neurological_level": "Neurological level",
    "light_touch": "Light touch",
    "pinprick": "Pinprick",
    "upper_extremity": "Arm muscles",
    "lower_extremity": "Leg muscles",
    "sacral_sensory_sparing": "Sacral sensory sparing",
    "completeness": "Completeness",
    "impairment_scale": "Impairment scale",
    "partial_preservation": "Partial preservation",
}

TWO_SIDED: tuple[tuple[str, ...], ...] = (
    ("sensory_level",),
    ("motor_level",),
    ("partial_preservation", "sensory"),
    ("partial_preservation", "motor"),
)
SINGLE = ("neurological_level", "sacral_sensory_sparing", "completeness", "impairment_scale")

FEW = 3
"""More possible results than this are not listed beside the figure."""


def as_text(found: Classification) -> str:
    """The classification as a person reads it in a terminal."""
    parts = ["Classification by ISNCSCI (revised 2019). Sides are the patient's."]
    parts.append("\n".join([_row("", "right", "left", "total"), *_two_sided(found), *_sums(found)]))
    parts.append("\n".join(_single(found)))
    if found.undetermined:
        parts.append("\n".join(_open(found)))
    parts += [_wrapped(note) for note in (*notes_on(found), CAUTION)]
    return "\n\n".join(parts) + "\n"


def as_html(found: Classification) -> str:
    """The results as a table for the window, with what undetermined ones could be."""
    rows = [_cells("", "<b>right</b>", "<b>left</b>", "<b>total</b>")]
    for field in (*TWO_SIDED, *((name,) for name in SUMS)):
        which = (*SIDES, "total") if field[0] in SUMS else SIDES
        values = [_with_possible(found, (*field, w)) for w in which]
        rows.append(_cells(", ".join((HEADINGS[field[0]], *field[1:])), *values))
    for name in SINGLE:
        rows.append(_cells(HEADINGS[name], _with_possible(found, (name,))))
    return f"<table cellspacing='0' cellpadding='2'>{''.join(rows)}</table>"


def notes_on(found: Classification) -> tuple[str, ...]:
    """What a reader should know beside the results."""
    starred = any(True in results.values() for results in found.results.values())
    return (*found.notes, *((STARRED,) if starred else ()), READING)


def points_to_test(found: Classification) -> list[str]:
    """For each undetermined result but the sums, the untested points that bear on it.
    Takes seconds on a nearly empty record."""
    lines = []
    for field in found.undetermined:
        if field[0] not in SUMS:
            points = found.settle(field)
            more = len(points) - POINTS_SHOWN
            named = ", ".join(points[:POINTS_SHOWN]) + (f" and {more} more" if more > 0 else "")
            where = ", ".join((HEADINGS[field[0]], *field[1:]))
            lines.append(f"{where}: test {named}")
    return lines


def _with_possible(found: Classification, field: tuple[str, ...]) -> str:
    value = found.result(*field)
    if value != UNDETERMINED:
        return f"<b>{value}</b>"
    names = found.possible(field)
    few = len(names) <= FEW or field[0] in SUMS
    return f"{UNDETERMINED} ({_listed(found, field)})" if few else UNDETERMINED


def _cells(heading: str, *values: str) -> str:
    cells = "".join(f"<td style='padding-left:10px'>{value}</td>" for value in values)
    return f"<tr><td>{heading}</td>{cells}</tr>"


STARRED = (
    "* rests on a starred score: above the level it is taken as normal, at or below it as examined."
)


def _two_sided(found: Classification) -> list[str]:
    rows = []
    for field in TWO_SIDED:
        right, left = (found.result(*field, side) for side in SIDES)
        rows.append(_row(", ".join((HEADINGS[field[0]], *field[1:])), right, left))
    return rows


def _sums(found: Classification) -> list[str]:
    rows = []
    for name in SUMS:
        right, left, total = (found.result(name, which) for which in (*SIDES, "total"))
        rows.append(_row(HEADINGS[name], right, left, total))
    return rows


def _single(found: Classification) -> list[str]:
    rows = [_row(HEADINGS[name], found.result(name), "") for name in SINGLE]
    count = found.muscles
    if count is not None and found.result("impairment_scale")[0] in "CD":
        rows[-1] += f"   ({count[0]} of {count[1]} key muscles below the level reach 3)"
    return rows


def _open(found: Classification) -> list[str]:
    lines = [f"{UNDETERMINED}: what untested points leave undetermined"]
    for field in found.undetermined:
        where = f"{HEADINGS[field[0]]}{''.join(f', {word}' for word in field[1:])}"
        lines.append(_wrapped(f"{where}: {_listed(found, field)}.", "  "))
        if field[0] not in SUMS:
            points = found.settle(field)
            more = len(points) - POINTS_SHOWN
            named = ", ".join(points[:POINTS_SHOWN]) + (f" and {more} more" if more > 0 else "")
            lines.append(_wrapped(f"to test: {named}", "    "))
    return lines


def _listed(found: Classification, field: tuple[str, ...]) -> str:
    """What a field could be: "B or C"; sums as a range."""
    names = found.possible(field)
    if field[0] in SUMS:
        return f"{names[0]} to {names[-1]}"
    return " or ".join((", ".join(names[:-1]), names[-1]))


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
