"""The drawn skin in words, without what the record says already.

Where a modality has answers in the record, these stand in the sections of the tests, and
the skin they were drawn on stands under distribution; where it has none, the skin itself
is the result. Skin that a ladder or a normal key point stands for is not told again.
"""

from collections.abc import Collection, Iterable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from bodymap.atlas import Atlas
from bodymap.classification.scores import POINTS, SIDES
from bodymap.examination.spots import point_spot, segments_of, site_spot
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import site
from bodymap.report.note_points import changes_at
from bodymap.report.note_results import Result, State, ended, labelled
from bodymap.report.note_skin import skin_said
from bodymap.terms import DERMATOMES, Change, Modality, Side
from bodymap.wording.describe import findings_of
from bodymap.wording.finding import Finding
from bodymap.wording.sentences import told_together

POINTED = (Modality.LIGHT_TOUCH, Modality.PINPRICK)
"""Modalities whose record is made of key points."""

TOUCHED = 0.1
"""A region is where an answer is drawn from this share of it on. Judgement."""

MOSTLY = 0.6
"""A region lies in segments that take this share of it. Judgement."""

Told = dict[tuple[Modality, Change, Side], set[str]]
"""Named regions that the record stands for."""


def field_of(modality: Modality) -> str:
    """The part of the record that holds answers in a modality."""
    return modality.value.replace("-", "_")


def recorded(record: BedsideRecord, modality: Modality) -> bool:
    """Whether the record holds an answer in a modality."""
    return any(answers(record, modality, side) for side in SIDES)


def answers(record: BedsideRecord, modality: Modality, side: str) -> dict[str, str]:
    """What the record says in a modality on a side, by place, where it was tested."""
    part = field_of(modality)
    if modality in POINTED:
        return {s: word for s, (word, _) in changes_at(record, part, side).items()}
    found = {
        place: value if isinstance(value, str) else value["felt"]
        for place, value in (record.at(part, side) or {}).items()
    }
    return {place: word for place, word in found.items() if word != "NT"}


def by_modality(atlas: Atlas, drawing: Drawing) -> dict[Modality, list[Result]]:
    """The drawn skin of every modality that has no answer in the record."""
    found = findings_of(atlas, drawing)
    return {
        m: []
        if recorded(drawing.record, m)
        else _results(atlas, [f for f in found if f.modality is m])
        for m in Modality
    }


def distribution(atlas: Atlas, drawing: Drawing) -> list[str]:
    """The skin of the modalities that the record has answers in."""
    return [labelled(r.state.value, ended(r.words)) for r in _beside(atlas, drawing, keep=POINTED)]


def not_told(atlas: Atlas, drawing: Drawing) -> list[Result]:
    """Drawn skin of these modalities that no answer of the record stands for, and that
    lies outside the segments whose key points were altered in the same way."""
    return _beside(atlas, drawing, keep=(), by_segment=True)


def _beside(
    atlas: Atlas, drawing: Drawing, keep: Collection[Modality], by_segment: bool = False
) -> list[Result]:
    """Drawn skin without that of answers; altered skin of ``keep`` is told all the same.
    ``by_segment`` leaves out what altered key points of the same segments say already."""
    told = _told(atlas, drawing.record)
    found = []
    for finding in findings_of(atlas, drawing):
        if not recorded(drawing.record, finding.modality):
            continue
        sides = SIDES if finding.side in (Side.BOTH, None) else (finding.side,)
        for side in map(Side, sides):
            regions = finding.regions
            if not (finding.modality in keep and finding.change.altered):
                regions = regions - told.get((finding.modality, finding.change, side), set())
            if by_segment and finding.modality in POINTED and finding.change.altered:
                regions = regions - _in_segments(atlas, drawing.record, finding, side)
            if regions:
                found.append(
                    replace(finding, side=side, regions=regions, partial=finding.partial & regions)
                )
    return _results(atlas, found)


def _in_segments(atlas: Atlas, record: BedsideRecord, finding: Finding, side: Side) -> set[str]:
    """Regions of a finding that lie mostly in segments with the same altered answer."""
    mine = {
        segment
        for point, word in answers(record, finding.modality, side.value).items()
        if word == finding.change
        for segment in segments_of(point)
    }
    area = atlas.cells.area_cm2 * atlas.cells.on_side(side)
    inside = np.isin(atlas.cells.dermatome, [DERMATOMES.index(s) for s in mine])
    names = list(atlas.facts.regions)
    whole = np.bincount(atlas.region_of_cell, area, len(names))
    taken = np.bincount(atlas.region_of_cell, area * inside, len(names))
    share = taken / np.where(whole > 0, whole, 1.0)
    return {names[n] for n in np.flatnonzero(share >= MOSTLY).tolist()}


def _told(atlas: Atlas, record: BedsideRecord) -> Told:
    told: Told = {}
    for modality in Modality:
        for side in map(Side, SIDES):
            for place, word in answers(record, modality, side.value).items():
                key = modality, Change(word), side
                told.setdefault(key, set()).update(_regions(atlas, modality, place, side))
    return told


@lru_cache(maxsize=1024)
def _regions(atlas: Atlas, modality: Modality, place: str, side: Side) -> frozenset[str]:
    """The named regions that an answer at a place is drawn on."""
    known = site(modality.value, place)
    if known is not None:
        return frozenset(atlas.facts.parts[r].whole if r in atlas.facts.parts else r
                         for r in site_spot(known, side).regions)  # fmt: skip
    if place not in POINTS:
        return frozenset()
    point = next(p for p in atlas.facts.key_points if p.dermatome == place)
    spot = point_spot(atlas, point, side)
    mask = np.zeros(len(atlas.cells), dtype=bool) if spot.cells is None else spot.cells.copy()
    for region in spot.regions:
        mask |= atlas.cells_of_region(region, side)
    # A point may be drawn on the named region it lies in, as a case written by hand does.
    mask |= atlas.cells_of_region(point.region, side)
    names, area = list(atlas.facts.regions), atlas.cells.area_cm2
    mine = np.bincount(atlas.region_of_cell, area * mask, len(names))
    on_side = atlas.cells.on_side(side)
    whole = np.bincount(atlas.region_of_cell, area * on_side, len(names))
    share = mine / np.where(whole > 0, whole, 1.0)
    return frozenset(names[n] for n in np.flatnonzero(share >= TOUCHED).tolist())


def _results(atlas: Atlas, findings: Iterable[Finding]) -> list[Result]:
    """Findings in words, altered before normal."""
    found = list(findings)
    results = []
    for state in (State.ABNORMAL, State.NORMAL):
        mine = [f for f in found if f.change.altered == (state is State.ABNORMAL)]
        results += [Result(state, skin_said(told)) for told in told_together(atlas, mine)]
    return results
