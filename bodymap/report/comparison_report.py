"""A comparison of lesions as a table for people and as JSON for programs."""

import textwrap
from typing import Any

from bodymap.atlas import Atlas
from bodymap.atlas.cells import Cells
from bodymap.atlas.territories import Mask
from bodymap.language import english, tr
from bodymap.localise.comparison import Comparison
from bodymap.report.cautions import CAUTION
from bodymap.report.question_words import differing

LINE = 88
"""Characters in a line of text."""


@english()
def as_json(atlas: Atlas, comparison: Comparison) -> dict[str, Any]:
    """Members, areas in cm² and percent of body surface, and what tells them apart."""
    return {
        "members": [
            {"id": t.id, "name": t.name, "kind": t.kind, "side": t.side.value}
            | _areas(atlas.cells, t.extent, "skin")
            | _areas(atlas.cells, alone, "alone")
            for t, alone in zip(comparison.members, comparison.alone, strict=True)
        ],
        "shared": _areas(atlas.cells, comparison.shared, "skin"),
        "differences": [
            {
                "between": [comparison.members[a].id, comparison.members[b].id],
                "skin": [
                    {"region": r, "side": s.value, "lost_in": comparison.members[a if f else b].id}
                    for r, s, f in difference.skin
                ],
                "signs": [
                    {"sign": n, "side": s.value, "changed_in": comparison.members[a if f else b].id}
                    for n, s, f in difference.signs
                ],
                "note": difference.note,
            }
            for a, b, difference in comparison.differences
        ],
    }


def as_text(atlas: Atlas, comparison: Comparison) -> str:
    """Areas as a table, then what tells each pair apart, and the caution."""
    width = max(len(tr("shared by all")), *(len(t.name) for t in comparison.members))
    area = atlas.cells.area_cm2
    lines = [f"{'':<{width}}   {tr('skin'):<8}  {tr('of its own')}"]
    for t, alone in zip(comparison.members, comparison.alone, strict=True):
        whole, own = float(area[t.extent].sum()), float(area[alone].sum())
        lines.append(f"{t.name:<{width}}  {whole:>5.0f} cm²  {own:>5.0f} cm²")
    lines.append(
        f"{tr('shared by all'):<{width}}  {float(area[comparison.shared].sum()):>5.0f} cm²"
    )
    parts = ["\n".join(lines)]
    for a, b, difference in comparison.differences:
        first, second = comparison.members[a].name, comparison.members[b].name
        said = differing(atlas, difference, first, second)
        parts.append(
            "\n".join(
                [
                    tr("{first} or {second}?", first=first, second=second),
                    *(_wrapped(s) for s in said),
                ]
            )
        )
    parts.append(tr(CAUTION))
    return "\n\n".join(parts) + "\n"


def _areas(cells: Cells, mask: Mask, name: str) -> dict[str, float]:
    return {
        f"{name}_cm2": float(cells.area_cm2[mask].sum()),
        f"{name}_percent": float(cells.percent_of_body[mask].sum()),
    }


def _wrapped(text: str) -> str:
    return textwrap.fill(text, LINE, initial_indent="  ", subsequent_indent="  ")
