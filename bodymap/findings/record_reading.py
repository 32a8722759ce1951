"""From ``record`` in a case document to a checked bedside record, or one sentence."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import msgspec

from bodymap.classification.reading import read_record
from bodymap.classification.scores import POINTS, SIDES
from bodymap.faults import fault, nearest, shown
from bodymap.findings.case_complaints import in_words
from bodymap.findings.record import BedsideRecord
from bodymap.findings.record_form import OwnForm
from bodymap.findings.sites import sites
from bodymap.language import tr

LADDERS = ("temperature", "vibration", "joint_position", "monofilament", "two_point")

WORDS: dict[str, str] = {
    "quality": "reduced, increased, tingling",
    "temperature": "normal, reduced, absent, increased, tingling, NT",
    "felt": "normal, reduced, absent, NT",
    "result": "steady, sway, lost balance, cannot stand with open eyes, not done",
    "trials": "sharp, dull",
    "side": "right, left",
}
"""What may stand in a field of words."""


def read_bedside(document: dict[str, Any], name: str) -> BedsideRecord:
    """The record of a document, empty if it has none.

    Raises CaseError, with ``name`` as the file, at the first value that cannot stand.
    """
    if "record" not in document:
        return BedsideRecord()
    read_record(document, name)
    raw = document["record"]
    try:
        msgspec.convert(raw, OwnForm)
    except msgspec.ValidationError as error:
        message, _, path = str(error).partition(" - at `$")
        path = f"$.record{_exact(raw, path.rstrip('`'))}"
        fault(name, path, _in_words(message, path, document))
    for part in (*LADDERS, *(f"quality.{q}" for q in raw.get("quality", {}))):
        sides = raw.get("quality", {}).get(part[8:]) if "." in part else raw.get(part, {})
        for side in sides if isinstance(sides, Mapping) else ():
            if side not in SIDES:
                none = tr("there is no side '{side}'; write right or left", side=shown(side))
                fault(name, f"$.record.{part}", none)
    for part in LADDERS:
        known = _places(part)
        for side in ("right", "left"):
            for place in raw.get(part, {}).get(side, {}):
                if place not in known:
                    _unknown(place, known, name, f"$.record.{part}.{side}")
    for part, sides in raw.get("quality", {}).items():
        for side in ("right", "left"):
            for place in sides.get(side, {}) if isinstance(sides, Mapping) else ():
                if place not in POINTS:
                    _unknown(place, POINTS, name, f"$.record.quality.{part}.{side}")
    for number, run in enumerate(raw.get("sharp_dull", ())):
        if run["point"] not in POINTS:
            _unknown(run["point"], POINTS, name, f"$.record.sharp_dull[{number}].point")
    _check_counts(raw, name)
    return BedsideRecord(MappingProxyType(raw))


def _check_counts(raw: Mapping[str, Any], name: str) -> None:
    """Refuse more right answers than there were."""
    for part, few, all_ in (
        ("vibration", "correct", "trials"),
        ("joint_position", "correct", "trials"),
        ("monofilament", "felt", "of"),
    ):
        for side in SIDES:
            for place, value in raw.get(part, {}).get(side, {}).items():
                right, of = value.get(few), value.get(all_)
                if isinstance(right, int) and isinstance(of, int) and right > of:
                    path = f"$.record.{part}.{side}['{place}']"
                    many = tr(
                        "{right} of {count} cannot be right; mend one of them",
                        right=right,
                        count=of,
                    )
                    fault(name, path, many)


def _exact(raw: Mapping[str, Any], path: str) -> str:
    """The path of a fault with the name of the place that the form check leaves out: it
    says [...] for any place of a side."""
    before, gap, after = path.partition("[...]")
    if not gap:
        return path
    names = tuple(re.findall(r"\w+", before))
    held = BedsideRecord(raw).at(*names)
    for place in held if isinstance(held, Mapping) else ():
        alone = BedsideRecord(raw).with_value(names, {place: held[place]})
        try:
            msgspec.convert(dict(alone.fields), OwnForm)
        except msgspec.ValidationError as error:
            if str(error).endswith(f"{path}`"):
                return f"{before}['{shown(place)}']{after}"
    return path


def _in_words(message: str, path: str, document: dict[str, Any]) -> str:
    """What a complaint of the form check means to the writer of the file."""
    if message.startswith("Invalid enum value"):
        field = next((f for f in reversed(re.findall(r"\w+", path)) if f in WORDS), "")
        word = message.removeprefix("Invalid enum value ").strip("'\"")
        return tr(
            "'{word}' does not belong here; write one of {words}",
            word=shown(word),
            words=WORDS.get(field, ""),
        )
    limit = re.fullmatch(r"Expected `(?:int|float)` ([<>]=) ([\d.]+)", message)
    if limit:
        number = float(limit[2])
        if limit[1] == "<=":
            return tr("the number is at most {number:g} here; mend it", number=number)
        return tr("the number is at least {number:g} here; mend it", number=number)
    if message.startswith("Expected `array` of length 2"):
        return tr("a trial is what was given and what was said; write two words")
    return in_words(message, path, document)


def _places(part: str) -> tuple[str, ...]:
    test = part.replace("_", "-")
    found = tuple(s.id for s in sites() if s.test == test)
    return (*found, *POINTS) if test == "temperature" else found


def _unknown(place: str, known: tuple[str, ...], name: str, path: str) -> None:
    near = nearest(place, [k.lower() for k in known])
    exact = {k.lower(): k for k in known}
    word = shown(place)
    if near:
        ask = tr("there is no place '{id}'; did you mean '{near}'?", id=word, near=exact[near])
        fault(name, path, ask)
    if known == POINTS:
        fault(name, path, tr("there is no place '{id}'; there are C2 to S3 and S4-5", id=word))
    others = ", ".join(k for k in known if k not in POINTS)
    fault(name, path, tr("there is no place '{id}'; there are {known}", id=word, known=others))
