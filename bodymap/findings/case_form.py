"""The form of a case file: its fields, words and limits, and the schema made from them.

Only what bodymap reads is described here; every object may carry further fields,
which are kept when a case is saved. Areas are GeoJSON geometry (RFC 7946, section
3.1) in the units of a view of the body instead of degrees.
"""

from pathlib import Path
from typing import Annotated, Any, Literal, TypeAlias

import msgspec
from msgspec import UNSET, Meta, Struct, UnsetType

from bodymap.findings.record_form import RecordForm
from bodymap.terms import Modality, Side, View

FORMAT = "bodymap-case"
VERSION = 1

LARGEST_FILE = 10 * 1024 * 1024
"""Bytes. A case drawn by hand stays below a hundredth of this."""

LARGEST_COORDINATE = 1e6
"""View units; the largest view is 1000 units high."""

MOST_ENTRIES = 2000
MOST_AREAS = 2000
"""In one entry."""

MOST_VISITS = 1000

Number = Annotated[float, Meta(ge=-LARGEST_COORDINATE, le=LARGEST_COORDINATE)]
Position = tuple[Number, Number]
Ring = Annotated[
    list[Position],
    Meta(min_length=4, description="A closed line: the last position repeats the first."),
]
Rings = Annotated[
    list[Ring], Meta(min_length=1, description="The outer ring, then the rings of the holes.")
]


class PolygonForm(Struct, tag_field="type", tag="Polygon"):
    """A GeoJSON Polygon in the units of the view."""

    coordinates: Rings


class MultiPolygonForm(Struct, tag_field="type", tag="MultiPolygon"):
    """A GeoJSON MultiPolygon in the units of the view."""

    coordinates: Annotated[list[Rings], Meta(min_length=1)]


class AreaForm(Struct):
    """A piece of skin drawn free-hand in one view."""

    view: View
    polygon: PolygonForm | MultiPolygonForm


Regions = Annotated[
    list[str], Meta(description="Ids of named skin regions, as 'bodymap regions' lists them.")
]
Areas = Annotated[list[AreaForm], Meta(max_length=MOST_AREAS)]
_SKIN = Meta(extra_json_schema={"anyOf": [{"required": ["regions"]}, {"required": ["areas"]}]})


class FindingForm(Struct):
    """Altered sensation: named regions, drawn areas, or both."""

    modality: Modality
    change: Literal["reduced", "absent", "increased", "tingling"]
    side: Annotated[Side, Meta(description="Side of the patient.")]
    regions: Regions = []
    areas: Areas = []


class NormalForm(Struct):
    """Skin that was tested and found normal."""

    modality: Modality
    side: Annotated[Side, Meta(description="Side of the patient.")]
    regions: Regions = []
    areas: Areas = []


Entry: TypeAlias = FindingForm | NormalForm


class SignForm(Struct):
    """A muscle or reflex that was tested. Muscles are weak or normal; reflexes reduced,
    absent, brisk or normal."""

    sign: Annotated[str, Meta(description="Id of a muscle or reflex, as in anatomy/signs.csv.")]
    side: Annotated[Side, Meta(description="Side of the patient.")]
    change: Literal["weak", "reduced", "absent", "brisk", "normal"]


class CaseForm(Struct):
    """What was found on the skin; the record is checked by ``record_reading``."""

    format: Literal["bodymap-case"]
    version: Literal[1]
    findings: Annotated[list[Annotated[FindingForm, _SKIN]], Meta(max_length=MOST_ENTRIES)] = []
    tested_normal: Annotated[list[Annotated[NormalForm, _SKIN]], Meta(max_length=MOST_ENTRIES)] = []
    signs: Annotated[list[SignForm], Meta(max_length=MOST_ENTRIES)] = []


_DATE = Annotated[
    str,
    Meta(
        pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
        description="Day of the visit, as ISO 8601 writes it: 2026-11-25.",
    ),
]


class VisitForm(Struct):
    """An earlier visit in the form of the top level; an entry without a date is kept and
    not read. Further fields are kept."""

    date: _DATE | UnsetType = UNSET
    findings: Annotated[list[Annotated[FindingForm, _SKIN]], Meta(max_length=MOST_ENTRIES)] = []
    tested_normal: Annotated[list[Annotated[NormalForm, _SKIN]], Meta(max_length=MOST_ENTRIES)] = []
    signs: Annotated[list[SignForm], Meta(max_length=MOST_ENTRIES)] = []
    record: RecordForm | UnsetType = UNSET


class DocumentForm(CaseForm):
    """A bodymap case: the latest visit with its bedside record, and the earlier visits.
    Further fields are kept."""

    record: RecordForm | UnsetType = UNSET
    date: _DATE | UnsetType = UNSET
    visits: Annotated[list[VisitForm], Meta(max_length=MOST_VISITS)] = []


def schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a case file."""
    made = msgspec.json.schema(DocumentForm)
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "bodymap case, version 1",
    }
    return head | made


def schema_text() -> str:
    """The schema as it is published in assets/case-schema.json."""
    return msgspec.json.format(msgspec.json.encode(schema()), indent=2).decode() + "\n"


def write_schema(path: Path) -> None:
    """Publish the schema: ``python -m bodymap.findings.case_form assets/case-schema.json``."""
    path.write_text(schema_text(), encoding="utf-8")


if __name__ == "__main__":
    import sys

    write_schema(Path(sys.argv[1]))
