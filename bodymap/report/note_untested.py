"""What was not tested, in words of its own: nothing here may be read as normal."""

from collections.abc import Iterator

from bodymap.atlas import Atlas
from bodymap.classification.scores import KEY_MUSCLES, PARTS, POINTS, SIDES
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import sites
from bodymap.language import later, tr
from bodymap.report.note_drawn import answers, field_of, recorded
from bodymap.report.note_method import because, done, steps_told
from bodymap.report.note_points import LABELS, changes_at
from bodymap.report.note_results import listed, ranges, sided
from bodymap.report.note_sides import tested_in
from bodymap.report.note_signs import grades_at
from bodymap.report.note_tests import the
from bodymap.terms import Modality, Side

ANAL = {
    "deep_anal_pressure": later("deep anal pressure"),
    "voluntary_anal_contraction": later("voluntary anal contraction"),
}

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
        f"{tr(name)}{because(record, part, '', '')}"
        for part, name in ANAL.items()
        if getattr(record.scores, part) is None
        and (record.scores.cord_injury or record.at(part) is not None)
    ]
    lines = [line for line in lines if line]
    for step in steps_told(record, "reasons"):
        if not every_point or done(record, step):
            continue
        if not any(step.words in line for line in lines):
            lines.append(tr("{step}: {words}", step=step.name, words=step.words))
    return lines


def _tests(atlas: Atlas, drawing: Drawing) -> str:
    """Tests of the usual examination of which nothing is there."""
    record = drawing.record
    here = {m for side in (Side.RIGHT, Side.LEFT) for m in tested_in(drawing, atlas, side)}
    missing = [f"{m.label}{because(record, field_of(m), '', '')}"
               for m in Modality if m not in here]  # fmt: skip
    romberg = record.at("romberg")
    if not romberg or romberg["result"] == "not done":
        missing.append(f"{tr('Romberg')}{because(record, 'romberg')}")
    graded = any(grades_at(record, side) for side in SIDES)
    kinds = {atlas.facts.signs[sign].kind for sign, _ in drawing.signs.found}
    missing += [tr("muscle power")] * (not graded and "muscle" not in kinds)
    missing += [tr("reflexes")] * ("reflex" not in kinds)
    return listed(missing)


def _sides(atlas: Atlas, drawing: Drawing) -> Iterator[str]:
    """Sides that were left out of a test that the other side had."""
    found = {side: tested_in(drawing, atlas, side) for side in (Side.RIGHT, Side.LEFT)}
    for side, tests in found.items():
        other = found[side.opposite]
        missing = [m.label for m in Modality if m in other and m not in tests]
        if not tests and missing:
            yield tr(WHOLE_SIDE[side])
        elif missing:
            yield tr("{tests} on the {side}", tests=listed(missing), side=side.word)


WHOLE_SIDE = {
    Side.RIGHT: later("the right side, in any modality"),
    Side.LEFT: later("the left side, in any modality"),
}


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
            yield tr(IN_LIMBS[limb], tests=listed(labels))


IN_LIMBS = {"arm": later("{tests} in the arms"), "leg": later("{tests} in the legs")}


def _points(record: BedsideRecord, every_point: bool) -> Iterator[str]:
    """Key points without a score, in each modality that has any."""
    by_words: dict[str, list[str]] = {}
    others = []
    for part, label in LABELS.items():
        sides = [s for s in SIDES if changes_at(record, part, s)]
        by_side = {side: _missing(record, part, side, every_point) for side in sides}
        if any(by_side.values()):
            by_words.setdefault(sided(by_side), []).append(tr(label))
        if not every_point and any(
            _missing(record, part, side, True) != by_side[side] for side in sides
        ):
            others.append(tr(label))
    for words, labels in by_words.items():
        yield tr("{tests} at {segments}", tests=listed(labels), segments=words)
    if others:
        yield tr("{tests} at key points that are not named here", tests=listed(others))


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
                    words[side] = f"{the(site)}{because(record, part, side, site.id)}"
            if words:
                yield tr("{test} at {places}", test=modality.label, places=sided(words))
        if modality is Modality.TEMPERATURE:
            by_side = {
                side: ranges([p for p, word in (record.at(part, side) or {}).items()
                              if word == "NT" and p in POINTS])
                for side in SIDES
            }  # fmt: skip
            if any(by_side.values()):
                yield tr("{tests} at {segments}", tests=modality.label, segments=sided(by_side))


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
        yield tr("key muscles at {segments}", segments=sided(by_side))
