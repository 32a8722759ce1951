"""The head of a note, how the tests were done, and what was remarked."""

from collections.abc import Iterator
from dataclasses import dataclass

from bodymap.classification.scores import KEY_MUSCLES, POINTS, SIDES
from bodymap.examination.answers_said import Place, answered
from bodymap.examination.parts import methods
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import site
from bodymap.report.note_points import LABELS, changes_at
from bodymap.report.note_results import ended, listed, plain
from bodymap.terms import View

TOOLS = {
    "light_touch": "cotton for light touch",
    "pinprick": "a pin for pinprick",
    "sharp_dull": "the two ends of a pin for sharp or dull",
    "temperature": "something cold for temperature",
    "vibration": "a tuning fork for vibration",
    "joint_position": "small moves of the joint for joint position",
    "monofilament": "a 10 g filament",
    "two_point": "two blunt points",
}

INTIMATE = ("genital", "perineum", "perianal")
INTIMATE_POINT = "S4-5"

NO_CONSENT = "Perianal or genital skin was examined; consent and chaperone are not recorded."


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
    told = [f"Date: {plain(case_date)}" if case_date else "Date: not recorded"]
    told.append(f"Examiner: {plain(examiner)}" if examiner else "Examiner: not recorded")
    if not case_date and not examiner:
        told = ["Date and examiner: not recorded"]
    if age is not None:
        told.append(f"Age: {age} years")
    return ". ".join(told) + "."


def method_lines(drawing: Drawing) -> list[str]:
    """How it was tested, as far as that is known."""
    record = drawing.record
    tools = [words for part, words in TOOLS.items() if _has(record, part)]
    lines = []
    if tools:
        lines.append(f"Usual method where nothing else is remarked: eyes closed; {listed(tools)}.")
    pointed = [label for part, label in LABELS.items() if _has(record, part)]
    if pointed:
        against = [plain(words) for words in dict.fromkeys((record.at("reference") or {}).values())]
        compared = f", compared with the {listed(against)}" if against else ""
        lines.append(f"{listed(pointed).capitalize()} by key point of the segments{compared}.")
    reliability = record.at("reliability")
    if reliability:
        lines.append(f"Reliability: {ended(plain(reliability))}")
    elif tools:
        lines.append("Reliability: not recorded.")
    elif drawing.layers:
        lines.append("Marked on a body figure; method and reliability are not recorded.")
    if _intimate(drawing) and not _consented(record):
        lines.append(NO_CONSENT)
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
    return any(word in text.lower() for text in texts for word in ("consent", "chaperon"))


def remark_lines(record: BedsideRecord) -> list[str]:
    """Remarks by step, as they were written; then reasons why something was not tested that
    was tested all the same."""
    reasons = [step for step in steps_told(record, "reasons") if done(record, step)]
    return [f"{step.name}: {ended(step.words)}" for step in steps_told(record, "remarks")] + [
        f"{step.name}: noted as a reason for not testing, though a result is recorded: "
        f"{ended(step.words)}"
        for step in reasons
    ]


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
        for name in (method.title.lower(), part.value, part.value.replace("-", " "), part.field)
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
    label = place
    if not isinstance(known, str) or known in list(methods()):
        found = site(str(known), place)
        label = found.label if found else place
    field = str(known).replace("-", "_")
    told = [field.replace("_", " ")] if field != "monofilament" else ["10 g filament"]
    told += [f"at the {label}" if label != place else label] if place else []
    said = " ".join(told) + (f", {side}" if side else "")
    return Step(field, side, place, words, said[:1].upper() + said[1:])
