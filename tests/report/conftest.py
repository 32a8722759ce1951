"""Scales and the answers to all samples, worked out once for each file of tests."""

import pytest

from bodymap.atlas import Atlas
from bodymap.findings.case_file import open_case
from bodymap.findings.samples import sample_files
from bodymap.localise.answer import Answer, answered
from bodymap.localise.ranking import Scales

SAMPLES = sample_files()


@pytest.fixture(scope="module")
def scales(atlas: Atlas) -> Scales:
    return Scales(atlas)


@pytest.fixture(scope="module")
def sample_answers(atlas: Atlas, scales: Scales) -> dict[str, Answer]:
    return {p.stem: answered(scales, open_case(p, atlas).drawing) for p in SAMPLES}
