"""Muscles and reflexes in a case file: reading them checked, writing them back.

An entry of the file that still holds is written as it stood, with every field that
bodymap does not know.
"""

from collections.abc import Mapping
from typing import Any

from bodymap.atlas import Atlas
from bodymap.faults import fault, nearest, shown
from bodymap.findings.case_form import CaseForm
from bodymap.findings.signs import CHANGES, SignChange, Signs
from bodymap.language import tr
from bodymap.terms import Side


def read_signs(
    form: CaseForm, document: Mapping[str, Any], atlas: Atlas, name: str
) -> tuple[Signs, tuple[Mapping[str, Any], ...]]:
    """The signs of a checked form, and their entries as they stand in the document.

    Raises CaseError for an unknown sign, or a change that its kind cannot have.
    """
    signs = Signs()
    for number, entry in enumerate(form.signs):
        known = atlas.facts.signs.get(entry.sign)
        place = f"$.signs[{number}]"
        if known is None:
            fault(name, f"{place}.sign", unknown_sign(entry.sign, atlas))
        change = SignChange(entry.change)
        if change not in CHANGES[known.kind]:
            fault(name, f"{place}.change", _impossible(known.kind, change))
        signs = signs.noted(entry.sign, entry.side, change)
    return signs, tuple(document.get("signs", ()))


def unknown_sign(id_: str, atlas: Atlas) -> str:
    """A sign that there is not, with the nearest one."""
    near = nearest(id_, tuple(atlas.facts.signs))
    if near:
        return tr("there is no sign '{id}'; did you mean '{near}'?", id=shown(id_), near=near)
    return tr("there is no sign '{id}'; 'bodymap signs' lists them", id=shown(id_))


def _impossible(kind: str, change: SignChange) -> str:
    words = ", ".join(CHANGES[kind])
    if kind == "muscle":
        return tr(
            "a muscle is not {change}; write one of {words}", change=change.value, words=words
        )
    return tr("a reflex is not {change}; write one of {words}", change=change.value, words=words)


def written_signs(
    signs: Signs, opened: Signs, entries: tuple[Mapping[str, Any], ...]
) -> list[dict[str, Any]]:
    """The entries that say the signs; ``entries`` of the file made ``opened``."""
    if signs == opened:
        return [dict(entry) for entry in entries]
    result: list[dict[str, Any]] = []
    covered: set[tuple[str, Side]] = set()
    for entry in entries:
        side = Side(entry["side"])
        sides = (Side.LEFT, Side.RIGHT) if side is Side.BOTH else (side,)
        keys = {(entry["sign"], s) for s in sides}
        if all(signs.found.get(key) == entry["change"] for key in keys) and not keys & covered:
            result.append(dict(entry))
            covered |= keys
    for (sign, side), change in sorted(signs.found.items()):
        if (sign, side) not in covered:
            result.append({"sign": sign, "side": side.value, "change": change.value})
    return result
