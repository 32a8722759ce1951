"""Dates of visits: days of the calendar as ISO 8601 writes them, and as they are read."""

import datetime
import re

from bodymap.language import later, tr

_ISO = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)

_MONTHS = (
    later("January"),
    later("February"),
    later("March"),
    later("April"),
    later("May"),
    later("June"),
    later("July"),
    later("August"),
    later("September"),
    later("October"),
    later("November"),
    later("December"),
)


def is_date(text: object) -> bool:
    """Whether this is a day of the calendar, written as 2026-11-25."""
    if not isinstance(text, str) or not _ISO.fullmatch(text):
        return False
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def day(date: str | None) -> str:
    """A date as it is read: "25 November 2026"."""
    if date is None:
        return tr("no date")
    found = datetime.date.fromisoformat(date)
    month = tr(_MONTHS[found.month - 1])
    return tr("{day} {month} {year}", day=found.day, month=month, year=found.year)


def today() -> str:
    """The date of today where the machine stands."""
    return datetime.date.today().isoformat()
