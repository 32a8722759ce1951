"""What was not tested, in words of its own: nothing here may be read as normal."""

from collections.abc import Iterator

from bodymap.atlas import Atlas
from bodymap.classification.scores import KEY_MUSCLES, PARTS, POINTS, SIDES
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import sites
from bodymap.report.note_drawn import answers, field_of, recorded
from bodymap.report.note_method import because, done, steps_told
from bodymap.report.note_points import LABELS, changes_at
from bodymap.report.note_results import listed, ranges, sided
from bodymap.report.note_sides import tested_in
from bodymap.report.note_signs import ANAL, grades_at
from bodymap.terms import Modality, Side

LADDERS = (Modality.TEMPERATURE, Modality.VIBRATION, Modality.JOINT_POSITION)


def untested(atlas: Atlas, drawing: Drawing, every_point: bool = True) -> list[str]:
    """What was not tested: whole tests, sides, limbs and single places, with the reason
    where one was noted. Without ``every_point`` key points that nobody meant to test
    are left out."""
    record = drawing.record
    lines = [_tests(atlas, drawing), *_sides(atlas, drawing), *_limbs(record)]
    lines += _points(record, every_point)
    lines += _places(record)
    lines += _muscles(record, every_point)
    lines += [
        f"{part.replace('_', ' ')}{because(record, part, '', '')}"
        for part in ANAL
        if getattr(record.scores, part) is None
        and (record.scores.cord_injury or record.at(part) is not None)
    ]
    lines = [line for line in lines if line]
    for step in steps_told(record, "reasons"):
        if not every_point or done(record, step):
            continue
        if not any(step.words in line for line in lines):
            lines.append(f"{step.name}: {step.words}")
    return lines


def _tests(atlas: Atlas, drawing: Drawing) -> str:
    """Tests of the usual examination of which nothing is there."""
    record = drawing.record
    here = {m for side in (Side.RIGHT, Side.LEFT) for m in tested_in(drawing, atlas, side)}
    missing = [f"{m.label}{because(record, field_of(m), '', '')}"
               for m in Modality if m not in here]  # fmt: skip
    romberg = record.at("romberg")
    if not romberg or romberg["result"] == "not done":
        missing.append(f"Romberg{because(record, 'romberg')}")
    graded = any(grades_at(record, side) for side in SIDES)
    kinds = {atlas.facts.signs[sign].kind for sign, _ in drawing.signs.found}
    missing += ["muscle power"] * (not graded and "muscle" not in kinds)
    missing += ["reflexes"] * ("reflex" not in kinds)
    return listed(missing)


def _sides(atlas: Atlas, drawing: Drawing) -> Iterator[str]:
    """Sides that were left out of a test that the other side had."""
    found = {side: tested_in(drawing, atlas, side) for side in (Side.RIGHT, Side.LEFT)}
    for side, tests in found.items():
        other = found[side.opposite]
        missing = [m.label for m in Modality if m in other and m not in tests]
        if not tests and missing:
            yield f"the {side} side, in any modality"
        elif missing:
            yield f"{listed(missing)} on the {side}"


def _limbs(record: BedsideRecord) -> Iterator[str]:
    """Arms or legs that a ladder left out on both sides."""
    left_out: dict[str, list[str]] = {"arm": [], "leg": []}
    for modality in LADDERS:
        places = {p for side in SIDES for p in answers(record, modality, side)}
        limbs = {s.limb for s in sites() if s.test == modality.value and s.id in places}
        if recorded(record, modality) and limbs and not places & set(POINTS):
            for limb in left_out.keys() - limbs:
                left_out[limb].append(modality.label)
    for limb, labels in left_out.items():
        if labels:
            yield f"{listed(labels)} in the {limb}s"


def _points(record: BedsideRecord, every_point: bool) -> Iterator[str]:
    """Key points without a score, in each modality that has any."""
    by_words: dict[str, list[str]] = {}
    others = []
    for part, label in LABELS.items():
        sides = [s for s in SIDES if changes_at(record, part, s)]
        by_side = {side: _missing(record, part, side, every_point) for side in sides}
        if any(by_side.values()):
            by_words.setdefault(sided(by_side), []).append(label)
        if not every_point and any(
            _missing(record, part, side, True) != by_side[side] for side in sides
        ):
            others.append(label)
    for words, labels in by_words.items():
        yield f"{listed(labels)} at {words}"
    if others:
        yield f"{listed(others)} at key points that are not named here"


def _missing(record: BedsideRecord, part: str, side: str, every_point: bool) -> str:
    """The key points of a side without a score, with the reasons noted; those that
    nobody meant to test only with ``every_point``."""
    tested, named = changes_at(record, part, side), record.at(part, side) or {}
    missing = [s for s in POINTS if s not in tested and (every_point or s in named)]
    stars = _stars(record, part, side)
    reasons = {s: stars.get(s, "") + because(record, part, side, s) for s in missing}
    plainly = [s for s in missing if not reasons[s]]
    words = [f"{s}{why}" for s, why in reasons.items() if why]
    return listed([*([ranges(plainly)] if plainly else []), *words])


def _stars(record: BedsideRecord, part: str, side: str) -> dict[str, str]:
    """The star of every score that has one, by segment."""
    scores = getattr(record.scores.sides[side], part)
    return {s: "*" for s, score in zip(PARTS[part], scores, strict=True) if score.starred}


def _places(record: BedsideRecord) -> Iterator[str]:
    """Places of a ladder where a test was begun and could not be done."""
    for modality in LADDERS:
        part = field_of(modality)
        for site in sites():
            if site.test != modality.value:
                continue
            words = {}
            for side in SIDES:
                value = record.at(part, side, site.id)
                if (
                    value is not None
                    and (value if isinstance(value, str) else value["felt"]) == "NT"
                ):
                    words[side] = f"the {site.label}{because(record, part, side, site.id)}"
            if words:
                yield f"{modality.label} at {sided(words)}"
        if modality is Modality.TEMPERATURE:
            by_side = {
                side: ranges([p for p, word in (record.at(part, side) or {}).items()
                              if word == "NT" and p in POINTS])
                for side in SIDES
            }  # fmt: skip
            if any(by_side.values()):
                yield f"temperature at {sided(by_side)}"


def _muscles(record: BedsideRecord, every_point: bool) -> Iterator[str]:
    """Key muscles without a grade, where any was graded."""
    by_side = {}
    for side in SIDES:
        graded, named = grades_at(record, side), record.at("motor", side) or {}
        stars = _stars(record, "motor", side)
        by_side[side] = listed(
            [f"{s}{stars.get(s, '')}{because(record, 'motor', side, s)}" for s in KEY_MUSCLES
             if s not in graded and (every_point or s in named)]
        )  # fmt: skip
    if any(grades_at(record, side) for side in SIDES) and any(by_side.values()):
        yield f"key muscles at {sided(by_side)}"
