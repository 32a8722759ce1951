"""Case files and requests that are refused, gathered from the tests that refuse them."""

import json
from typing import Any

from bodymap.findings.samples import sample_file
from tests.classification.test_reading import BAD
from tests.findings.test_case_file import BAD_RECORDS, REFUSED, SQUARE, _area, _document
from tests.findings.test_signs import BAD_SIGNS
from tests.findings.test_signs import _case as with_signs
from tests.findings.test_visits import BAD_VISITS

FINDING = {"modality": "pinprick", "change": "reduced", "side": "left", "regions": ["thenar"]}


def _with(**fields: Any) -> bytes:
    return json.dumps(_document(findings=[FINDING | fields])).encode()


def _ring(*points: tuple[float, float]) -> bytes:
    return json.dumps(_area([list(p) for p in points])).encode()


def _polygon(polygon: Any) -> bytes:
    return _with(areas=[{"view": "front", "polygon": polygon}])


HOLE = [[70, 310], [75, 310], [75, 315], [70, 315], [70, 310]]
FAR = [[x + 300, y] for x, y in HOLE]

FILES: dict[str, bytes] = {
    **{what: data for what, data in REFUSED.items() if what != "too large"},
    **{
        f"record {n}": json.dumps(_document(record=r)).encode()
        for n, r in enumerate(r for r, *_ in BAD_RECORDS)
    },
    **{f"scores {n}": json.dumps(_document(record=r)).encode() for n, (r, _) in enumerate(BAD)},
    **{f"visits {n}": json.dumps(d).encode() for n, (d, *_) in enumerate(BAD_VISITS)},
    **{f"sign {n}": with_signs(s) for n, (s, *_) in enumerate(BAD_SIGNS)},
    "unknown sign": with_signs({"sign": "zzz", "side": "left", "change": "weak"}),
    "brisk muscle": with_signs({"sign": "triceps", "side": "left", "change": "brisk"}),
    "weak reflex": with_signs({"sign": "ankle-reflex", "side": "left", "change": "weak"}),
    "region like none": _with(regions=["zzz"]),
    "modality like none": _with(modality="zzz"),
    "normal as a change": _with(change="normal"),
    "number as a side": _with(side=3),
    "object as regions": _with(regions={"a": 1}),
    "number as a region": _with(regions=[1]),
    "text as areas": _with(areas="thenar"),
    "no skin": json.dumps(
        _document(findings=[{k: v for k, v in FINDING.items() if k != "regions"}])
    ).encode(),
    "no modality": json.dumps(
        _document(findings=[{k: v for k, v in FINDING.items() if k != "modality"}])
    ).encode(),
    "no view": _with(areas=[{"polygon": {"type": "Polygon", "coordinates": [SQUARE]}}]),
    "no coordinates": _polygon({"type": "Polygon"}),
    "no kind of area": _polygon({"coordinates": [SQUARE]}),
    "unknown kind of area": _polygon({"type": "Point", "coordinates": [1, 2]}),
    "no ring": _polygon({"type": "Polygon", "coordinates": []}),
    "hole outside": _polygon({"type": "Polygon", "coordinates": [SQUARE, FAR]}),
    "hole twice": _polygon({"type": "Polygon", "coordinates": [SQUARE, HOLE, HOLE]}),
    "open ring": _ring((60, 300), (90, 300), (90, 330), (60, 331)),
    "line": _ring((60, 300), (90, 300), (60, 300), (60, 300)),
    "three numbers": json.dumps(_area([[60, 300, 1], *SQUARE[1:]])).encode(),
    "beyond the view": json.dumps(_area([*SQUARE[:2], [5e6, 3], SQUARE[0]])).encode(),
    "true as a number": json.dumps(_area([[True, 300], *SQUARE[1:]])).encode(),
    "too many entries": json.dumps(_document(findings=[FINDING] * 2001)).encode(),
    "too many visits": json.dumps(_document(visits=[{}] * 1001)).encode(),
    "version as a text": json.dumps(_document(version="1")).encode(),
    "no name of the format": b"{}",
    "half a character": b'{"format": "bodymap-case", "version": 1, "x": "\\ud800"}',
    "half a character in a name": b'{"format": "bodymap-case", "version": 1, "\\ud800": 1}',
    "sixty-one lists": b'{"format": "bodymap-case", "x": ' + b"[" * 61 + b"]" * 61 + b"}",
    "too many values": b'{"x": [' + b"[]," * 1_500_001 + b"1]}",
    "control character": b'{"format": "a\nb"}',
    "missing colon": b'{"format" 1}',
    "missing comma": b'{"format": 1 "version": 1}',
    "single quotes": b"{'format': 1}",
    "wrong escape": b'{"format": "\\q"}',
    "text that never ends": b'{"format": "bodymap',
    "two values": b"{} {}",
    "no reading of a rung": json.dumps(
        _document(record={"vibration": {"left": {"great-toe": {}}}})
    ).encode(),
    "number as a remark": json.dumps(_document(record={"remarks": {"x": 3}})).encode(),
    "age as a text": json.dumps(_document(record={"age": "old"})).encode(),
    "age below zero": json.dumps(_document(record={"age": -1})).encode(),
    "long examiner": json.dumps(_document(record={"examiner": "x" * 2001})).encode(),
    "place of no ladder": json.dumps(
        _document(record={"monofilament": {"left": {"zzz": {"felt": 1, "of": 3}}}})
    ).encode(),
    "no key point": json.dumps(
        _document(record={"sharp_dull": [{"side": "left", "point": "zzz", "trials": []}]})
    ).encode(),
    "word of a trial": json.dumps(
        _document(record={"sharp_dull": [{"side": "left", "point": "C6", "trials": [["a", "b"]]}]})
    ).encode(),
    "word of a temperature": json.dumps(
        _document(record={"temperature": {"left": {"C6": "cold"}}})
    ).encode(),
    "no motor score": json.dumps(_document(record={"motor": {"left": {"zzz": 1}}})).encode(),
}  # fmt: skip
"""Broken case files by what is wrong with them."""

C6 = str(sample_file("root-c6"))
VISITS = str(sample_file("neuropathy-visits"))

REQUESTS: tuple[tuple[str, ...], ...] = (
    ("rnak", "a.json"), ("zzz",), ("zzz", "--colour"), ("--colour",),
    ("rank",), ("rank", "none.json"), ("rank", "."), ("rank", C6, "more"),
    ("rank", C6, "--format", "xml"), ("rank", C6, "--format"), ("rank", C6, "--modality", "smell"),
    ("rank", C6, "--sign", "tricep:right=weak"), ("rank", C6, "--sign", "zzz:right=weak"),
    ("rank", C6, "--sign", "triceps:middle=weak"), ("rank", C6, "--sign", "ankle-reflex:left=weak"),
    ("rank", "a\0b"), ("classify", C6),
    ("draw", C6, "out.bmp"), ("draw", C6, "out.svg", "--candidate", "root-c99"),
    ("draw", C6, "out.svg", "--candidate", "root-c6:up"), ("draw", C6, "out.svg", "--view", "top"),
    ("draw", C6, "out.svg", "--maps", "nerves,veins"), ("draw", C6, "nowhere/out.svg"),
    ("draw", C6, "out.png", "--height", "4"), ("draw", C6, "out.png", "--height", "high"),
    ("slides", C6, "out.pptx", "--compare", "root-c6"), ("slides", C6, "out.pdf"),
    ("slides", C6, "out.pptx", "--compare", "root-c6:up", "--compare", "root-c7"),
    ("compare", "root-c6"), ("compare", "root-c6", "root-c6"), ("compare", "root-c6", "zzz"),
    ("compare", "root-c6", "root-c7", "--slides", "out.pdf"),
    ("compare", "root-c6", "root-c7", "--picture", "out.txt"),
    ("visits", VISITS, "--between", "2024-11-18", "2024-03-11"),
    ("visits", VISITS, "--between", "2024-11-18", "yesterday"),
    ("visits", VISITS, "--between", "2024-11-18"), ("visits", C6, "--picture", "out.svg"),
    ("dictate", "numb thumb", "--out", "out.json"), ("dictate", "a day", "--out", "out.json"),
    ("dictate", "numb thumb", "--side", "up"),
    ("note", C6, "--out", "out.doc"), ("note", C6, "--format", "pdf"),
    ("note", C6, "--format", "md", "--out", "out.pdf"),
    ("regions", "thumm"), ("regions", "zzz"), ("signs", "zzz"), ("sample", "root-c66"),
    ("sample", "zzz"), ("patient", "--lesion", "ulnar-elbo"), ("patient", "--lesion", "zzz"),
    ("patient", "--lesion", "ulnar-elbow:up"), ("patient", "--lesion", "ulnar-elbow:both"),
    ("patient", "--lesion", "anterior-interosseous"), ("patient", "--seed", "x"),
    ("patient", "--lesion"), ("calibrate", "nowhere"), ("calibrate", ".", "--patients", "3"),
)  # fmt: skip
"""Command lines that are refused."""
