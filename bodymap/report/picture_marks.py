"""What is marked on a picture: findings, remainders, compared lesions, or the course
between two visits; and the letter of each modality on its skin."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.geometry import Skin
from bodymap.localise.remainders import remainders
from bodymap.report.appearance import (
    CHANGE_STYLES,
    MODALITY_LETTERS,
    REMAINDER_STYLES,
    MarkStyle,
    Remainder,
    Theme,
)
from bodymap.report.course_marks import course_pieces
from bodymap.report.layout import Placed
from bodymap.report.legend import compared_masks
from bodymap.report.svg import element, text
from bodymap.terms import View

if TYPE_CHECKING:
    from bodymap.report.picture import PictureOptions

DISC = 7.5
"""Radius of the disc with a modality's letter, sheet units."""


@dataclass(frozen=True)
class PictureMark:
    """Skin of one view that is marked in one style, and the letter of its modality."""

    style: MarkStyle
    skin: Skin
    title: str
    letter: str = ""
    shift: float = 0.0


def picture_marks(
    atlas: Atlas, drawing: Drawing, view: View, options: "PictureOptions"
) -> Iterator[PictureMark]:
    """The marked skin of one view, in the order in which it is laid down."""
    if options.comparison is not None:
        for style, mask in compared_masks(options.comparison):
            skin = atlas.skin_of(mask, view)
            if skin is not None:
                yield PictureMark(style, skin, style.label)
        return
    if options.course is not None:
        for style, piece in course_pieces(options.course):
            if view in piece.skins:
                yield PictureMark(style, piece.skins[view], style.label)
        return
    if options.candidate is not None:
        parts = remainders(atlas, drawing, options.candidate).get(view)
        if parts is not None:
            for kind, skin in (
                (Remainder.SPARED, parts.spared),
                (Remainder.EXPLAINED, parts.explained),
                (Remainder.UNEXPLAINED, parts.unexplained),
            ):
                if skin is not None:
                    yield PictureMark(REMAINDER_STYLES[kind], skin, REMAINDER_STYLES[kind].label)
        return
    modalities = sorted({m for m, _, _ in drawing})
    for modality, change, layer in drawing:
        skin = layer.skin(atlas, view)
        if skin is not None:
            letter = MODALITY_LETTERS[modality] if len(modalities) > 1 else ""
            shift = modalities.index(modality) / len(modalities)
            title = f"{CHANGE_STYLES[change].label}: {modality.label}"
            yield PictureMark(CHANGE_STYLES[change], skin, title, letter, shift)


def letters(
    mark: PictureMark, placed: Placed, theme: Theme, taken: list[tuple[float, float]]
) -> Iterator[str]:
    """The modality's letter once on each piece of marked skin, clear of what stands there."""
    for piece in shapely.get_parts(mark.skin):
        if piece.area * placed.scale**2 > 60:
            x, y = _clear_place(piece, placed, taken)
            taken.append((x, y))
            colour = mark.style.colour(theme)
            yield element("circle", cx=x, cy=y, r=DISC, fill=theme.canvas, stroke=colour)
            yield text(mark.letter, x, y + 3.8, 10.5, theme.text, "middle", bold=True)


def _clear_place(
    piece: shapely.Polygon, placed: Placed, taken: Sequence[tuple[float, float]]
) -> tuple[float, float]:
    """A place of the sheet well inside a piece and away from the names and letters there."""
    centre = shapely.get_coordinates(shapely.maximum_inscribed_circle(piece))[0]
    x0, y0, x1, y1 = piece.bounds
    step = max(4.0 / placed.scale, max(x1 - x0, y1 - y0) / 40)
    grid = np.stack(np.meshgrid(np.arange(x0, x1, step), np.arange(y0, y1, step)), -1)
    points = np.vstack([centre, grid.reshape(-1, 2)])
    points = points[shapely.intersects_xy(piece, points)]
    edge = shapely.distance(shapely.boundary(piece), shapely.points(points)) * placed.scale
    sheet = np.column_stack(placed.to_sheet(points[:, 0], points[:, 1]))
    worth = np.minimum(edge / DISC, 1.0)
    if taken:
        away = np.hypot(*(sheet[:, None, :] - np.array(taken)[None]).transpose(2, 0, 1)).min(axis=1)
        worth = worth + np.minimum(away / (2.4 * DISC), 1.0)
    middle = np.hypot(*(sheet - sheet[0]).T)
    best = int(np.argmax(worth - 0.002 * middle))
    return float(sheet[best, 0]), float(sheet[best, 1])
