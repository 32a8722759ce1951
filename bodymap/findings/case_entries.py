"""How a drawing is said in the entries of a case file.

What the examiner did not change is written as it stood, with every field that
bodymap does not know. Only what changed is said anew, as one entry for each
modality, change and side; it joins an entry of the same kind if there is one.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from bodymap.atlas.cells import VIEWS
from bodymap.findings.case_areas import geojson, halves
from bodymap.findings.drawing import Drawing, Kind
from bodymap.terms import Side, View

KNOWN = {"modality", "change", "side", "regions", "areas"}
HEADS = {View.HEAD_LEFT, View.HEAD_RIGHT}


@dataclass(frozen=True)
class Entry:
    """One entry of findings or tested_normal as it stood in the file.

    ``regions`` and ``views`` (one for each area) are read from ``raw``, which holds
    all fields.
    """

    kind: Kind
    side: Side
    regions: tuple[str, ...]
    views: tuple[View, ...]
    raw: Mapping[str, Any]

    @property
    def sides(self) -> tuple[Side, ...]:
        """Left, right, or both of them."""
        return (Side.LEFT, Side.RIGHT) if self.side is Side.BOTH else (self.side,)

    @property
    def extra(self) -> dict[str, Any]:
        """The fields that bodymap does not know."""
        return {k: v for k, v in self.raw.items() if k not in KNOWN}


Written = tuple[Kind, dict[str, Any]]


def written_entries(
    drawing: Drawing, opened: Drawing, entries: Iterable[Entry]
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The lists findings and tested_normal that say a drawing.

    ``entries`` are those of the file, ``opened`` is the drawing that they made. The
    fields of an entry that nothing is left of go to the entry that now holds its
    side, if there is one.
    """
    result: list[Written] = []
    covered: dict[Kind, set[tuple[str, Side]]] = {}
    homeless: list[Entry] = []
    for entry in entries:
        raw = _what_stands(entry, drawing, opened)
        if raw is None:
            homeless.append(entry)
            continue
        result.append((entry.kind, raw))
        covered.setdefault(entry.kind, set()).update(
            (r, s) for r in raw.get("regions", ()) for s in entry.sides
        )
    for modality, change, layer in drawing:
        kind = (modality, change)
        new = layer.regions - covered.get(kind, set())
        areas = list(_new_areas(kind, drawing, opened))
        for side in (Side.LEFT, Side.RIGHT):
            _say(
                result,
                kind,
                side,
                sorted(r for r, s in new if s is side),
                [a for s, a in areas if s is side],
            )
    for entry in homeless:
        for _, raw in result if entry.extra else ():
            if _same(raw, entry):
                for field, value in entry.extra.items():
                    raw.setdefault(field, value)
    findings = [raw for kind, raw in result if kind[1].altered]
    return findings, [raw for kind, raw in result if not kind[1].altered]


def _what_stands(entry: Entry, drawing: Drawing, opened: Drawing) -> dict[str, Any] | None:
    """The entry without what is no longer drawn; None if nothing is left."""
    layer = drawing.layer(*entry.kind)
    regions = [r for r in entry.regions if all((r, s) in layer.regions for s in entry.sides)]
    other = _other_views(entry.kind, drawing, opened)
    drawn = entry.raw.get("areas", ())
    areas = [a for v, a in zip(entry.views, drawn, strict=True) if v not in other]
    if not (regions or areas) and (entry.regions or entry.views):
        return None
    raw = dict(entry.raw)
    if "regions" in raw:
        raw["regions"] = regions
    if "areas" in raw:
        raw["areas"] = areas
    return raw


def _other_views(kind: Kind, drawing: Drawing, opened: Drawing) -> set[View]:
    """Views whose drawn skin is no longer what the file said."""
    now, before = drawing.layer(*kind).drawn, opened.layer(*kind).drawn
    other = {v for v in VIEWS if now.get(v) != before.get(v)}
    # An area of both sides of the head stands in two views at once.
    return other | HEADS if other & HEADS else other


def _new_areas(
    kind: Kind, drawing: Drawing, opened: Drawing
) -> Iterator[tuple[Side, dict[str, Any]]]:
    other = _other_views(kind, drawing, opened)
    for view in VIEWS:
        skin = drawing.layer(*kind).drawn.get(view)
        if view in other and skin is not None:
            for side, part in halves(skin, view):
                yield side, {"view": view.value, "polygon": geojson(part)}


def _say(
    result: list[Written],
    kind: Kind,
    side: Side,
    regions: list[str],
    areas: list[dict[str, Any]],
) -> None:
    if not (regions or areas):
        return
    raw = next((r for k, r in result if k == kind and r["side"] == side), None)
    if raw is None:
        modality, change = kind
        raw = {"modality": modality.value}
        if change.altered:
            raw["change"] = change.value
        raw["side"] = side.value
        result.append((kind, raw))
    if regions:
        raw["regions"] = [*raw.get("regions", ()), *regions]
    if areas:
        raw["areas"] = [*raw.get("areas", ()), *areas]


def _same(raw: Mapping[str, Any], entry: Entry) -> bool:
    same_kind = raw["modality"] == entry.kind[0] and raw.get("change", "normal") == entry.kind[1]
    return same_kind and raw["side"] in (entry.side, *entry.sides, Side.BOTH)
