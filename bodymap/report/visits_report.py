"""Visits over time: as a table for people, as JSON for programs, and as sentences for the
chart."""

import textwrap
from typing import Any

from bodymap.atlas import Atlas
from bodymap.atlas.body_surface import BODY_SURFACE_CM2
from bodymap.examination.answers_moved import Moved, RecordsMoved
from bodymap.examination.visits_compared import (
    VisitsCompared,
    visits_compared,
    with_every_answer,
)
from bodymap.findings.dates import day
from bodymap.findings.drawing import Drawing
from bodymap.findings.pieces import Piece
from bodymap.findings.progress import Examined, Progress
from bodymap.findings.visits import visits
from bodymap.language import capital, english, later, phrase, tr
from bodymap.report.cautions import CAUTION
from bodymap.report.course_marks import BORDERS, measured
from bodymap.report.visit_words import record_sentences, sign_sentences, skin_sentences
from bodymap.terms import Side

LINE = 88
"""Characters in a line of text."""

NAMES = 16
"""Characters of the column of names, if none is too long for it."""

ONE_VISIT = later(
    "This case holds one visit; begin a new visit in the window to compare it with a later one."
)

SURFACE = phrase("Shares are of a body surface of {area:,.0f} cm².", area=BODY_SURFACE_CM2)


def since_last(atlas: Atlas, drawing: Drawing) -> tuple[str, ...]:
    """What changed since the visit before, in sentences for the chart; none without one."""
    if not drawing.earlier:
        return ()
    found = visits_compared(atlas, drawing.earlier[-1].drawing, drawing)
    first, *others = sentences(atlas, found)
    since = tr("Since {date}, {told}", date=day(found.then.date), told=first)
    return (since, *(capital(words) for words in others), tr(BORDERS))


def sentences(atlas: Atlas, found: VisitsCompared) -> tuple[str, ...]:
    """What changed between two visits: skin, muscles and reflexes, record; at least one.
    They begin small, to follow other words."""
    told = (
        *skin_sentences(found.skin),
        *sign_sentences(atlas, found.signs),
        *record_sentences(found.record, found.now.record),
    )
    return told or (tr("nothing was examined at both visits."),)


def as_text(atlas: Atlas, drawing: Drawing, found: VisitsCompared | None) -> str:
    """All visits of a case, and two of them compared; one sentence where there is one."""
    if found is None:
        return tr(ONE_VISIT) + "\n"
    heading = tr("Visits, and the skin altered in any modality:")
    parts = ["\n".join([heading, *_list(atlas, drawing)])]
    then, now = day(found.then.date), day(found.now.date)
    parts.append(tr("From {then} to {now}. Sides are the patient's.", then=then, now=now))
    parts.append("\n".join(_table(found)))
    parts.append("\n".join(_wrapped(capital(s)) for s in sentences(atlas, found)))
    parts += [textwrap.fill(tr(words), LINE) for words in (BORDERS, SURFACE, CAUTION)]
    return "\n\n".join(parts) + "\n"


@english()
def as_json(atlas: Atlas, drawing: Drawing, found: VisitsCompared | None) -> dict[str, Any]:
    """The same for programs; ``between`` is null where there is one visit."""
    document: dict[str, Any] = {
        "visits": [{"date": v.date} | _areas(atlas, _altered(atlas, v)) for v in visits(drawing)],
        "between": None,
        "body_surface_cm2": BODY_SURFACE_CM2,
    }
    if found is None:
        return document | {"cautions": [CAUTION]}
    return document | {
        "between": [found.then.date, found.now.date],
        "skin": [_skin(atlas, p) for p in found.skin],
        "signs": [
            {"sign": m.where.place, "side": m.where.side} | _then_now(m) for m in found.signs
        ],
        "record": _record(found.record),
        "sentences": [capital(words) for words in sentences(atlas, found)],
        "cautions": [BORDERS, CAUTION],
    }


def _list(atlas: Atlas, drawing: Drawing) -> list[str]:
    lines = []
    for visit in visits(drawing):
        altered = measured(_altered(atlas, visit))
        lines.append(f"  {day(visit.date):<20}{altered}")
    return lines


def _altered(atlas: Atlas, visit: Drawing) -> Piece:
    return Piece({}, with_every_answer(atlas, visit).altered_cm2(atlas))


def _table(found: VisitsCompared) -> list[str]:
    """A row for each modality: new, gone and unchanged skin."""
    heads = tr("new"), tr("gone"), tr("unchanged")
    names = [p.modality.label if p.modality else tr("all together") for p in found.skin]
    column = max(NAMES, *(len(name) + 1 for name in names))
    lines = [f"{'':<{column}}" + "".join(f"{head:>24}" for head in heads)]
    for p, name in zip(found.skin, names, strict=True):
        if p.examined is Examined.BOTH:
            cells = "".join(
                f"{measured(piece) if piece else tr('none'):>24}"
                for piece in (p.new, p.gone, p.unchanged)
            )
        else:
            cells = f"{tr(ONCE[p.examined]):>24}"
        lines.append(f"{name:<{column}}{cells}")
        for state, piece in ((Examined.THEN, p.not_again), (Examined.NOW, p.not_before)):
            if piece:
                lines.append(f"{'':<{column}}{measured(piece):>24} {tr(ONCE[state])}")
    return lines


ONCE = {
    Examined.THEN: later("not examined again"),
    Examined.NOW: later("not examined before"),
    Examined.NEITHER: later("nothing examined twice"),
}


def _skin(atlas: Atlas, progress: Progress) -> dict[str, Any]:
    return {
        "modality": progress.modality.value if progress.modality else "all",
        "examined": progress.examined.value,
        "then": _areas(atlas, progress.then),
        "now": _areas(atlas, progress.now),
        "new": _areas(atlas, progress.new),
        "gone": _areas(atlas, progress.gone),
        "gone_found_normal": _areas(atlas, progress.gone_normal),
        "unchanged": _areas(atlas, progress.unchanged),
        "not_examined_again": _areas(atlas, progress.not_again),
        "not_examined_before": _areas(atlas, progress.not_before),
        "degrees": [
            {"then": d.then.value, "now": d.now.value, "deeper": d.deeper} | _areas(atlas, d.skin)
            for d in progress.degrees
        ],
        "exactly_the_same": progress.same,
    }


def _areas(atlas: Atlas, piece: Piece) -> dict[str, float]:
    return {
        "cm2": piece.cm2,
        "percent": piece.percent,
        "right_cm2": piece.on(atlas, Side.RIGHT),
        "left_cm2": piece.on(atlas, Side.LEFT),
    }


def _record(found: RecordsMoved) -> dict[str, Any]:
    return {
        "answered_at_both": found.both,
        "not_asked_again": found.not_again,
        "could_not_be_tested": [dict(place._asdict()) for place in found.untestable],
        "changed": [dict(m.where._asdict()) | _then_now(m) for m in found.answers],
        "first_felt": [
            {"part": f.part, "limb": f.limb, "side": f.side, "then": f.then, "now": f.now,
             "places_towards_trunk": f.places}
            for f in found.first_felt
        ],
        "levels": [
            {"level": m.what, "side": m.side, "then": m.then, "now": m.now,
             "segments_down": m.down if m.counted else None}
            for m in found.levels
        ],
        "impairment_scale": None if found.scale is None
        else {"then": found.scale[0], "now": found.scale[1]},
    }  # fmt: skip


def _then_now(moved: Moved) -> dict[str, Any]:
    return {"then": moved.then, "now": moved.now, "better": moved.better}


def _wrapped(text: str) -> str:
    return textwrap.fill(text, LINE, subsequent_indent="  ")
