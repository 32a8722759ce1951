"""Dates of visits: days of the calendar as ISO 8601 writes them, and as they are read."""

import datetime
import re

_ISO = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


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
        return "no date"
    found = datetime.date.fromisoformat(date)
    return f"{found.day} {_MONTHS[found.month - 1]} {found.year}"


def today() -> str:
    """The date of today where the machine stands."""
    return datetime.date.today().isoformat()
