"""From the bytes of a case file to a checked form, or one sentence that says what is wrong.

Two things come out: the document as it stands in the file, with every field that
bodymap does not know, and the form that bodymap works with. Faults are told with
the JSON path of their place (RFC 9535 writes such paths) and how to mend them.
"""

import json
import math
from collections.abc import Iterator
from typing import Any

import msgspec

from bodymap.errors import CaseError
from bodymap.faults import fault, shown
from bodymap.findings.case_complaints import in_words
from bodymap.findings.case_form import FORMAT, LARGEST_FILE, VERSION, CaseForm
from bodymap.language import later, lower_first, tr

DEEPEST = 60
"""Levels of nesting; a case needs eight."""

MOST_VALUES = 1_500_000
"""Values in a document."""

BROKEN = (
    later("Expecting value"),
    later("Expecting ',' delimiter"),
    later("Expecting ':' delimiter"),
    later("Expecting property name enclosed in double quotes"),
    later("Illegal trailing comma before end of array"),
    later("Illegal trailing comma before end of object"),
    later("Unterminated string starting at"),
    later("Invalid control character at"),
    later("Invalid \\escape"),
    later("Invalid \\uXXXX escape"),
    later("Extra data"),
)
"""What the JSON reader of Python says, without the place."""


def read_document(data: bytes, name: str) -> dict[str, Any]:
    """The document of a case file of a version that this bodymap reads.

    Raises CaseError, with ``name`` as the file, if it is not one.
    """
    if len(data) > LARGEST_FILE:
        raise CaseError(
            tr(
                "{file}: the file is larger than {most} MB, so it is no case; choose a bodymap "
                "case.",
                file=name,
                most=LARGEST_FILE >> 20,
            )
        )
    document = _sound(_json(data, name), name)
    if not isinstance(document, dict):
        none = tr("this is no bodymap case; choose a file that begins with an object")
        fault(name, "$", none)
    if document.get("format") != FORMAT:
        none = tr("this is no bodymap case; the format of one is '{format}'", format=FORMAT)
        fault(name, "$.format", none)
    version = document.get("version")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        mend = tr("the version is missing or wrong; write {version}", version=VERSION)
        fault(name, "$.version", mend)
    if version > VERSION:
        fault(
            name,
            "$.version",
            tr(
                "a newer bodymap wrote this file (version {version}, this one knows {known}); "
                "update bodymap to open it",
                version=shown(version),
                known=VERSION,
            ),
        )
    return document


def checked_form(document: dict[str, Any], name: str) -> CaseForm:
    """The fields of a document that bodymap works with.

    Raises CaseError at the first field that is missing or holds something else.
    """
    try:
        form = msgspec.convert(document, CaseForm)
    except msgspec.ValidationError as error:
        message, _, path = str(error).partition(" - at `")
        path = path.rstrip("`") or "$"
        fault(name, path, in_words(message, path, document))
    for field in ("findings", "tested_normal"):
        for number, entry in enumerate(document.get(field, ())):
            if "regions" not in entry and "areas" not in entry:
                none = tr("no skin is named; add 'regions' or 'areas'")
                fault(name, f"$.{field}[{number}]", none)
    return form


class _Duplicated:
    """Stands in the document where an object names a field twice."""

    def __init__(self, field: str) -> None:
        self.field = field


class _NoNumber:
    """Stands in the document where a number is not finite or absurdly long."""


def _json(data: bytes, name: str) -> Any:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CaseError(
            tr(
                "{file}: byte {number} is not UTF-8 text; save the file as UTF-8.",
                file=name,
                number=error.start + 1,
            )
        ) from None
    try:
        return json.loads(
            text,
            object_pairs_hook=_object,
            parse_constant=lambda _: _NoNumber(),
            parse_float=_finite,
            parse_int=_whole,
        )
    except json.JSONDecodeError as error:
        raise CaseError(_broken(error, text, name)) from None
    except RecursionError:
        raise CaseError(
            tr(
                "{file}: values are nested too deeply for a case; choose a bodymap case.",
                file=name,
            )
        ) from None


def _broken(error: json.JSONDecodeError, text: str, name: str) -> str:
    """Where a text stops to be JSON, and why."""
    line, column = error.lineno, error.colno
    if not text.strip():
        return tr(
            "{file}, line {line}: the file is empty; restore it from a copy.", file=name, line=line
        )
    if not text[error.pos :].strip():
        return tr(
            "{file}, line {line}: the file ends too early; restore it from a copy.",
            file=name,
            line=line,
        )
    return tr(
        "{file}, line {line}, column {column}: the JSON is broken here ({why}); mend it in a "
        "text editor.",
        file=name,
        line=line,
        column=column,
        why=lower_first(tr(error.msg.removesuffix("."))),
    )


def _object(pairs: list[tuple[str, Any]]) -> Any:
    found = dict(pairs)
    if len(found) < len(pairs):
        seen: set[str] = set()
        for key, _ in pairs:
            if key in seen:
                return _Duplicated(key)
            seen.add(key)
    return found


def _finite(text: str) -> Any:
    value = float(text)
    return value if math.isfinite(value) else _NoNumber()


def _whole(text: str) -> Any:
    return int(text) if len(text) <= 300 else _NoNumber()


def _sound(document: Any, name: str) -> Any:
    """The document, if it can be written again as it is."""
    waiting: list[tuple[Any, tuple[Any, ...], int]] = [(document, (), 0)]
    count = 0
    while waiting:
        value, path, depth = waiting.pop()
        count += 1
        if isinstance(value, _Duplicated):
            twice = tr("the field '{field}' stands twice; keep one", field=shown(value.field))
            fault(name, _path(path), twice)
        if isinstance(value, _NoNumber):
            fault(name, _path(path), tr("this is not a finite number; write a number"))
        if isinstance(value, str):
            if not _is_text(value):
                half = tr("half a character (a lone surrogate); write the text anew")
                fault(name, _path(path), half)
        elif isinstance(value, dict | list):
            if depth >= DEEPEST:
                deep = tr("values are nested too deeply for a case; remove them")
                fault(name, _path(path[:8]), deep)
            if count + len(value) > MOST_VALUES:
                raise CaseError(
                    tr(
                        "{file}: more than {most} values, so it is no case; choose a bodymap case.",
                        file=name,
                        most=MOST_VALUES,
                    )
                )
            for key, inner in _items(value, name, path):
                waiting.append((inner, (*path, key), depth + 1))
    return document


def _items(value: Any, name: str, path: tuple[Any, ...]) -> Iterator[tuple[Any, Any]]:
    if isinstance(value, list):
        for number, inner in enumerate(value):
            # Plain numbers are most of a drawing and are sound already.
            if type(inner) not in (float, int):
                yield number, inner
        return
    for key, inner in value.items():
        if not _is_text(key):
            half = tr("a field name holds half a character; rename the field")
            fault(name, _path(path), half)
        yield key, inner


def _is_text(value: str) -> bool:
    return value.isascii() or not any("\ud800" <= c <= "\udfff" for c in value)


def _path(parts: tuple[Any, ...]) -> str:
    text = "$"
    for part in parts:
        if isinstance(part, int):
            text += f"[{part}]"
        elif part.isascii() and part.isidentifier() and len(part) <= 40:
            text += f".{part}"
        else:
            text += f"['{shown(part)}']"
    return text
