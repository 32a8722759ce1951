"""Pictures from the command line: which kind a file name asks for, and how it is made."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bodymap.cli.output import opened_drawing, write_out
from bodymap.errors import RequestError
from bodymap.language import tr

if TYPE_CHECKING:
    from bodymap.atlas import Atlas
    from bodymap.atlas.territories import Territory
    from bodymap.findings.drawing import Drawing


def picture_form(out: str) -> str:
    """The kind of picture that the ending of a file names; RequestError for another one."""
    form = Path(out).suffix.lower().removeprefix(".")
    if form not in PICTURES:
        raise RequestError(
            tr("{file} names no kind of picture; end it in .svg, .png or .pdf.", file=out)
        )
    return form


def draw(options: argparse.Namespace) -> int:
    """Write a picture of the case."""
    from bodymap.report.appearance import DARK, LIGHT
    from bodymap.report.picture import PictureOptions, draw_svg
    from bodymap.terms import View

    form = "" if options.out == "-" else picture_form(options.out)
    atlas, drawing = opened_drawing(options.case)
    territory = None
    if options.candidate:
        territory = _territory(atlas, drawing, options.candidate)
    wanted = PictureOptions(
        maps=options.maps,
        candidate=territory,
        theme=DARK if options.dark else LIGHT,
        views=tuple(v for v in View if not options.view or v in options.view),
        title=Path(options.case).stem,
    )
    svg = draw_svg(atlas, drawing, wanted)
    if options.out == "-":
        sys.stdout.write(svg)
    else:
        write_out(options.out, PICTURES[form](svg, options.height))
    return 0


def _territory(atlas: "Atlas", drawing: "Drawing", words: str) -> "Territory":
    """A lesion named as ID or ID:SIDE; without a side, the one the drawing fits best."""
    from bodymap.localise.ranking import Scales
    from bodymap.terms import Side

    id_, _, side = words.partition(":")
    scales = Scales(atlas)
    if side:
        if side not in list(Side):
            raise RequestError(
                tr("'{side}' is no side; write {id}:left or {id}:right.", side=side, id=id_)
            )
        return scales.catalogue.territory(id_, Side(side))
    for candidate in scales.rank_drawing(drawing).candidates:
        if candidate.territory.id == id_:
            return candidate.territory
    return scales.catalogue.territory(id_, Side.LEFT)


def _svg(svg: str, height: int) -> bytes:
    return svg.encode("utf-8")


def _png(svg: str, height: int) -> bytes:
    from bodymap.rendering import to_png

    return to_png(svg, height)


def _pdf(svg: str, height: int) -> bytes:
    from bodymap.rendering import to_pdf

    return to_pdf(svg)


PICTURES = {"svg": _svg, "png": _png, "pdf": _pdf}
"""How each kind of picture is made, by the ending of its file."""
