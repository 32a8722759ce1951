"""The sensory level of one side in one modality, told more simply than by ISNCSCI: the
last segment from C2 downwards with normal sensation. The joint level of the standard is in
``classification``; a level for each modality is a useful extra."""

from bodymap.classification.scores import NORMAL_SCORE, POINTS, HalfRecord, Record

UNTESTED = "not determined"


def modality_level(half: HalfRecord, part: str) -> str | None:
    """The level of ``part`` (light_touch, pinprick): a segment, "C1" where C2 is already
    altered, "intact", "not determined" where an untested point comes first, or None where
    nothing was tested."""
    scores = dict(zip(POINTS, getattr(half, part), strict=True))
    if all(score.value is None for score in scores.values()):
        return None
    level = "C1"
    for segment, score in scores.items():
        if score.value is None:
            return UNTESTED
        if score.value < NORMAL_SCORE:
            return level
        level = segment
    return "intact"


def last_normal_tested(half: HalfRecord, part: str) -> str | None:
    """The last normal point of ``part`` above the first altered one, of those that were
    tested; None where none was normal."""
    last = None
    for segment, score in zip(POINTS, getattr(half, part), strict=True):
        if score.value is not None and score.value < NORMAL_SCORE:
            return last
        if score.value is not None:
            last = segment
    return last


TRUNK = POINTS[POINTS.index("T2") : POINTS.index("L1") + 1]
LEGS = POINTS[POINTS.index("L2") : POINTS.index("S2")]


def level_in_question(record: Record) -> bool:
    """Whether every segment should be examined, the sacral ones with them: an altered point
    of the trunk, or of both legs, in one modality. Judgement; common practice."""
    for part in ("light_touch", "pinprick"):
        altered = {
            side: {
                segment
                for segment, score in zip(POINTS, getattr(half, part), strict=True)
                if score.value is not None and score.value < NORMAL_SCORE
            }
            for side, half in record.sides.items()
        }
        if any(found & set(TRUNK) for found in altered.values()):
            return True
        if all(found & set(LEGS) for found in altered.values()):
            return True
    return False
