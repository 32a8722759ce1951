"""The classification of the bedside record of a case, to read or for other programs."""

import argparse
import json
import sys
import textwrap
from pathlib import Path

from bodymap.classification import classify as core
from bodymap.classification.classify import UNDETERMINED, Classification, as_json
from bodymap.classification.levels import READING
from bodymap.classification.reading import read_record
from bodymap.classification.scores import SIDES
from bodymap.classification.sums import FIELDS as SUMS
from bodymap.errors import CaseError
from bodymap.findings.case_form import LARGEST_FILE
from bodymap.findings.case_reading import read_document

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


def classify(options: argparse.Namespace) -> int:
    """Print the classification of the record of a case."""
    path = options.case
    found = core.classify(read_record(read_document(_bytes_of(path), path), path))
    if options.format == "json":
        # JSON is UTF-8 whatever the terminal speaks (RFC 8259, section 8.1).
        text = json.dumps(as_json(found), ensure_ascii=False, allow_nan=False, indent=2) + "\n"
        sys.stdout.flush()
        sys.stdout.buffer.write(text.encode("utf-8"))
        sys.stdout.buffer.flush()
    else:
        sys.stdout.write(as_text(found))
    return 0


def as_text(found: Classification) -> str:
    """The classification as a person reads it in a terminal."""
    from bodymap.report.cautions import CAUTION

    parts = ["Classification by ISNCSCI (revised 2019). Sides are the patient's."]
    parts.append("\n".join([_row("", "right", "left", "total"), *_two_sided(found), *_sums(found)]))
    parts.append("\n".join(_single(found)))
    if found.undetermined:
        parts.append("\n".join(_open(found)))
    notes = list(found.notes)
    if any(True in results.values() for results in found.results.values()):
        notes.append(STARRED)
    parts += [_wrapped(note) for note in (*notes, READING, CAUTION)]
    return "\n\n".join(parts) + "\n"


STARRED = (
    "* rests on a starred score: above the level it is taken as normal, at or below it as examined."
)


def _two_sided(found: Classification) -> list[str]:
    fields: list[tuple[str, ...]] = [("sensory_level",), ("motor_level",)]
    fields += [("partial_preservation", kind) for kind in ("sensory", "motor")]
    rows = []
    for field in fields:
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
    names = ("neurological_level", "sacral_sensory_sparing", "completeness", "impairment_scale")
    rows = [_row(HEADINGS[name], found.result(name), "") for name in names]
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


def _bytes_of(path: str) -> bytes:
    """The bytes of a case file, at most so many that a larger file is told as such."""
    try:
        with Path(path).open("rb") as file:
            return file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise CaseError(f"{path}: there is no such file; check the name.") from None
    except IsADirectoryError:
        raise CaseError(f"{path}: this is a folder; choose a case file.") from None
    except (OSError, ValueError) as error:
        cause = getattr(error, "strerror", None) or str(error)
        raise CaseError(f"{path}: the file cannot be read ({cause}).") from None
