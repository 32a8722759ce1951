"""How the sides compare, and whether both were tested."""

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.language import capital, tr, trn
from bodymap.report.note_drawn import answers
from bodymap.report.note_results import listed
from bodymap.terms import Change, Modality, Side
from bodymap.wording.describe import findings_of


def tested_in(drawing: Drawing, atlas: Atlas, side: Side) -> dict[Modality, set[Change]]:
    """What was found on a side in each modality that was tested there."""
    found: dict[Modality, set[Change]] = {}
    for modality, change, layer in drawing:
        if float(layer.painted_cm2(atlas)[atlas.cells.on_side(side)].sum()) > 0:
            found.setdefault(modality, set()).add(change)
    for modality in Modality:
        for word in answers(drawing.record, modality, side.value).values():
            found.setdefault(modality, set()).add(Change(word))
    return found


def side_to_side(atlas: Atlas, drawing: Drawing) -> list[str]:
    """How the sides compare, and whether the other side was tested at all."""
    found = {side: tested_in(drawing, atlas, side) for side in (Side.RIGHT, Side.LEFT)}
    altered = [
        side
        for side, tests in found.items()
        if any(change.altered for changes in tests.values() for change in changes)
    ]
    if len(altered) == 2:
        if found[Side.RIGHT].keys() != found[Side.LEFT].keys():
            return [tr("Altered on both sides; not every test was done on both.")]
        both = all(f.side is Side.BOTH for f in findings_of(atlas, drawing))
        if both and _same_record(drawing.record):
            return [tr("Altered on both sides, alike on right and left.")]
        return [tr("Altered on both sides, not alike on right and left.")]
    if not altered:
        return []
    side, other = altered[0], altered[0].opposite
    if not found[other]:
        return [
            tr(
                "Altered on the {side}. The {other} side was not tested for comparison.",
                side=side.word, other=other.word,
            )
        ]  # fmt: skip
    tests = listed([m.label for m in Modality if m in found[other]])
    told = tr("What was tested on the {other} is normal ({tests}).", other=other.word, tests=tests)
    untold = [
        m.label
        for m in Modality
        if m not in found[other] and any(c.altered for c in found[side].get(m, ()))
    ]
    if not untold:
        return [tr("Altered on the {side} only. {told}", side=side.word, told=told)]
    left_out = trn(
        "{tests} was not tested on the {other} for comparison.",
        "{tests} were not tested on the {other} for comparison.",
        len(untold), tests=capital(listed(untold)), other=other.word,
    )  # fmt: skip
    return [
        tr("Altered on the {side}. {told} {left_out}", side=side.word, told=told, left_out=left_out)
    ]


def _same_record(record: BedsideRecord) -> bool:
    return all(answers(record, m, "right") == answers(record, m, "left") for m in Modality)
