"""How the sides compare, and where the record and the figure disagree."""

from bodymap.atlas import Atlas
from bodymap.classification.scores import SIDES
from bodymap.examination.exchange import points_taken
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord
from bodymap.report.note_drawn import POINTED, answers
from bodymap.report.note_results import listed, ranges, sided
from bodymap.terms import Change, Modality, Side
from bodymap.wording.describe import findings_of


def disagreements(atlas: Atlas, drawing: Drawing) -> list[str]:
    """Key points whose answer in the record is not what the figure shows there."""
    painted = points_taken(atlas, drawing).record
    lines = []
    for modality in POINTED:
        places: dict[tuple[str, str], dict[str, list[str]]] = {}
        for side in SIDES:
            shown = answers(painted, modality, side)
            for point, word in answers(drawing.record, modality, side).items():
                if shown[point] != word:
                    places.setdefault((word, shown[point]), {}).setdefault(side, []).append(point)
        for (word, other), by_side in places.items():
            where = sided({side: ranges(points) for side, points in by_side.items()})
            lines.append(
                f"Record and figure disagree: {modality.label} at {where}, is {word} in the "
                f"record and {other} on the figure. Test it again."
            )
    return lines


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
    return [f"Altered on the {side} only. What was tested on the {other} is normal ({tests})."]


def _same_record(record: BedsideRecord) -> bool:
    return all(answers(record, m, "right") == answers(record, m, "left") for m in Modality)
