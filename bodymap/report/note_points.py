"""Light touch and pinprick at the key points of the record."""

from bodymap.classification.scores import NORMAL_SCORE, POINTS, SIDES
from bodymap.findings.record import BedsideRecord
from bodymap.language import later, tr
from bodymap.report.note_results import CHANGES, Result, ranges, said, sided, state_of

LABELS = {"light_touch": later("light touch"), "pinprick": later("pinprick")}


def changes_at(record: BedsideRecord, part: str, side: str) -> dict[str, tuple[str, bool]]:
    """What was found at each tested key point of a side, by segment: the word, and
    whether a star says that it has another cause than the cord injury."""
    found = {}
    scores = getattr(record.scores.sides[side], part)
    for segment, score in zip(POINTS, scores, strict=True):
        if score.value is None:
            continue
        word = "absent" if score.value == 0 else "normal"
        if 0 < score.value < NORMAL_SCORE:
            word = record.at("quality", part, side, segment) or "reduced"
        found[segment] = (word, score.starred)
    return found


def starred(record: BedsideRecord) -> bool:
    """Whether any point or muscle carries a star, one that was not tested as well."""
    return any(half.starred for half in record.scores.sides.values())


def point_results(record: BedsideRecord, part: str) -> list[Result]:
    """Results at key points, the gravest first."""
    by_side = {side: changes_at(record, part, side) for side in SIDES}
    results = []
    for change in CHANGES:
        for star in (False, True):
            places = {
                side: ranges([s for s, found in points.items() if found == (change, star)])
                for side, points in by_side.items()
            }
            if any(places.values()):
                told = said(tr(LABELS[part]), change) + "*" * star
                words = tr("{result} at {segments}", result=told, segments=sided(places))
                results.append(Result(state_of(change), words))
    return results
