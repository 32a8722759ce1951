"""Levels by modality and side, and the classification where a cord injury is recorded."""

from bodymap.classification.classify import UNDETERMINED, Classification, classify
from bodymap.classification.scores import POINTS, SIDES
from bodymap.findings.record import BedsideRecord
from bodymap.report.note_points import LABELS, changes_at
from bodymap.report.note_results import listed, ranges, sided

ND = "not determined"


def level_lines(record: BedsideRecord) -> list[str]:
    """Where each modality becomes abnormal on each side, with the last normal segment and
    what lies untested between; or that it is normal again below, which is no level."""
    lines = []
    for part, label in LABELS.items():
        words = {side: level_words(record, part, side) for side in SIDES}
        if any(words.values()):
            lines.append(f"{label[:1].upper()}{label[1:]}: {sided(words)}.")
    return lines


def level_words(record: BedsideRecord, part: str, side: str) -> str:
    """The level of one side in words, empty where nothing is abnormal."""
    found = {s: word for s, (word, _) in changes_at(record, part, side).items()}
    altered = [s for s, word in found.items() if word != "normal"]
    if not altered:
        return ""
    first = altered[0]
    below = [s for s in found if POINTS.index(s) > POINTS.index(first)]
    spared = [s for s in below if s not in altered]
    if spared:
        return f"no sensory level (altered at {ranges(altered)}, normal below at {ranges(spared)})"
    words = listed(list(dict.fromkeys(found[s] for s in altered)), "or")
    last = altered[-1]
    told = f"{words} from {first} downward"
    if first == last:
        told = f"{words} at {first}"
    if last != POINTS[-1]:
        told += f", {last} being the lowest tested"
    return told + _above(found, first)


def _above(found: dict[str, str], first: str) -> str:
    """The last normal segment above the first altered one, and what lies untested between."""
    place = POINTS.index(first)
    tested = [s for s in found if POINTS.index(s) < place]
    if not tested:
        return "" if place == 0 else ", nothing above it being tested"
    between = POINTS[POINTS.index(tested[-1]) + 1 : place]
    gap = f" ({ranges(between)} not tested)" if between else ""
    return f", last normal segment {tested[-1]}{gap}"


def classification_lines(record: BedsideRecord, short: bool = False) -> list[str]:
    """The classification by ISNCSCI, only where a cord injury is recorded."""
    if not record.scores.cord_injury:
        return []
    found = classify(record.scores)
    level = f"neurological level {_said(found, 'neurological_level')}"
    scale = f"impairment scale {_said(found, 'impairment_scale')}"
    whole = f"injury {_said(found, 'completeness')}"
    if short:
        return [f"ISNCSCI (cord injury recorded): {level}, {scale}."]
    levels = [
        f"{name} level {sided({s: _said(found, f'{name}_level', s) for s in SIDES})}"
        for name in ("sensory", "motor")
    ]
    lines = [
        f"ISNCSCI 2019 (cord injury recorded): {'; '.join(levels)}.",
        f"{level[:1].upper()}{level[1:]}; {whole}; {scale}.",
        "Sums: " + "; ".join(_sum(found, name) for name in _SUMS) + ".",
    ]
    zones = [
        f"{kind} {sided({s: _said(found, 'partial_preservation', kind, s) for s in SIDES})}"
        for kind in ("sensory", "motor")
        if any(found.result("partial_preservation", kind, s) != "NA" for s in SIDES)
    ]
    if zones:
        lines.append(f"Zone of partial preservation: {'; '.join(zones)}.")
    return lines + list(found.notes)


_SUMS = {
    "light_touch": ("light touch", 112),
    "pinprick": ("pinprick", 112),
    "upper_extremity": ("arm muscles", 50),
    "lower_extremity": ("leg muscles", 50),
}
"""Each sum with its name and its largest value on both sides (ISNCSCI)."""


def _sum(found: Classification, name: str) -> str:
    label, most = _SUMS[name]
    total = found.result(name, "total")
    right, left = (found.result(name, side) for side in SIDES)
    if total == UNDETERMINED:
        return f"{label} {ND}"
    return f"{label} {total}/{most} (right {right}, left {left})"


def _said(found: Classification, *field: str) -> str:
    """A result, or that it is not determined and what it could be."""
    value = found.result(*field)
    if value != UNDETERMINED:
        return value
    could = found.possible(field)
    return f"{ND} ({listed(list(could), 'or')})" if len(could) < 6 else ND
