"""The handout: both maps of a limb, the confusions, the caution."""

import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest

from bodymap.atlas import Atlas
from bodymap.cli import main
from bodymap.errors import RequestError
from bodymap.geometry import Floats
from bodymap.report.handout import FINE, HEIGHT, LIMBS, MARGIN, ROWS, WIDTH, handout_svg
from bodymap.report.lettering import text_width
from tests.english import english_in, english_texts, speaking

SVG = "{http://www.w3.org/2000/svg}"


def _page(atlas: Atlas, limb: str, code: str) -> ElementTree.Element:
    with speaking(code):
        return ElementTree.fromstring(handout_svg(atlas, limb).split("\n", 1)[1])


def _read(root: ElementTree.Element) -> list[str]:
    """Everything that is read, also the titles of the page and of its groups."""
    return [e.text.strip() for e in root.iter() if e.text and e.text.strip()]


def _turns(page: ElementTree.Element) -> Iterator[Floats]:
    """The points of each path from its corner, its larger side one: its shape, not its size."""
    for path in page.iter(f"{SVG}path"):
        points = np.array(re.findall(r"-?[\d.]+", path.get("d", "")), dtype=float).reshape(-1, 2)
        yield (points - points.min(axis=0)) / np.ptp(points, axis=0).max()


@pytest.mark.parametrize("limb", list(LIMBS))
def test_nothing_of_the_page_is_english_in_german(atlas: Atlas, limb: str) -> None:
    english = english_texts("de")
    words = _read(_page(atlas, limb, "de"))
    faults = {found for text in words if (found := english_in(text, english))}
    assert not faults, "\n".join(sorted(faults))
    assert any("RECHTE Seite des Patienten" in w for w in words)
    assert not any("links" in w.lower() for w in words)
    assert any("stellt keine Diagnose" in w for w in words)
    heading = {"arm": "Haut des Arms", "leg": "Haut des Beins"}[limb]
    assert words[1].startswith(heading)
    before = [w for w in _read(_page(atlas, limb, "en")) if len(w) > 3]
    assert sum(bool(english_in(w, english)) for w in before) > 0.7 * len(before)


@pytest.mark.parametrize("limb", list(LIMBS))
def test_skin_and_confusions_of_the_page_are_the_same_in_german(atlas: Atlas, limb: str) -> None:
    pages = [_page(atlas, limb, code) for code in ("en", "de")]
    skins = [list(_turns(page)) for page in pages]
    assert len(skins[0]) == len(skins[1]) > 20
    for one, other in zip(*skins, strict=True):
        assert np.allclose(one, other, atol=0.02)
    texts = [" ".join(t.text or "" for t in page.iter(f"{SVG}text")) for page in pages]
    pairs = [text.count(" /") for text in texts]
    assert pairs == [ROWS, ROWS]


@pytest.mark.parametrize("code", ["en", "de"])
@pytest.mark.parametrize("limb", list(LIMBS))
def test_no_line_of_the_page_reaches_the_next_or_leaves_the_paper(
    atlas: Atlas, limb: str, code: str
) -> None:
    rows: dict[float, list[tuple[float, float, str]]] = {}
    for line in _page(atlas, limb, code).iter(f"{SVG}text"):
        if line.get("text-anchor") == "middle":
            continue
        x, y, size = (float(line.get(k, "0")) / FINE for k in ("x", "y", "font-size"))
        rows.setdefault(y, []).append((x, x + text_width(line.text or "", size), line.text or ""))
    assert len(rows) > 12
    for row in rows.values():
        row.sort()
        for (_, end, words), (start, _, _) in pairwise(row):
            assert end < start, words
        assert row[-1][1] <= WIDTH - MARGIN, row[-1][2]


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
    sizes = [
        float(t.get("font-size", "0")) / FINE for t in root.iter("{http://www.w3.org/2000/svg}text")
    ]
    assert min(sizes) * 72 / 25.4 >= 7.5
    ends = [float(t.get("y", "0")) / FINE for t in root.iter("{http://www.w3.org/2000/svg}text")]
    assert max(ends) < HEIGHT


def test_another_limb_is_refused(atlas: Atlas, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(RequestError, match="arm or leg"):
        handout_svg(atlas, "wing")
    assert main(["handout", "arm", "page.doc"]) == 2
    assert "names no kind of picture" in capsys.readouterr().err
