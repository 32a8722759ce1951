"""Cases for notes in German: all samples, and records that bring every sentence of a note.

What an examiner wrote stands in a note as it was written, so these cases have German words
where the samples have English ones.
"""

from dataclasses import dataclass, replace
from typing import Any

from bodymap.atlas import Atlas
from bodymap.examination.exchange import drawn_from_record
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.signs import SignChange
from bodymap.language import ENGLISH
from bodymap.localise.answer import Answer, answered
from bodymap.localise.ranking import Scales
from bodymap.report.note import Form, Note, note
from bodymap.report.visits_report import since_last
from bodymap.terms import Change, Modality, Side
from tests.english import speaking
from tests.report.note_cases import SAMPLES

WRITTEN = {
    "tired towards the end, ladders repeated once with the same answers":
        "gegen Ende müde, Leitern einmal mit gleichen Antworten wiederholt",
    "B. Example (invented)": "B. Beispiel (erfunden)",
    "oedema of both feet, fork pressed more firmly":
        "Ödem beider Füße, Gabel fester aufgesetzt",
    "alert, answers quick and consistent": "wach, antwortet rasch und gleichbleibend",
    "A. Example (invented)": "A. Beispiel (erfunden)",
    "consent given for the perianal examination, chaperone present":
        "Einwilligung zur perianalen Untersuchung erteilt, Begleitperson anwesend",
    "cannot stand": "kann nicht stehen",
}  # fmt: skip
"""What is written in the samples, as a German examiner would write it."""

_ALL = dict.fromkeys(("C5", "C6", "C7", "C8", "T1", "L2", "L3", "L4", "L5", "S1"), "5")
_TRIALS = [["sharp", "sharp"], ["sharp", "dull"], ["dull", "dull"]]

RECORDS: dict[str, dict[str, Any]] = {
    "nothing": {},
    "ladders": {
        "age": 50, "examiner": "N. N.", "reliability": "schläfrig",
        "vibration": {
            "left": {"great-toe": {"felt": "normal", "eighths": 1.5, "seconds": 3},
                     "ulnar-styloid": {"felt": "reduced", "eighths": 2.5}},
            "right": {"great-toe": {"felt": "absent", "eighths": 8},
                      "medial-malleolus": {"felt": "NT"},
                      "ulnar-styloid": {"felt": "reduced", "eighths": 5}},
        },
        "joint_position": {"right": {"ankle": {"felt": "absent", "correct": 5, "trials": 10},
                                     "knee": {"felt": "normal"}}},
        "temperature": {"right": {"foot": "absent", "shin": "increased", "C6": "tingling",
                                  "C7": "NT", "L5": "reduced", "S1": "normal"},
                        "left": {"S1": "reduced", "foot": "NT"}},
        "reasons": {"vibration right medial-malleolus": "Verband", "temperature": "keine Zeit",
                    "romberg": "im Bett", "etwas anderes": "nicht gefragt"},
    },
    "other tests": {
        "sharp_dull": [{"side": "left", "point": "L5", "trials": _TRIALS},
                       {"side": "right", "point": "L5", "trials": 4 * _TRIALS},
                       {"side": "right", "point": "S1", "trials": 12 * _TRIALS[:1]}],
        "monofilament": {"right": {"hallux": {"felt": 1, "of": 3},
                                   "metatarsal-1": {"felt": 3, "of": 3}},
                         "left": {"hallux": {"felt": 3, "of": 3}}},
        "two_point": {"left": {"thumb": 9.0, "index": 12.5}, "right": {"thumb": 4, "index": 30}},
        "deep_anal_pressure": "no", "voluntary_anal_contraction": "NT",
        "remarks": {"sharp or dull left L5": "rasch müde", "two-point discrimination": "zweimal",
                    "motor left C5": "Schmerz", "10 g filament": "Hornhaut",
                    "romberg": "Schuhe an", "monofilament hallux": "Hornhaut"},
    },
    "points": {
        "pinprick": {"right": {"C5": "2", "C6": "1*", "C7": "NT", "C8": "0", "T1": "NT*"},
                     "left": {"C5": "2", "C6": "1", "C7": "2"}},
        "light_touch": {"left": {"T4": "1", "T6": "0"}, "right": {"T4": "0"}},
        "quality": {"pinprick": {"left": {"C6": "increased"}},
                    "light_touch": {"left": {"T4": "tingling"}}},
        "reference": {"pinprick": "cheek"},
        "motor": {"right": {"C5": "NT", "C6": "4*", "C7": "5"}, "left": {"C6": "0"}},
        "reasons": {"pinprick right C7": "Wunde", "motor right C5": "Fraktur",
                    "pinprick right C6": "Verband"},
    },
    "undetermined": {
        "spinal_cord_injury": True,
        "light_touch": {"right": {"C5": "2", "L5": "1"}, "left": {"C5": "2"}},
        "pinprick": {"right": {"C5": "2"}, "left": {"C5": "1"}},
    },
    "complete": {
        "spinal_cord_injury": True,
        "motor": {"right": _ALL | dict.fromkeys(("L2", "L3", "L4", "L5", "S1"), "0"),
                  "left": _ALL | dict.fromkeys(("L3", "L4", "L5", "S1"), "0")},
        "deep_anal_pressure": "no", "voluntary_anal_contraction": "no",
    },
    "one side": {"light_touch": {"right": {"C6": "1"}},
                 "pinprick": {"right": {"C6": "2"}, "left": {"C6": "2"}}},
    "two tests of one side": {
        "light_touch": {"right": {"C6": "1"}}, "pinprick": {"right": {"C6": "1"}},
        "temperature": {"left": {"C6": "normal"}},
    },
    "one side only": {"pinprick": {"left": {"C6": "1"}, "right": {"C6": "2"}}},
    "not alike": {"pinprick": {"left": {"C6": "1"}, "right": {"C7": "0"}}},
    "all normal": {"age": 1, "pinprick": {"left": {"C6": "2"}, "right": {"C6": "2"}}},
    **{f"Romberg {n}": {"romberg": romberg} for n, romberg in enumerate((
        {"result": "sway", "seconds": 10}, {"result": "sway"}, {"result": "steady", "seconds": 10},
        {"result": "steady"}, {"result": "steady", "seconds": 4.5},
        {"result": "lost balance", "seconds": 2.5}, {"result": "lost balance"},
        {"result": "cannot stand with open eyes"}, {"result": "not done", "reason": "im Bett"}))},
}  # fmt: skip
"""Records that bring what the samples do not."""


@dataclass(frozen=True)
class Pair:
    """A case with its notes in both languages, in full and short; ``answer`` is that to the
    case with German words."""

    answer: Answer
    english: dict[Form, Note]
    german: dict[Form, Note]


def drawings(atlas: Atlas) -> dict[str, Drawing]:
    """Every case by name."""
    found = {path.stem: open_case(path, atlas).drawing for path in SAMPLES}
    for name, record in RECORDS.items():
        drawing = Drawing().with_record(BedsideRecord(record))
        found[name] = drawn_from_record(atlas, drawing)
    found["disagreeing"] = _disagreeing(atlas)
    found["contradictory"] = _contradictory(atlas)
    found |= {f"every region {n}": one for n, one in enumerate(_every_region(atlas))}
    return found


def translated(drawing: Drawing) -> Drawing:
    """The drawing with what was written in its record in German."""

    def said(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: said(inner) for key, inner in value.items()}
        return WRITTEN.get(value, value) if isinstance(value, str) else value

    return drawing.with_record(BedsideRecord(said(dict(drawing.record.fields))))


def notes(scales: Scales, drawing: Drawing) -> Pair:
    """The notes of a case."""
    english = answered(scales, drawing)
    german = replace(english, drawing=translated(drawing))
    made = {}
    for code, answer in ((ENGLISH, english), ("de", german)):
        with speaking(code):
            since = since_last(scales.atlas, drawing)
            made[code] = {form: note(answer, drawing.date, form, since) for form in Form}
    return Pair(german, made[ENGLISH], made["de"])


def _disagreeing(atlas: Atlas) -> Drawing:
    """Record against figure and signs, every change and sign on it."""
    record = BedsideRecord({
        "pinprick": {"left": {"S1": "1"}}, "motor": {"left": {"C7": "5"}, "right": {"C7": "3"}},
    })  # fmt: skip
    drawing = Drawing().with_record(record)
    drawing = drawing.with_region(
        atlas, Modality.PINPRICK, Change.NORMAL, "heel-lateral", Side.LEFT
    )
    signs = drawing.signs.noted("triceps", Side.LEFT, SignChange.WEAK)
    signs = signs.noted("triceps", Side.RIGHT, SignChange.NORMAL)
    signs = signs.noted("triceps-reflex", Side.BOTH, SignChange.BRISK)
    signs = signs.noted("upper-abdominal-reflex", Side.RIGHT, SignChange.ABSENT)
    return drawing.with_signs(signs)


def _contradictory(atlas: Atlas) -> Drawing:
    drawing = Drawing().with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "thumb-palmar", Side.RIGHT
    )
    layer = drawing.layer(Modality.PINPRICK, Change.REDUCED)
    return drawing.with_layer(Modality.PINPRICK, Change.NORMAL, layer)


def _every_region(atlas: Atlas) -> list[Drawing]:
    """Drawings that name every region and every larger piece of skin of the dictation."""
    from bodymap.wording.vocabulary import vocabulary

    singles = [{id_} for id_ in atlas.facts.regions]
    pieces = [*singles, *(set(g.members) for g in vocabulary(atlas.facts).groups.values())]
    kinds = [(m, c) for m in Modality for c in Change]
    found = [Drawing() for _ in range(0, len(pieces), len(kinds))]
    for number, piece in enumerate(pieces):
        modality, change = kinds[number % len(kinds)]
        side = (Side.RIGHT, Side.LEFT, Side.BOTH)[number % 3]
        for id_ in piece:
            at = number // len(kinds)
            found[at] = found[at].with_region(atlas, modality, change, id_, side)
    return found
