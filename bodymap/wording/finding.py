"""A finding in words: one change in one modality on named skin of one side."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.language import english
from bodymap.terms import Change, Modality, Side


@dataclass(frozen=True)
class Finding:
    """One change on named regions. ``side`` is None where no side was said.

    ``partial`` are those of the regions that are only partly concerned.
    """

    modality: Modality
    change: Change
    side: Side | None
    regions: frozenset[str]
    partial: frozenset[str] = frozenset()


@english()
def with_findings(
    atlas: Atlas, drawing: Drawing, findings: Iterable[Finding], side: Side | None = None
) -> Drawing:
    """The drawing after these findings. ``side`` is taken where none was said; without
    it such a finding is left out.

    Two altered findings of one modality on the same skin, such as numb and tingling,
    are both kept.
    """
    result = drawing
    added: dict[tuple[Modality, Change], set[tuple[str, Side]]] = {}
    for finding in findings:
        where = finding.side or side
        if where is None:
            continue
        sides = (Side.LEFT, Side.RIGHT) if where is Side.BOTH else (where,)
        for id_ in sorted(finding.regions):
            result = result.without_region(atlas, finding.modality, id_, where)
            added.setdefault((finding.modality, finding.change), set()).update(
                (id_, s) for s in sides
            )
    for (modality, change), regions in added.items():
        for id_, s in sorted(regions):
            layer = result.layer(modality, change)
            fuller = replace(layer, regions=layer.regions | {(id_, s)})
            result = result.with_layer(modality, change, fuller)
    return result
