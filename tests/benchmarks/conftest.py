"""The drawing that is measured with, and the floor F: what shapely needs to intersect it with
every territory, in the same run."""

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.geometry import stroke
from bodymap.terms import Change, Modality, View

from .timing import median_seconds


@pytest.fixture(scope="module")
def drawing(atlas: Atlas) -> Drawing:
    """1,500 vertices and more of painted skin on arm and trunk."""
    rng = np.random.default_rng(3)
    found = Drawing()
    while True:
        track = rng.uniform([40, 480], [300, 760]) + np.cumsum(rng.normal(0, 9, (12, 2)), axis=0)
        brush = stroke(track, float(rng.uniform(4, 9)))
        found = found.painted(atlas, Modality.PINPRICK, Change.REDUCED, View.FRONT, brush)
        skin = found.layer(Modality.PINPRICK, Change.REDUCED).drawn.get(View.FRONT)
        if skin is not None and shapely.get_num_coordinates(skin) >= 1500:
            return found


@pytest.fixture(scope="module")
def floor(atlas: Atlas, drawing: Drawing) -> float:
    """F in seconds."""
    painted = drawing.altered_skin(atlas, View.FRONT)
    skins = [atlas.skin_of(t.extent, View.FRONT) for t in atlas.territories]
    territories = np.array([s for s in skins if s is not None])
    return median_seconds(lambda: shapely.area(shapely.intersection(painted, territories)))
