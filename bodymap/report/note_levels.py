"""Levels by modality and side, and the classification where a cord injury is recorded."""

from bodymap.classification.classify import UNDETERMINED, Classification, classify
from bodymap.classification.scores import POINTS, SIDES
from bodymap.findings.record import BedsideRecord
from bodymap.language import capital, later, tr
from bodymap.report.note_points import LABELS, changes_at
from bodymap.report.note_results import either, ranges, sided

ND = later("not determined")


def level_lines(record: BedsideRecord) -> list[str]:
    """Where each modality becomes abnormal on each side, with the last normal segment and
    what lies untested between; or that it is normal again below, which is no level."""
    lines = []
    for part, label in LABELS.items():
        words = {side: level_words(record, part, side) for side in SIDES}
        if any(words.values()):
            name = capital(tr(label))
            lines.append(tr("{modality}: {levels}.", modality=name, levels=sided(words)))
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
        return tr(
            "no sensory level (altered at {altered}, normal below at {spared})",
            altered=ranges(altered), spared=ranges(spared),
        )  # fmt: skip
    words = either([tr(word) for word in dict.fromkeys(found[s] for s in altered)])
    last = altered[-1]
    if first == last:
        told = [tr("{changes} at {segment}", changes=words, segment=first)]
    else:
        told = [tr("{changes} from {segment} downward", changes=words, segment=first)]
    if last != POINTS[-1]:
        told.append(tr("{segment} being the lowest tested", segment=last))
    return ", ".join([*told, *_above(found, first)])


def _above(found: dict[str, str], first: str) -> list[str]:
    """The last normal segment above the first altered one, and what lies untested between."""
    place = POINTS.index(first)
    tested = [s for s in found if POINTS.index(s) < place]
    if not tested:
        return [] if place == 0 else [tr("nothing above it being tested")]
    last = tested[-1]
    between = POINTS[POINTS.index(last) + 1 : place]
    if not between:
        return [tr("last normal segment {segment}", segment=last)]
    return [
        tr(
            "last normal segment {segment} ({between} not tested)",
            segment=last, between=ranges(between),
        )
    ]  # fmt: skip


def classification_lines(record: BedsideRecord, short: bool = False) -> list[str]:
    """The classification by ISNCSCI, only where a cord injury is recorded."""
    if not record.scores.cord_injury:
        return []
    found = classify(record.scores)
    level, scale = _said(found, "neurological_level"), _said(found, "impairment_scale")
    if short:
        return [
            tr(
                "ISNCSCI (cord injury recorded): neurological level {level}, "
                "impairment scale {scale}.",
                level=level, scale=scale,
            )
        ]  # fmt: skip
    lines = [
        tr(
            "ISNCSCI 2019 (cord injury recorded): sensory level {sensory}; motor level {motor}.",
            sensory=_sided(found, "sensory_level"), motor=_sided(found, "motor_level"),
        ),
        tr(
            "Neurological level {level}; injury {completeness}; impairment scale {scale}.",
            level=level, completeness=_said(found, "completeness"), scale=scale,
        ),
        tr("Sums: {sums}.", sums="; ".join(_sum(found, name) for name in _SUMS)),
    ]  # fmt: skip
    zones = [
        tr(zone, levels=_sided(found, "partial_preservation", kind))
        for kind, zone in _ZONES.items()
        if any(found.result("partial_preservation", kind, s) != "NA" for s in SIDES)
    ]
    if zones:
        lines.append(tr("Zone of partial preservation: {zones}.", zones="; ".join(zones)))
    return lines + [tr(words) for words in found.notes]


def _sided(found: Classification, *field: str) -> str:
    """A result of each side."""
    return sided({side: _said(found, *field, side) for side in SIDES})


_ZONES = {"sensory": later("sensory {levels}"), "motor": later("motor {levels}")}

_SUMS = {
    "light_touch": (later("light touch"), 112),
    "pinprick": (later("pinprick"), 112),
    "upper_extremity": (later("arm muscles"), 50),
    "lower_extremity": (later("leg muscles"), 50),
}
"""Each sum with its name and its largest value on both sides (ISNCSCI)."""


def _sum(found: Classification, name: str) -> str:
    label, most = _SUMS[name]
    total = found.result(name, "total")
    right, left = (found.result(name, side) for side in SIDES)
    if total == UNDETERMINED:
        return tr("{sum} not determined", sum=tr(label))
    return tr(
        "{sum} {total}/{most} (right {at_right}, left {at_left})",
        sum=tr(label), total=total, most=most, at_right=right, at_left=left,
    )  # fmt: skip


def _said(found: Classification, *field: str) -> str:
    """A result, or that it is not determined and what it could be."""
    value = found.result(*field)
    if value != UNDETERMINED:
        return _word(value)
    could = found.possible(field)
    if len(could) >= MANY:
        return tr(ND)
    return tr("not determined ({results})", results=either([_word(one) for one in could]))


MANY = 6
"""So many possible results are not told one by one."""


def _word(value: str) -> str:
    """A value of the classification as it is read, with its star."""
    bare = value.rstrip("*")
    return tr(bare) + value[len(bare) :]
