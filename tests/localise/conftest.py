"""Scales are built once for all tests of this folder."""

import pytest

from bodymap.atlas import Atlas
from bodymap.localise.ranking import Scales


@pytest.fixture(scope="session")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)
