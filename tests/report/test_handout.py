"""The handout: both maps of a limb, the confusions, the caution."""

import xml.etree.ElementTree as ElementTree

import pytest

from bodymap.atlas import Atlas
from bodymap.cli import main
from bodymap.errors import RequestError
from bodymap.report.handout import HEIGHT, LIMBS, handout_svg


@pytest.mark.parametrize("limb", list(LIMBS))
def test_page_holds_both_maps_and_stays_on_the_paper(atlas: Atlas, limb: str) -> None:
    svg = handout_svg(atlas, limb)
    root = ElementTree.fromstring(svg.split("\n", 1)[1])
    words = [t.text or "" for t in root.iter("{http://www.w3.org/2000/svg}text")]
    # Segments of the limb that the key points name (ISNCSCI 2019, as in key-points.csv).
    expected = {"arm": {"C5", "C6", "C7", "C8", "T1"}, "leg": {"L2", "L3", "L4", "L5", "S1", "S2"}}
    assert expected[limb] <= set(words)
    assert any("does not diagnose" in w for w in words)
    assert any("RIGHT side of the patient" in w for w in words)
    assert any(" / " in w for w in words)
    # 7.5 points: what is read on paper without glasses (common practice, no source).
    sizes = [float(t.get("font-size", "0")) for t in root.iter("{http://www.w3.org/2000/svg}text")]
    assert min(sizes) * 72 / 25.4 >= 7.5
    ends = [float(t.get("y", "0")) for t in root.iter("{http://www.w3.org/2000/svg}text")]
    assert max(ends) < HEIGHT


def test_another_limb_is_refused(atlas: Atlas, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(RequestError, match="arm or leg"):
        handout_svg(atlas, "wing")
    assert main(["handout", "arm", "page.doc"]) == 2
    assert "names no kind of picture" in capsys.readouterr().err
