"""What a complaint of the form check means to the writer of a case file."""

import re
from typing import Any

from bodymap.faults import alternatives, nearest, shown
from bodymap.findings.case_form import LARGEST_COORDINATE
from bodymap.findings.signs import SignChange
from bodymap.language import later, lower_first, tr
from bodymap.terms import Modality, Side, View

ALTERED = ("reduced", "absent", "increased", "tingling")

WORDS: dict[str, tuple[str, tuple[str, ...]]] = {
    "modality": (later("a modality"), tuple(Modality)),
    "change": (later("a change"), ALTERED),
    "side": (later("a side"), tuple(Side)),
    "view": (later("a view"), tuple(View)),
    "type": (later("a kind of area"), ("Polygon", "MultiPolygon")),
}
SIGN_CHANGES = (later("a change"), tuple(SignChange))
"""Field name to what it holds and the words it may hold."""

KINDS = {
    "array": later("a list"),
    "object": later("an object"),
    "str": later("a text"),
    "int": later("a whole number"),
    "float": later("a number"),
    "bool": later("true or false"),
    "null": "null",
}


def in_words(message: str, path: str, document: dict[str, Any]) -> str:
    """What a complaint of the form check means to the writer of the file."""
    field = path.rsplit(".", 1)[-1]
    known = WORDS | {"change": SIGN_CHANGES} if path.startswith("$.signs") else WORDS
    missing = re.search(r"missing required field `(\w+)`", message)
    if missing:
        what, words = known.get(missing[1], ("", ()))
        if not words:
            return tr("the field '{field}' is missing; add it", field=missing[1])
        return tr(
            "the field '{field}' is missing; write one of {words}",
            field=missing[1],
            words=_listed(words),
        )
    if message.startswith(("Invalid enum value", "Invalid value")) and field in known:
        return _unknown_word(_at(document, path), *known[field])
    pair = re.fullmatch(r"Expected `array` of length 2, got (\d+)", message)
    if pair:
        return tr("a position has two numbers, x and y; here are {count}", count=pair[1])
    if "length >= 4" in message:
        return tr("a ring needs at least four positions, the last the same as the first")
    if "length >= 1" in message:
        return tr("the area has no ring; give at least one")
    if "length <=" in message:
        most = message.rsplit(" ", 1)[-1]
        return tr("the list is too long (most is {most}); shorten it", most=most)
    if message == "Number out of range" or re.match("Expected `float` [<>]=", message):
        return tr("the number is beyond {most:,.0f} view units; mend it", most=LARGEST_COORDINATE)
    wrong = re.fullmatch(r"Expected `([\w| ]+)`, got `(\w+)`", message)
    if wrong:
        if field in known:
            what, words = known[field]
            return tr("{what} is a text; write one of {words}", what=tr(what), words=_listed(words))
        expected = alternatives([_kind(kind.strip()) for kind in wrong[1].split("|")])
        return tr("{expected} belongs here, not {found}", expected=expected, found=_kind(wrong[2]))
    complaint = lower_first(shown(message).removesuffix("."))
    return tr("{complaint}; compare with the case schema", complaint=complaint)


def _kind(json_type: str) -> str:
    return tr(KINDS.get(json_type, json_type))


def _unknown_word(value: Any, what: str, words: tuple[str, ...]) -> str:
    if value == "normal" and words is ALTERED:
        return tr("normal skin belongs under 'tested_normal'; move the entry there")
    near = nearest(value, words) if isinstance(value, str) else None
    if near:
        return tr(
            "'{word}' is not {what}; did you mean '{near}'?",
            word=shown(value),
            what=tr(what),
            near=near,
        )
    return tr(
        "'{word}' is not {what}; write one of {words}",
        word=shown(value),
        what=tr(what),
        words=_listed(words),
    )


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
