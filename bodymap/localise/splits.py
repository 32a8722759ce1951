"""Borders that a clinician looks for: one spot altered and a certain other one spared.

The spared spot must have been tested; an unmarked spot splits nothing.
"""

import numpy as np

from bodymap.atlas import Atlas
from bodymap.atlas.assets import table
from bodymap.atlas.territories import Territory
from bodymap.geometry import Floats
from bodymap.language import tr
from bodymap.terms import Side

MOSTLY = 0.5
"""Share of a region that must be altered, normal or taken to count."""


def split_facts(
    atlas: Atlas, drawn_cm2: Floats, normal_cm2: Floats, territory: Territory
) -> list[tuple[bool, str]]:
    """Splits that were found and speak for (True) or against a territory, in words."""
    found: list[tuple[bool, str]] = []
    for row in table(atlas.facts.folder, "splits", "localisation"):
        for side in (Side.LEFT, Side.RIGHT):
            first = atlas.cells_of_region(row["altered_region"], side)
            second = atlas.cells_of_region(row["normal_region"], side)
            area = atlas.cells.area_cm2

            def share(values: Floats, mask: np.ndarray, area: Floats = area) -> float:
                return float(values[mask].sum() / area[mask].sum())

            if share(drawn_cm2, first) < MOSTLY or share(normal_cm2, second) < MOSTLY:
                continue
            taken = area * territory.extent
            if share(taken, first) < MOSTLY:
                continue
            spared = share(taken, second) < MOSTLY
            values = {"fact": tr(row["fact"]), "side": side.word}
            if spared:
                words = tr("{fact} ({side}), as this lesion would have it.", **values)
            else:
                words = tr("{fact} ({side}), which speaks against it.", **values)
            found.append((spared, words))
    return found
