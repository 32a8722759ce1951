"""Where two things that were noted of one place disagree: record and figure, a word and its
reading, a grade and a sign. Each is told to be tested again; none is preferred."""

from collections.abc import Iterator

from bodymap.atlas import Atlas
from bodymap.classification.scores import NORMAL_GRADE, SIDES
from bodymap.examination.exchange import points_taken
from bodymap.examination.muscles import key_muscles
from bodymap.examination.norms import felt_from_seconds, lowest_normal_eighths
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.signs import SignChange
from bodymap.findings.sites import Site, sites
from bodymap.language import lower_first, tr
from bodymap.report.note_drawn import POINTED, answers
from bodymap.report.note_results import figure, listed, ranges, sided
from bodymap.report.note_signs import grades_at
from bodymap.terms import Change, Side

MOST_EIGHTHS = 8
"""The highest reading of the graduated fork."""

TOE = "great-toe"
"""The place where the seconds of a fork mean something (see ``norms``)."""


def disagreements(atlas: Atlas, drawing: Drawing) -> list[str]:
    """A sentence for each."""
    return [
        *_points(atlas, drawing),
        *_readings(drawing.record),
        *_muscles(atlas, drawing),
    ]


def _points(atlas: Atlas, drawing: Drawing) -> Iterator[str]:
    """Key points whose answer in the record is not what the figure shows there."""
    painted = points_taken(atlas, drawing.with_record(BedsideRecord())).record
    for modality in POINTED:
        places: dict[tuple[str, str], dict[str, list[str]]] = {}
        for side in SIDES:
            shown = answers(painted, modality, side)
            for point, word in answers(drawing.record, modality, side).items():
                if shown.get(point, word) != word:
                    places.setdefault((word, shown[point]), {}).setdefault(side, []).append(point)
        for (word, other), by_side in places.items():
            where = sided({side: ranges(points) for side, points in by_side.items()})
            yield tr(
                "Record and figure disagree: {modality} at {segments}, is {recorded} in the "
                "record and {drawn} on the figure. Test it again.",
                modality=modality.label, segments=where, recorded=tr(word), drawn=tr(other),
            )  # fmt: skip


def _readings(record: BedsideRecord) -> Iterator[str]:
    """Places where what was felt is not what the fork reads."""
    for site in sites():
        if site.test != "vibration":
            continue
        words = {side: _reading(record, site, side) for side in SIDES}
        if any(words.values()):
            yield tr(
                "Word and reading disagree: vibration at the {place} is {readings}. Test it again.",
                place=site.label, readings=sided(words),
            )  # fmt: skip


def _reading(record: BedsideRecord, site: Site, side: str) -> str:
    """The word with the readings that say otherwise; empty where none does. What is reduced
    may be so against the other side, so only a full reading says otherwise of it."""
    rung = record.at("vibration", side, site.id) or {}
    felt, told = rung.get("felt"), []
    if felt not in (Change.NORMAL, Change.REDUCED, Change.ABSENT):
        return ""
    if "eighths" in rung:
        eighths, age = rung["eighths"], record.at("age")
        limit = lowest_normal_eighths(age, site.limb) if site.norm and age is not None else None
        if limit is not None and felt == Change.NORMAL and eighths < limit:
            told.append(
                tr(
                    "{eighths}/8 (lower limit at {age} years: {limit}/8)",
                    eighths=figure(eighths), age=age, limit=figure(limit),
                )
            )  # fmt: skip
        elif (felt == Change.ABSENT) != (eighths == 0) or (
            felt == Change.REDUCED and eighths == MOST_EIGHTHS
        ):
            told.append(f"{figure(eighths)}/8")
    if "seconds" in rung:
        seconds = rung["seconds"]
        short = site.id == TOE and felt_from_seconds(seconds) is not Change.NORMAL
        if (felt == Change.ABSENT) != (seconds == 0) or (felt == Change.NORMAL and short):
            told.append(tr("{seconds} s", seconds=figure(seconds)))
    return tr("{felt} with {readings}", felt=tr(felt), readings=listed(told)) if told else ""


def _muscles(atlas: Atlas, drawing: Drawing) -> Iterator[str]:
    """Key muscles whose grade in the record is not what was noted of the muscle that stands
    for them among the signs."""
    for segment, muscle in key_muscles().items():
        words = {}
        for side in SIDES:
            grade = grades_at(drawing.record, side).get(segment)
            sign = drawing.signs.found.get((muscle.sign, Side(side)))
            if grade is None or sign is None:
                continue
            full = grade == str(NORMAL_GRADE)
            if full is not (sign is SignChange.NORMAL):
                number, star = grade.rstrip("*"), "*" * grade.endswith("*")
                words[side] = tr(
                    "{grade}/{full}{star} in the record and {sign} among the signs",
                    grade=number, full=NORMAL_GRADE, star=star, sign=sign.word,
                )  # fmt: skip
        if words:
            yield tr(
                "Record and signs disagree: {segment} ({group}; {muscle}) is {grades}. "
                "Test it again.",
                segment=segment, group=muscle.name, grades=sided(words),
                muscle=lower_first(atlas.facts.signs[muscle.sign].label),
            )  # fmt: skip
