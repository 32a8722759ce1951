"""The visits of a case: their order and dates, beginning a new one, taking one away.

The visit in hand is the drawing itself, always the latest; earlier visits stand in
``Drawing.earlier``. Dates are those of ISO 8601, so that their order is that of the
texts. No two visits have the same date, because a date is how a visit is named.
"""

from dataclasses import replace

from bodymap.errors import RequestError
from bodymap.findings.case_file import Case
from bodymap.findings.dates import day, is_date
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.language import tr

LATEST = "latest"
"""How a visit without a date can be named: it is the one in hand."""


def visits(drawing: Drawing) -> tuple[Drawing, ...]:
    """All visits, the earliest first; the last is the one in hand."""
    return (*(case.drawing for case in drawing.earlier), drawing)


def number_of(drawing: Drawing, date: str) -> int:
    """The place in ``visits`` of the visit of a date; ``LATEST`` is the one in hand.

    Raises RequestError if there is none.
    """
    dates = [visit.date for visit in visits(drawing)]
    if date == LATEST:
        return len(dates) - 1
    if date not in dates:
        known = ", ".join(d or LATEST for d in dates)
        raise RequestError(
            tr("There is no visit of '{date}'; there are {known}.", date=date, known=known)
        )
    return dates.index(date)


def begun(case: Case, date: str, empty: bool = False) -> Drawing:
    """A new visit of a date; the findings in hand become the latest of the earlier ones.

    It starts with the skin and signs of the visit before, to be amended, or ``empty``.
    The record of what was asked always starts empty: an answer that nobody asked for
    must not stand in it.

    Raises RequestError if the findings in hand have no date, or none before this one.
    """
    before = case.drawing
    if before.date is None:
        raise RequestError(tr("The findings in hand have no date yet; set it, then begin a visit."))
    _check_date(date)
    if date <= before.date:
        raise RequestError(
            tr(
                "The findings in hand are of {date}; a new visit comes after them.",
                date=day(before.date),
            )
        )
    kept = replace(case, drawing=_alone(before), opened=_alone(case.opened), extra={})
    start = Drawing() if empty else before.with_record(BedsideRecord())
    return replace(start, date=date, earlier=(*before.earlier, kept))


def dated(drawing: Drawing, number: int, date: str) -> Drawing:
    """The visits with the date of one of them corrected, by its place in ``visits``.

    Raises RequestError for a date that another visit has, or that would put an earlier
    visit after the one in hand.
    """
    _check_date(date)
    others = [v for n, v in enumerate(visits(drawing)) if n != number]
    if any(v.date == date for v in others):
        raise RequestError(
            tr("There is a visit of {date} already; choose another date.", date=day(date))
        )
    latest = number == len(drawing.earlier)
    if latest and any(v.date is not None and v.date > date for v in others):
        raise RequestError(
            tr(
                "The findings in hand are the latest visit; {date} is before an earlier one.",
                date=day(date),
            )
        )
    if latest:
        return drawing if drawing.date == date else replace(drawing, date=date)
    if drawing.date is not None and date > drawing.date:
        raise RequestError(
            tr(
                "The latest visit is of {date}; an earlier one comes before it.",
                date=day(drawing.date),
            )
        )
    case = drawing.earlier[number]
    if case.drawing.date == date:
        return drawing
    changed = replace(case, drawing=replace(case.drawing, date=date))
    return replace(drawing, earlier=_ordered(_but(drawing, number), changed))


def removed(drawing: Drawing, number: int) -> Drawing:
    """The visits without one of the earlier ones, by its place in ``visits``.

    Raises RequestError for the visit in hand.
    """
    if number >= len(drawing.earlier):
        raise RequestError(
            tr("The visit in hand cannot be removed; undo it, or clear its findings.")
        )
    return replace(drawing, earlier=_but(drawing, number))


def _alone(drawing: Drawing) -> Drawing:
    return replace(drawing, earlier=())


def _but(drawing: Drawing, number: int) -> tuple[Case, ...]:
    return tuple(case for n, case in enumerate(drawing.earlier) if n != number)


def _ordered(others: tuple[Case, ...], changed: Case) -> tuple[Case, ...]:
    return tuple(sorted((*others, changed), key=lambda case: case.drawing.date or ""))


def _check_date(date: str) -> None:
    if not is_date(date):
        raise RequestError(
            tr("'{date}' is no date; write year, month and day as 2026-11-25.", date=date)
        )
