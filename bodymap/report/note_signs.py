"""Muscles, reflexes and the anal examination, as far as they were tested."""

from bodymap.atlas import Atlas
from bodymap.classification.scores import ARM_MUSCLES, KEY_MUSCLES, LEG_MUSCLES, NORMAL_GRADE, SIDES
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.signs import SignChange
from bodymap.language import later, lower_first, tr
from bodymap.report.note_results import Result, State, listed, sided
from bodymap.terms import Side

ANAL = {
    "deep_anal_pressure": (later("deep anal pressure felt"), later("deep anal pressure not felt")),
    "voluntary_anal_contraction": (
        later("voluntary anal contraction present"),
        later("voluntary anal contraction absent"),
    ),
}


def grades_at(record: BedsideRecord, side: str) -> dict[str, str]:
    """Grades of the key muscles that were tested, by segment: "3", "4*"."""
    grades = record.scores.sides[side].motor
    return {s: str(g) for s, g in zip(KEY_MUSCLES, grades, strict=True) if g.value is not None}


def sign_results(atlas: Atlas, drawing: Drawing) -> list[Result]:
    """Key-muscle grades of the record, then the muscles and reflexes that were noted."""
    record = drawing.record
    by_side = {side: grades_at(record, side) for side in SIDES}
    found = sorted({g for grades in by_side.values() for g in grades.values()})
    results = []
    for grade in found:
        places = {
            side: _segments([s for s, g in grades.items() if g == grade])
            for side, grades in by_side.items()
        }
        state = State.NORMAL if grade == str(NORMAL_GRADE) else State.ABNORMAL
        number, star = grade.rstrip("*"), "*" * grade.endswith("*")
        words = tr(
            "key muscles {grade}/{full}{star} at {segments}",
            grade=number, full=NORMAL_GRADE, star=star, segments=sided(places),
        )  # fmt: skip
        results.append(Result(state, words))
    return results + _noted(atlas, drawing)


def _noted(atlas: Atlas, drawing: Drawing) -> list[Result]:
    by_words: dict[tuple[str, SignChange], list[Side]] = {}
    for (sign, side), change in sorted(drawing.signs.found.items()):
        by_words.setdefault((sign, change), []).append(side)
    results = []
    for (sign, change), sides in by_words.items():
        label = lower_first(atlas.facts.signs[sign].label)
        state = State.NORMAL if change is SignChange.NORMAL else State.ABNORMAL
        muscle = atlas.facts.signs[sign].kind == "muscle"
        words = tr("{sign} {change}", sign=label, change=change.word)
        if change is SignChange.NORMAL:
            words = tr("power of {muscle}", muscle=label) if muscle else label
        results.append(Result(state, sided(dict.fromkeys(sides, words))))
    return results


def _segments(segments: list[str]) -> str:
    """Segments with a key muscle: whole limbs as a range."""
    words: list[str] = []
    for limb in (ARM_MUSCLES, LEG_MUSCLES):
        mine = [s for s in segments if s in limb]
        whole = tr("{first} to {last}", first=limb[0], last=limb[-1])
        words += [whole] if len(mine) == len(limb) else mine
    return listed(words)


def anal_results(record: BedsideRecord) -> list[Result]:
    """Deep anal pressure and voluntary anal contraction."""
    results = []
    for part, (present, absent) in ANAL.items():
        value = getattr(record.scores, part)
        if value is not None:
            state = State.NORMAL if value else State.ABNORMAL
            results.append(Result(state, tr(present if value else absent)))
    return results
