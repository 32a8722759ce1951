"""The head of a note, how the tests were done, and what was remarked."""

from collections.abc import Iterator
from dataclasses import dataclass

from bodymap.classification.scores import KEY_MUSCLES, POINTS, SIDES
from bodymap.examination.answers_said import Place, answered
from bodymap.examination.parts import methods
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import site
from bodymap.language import capital, later, tr, trn
from bodymap.report.note_points import LABELS, changes_at
from bodymap.report.note_results import ended, listed, plain, sided
from bodymap.terms import View

TOOLS = {
    "light_touch": later("cotton for light touch"),
    "pinprick": later("a pin for pinprick"),
    "sharp_dull": later("the two ends of a pin for sharp or dull"),
    "temperature": later("something cold for temperature"),
    "vibration": later("a tuning fork for vibration"),
    "joint_position": later("small moves of the joint for joint position"),
    "monofilament": later("a 10 g filament"),
    "two_point": later("two blunt points"),
}

STEPS = {
    "light_touch": later("light touch"),
    "pinprick": later("pinprick"),
    "sharp_dull": later("sharp dull"),
    "temperature": later("temperature"),
    "vibration": later("vibration"),
    "joint_position": later("joint position"),
    "romberg": later("Romberg"),
    "monofilament": later("10 g filament"),
    "two_point": later("two point"),
    "motor": later("motor"),
    "deep_anal_pressure": later("deep anal pressure"),
    "voluntary_anal_contraction": later("voluntary anal contraction"),
}
"""What a remark or reason is about, as it stands before its words."""

INTIMATE = ("genital", "perineum", "perianal")
INTIMATE_POINT = "S4-5"

NO_CONSENT = later("Perianal or genital skin was examined; consent and chaperone are not recorded.")

CONSENTING = later("consent, chaperon")
"""Stems of words, with a comma between, of which a remark on consent holds one."""


@dataclass(frozen=True)
class Step:
    """A remark or a reason: a part of the record, a side and a place (empty where none is
    named), and the words."""

    part: str
    side: str
    place: str
    words: str
    name: str


def heading(record: BedsideRecord, case_date: str | None) -> str:
    """When, by whom, in whom; what is missing of date and examiner is said."""
    examiner, age = record.at("examiner"), record.at("age")
    told = [
        tr("Date: {date}.", date=plain(case_date)) if case_date else tr("Date: not recorded."),
        tr("Examiner: {name}.", name=plain(examiner))
        if examiner
        else tr("Examiner: not recorded."),
    ]
    if not case_date and not examiner:
        told = [tr("Date and examiner: not recorded.")]
    if age is not None:
        told.append(trn("Age: {count} year.", "Age: {count} years.", age))
    return " ".join(told)


def method_lines(drawing: Drawing) -> list[str]:
    """How it was tested, as far as that is known."""
    record = drawing.record
    tools = [tr(words) for part, words in TOOLS.items() if _has(record, part)]
    lines = []
    if tools:
        lines.append(
            tr(
                "Usual method where nothing else is remarked: eyes closed; {tools}.",
                tools=listed(tools),
            )
        )
    pointed = capital(listed([tr(part) for key, part in LABELS.items() if _has(record, key)]))
    against = dict.fromkeys((record.at("reference") or {}).values())
    if pointed and against:
        lines.append(
            tr(
                "{tests} by key point of the segments, compared with the {places}.",
                tests=pointed, places=listed([tr(plain(words)) for words in against]),
            )
        )  # fmt: skip
    elif pointed:
        lines.append(tr("{tests} by key point of the segments.", tests=pointed))
    reliability = record.at("reliability")
    if reliability:
        lines.append(tr("Reliability: {words}", words=ended(plain(reliability))))
    elif tools:
        lines.append(tr("Reliability: not recorded."))
    elif drawing.layers:
        lines.append(tr("Marked on a body figure; method and reliability are not recorded."))
    if _intimate(drawing) and not _consented(record):
        lines.append(tr(NO_CONSENT))
    return lines


def _has(record: BedsideRecord, part: str) -> bool:
    if part in ("light_touch", "pinprick"):
        return any(changes_at(record, part, side) for side in SIDES)
    if part == "sharp_dull":
        return any(run["trials"] for run in record.at(part) or ())
    found = [v for side in SIDES for v in (record.at(part, side) or {}).values()]
    return any((v.get("felt") if isinstance(v, dict) else v) != "NT" for v in found)


def _intimate(drawing: Drawing) -> bool:
    """Whether perianal or genital skin was examined."""
    record = drawing.record
    points = any(
        INTIMATE_POINT in changes_at(record, part, side)
        for part in ("light_touch", "pinprick")
        for side in SIDES
    )
    anal = record.scores.deep_anal_pressure, record.scores.voluntary_anal_contraction
    drawn = any(
        View.SADDLE in layer.drawn or any(id_ in INTIMATE for id_, _ in layer.regions)
        for _, _, layer in drawing
    )
    return points or drawn or any(found is not None for found in anal)


def _consented(record: BedsideRecord) -> bool:
    """Whether a remark speaks of consent or a chaperone; it is then told as it stands."""
    texts = [record.at("reliability") or "", *(record.at("remarks") or {}).values()]
    stems = {stem.strip() for words in (CONSENTING, tr(CONSENTING)) for stem in words.split(",")}
    return any(stem in text.lower() for text in texts for stem in stems)


def remark_lines(record: BedsideRecord) -> list[str]:
    """Remarks by step, as they were written; then reasons why something was not tested that
    was tested all the same."""
    reasons = [step for step in steps_told(record, "reasons") if done(record, step)]
    return [
        tr("{step}: {words}", step=step.name, words=ended(step.words))
        for step in steps_told(record, "remarks")
    ] + [
        tr(
            "{step}: noted as a reason for not testing, though a result is recorded: {words}",
            step=step.name, words=ended(step.words),
        )
        for step in reasons
    ]  # fmt: skip


def done(record: BedsideRecord, step: Step) -> bool:
    """Whether the place that a reason is about, or Romberg, has a result all the same."""
    found = answered(record)
    if step.part == "romberg":
        return Place(step.part) in found
    sides = (step.side,) if step.side else SIDES
    return bool(step.place) and all(Place(step.part, s, step.place) in found for s in sides)


def steps_told(record: BedsideRecord, kind: str) -> Iterator[Step]:
    """The reasons or remarks of a record. A key names a part, and a side and a place
    where it is about one: "pinprick right C6", "vibration great-toe"."""
    for key, text in (record.at(kind) or {}).items():
        words = plain(text)
        if words:
            yield _step(plain(key), words)


def because(record: BedsideRecord, part: str, side: str = "", place: str = "") -> str:
    """The reason that was noted for a step, in brackets."""
    if part == "romberg" and (own := plain(record.at("romberg", "reason") or "")):
        return f" ({own})"
    for step in steps_told(record, "reasons"):
        if step.part == part and step.place == place and step.side in ("", side):
            return f" ({step.words})"
    return ""


def _step(key: str, words: str) -> Step:
    names = {
        name: part
        for part, method in methods().items()
        for name in (
            method.english_title.lower(), part.value, part.value.replace("-", " "), part.field,
        )
    } | {"motor": "motor", "deep anal pressure": "deep_anal_pressure",
         "voluntary anal contraction": "voluntary_anal_contraction"}  # fmt: skip
    lower = key.lower()
    name = max((n for n in names if (lower + " ").startswith(n + " ")), key=len, default="")
    if not name:
        return Step("", "", "", words, key[:1].upper() + key[1:])
    known = names[name]
    rest = key[len(name) :].split()
    side = next((w.lower() for w in rest if w.lower() in SIDES), "")
    place = " ".join(w for w in rest if w.lower() not in SIDES)
    exact = {p.lower(): p for p in (*POINTS, *KEY_MUSCLES)}
    place = exact.get(place.lower(), place)
    found = site(str(known), place)
    field = str(known).replace("-", "_")
    said = tr(STEPS[field])
    if found:
        said = tr("{part} at the {place}", part=said, place=found.label)
    elif place:
        said = f"{said} {place}"
    return Step(field, side, place, words, capital(sided({side: said}) or said))
