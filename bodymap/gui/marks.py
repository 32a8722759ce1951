"""The moving part of the canvas: findings, or a candidate held against them."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from bodymap.gui.camera import Camera
from bodymap.gui.qt_shapes import colour, skin_path, texture_brush
from bodymap.gui.session import Session
from bodymap.gui.shown import Target
from bodymap.language import capital, tr
from bodymap.report.appearance import (
    CHANGE_STYLES,
    MARK_WIDTH,
    REMAINDER_STYLES,
    SHARED_STYLE,
    MarkStyle,
    Remainder,
    Theme,
)
from bodymap.report.course_marks import course_pieces
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.legend import compared_masks
from bodymap.terms import View

PLACE_STYLE = SHARED_STYLE
"""How a place that was searched is shown."""


@dataclass(frozen=True)
class Mark:
    """Marked skin as a path on the sheet, with its style and opacity."""

    path: QPainterPath
    style: MarkStyle
    opacity: float


def marks_of(session: Session) -> list[Mark]:
    """What is to be marked now: the remainders of the chosen candidate, or the findings."""
    atlas = session.atlas
    if atlas is None:
        return []
    found: list[Mark] = []
    if session.place is not None:
        for view in View:
            skin = atlas.skin_of(session.place.skin, view)
            if skin is not None:
                found.append(Mark(skin_path(skin, view), PLACE_STYLE, 1.0))
        return found
    if session.comparison is not None:
        for style, mask in compared_masks(session.comparison):
            for view in View:
                skin = atlas.skin_of(mask, view)
                if skin is not None:
                    found.append(Mark(skin_path(skin, view), style, 1.0))
        return found
    if session.laid_over is not None:
        return [
            Mark(skin_path(skin, view), style, 1.0)
            for style, piece in course_pieces(session.laid_over)
            for view, skin in piece.skins.items()
        ]
    if session.chosen is not None:
        for view, parts in session.remainders().items():
            for kind, skin in (
                (Remainder.SPARED, parts.spared),
                (Remainder.EXPLAINED, parts.explained),
                (Remainder.UNEXPLAINED, parts.unexplained),
            ):
                if skin is not None:
                    found.append(Mark(skin_path(skin, view), REMAINDER_STYLES[kind], 1.0))
        return found
    for modality, change, layer in session.drawing:
        opacity = 1.0 if modality is session.choices.modality else session.choices.others
        for view in View:
            skin = layer.skin(atlas, view)
            if skin is not None:
                found.append(Mark(skin_path(skin, view), CHANGE_STYLES[change], opacity))
    return found


def questions_of(session: Session) -> list[tuple[int, tuple[float, float]]]:
    """Number of each question about skin, and where it stands on the sheet."""
    atlas, answer = session.atlas, session.answer
    found: list[tuple[int, tuple[float, float]]] = []
    if session.practising or session.covered or session.targets:
        return found
    for number, question in enumerate(answer.questions.best if answer and atlas else (), start=1):
        if question.region is None or atlas is None:
            continue
        mask = atlas.cells_of_region(question.region, question.side)
        areas = {
            view: atlas.cells.area_units[atlas.cells.in_view(view)]
            @ mask[atlas.cells.in_view(view)]
            * BODY_LAYOUT[view].scale ** 2
            for view in View
        }
        view = max(areas, key=lambda v: areas[v])
        skin = atlas.skin_of(mask, view)
        if skin is not None:
            point = skin.representative_point()
            found.append((number, BODY_LAYOUT[view].to_sheet(point.x, point.y)))
    return found


def paint_question(
    painter: QPainter, number: int, at: QPointF, theme: Theme, radius: float = 10.0
) -> None:
    """A numbered spot: where to test next."""
    painter.setPen(QPen(colour(theme.panel), 2.5))
    painter.setBrush(colour(theme.text))
    painter.drawEllipse(at, radius, radius)
    font = QFont(painter.font())
    font.setPixelSize(round(radius * 1.3))
    font.setBold(True)
    painter.setFont(font)
    painter.setPen(colour(theme.panel))
    box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(number))


TARGET_PX = 11.0
"""Radius of the ring round a place to touch, pixels."""


def paint_target(painter: QPainter, target: Target, at: QPointF, theme: Theme) -> None:
    """A ring round a place to touch, its middle left free, with the side beside it."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for ink, width in ((theme.panel, 5.0), (theme.accent, 2.4)):
        painter.setPen(QPen(colour(ink), width))
        painter.drawEllipse(at, TARGET_PX, TARGET_PX)
    painter.setPen(QPen(colour(theme.accent), 1.6))
    painter.drawEllipse(at, 1.5, 1.5)
    font = QFont(painter.font())
    font.setPixelSize(12)
    font.setBold(True)
    painter.setFont(font)
    word = capital(target.side.word)
    wide = QFontMetricsF(font).horizontalAdvance(word) + 10
    out = -1 if target.x < 0 else 1  # away from the midline
    left = at.x() + out * (TARGET_PX + 5) - (wide if out < 0 else 0)
    box = QRectF(left, at.y() - 9, wide, 18)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour(theme.accent))
    painter.drawRoundedRect(box, 5, 5)
    painter.setPen(colour(theme.panel))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, word)


def legend_of(session: Session) -> list[tuple[MarkStyle, str]]:
    """Style and words of everything that is marked now."""
    if session.place is not None:
        return [(PLACE_STYLE, session.place.name)]
    if session.comparison is not None:
        return [(style, tr(style.label)) for style, _ in compared_masks(session.comparison)]
    if session.laid_over is not None:
        return [(style, tr(style.label)) for style, _ in course_pieces(session.laid_over)]
    chosen = session.chosen
    if chosen is not None:
        return [(REMAINDER_STYLES[kind], tr(REMAINDER_STYLES[kind].label)) for kind in Remainder]
    words: dict[str, tuple[MarkStyle, list[str]]] = {}
    for modality, change, _ in session.drawing:
        style = CHANGE_STYLES[change]
        words.setdefault(change, (style, []))[1].append(modality.label)
    return [(style, f"{tr(style.label)}: {', '.join(names)}") for style, names in words.values()]


def paint_mark(painter: QPainter, mark: Mark, theme: Theme, camera: Camera, ratio: float) -> None:
    """Paint marked skin; the painter's transform is that of the camera."""
    ink = mark.style.colour(theme)
    painter.fillPath(mark.path, colour(ink, mark.style.fill * mark.opacity))
    brush = texture_brush(mark.style.texture, ink, mark.opacity, ratio)
    # The texture keeps its fineness on the screen at every zoom.
    brush.setTransform(painter.transform().inverted()[0].scale(ratio, ratio) if ratio != 1.0
                       else painter.transform().inverted()[0])  # fmt: skip
    painter.fillPath(mark.path, brush)
    pen = QPen(colour(ink, mark.opacity), max(1.3, MARK_WIDTH) / camera.scale)
    if mark.style.dashed:
        pen.setStyle(Qt.PenStyle.DashLine)
    painter.strokePath(mark.path, pen)
