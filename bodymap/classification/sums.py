"""The sums: light touch and pinprick 56 on a side, arm and leg muscles 25 each.

A sum is valid only if every value in it was tested; a starred value counts as it was
examined (booklet [M]). Arm and leg sums are not added to one another [M].
"""

from bodymap.classification.levels import Possible
from bodymap.classification.scores import ARM_MUSCLES, NORMALS, SIDES, Record, Score

FIELDS = {
    "light_touch": ("light_touch", slice(None)),
    "pinprick": ("pinprick", slice(None)),
    "upper_extremity": ("motor", slice(0, len(ARM_MUSCLES))),
    "lower_extremity": ("motor", slice(len(ARM_MUSCLES), None)),
}
"""Each sum with the part of the record and the places that it adds."""


def added(record: Record, field: str, which: str) -> Possible:
    """A sum of one side, or the total, in every way it could be."""
    part, _ = FIELDS[field]
    scores = contributing(record, field, which)
    least = sum(score.value or 0 for score in scores)
    unknown = sum(score.value is None for score in scores)
    return {str(n): False for n in range(least, least + unknown * NORMALS[part] + 1)}


def contributing(record: Record, field: str, which: str) -> list[Score]:
    """The scores that a sum adds; ``which`` is a side or "total"."""
    part, places = FIELDS[field]
    sides = SIDES if which == "total" else (which,)
    return [score for side in sides for score in getattr(record.sides[side], part)[places]]
