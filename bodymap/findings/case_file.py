"""The case file: opening it whole or refusing it with a sentence, and saving it safely.

The shape is that of ``case_form``; the faults are told by ``case_reading`` and
``case_areas``. A case keeps every field of the file that bodymap does not know
(notes, names), and writes it back. Earlier visits are read and written as the cases
that they are (``case_visits``).
"""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

import shapely

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.errors import CaseError
from bodymap.faults import cause, fault, nearest, shown
from bodymap.findings.case_areas import shape_of, skin_of_area
from bodymap.findings.case_entries import Entry, written_entries
from bodymap.findings.case_form import FORMAT, LARGEST_FILE, VERSION, CaseForm, NormalForm
from bodymap.findings.case_form import Entry as EntryForm
from bodymap.findings.case_reading import checked_form, read_document
from bodymap.findings.case_signs import read_signs, written_signs
from bodymap.findings.case_visits import dated_documents, read_visits, written_visits
from bodymap.findings.drawing import Drawing, Kind, Layer, NamedRegion
from bodymap.findings.record_reading import read_bedside
from bodymap.findings.whole_file import write_whole
from bodymap.geometry import Skin, union_of
from bodymap.language import lower_first, tr
from bodymap.terms import Change, View

READ = ("format", "version", "findings", "tested_normal", "signs", "record", "date")
"""Top fields that bodymap reads; all others are ``Case.extra``, with what stands under
``visits`` and is no visit of ours."""


@dataclass(frozen=True)
class Case:
    """A drawing and everything else that its file holds.

    ``extra`` holds the top fields that bodymap does not read. ``opened`` is the
    drawing that ``entries`` and ``signs`` of the file made; they stay as they are while the
    drawing changes, so that untouched entries can be written as they stood.
    """

    drawing: Drawing = field(default_factory=Drawing)
    extra: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    entries: tuple[Entry, ...] = ()
    opened: Drawing = field(default_factory=Drawing)
    signs: tuple[Mapping[str, Any], ...] = ()

    def with_drawing(self, drawing: Drawing) -> "Case":
        """The same case with another drawing."""
        return replace(self, drawing=drawing)


def open_case(path: str | Path, atlas: Atlas) -> Case:
    """The case in a file.

    Raises CaseError, in one sentence, for a file that cannot be read or used.
    """
    return parse_case(bytes_of_case(path), str(path), atlas)


def bytes_of_case(path: str | Path) -> bytes:
    """The bytes of a case file, at most so many that a larger file is told as such.

    Raises CaseError, in one sentence, for a file that cannot be read.
    """
    try:
        with Path(path).open("rb") as file:
            return file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise CaseError(tr("{file}: there is no such file; check the name.", file=path)) from None
    except IsADirectoryError:
        raise CaseError(tr("{file}: this is a folder; choose a case file.", file=path)) from None
    except (OSError, ValueError) as error:
        why = lower_first(cause(error))
        raise CaseError(
            tr("{file}: the file cannot be read ({cause}).", file=path, cause=why)
        ) from None


def parse_case(data: bytes, name: str, atlas: Atlas) -> Case:
    """The case in the bytes of a file; ``name`` stands in the sentence of a CaseError."""
    document = read_document(data, name)
    case = _visit(document, name, atlas)
    date, earlier, foreign = read_visits(document, name, lambda part: _visit(part, name, atlas))
    extra = {k: v for k, v in case.extra.items() if k != "visits"}
    if foreign is not None:
        extra["visits"] = foreign
    drawing = replace(case.drawing, date=date, earlier=earlier)
    return replace(case, drawing=drawing, opened=drawing, extra=MappingProxyType(extra))


def _visit(document: dict[str, Any], name: str, atlas: Atlas) -> Case:
    """The case in a document as if it had no earlier visits."""
    form = checked_form(document, name)
    outlines = {view: figure.outline for view, figure in atlas.figures.items()}
    regions: dict[Kind, set[NamedRegion]] = {}
    skins: dict[tuple[Kind, View], list[Skin]] = {}
    entries: list[Entry] = []
    for path, part, raw in _parts_of(form, document):
        entry = _entry(part, raw)
        _check_regions(entry, atlas, name, path)
        entries.append(entry)
        regions.setdefault(entry.kind, set()).update(
            (region, side) for region in entry.regions for side in entry.sides
        )
        for number, area in enumerate(part.areas):
            place = f"{path}.areas[{number}]"
            try:
                found = skin_of_area(area, part.side, outlines, name, place)
            except shapely.GEOSException:
                fault(name, place, tr("the area cannot be computed; draw it anew"))
            for view, skin in found.items():
                skins.setdefault((entry.kind, view), []).append(skin)
    drawing = Drawing()
    for kind, named in regions.items():
        layer = Layer(frozenset(named))
        for view in VIEWS:
            layer = layer.with_drawn(view, union_of(skins.get((kind, view), ())))
        drawing = drawing.with_layer(*kind, layer)
    signs, raw_signs = read_signs(form, document, atlas, name)
    drawing = drawing.with_signs(signs).with_record(read_bedside(document, name))
    drawing = replace(drawing, date=document.get("date"))
    extra = {k: v for k, v in document.items() if k not in READ}
    return Case(drawing, MappingProxyType(extra), tuple(entries), drawing, raw_signs)


def encode_case(case: Case) -> bytes:
    """The bytes of the file of a case: UTF-8, one position on a line.

    Raises CaseError if the case holds something that no case file can hold, such as
    a number that is not finite.
    """
    document: dict[str, Any] = {"format": FORMAT, "version": VERSION}
    if case.drawing.date is not None:
        document["date"] = case.drawing.date
    document |= _fields(case)
    document |= {k: v for k, v in case.extra.items() if k not in READ}
    visits = written_visits(case.drawing.earlier, case.extra.get("visits"), _fields)
    if visits is not None:
        document["visits"] = visits
    try:
        text = json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1)
        data = (_POSITION.sub(r"[\1, \2]", text) + "\n").encode("utf-8")
    except (TypeError, ValueError, RecursionError) as error:
        why = lower_first(cause(error))
        raise CaseError(tr("The case cannot be saved: {cause}.", cause=why)) from None
    name = tr("the case to save")
    read_document(data, name)
    for fields in (document, *(fields for _, fields in dated_documents(document))):
        for _, part, _ in _parts_of(checked_form(fields, name), fields):
            for area in part.areas:
                shape_of(area, name, "$")
    return data


def _fields(case: Case) -> dict[str, Any]:
    """What was found at one visit, as it stands in the file."""
    findings, normal = written_entries(case.drawing, case.opened, case.entries)
    fields: dict[str, Any] = {"findings": findings}
    if normal:
        fields["tested_normal"] = normal
    signs = written_signs(case.drawing.signs, case.opened.signs, case.signs)
    if signs:
        fields["signs"] = signs
    if case.drawing.record:
        fields["record"] = dict(case.drawing.record.fields)
    return fields


def save_case(case: Case, path: str | Path) -> None:
    """Save a case, whole or not at all.

    Raises CaseError if that fails; the file is then as it was. A file that a newer
    bodymap wrote is never replaced.
    """
    data = encode_case(case)
    _refuse_newer(Path(path))
    try:
        write_whole(Path(path), data)
    except (OSError, ValueError) as error:
        why = lower_first(cause(error))
        raise CaseError(
            tr(
                "{file}: the case cannot be saved here ({cause}); choose another place.",
                file=path,
                cause=why,
            )
        ) from None


_NUMBER = r"(-?[0-9][0-9.eE+-]*)"
_POSITION = re.compile(rf"\[\n\s*{_NUMBER},\n\s*{_NUMBER}\n\s*\]")
"""A list of two numbers as json lays it out; no JSON text holds a bare line break."""


def _parts_of(
    form: CaseForm, document: Mapping[str, Any]
) -> Iterator[tuple[str, EntryForm, Mapping[str, Any]]]:
    """Every entry: its JSON path, its checked form, and all that stands in the file."""
    for number, finding in enumerate(form.findings):
        yield f"$.findings[{number}]", finding, document["findings"][number]
    for number, normal in enumerate(form.tested_normal):
        yield f"$.tested_normal[{number}]", normal, document["tested_normal"][number]


def _entry(part: EntryForm, raw: Mapping[str, Any]) -> Entry:
    change = Change.NORMAL if isinstance(part, NormalForm) else Change(part.change)
    views = tuple(area.view for area in part.areas)
    return Entry((part.modality, change), part.side, tuple(part.regions), views, raw)


def _check_regions(entry: Entry, atlas: Atlas, name: str, path: str) -> None:
    for number, id_ in enumerate(entry.regions):
        if id_ not in atlas.facts.regions and id_ not in atlas.facts.parts:
            fault(name, f"{path}.regions[{number}]", _unknown_region(id_, atlas))


def _unknown_region(id_: str, atlas: Atlas) -> str:
    near = nearest(id_, (*atlas.facts.regions, *atlas.facts.parts))
    if near:
        return tr("there is no region '{id}'; did you mean '{near}'?", id=shown(id_), near=near)
    return tr("there is no region '{id}'; 'bodymap regions' lists them", id=shown(id_))


def _refuse_newer(path: Path) -> None:
    try:
        document = json.loads(path.read_bytes()[: LARGEST_FILE + 1])
        newer = document["format"] == FORMAT and document["version"] > VERSION
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return
    if newer:
        raise CaseError(
            tr(
                "{file}: a newer bodymap wrote this file; it was left as it is, "
                "choose another name or update bodymap.",
                file=path,
            )
        )
