"""What a value means: lower limits of the graduated fork by age, marks of filaments, bands
of two-point discrimination. Figures and sources stand in ``assets/examination``."""

from functools import cache

from bodymap.atlas.assets import assets_folder, table
from bodymap.terms import Change

FELT_OF_THREE = 2
"""Touches of three that must be felt for protective sensation to be present (IWGDF)."""

SHORT_SECONDS = 8.0
"""A 128 Hz fork struck hard and felt at the great toe for so long or less is reduced (Oyer
2007, Endocr Pract 13:5)."""


STOOD_SECONDS = 10.0
"""Seconds to stand with closed eyes for Romberg. All of 184 adults aged 20 to 79 stood 30 s
(Bohannon 1984, Phys Ther 64:1067), so balance lost before is abnormal; ten do not exclude a
mild loss."""

LEAST_TRIALS = 10
"""Forced choices of sharp or dull that are needed for a judgement (ISNCSCI 2019 booklet: 8
of 10; from memory)."""


@cache
def _rows(name: str) -> list[dict[str, str]]:
    return table(assets_folder(), name, "examination")


def lowest_normal_eighths(age: int, limb: str) -> float | None:
    """The lowest normal reading of the graduated fork (0 to 8) on an arm or leg at an age
    in years, or None beyond the table (Martina 1998, from memory)."""
    for row in _rows("vibration-norms"):
        if int(row["age_from"]) <= age <= int(row["age_to"]):
            return float(row[f"{limb}_eighths"])
    return None


def filament_bands() -> dict[str, tuple[float, str]]:
    """Mark of a filament to its nominal force (g) and what feeling it at best means on
    the hand (PMC7873561, table 1)."""
    return {r["mark"]: (float(r["nominal_g"]), r["hand_band"]) for r in _rows("monofilaments")}


def two_point_band(mm: float) -> str:
    """What a static two-point distance at a fingertip means (ASSH 1983, from memory)."""
    return next(row["band"] for row in _rows("two-point-bands") if mm < float(row["below_mm"]))


def felt_from_seconds(seconds: float) -> Change:
    """What the time of a fork struck hard says at the great toe."""
    if seconds <= 0:
        return Change.ABSENT
    return Change.REDUCED if seconds <= SHORT_SECONDS else Change.NORMAL


def felt_from_eighths(eighths: float, age: int | None, limb: str) -> Change | None:
    """What a graduated reading says, or None where there is no norm for it."""
    limit = None if age is None else lowest_normal_eighths(age, limb)
    if eighths == 0:
        return Change.ABSENT
    if limit is None:
        return None
    return Change.NORMAL if eighths >= limit else Change.REDUCED
