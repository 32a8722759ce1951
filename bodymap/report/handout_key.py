"""The key of a handout: the numbers on the skin and the nerves they stand for, in columns."""

from collections.abc import Sequence

from bodymap.report.lettering import text_width, wrapped

COLUMNS, GAP = 4, 3.0
"""Columns of the key, and the room between two, mm."""

Column = tuple[float, list[tuple[str, str]]]
"""Where a column begins (mm from the left of the key), and its lines: a number and words. A
line that goes on with the words of the one above has no number."""


def key_columns(names: Sequence[str], width: float, size: float) -> list[Column]:
    """The names, numbered from 1, in columns of equal width (all in mm) where each name fits in
    one; else in columns as wide as their names; else in equal ones on several lines."""
    step = width / COLUMNS
    entries = [[(str(n), name)] for n, name in enumerate(names, start=1)]
    columns = _filled(entries)
    wide = [max(_width(words, size) for _, words in column) + GAP for column in columns]
    if max(wide, default=0.0) <= step:
        return [(step * n, column) for n, column in enumerate(columns)]
    if sum(wide) <= width:
        return [(sum(wide[:n]), column) for n, column in enumerate(columns)]
    inner = step - GAP - indent(size)
    entries = [
        [(number if n == 0 else "", line) for n, line in enumerate(wrapped(name, size, inner))]
        for ((number, name),) in entries
    ]
    return [(step * n, column) for n, column in enumerate(_filled(entries))]


def indent(size: float) -> float:
    """How far the words stand from the left of their number."""
    return text_width("00 ", size)


def _width(words: str, size: float) -> float:
    return indent(size) + text_width(words, size)


def _filled(entries: Sequence[list[tuple[str, str]]]) -> list[list[tuple[str, str]]]:
    """The entries one below the other in columns, as low as can be; none is torn apart."""
    rows = max(-(-sum(map(len, entries)) // COLUMNS), max(map(len, entries), default=0))
    while True:
        columns: list[list[tuple[str, str]]] = []
        for entry in entries:
            if not columns or len(columns[-1]) + len(entry) > rows:
                columns.append([])
            columns[-1].extend(entry)
        if len(columns) <= COLUMNS:
            return columns
        rows += 1
