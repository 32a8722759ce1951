"""From the ``record`` of a case to a checked Record, or one sentence that says what is wrong.

Fields of the record that the classification does not use (ladders, trials, notes) are
left alone. A missing point is not tested. ``lowest_non_key`` is bodymap's own field for
non-key muscle functions, {"right": "L2"}: a missing side had none; "NT" says unknown.
"""

from collections.abc import Mapping
from typing import Any

from bodymap.classification.scores import (
    ANAL,
    KEY_MUSCLES,
    NORMAL_SCORE,
    NORMALS,
    NOT_TESTED,
    PARTS,
    PLACE,
    SIDES,
    HalfRecord,
    NonKey,
    Record,
    Score,
)
from bodymap.faults import fault, nearest, shown
from bodymap.language import tr

FOUND = {"YES": True, "NO": False, "NT": None}


def read_record(document: Mapping[str, Any], name: str) -> Record:
    """The record of a case document.

    Raises CaseError, with ``name`` as the file, at the first value that cannot stand.
    """
    if "record" not in document:
        none = tr("the case holds no bedside record; add the field 'record'")
        fault(name, "$.record", none)
    return read_scores(_object(document["record"], name, "$.record"), name)


def read_scores(raw: Mapping[str, Any], name: str) -> Record:
    """The scores, grades and anal findings in the fields of a record.

    Raises CaseError, with ``name`` as the file, at the first value that cannot stand.
    """
    right, left = (_half(raw, side, name) for side in SIDES)
    for part in (*PARTS, "lowest_non_key"):
        _check_sides(raw.get(part, {}), name, f"$.record.{part}")
    pressure, contraction = (_anal(raw.get(p, "NT"), name, f"$.record.{p}") for p in ANAL)
    injury = raw.get("spinal_cord_injury", False)
    if not isinstance(injury, bool):
        mend = tr("true or false belongs here; write one of them")
        fault(name, "$.record.spinal_cord_injury", mend)
    return Record(right, left, pressure, contraction, injury)


def read_score(value: Any, normal: int, name: str, path: str) -> Score:
    """A score or grade as it may stand in a file: "2", 2, "NT", "1*", "NT*"."""
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    text = str(value) if isinstance(value, int | str) and not isinstance(value, bool) else ""
    plain = text.strip().upper()
    starred = plain.endswith("*")
    plain = plain.removesuffix("*")
    if plain == "NT":
        return Score(None, starred)
    if plain not in [str(n) for n in range(normal + 1)]:
        fault(name, path, _no_score(value) if normal == NORMAL_SCORE else _no_grade(value))
    if starred and int(plain) == normal:
        star = tr("a normal value carries no star; write {normal}", normal=normal)
        fault(name, path, star)
    return Score(int(plain), starred)


def _no_score(value: Any) -> str:
    return tr(
        "'{value}' is no score; write 0 to 2 or NT, an abnormal value with * where it has "
        "another cause",
        value=shown(value),
    )


def _no_grade(value: Any) -> str:
    return tr(
        "'{value}' is no muscle grade; write 0 to 5 or NT, an abnormal value with * where it has "
        "another cause",
        value=shown(value),
    )


def _half(raw: Mapping[str, Any], side: str, name: str) -> HalfRecord:
    scores: dict[str, tuple[Score, ...]] = {}
    for part, segments in PARTS.items():
        path = f"$.record.{part}"
        values = _object(raw.get(part, {}), name, path).get(side, {})
        path = f"{path}.{side}"
        _check_segments(_object(values, name, path), segments, name, path)
        scores[part] = tuple(
            read_score(values[s], NORMALS[part], name, _at(path, s)) if s in values else NOT_TESTED
            for s in segments
        )
    path = "$.record.lowest_non_key"
    word = _object(raw.get("lowest_non_key", {}), name, path).get(side, "none")
    return HalfRecord(**scores, non_key=_non_key(word, name, f"{path}.{side}"))


def _non_key(word: Any, name: str, path: str) -> NonKey:
    if word == "none":
        return NonKey()
    if word == "NT":
        return NonKey(tested=False)
    if not isinstance(word, str) or word not in KEY_MUSCLES:
        known = ", ".join(KEY_MUSCLES)
        none = tr(
            "'{word}' is no segment; write one of {known}, none, NT", word=shown(word), known=known
        )
        fault(name, path, none)
    return NonKey(PLACE[word])


def _anal(value: Any, name: str, path: str) -> bool | None:
    word = value.strip().upper() if isinstance(value, str) else ""
    if word not in FOUND:
        none = tr("'{value}' is no finding; write yes, no or NT", value=shown(value))
        fault(name, path, none)
    return FOUND[word]


def _check_sides(values: Mapping[str, Any], name: str, path: str) -> None:
    for side in values:
        if side not in SIDES:
            none = tr("there is no side '{side}'; write right or left", side=shown(side))
            fault(name, path, none)


def _check_segments(
    values: Mapping[str, Any], segments: tuple[str, ...], name: str, path: str
) -> None:
    for segment in values:
        if segment not in segments:
            muscles = segments == KEY_MUSCLES
            fault(name, path, _no_muscle(segment) if muscles else _no_point(segment, segments))


def _no_muscle(segment: str) -> str:
    near, word = nearest(segment, [s.lower() for s in KEY_MUSCLES]), shown(segment)
    if near:
        return tr(
            "there is no key muscle '{id}'; did you mean '{near}'?", id=word, near=near.upper()
        )
    known = ", ".join(KEY_MUSCLES)
    return tr("there is no key muscle '{id}'; there are {known}", id=word, known=known)


def _no_point(segment: str, points: tuple[str, ...]) -> str:
    near, word = nearest(segment, [s.lower() for s in points]), shown(segment)
    if near:
        return tr(
            "there is no key point '{id}'; did you mean '{near}'?", id=word, near=near.upper()
        )
    return tr("there is no key point '{id}'; there are C2 to S3 and S4-5", id=word)


def _object(value: Any, name: str, path: str) -> Mapping[str, Any]:
    if not isinstance(value, Mapping):
        mend = tr("an object belongs here, not '{value}'; write {{...}}", value=shown(value))
        fault(name, path, mend)
    return value


def _at(path: str, segment: str) -> str:
    return f"{path}.{segment}" if segment.isidentifier() else f"{path}['{segment}']"
