"""From the bytes of a case file to a checked form, or one sentence that says what is wrong.

Two things come out: the document as it stands in the file, with every field that
bodymap does not know, and the form that bodymap works with. Faults are told with
the JSON path of their place (RFC 9535 writes such paths) and how to mend them.
"""

import json
import math
import re
from collections.abc import Iterator
from typing import Any

import msgspec

from bodymap.errors import CaseError
from bodymap.faults import fault, nearest, shown
from bodymap.findings.case_form import (
    FORMAT,
    LARGEST_COORDINATE,
    LARGEST_FILE,
    VERSION,
    CaseForm,
)
from bodymap.findings.signs import SignChange
from bodymap.terms import Modality, Side, View

DEEPEST = 60
"""Levels of nesting; a case needs eight."""

MOST_VALUES = 1_500_000
"""Values in a document."""

ALTERED = ("reduced", "absent", "increased", "tingling")

WORDS: dict[str, tuple[str, tuple[str, ...]]] = {
    "modality": ("a modality", tuple(Modality)),
    "change": ("a change", ALTERED),
    "side": ("a side", tuple(Side)),
    "view": ("a view", tuple(View)),
    "type": ("a kind of area", ("Polygon", "MultiPolygon")),
}
SIGN_CHANGES = ("a change", tuple(SignChange))
"""Field name to what it holds and the words it may hold."""

KINDS = {
    "array": "a list",
    "object": "an object",
    "str": "a text",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "null": "null",
}


def read_document(data: bytes, name: str) -> dict[str, Any]:
    """The document of a case file of a version that this bodymap reads.

    Raises CaseError, with ``name`` as the file, if it is not one.
    """
    if len(data) > LARGEST_FILE:
        raise CaseError(
            f"{name}: the file is larger than {LARGEST_FILE >> 20} MB, so it is no case; "
            f"choose a bodymap case."
        )
    document = _sound(_json(data, name), name)
    if not isinstance(document, dict):
        fault(name, "$", "this is no bodymap case; choose a file that begins with an object")
    if document.get("format") != FORMAT:
        fault(name, "$.format", f"this is no bodymap case; the format of one is '{FORMAT}'")
    version = document.get("version")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        fault(name, "$.version", f"the version is missing or wrong; write {VERSION}")
    if version > VERSION:
        fault(
            name,
            "$.version",
            f"a newer bodymap wrote this file (version {shown(version)}, this one knows "
            f"{VERSION}); update bodymap to open it",
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
                fault(name, f"$.{field}[{number}]", "no skin is named; add 'regions' or 'areas'")
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
            f"{name}: byte {error.start + 1} is not UTF-8 text; save the file as UTF-8."
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
        if not text[error.pos :].strip():
            end = "is empty" if not text.strip() else "ends too early"
            raise CaseError(
                f"{name}, line {error.lineno}: the file {end}; restore it from a copy."
            ) from None
        raise CaseError(
            f"{name}, line {error.lineno}, column {error.colno}: the JSON is broken here "
            f"({_plain(error.msg)}); mend it in a text editor."
        ) from None
    except RecursionError:
        raise CaseError(
            f"{name}: values are nested too deeply for a case; choose a bodymap case."
        ) from None


def _plain(message: str) -> str:
    return message[:1].lower() + message[1:].removesuffix(".")


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
            fault(name, _path(path), f"the field '{shown(value.field)}' stands twice; keep one")
        if isinstance(value, _NoNumber):
            fault(name, _path(path), "this is not a finite number; write a number")
        if isinstance(value, str):
            if not _is_text(value):
                fault(name, _path(path), "half a character (a lone surrogate); write the text anew")
        elif isinstance(value, dict | list):
            if depth >= DEEPEST:
                fault(name, _path(path[:8]), "values are nested too deeply for a case; remove them")
            if count + len(value) > MOST_VALUES:
                raise CaseError(
                    f"{name}: more than {MOST_VALUES} values, so it is no case; "
                    f"choose a bodymap case."
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
            fault(name, _path(path), "a field name holds half a character; rename the field")
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


def in_words(message: str, path: str, document: dict[str, Any]) -> str:
    """What a complaint of the form check means to the writer of the file."""
    field = path.rsplit(".", 1)[-1]
    known = WORDS | {"change": SIGN_CHANGES} if path.startswith("$.signs") else WORDS
    missing = re.search(r"missing required field `(\w+)`", message)
    if missing:
        what, words = known.get(missing[1], ("", ()))
        mend = f"; write one of {_listed(words)}" if words else "; add it"
        return f"the field '{missing[1]}' is missing{mend}"
    if message.startswith(("Invalid enum value", "Invalid value")) and field in known:
        return _unknown_word(_at(document, path), *known[field])
    pair = re.fullmatch(r"Expected `array` of length 2, got (\d+)", message)
    if pair:
        return f"a position has two numbers, x and y; here are {pair[1]}"
    if "length >= 4" in message:
        return "a ring needs at least four positions, the last the same as the first"
    if "length >= 1" in message:
        return "the area has no ring; give at least one"
    if "length <=" in message:
        return f"the list is too long (most is {message.rsplit(' ', 1)[-1]}); shorten it"
    if message == "Number out of range" or re.match("Expected `float` [<>]=", message):
        return f"the number is beyond {LARGEST_COORDINATE:,.0f} view units; mend it"
    wrong = re.fullmatch(r"Expected `([\w| ]+)`, got `(\w+)`", message)
    if wrong:
        if field in known:
            what, words = known[field]
            return f"{what} is a text; write one of {_listed(words)}"
        expected = " or ".join(KINDS.get(k.strip(), k.strip()) for k in wrong[1].split("|"))
        return f"{expected} belongs here, not {KINDS.get(wrong[2], wrong[2])}"
    return f"{_plain(shown(message))}; compare with the case schema"


def _unknown_word(value: Any, what: str, words: tuple[str, ...]) -> str:
    if value == "normal" and words is ALTERED:
        return "normal skin belongs under 'tested_normal'; move the entry there"
    near = nearest(value, words) if isinstance(value, str) else None
    if near:
        return f"'{shown(value)}' is not {what}; did you mean '{near}'?"
    return f"'{shown(value)}' is not {what}; write one of {_listed(words)}"


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(words)


def _at(document: Any, path: str) -> Any:
    """The value at a path of plain fields and numbers, or None."""
    value = document
    for field, number in re.findall(r"\.(\w+)|\[(\d+)\]", path):
        try:
            value = value[field] if field else value[int(number)]
        except (KeyError, IndexError, TypeError):
            return None
    return value
