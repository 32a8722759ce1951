"""A toy atlas: every authored view is a few squares, so each number fits in the head.

front, right-hand half (the patient's left), 40 wide and 40 high, lower left corner
at the origin, cut into four squares of 20 x 20 = 400 square units:

    dermatomes   C5 (upper row)    C6 (lower row)
    nerves       median-digital-index (left column)   ulnar-digital-little (right column)
    regions      thenar  (lower left) ... each square one region

The other views are one square each.
"""

import shutil
from pathlib import Path

from bodymap.atlas.assets import assets_folder

SQUARES = {"thenar": (5, 5), "palm-ulnar": (25, 5), "index-palmar": (5, 25),
           "little-palmar": (25, 25)}  # fmt: skip

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-50 -50 100 100">'


def _view(outline: str, borders: str, labels: dict[str, dict[str, tuple[float, float]]]) -> str:
    texts = "".join(
        f'<g id="{name}">'
        + "".join(f'<text x="{x}" y="{-y}">{n}</text>' for n, (x, y) in group.items())
        + "</g>"
        for name, group in labels.items()
    )
    return (
        f'{HEAD}<g id="outline"><path id="skin" d="{outline}"/></g>'
        f'<g id="lines"/><g id="borders">{borders}</g>{texts}</svg>'
    )


def front(*, borders: str | None = None, **labels: dict[str, tuple[float, float]]) -> str:
    """The SVG of the toy front view, with other borders or labels where given."""
    drawn = borders or (
        '<path id="level" class="dermatomes regions" d="M-1,-20 L41,-20"/>'
        '<path id="column" class="nerves regions" d="M20,1 L20,-41"/>'
    )
    names: dict[str, dict[str, tuple[float, float]]] = {
        "dermatomes": {"C5": (10, 30), "C6": (10, 10)},
        "nerves": {"median-digital-index": (10, 10), "ulnar-digital-little": (30, 10)},
        "regions": {n: (float(x), float(y)) for n, (x, y) in SQUARES.items()},
    }
    names.update(labels)
    return _view("M0,0 L40,0 L40,-40 L0,-40 Z", drawn, names)


def _square(dermatome: str, nerve: str, region: str) -> str:
    at = (5.0, 5.0)
    return _view(
        "M0,0 L10,0 L10,-10 L0,-10 Z",
        "",
        {"dermatomes": {dermatome: at}, "nerves": {nerve: at}, "regions": {region: at}},
    )


def make_toy(folder: Path) -> Path:
    """Write the toy assets into a folder and return it."""
    shutil.copytree(assets_folder() / "anatomy", folder / "anatomy")
    (folder / "views").mkdir()
    (folder / "anatomy" / "region-parts.csv").write_text("part_id,region_id,label\n")
    (folder / "anatomy" / "body-surface.csv").write_text(
        "part,views,percent,source\n"
        "hand,front,40,toy\nbuttocks,back,30,toy\nhead,head-left;head-right,15,toy\n"
        "perineum,saddle,5,toy\nfoot,soles,10,toy\n"
    )
    drawings = {
        "front": front(),
        "back": _square("S3", "inferior-cluneal", "buttock-lower"),
        "sole": _square("S1", "lateral-plantar", "sole-lateral"),
        "head-side": _square("V1", "supraorbital", "forehead"),
        "saddle": _square("S5", "inferior-rectal", "perianal"),
    }
    for name, text in drawings.items():
        (folder / "views" / f"{name}.svg").write_text(text)
    return folder
