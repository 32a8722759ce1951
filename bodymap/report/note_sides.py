"""How the sides compare, and whether both were tested."""

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.language import capital
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
            return ["Altered on both sides; not every test was done on both."]
        both = all(f.side is Side.BOTH for f in findings_of(atlas, drawing))
        alike = both and _same_record(drawing.record)
        return [f"Altered on both sides, {'' if alike else 'not '}alike on right and left."]
    if not altered:
        return []
    side, other = altered[0], altered[0].opposite
    if not found[other]:
        return [f"Altered on the {side}. The {other} side was not tested for comparison."]
    tests = listed([m.label for m in Modality if m in found[other]])
    told = f"What was tested on the {other} is normal ({tests})."
    untold = [
        m.label
        for m in Modality
        if m not in found[other] and any(c.altered for c in found[side].get(m, ()))
    ]
    if not untold:
        return [f"Altered on the {side} only. {told}"]
    were = "was" if len(untold) == 1 else "were"
    return [
        f"Altered on the {side}. {told} {capital(listed(untold))} {were} not tested on the "
        f"{other} for comparison."
    ]


def _same_record(record: BedsideRecord) -> bool:
    return all(answers(record, m, "right") == answers(record, m, "left") for m in Modality)
