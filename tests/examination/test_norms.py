"""Norms against rows of the published tables, typed here a second time."""

import math

import pytest

from bodymap.examination.norms import (
    felt_from_eighths,
    felt_from_seconds,
    filament_bands,
    lowest_normal_eighths,
    two_point_band,
)
from bodymap.findings.sites import sites
from bodymap.terms import Change


@pytest.mark.parametrize(
    ("age", "arm", "leg"),
    [(18, 6.5, 4.5), (40, 6.5, 4.5), (41, 6.0, 4.0), (60, 6.0, 4.0), (61, 5.5, 3.5),
     (85, 5.5, 3.5), (86, 5.0, 3.0)],
)  # fmt: skip
def test_graduated_fork(age: int, arm: float, leg: float) -> None:
    """Martina 1998, J Neurol Neurosurg Psychiatry 65:743-747, lower limits; from memory."""
    assert lowest_normal_eighths(age, "arm") == arm
    assert lowest_normal_eighths(age, "leg") == leg
    assert felt_from_eighths(leg, age, "leg") is Change.NORMAL
    assert felt_from_eighths(leg - 0.5, age, "leg") is Change.REDUCED
    assert felt_from_eighths(0, age, "leg") is Change.ABSENT
    assert felt_from_eighths(leg, None, "leg") is None


def test_filament_marks() -> None:
    """PMC7873561, table 1: nominal forces and bands of the hand; and the definition of the
    mark, log10 of ten times the force in mg, which nominal forces follow within a third."""
    bands = filament_bands()
    assert len(bands) == 20
    assert bands["2.83"] == (0.07, "normal")
    assert bands["3.61"] == (0.4, "diminished light touch")
    assert bands["4.31"] == (2.0, "diminished protective sensation")
    assert bands["5.07"] == (10.0, "loss of protective sensation")
    assert bands["6.65"] == (300.0, "deep pressure only")
    for mark, (grams, _) in bands.items():
        if mark not in ("1.65", "2.44", "6.45", "6.65"):  # known to diverge
            assert math.log10(10 * grams * 1000) == pytest.approx(float(mark), abs=0.13)


@pytest.mark.parametrize(
    ("mm", "band"), [(2, "normal"), (5, "normal"), (6, "fair"), (10, "fair"), (11, "poor"),
                     (15, "poor"), (16, "protective at most")],
)  # fmt: skip
def test_two_points(mm: float, band: str) -> None:
    """ASSH 1983, static, fingertip: under 6 normal, 6 to 10 fair, 11 to 15 poor; from
    memory."""
    assert two_point_band(mm) == band


def test_no_norm_for_children_nor_at_other_places() -> None:
    """Martina 1998 measured adults at index finger, ulnar styloid, great toe and medial
    malleolus; from memory."""
    assert lowest_normal_eighths(17, "leg") is None
    normed = {s.id for s in sites() if s.norm}
    assert normed == {"great-toe", "medial-malleolus", "index-finger", "ulnar-styloid"}
    assert all(s.test == "vibration" for s in sites() if s.norm)


def test_seconds_at_the_great_toe() -> None:
    """Oyer 2007, Endocr Pract 13:5: 8 s or less is reduced."""
    assert felt_from_seconds(8) is Change.REDUCED
    assert felt_from_seconds(8.5) is Change.NORMAL
    assert felt_from_seconds(0) is Change.ABSENT
