"""Earlier visits in a case file: reading them checked, writing them back.

The top level of a document is the latest visit; ``visits`` holds the earlier ones in
the same form, each with its ``date``. What stands there without a date is not ours:
it is kept as it is and never read.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from bodymap.faults import FaultError, fault, shown
from bodymap.findings.case_form import FORMAT, MOST_VISITS, VERSION
from bodymap.findings.dates import day, is_date
from bodymap.language import tr

if TYPE_CHECKING:
    from bodymap.findings.case_file import Case

HEAD = {"format": FORMAT, "version": VERSION}
"""What makes the fields of a visit a document of its own, so that one reader serves both."""

READ = ("date", "findings", "tested_normal", "signs", "record")
"""Fields of a visit that bodymap reads; all others are kept."""

Document = dict[str, Any]


class Visits(NamedTuple):
    """The date of the latest visit, the earlier visits by date, and what else stands in
    the place of visits (None if nothing does)."""

    date: str | None
    earlier: "tuple[Case, ...]"
    foreign: Any


def read_visits(document: Document, name: str, read: Callable[[Document], "Case"]) -> Visits:
    """The visits of a document; ``read`` makes a case of the fields of one.

    Raises CaseError, with ``name`` as the file, for a date that is none, two visits of
    one date, an earlier visit after the latest, and what ``read`` refuses.
    """
    latest = document.get("date")
    if "date" in document:
        _check_date(latest, name, "$.date")
    raw = document.get("visits")
    if not isinstance(raw, list):
        return Visits(latest, (), raw)
    if len(raw) > MOST_VISITS:
        long = tr("the list is too long (most is {most}); shorten it", most=MOST_VISITS)
        fault(name, "$.visits", long)
    seen = {latest}
    found: list[Case] = []
    foreign = []
    for number, fields in enumerate(raw):
        if not isinstance(fields, dict) or "date" not in fields:
            foreign.append(fields)
            continue
        place = f"$.visits[{number}]"
        date = fields["date"]
        _check_date(date, name, f"{place}.date")
        if date in seen:
            twice = tr("there are two visits of {date}; mend one date", date=day(date))
            fault(name, f"{place}.date", twice)
        if latest is not None and date > latest:
            fault(
                name,
                f"{place}.date",
                tr(
                    "this visit is after the latest, of {date}, which stands at the top level; "
                    "mend one date",
                    date=day(latest),
                ),
            )
        seen.add(date)
        try:
            case = read(fields | HEAD)
        except FaultError as error:
            raise error.inside(place) from None
        extra = MappingProxyType({k: v for k, v in fields.items() if k not in READ})
        found.append(replace(case, extra=extra))
    found.sort(key=lambda case: case.drawing.date or "")
    return Visits(latest, tuple(found), foreign or None)


def written_visits(
    earlier: "tuple[Case, ...]", foreign: Any, write: Callable[["Case"], Document]
) -> Any:
    """What stands in the place of visits, None for nothing; ``write`` gives the fields of
    a case. What is not ours follows the visits."""
    if not earlier:
        return foreign
    written = [{"date": case.drawing.date, **write(case), **case.extra} for case in earlier]
    others = foreign if isinstance(foreign, list) else [] if foreign is None else [foreign]
    return [*written, *others]


def dated_documents(document: Mapping[str, Any]) -> list[tuple[str, Document]]:
    """Path and fields of every dated visit of a document, each a document of its own."""
    raw = document.get("visits")
    return [
        (f"$.visits[{number}]", {**fields, **HEAD})
        for number, fields in enumerate(raw if isinstance(raw, list) else ())
        if isinstance(fields, dict) and "date" in fields
    ]


def _check_date(date: object, name: str, path: str) -> None:
    if not is_date(date):
        mend = tr("'{date}' is no date; write year, month, day as 2026-11-25", date=shown(date))
        fault(name, path, mend)
