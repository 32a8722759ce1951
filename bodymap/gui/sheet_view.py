"""The sheet on the screen: the body and what is found on it.

Three layers. The still figure is a pixmap for one zoom, renewed shortly after the
zoom rests; the marks are a second one, renewed when drawing or selection change;
a stroke under way is painted straight over both, and only where it moved.
"""

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import (
    QPainter,
    QPaintEvent,
    QPixmap,
)
from PySide6.QtWidgets import QWidget

from bodymap.gui.body_picture import BodyPicture
from bodymap.gui.camera import Box, Camera, showing
from bodymap.gui.choices import Tool
from bodymap.gui.figure_legend import legend_height, legend_room, paint_legend
from bodymap.gui.gestures import OutlineGesture, StrokeGesture
from bodymap.gui.hint import paint_hint, paint_preparing
from bodymap.gui.language_choice import keep_sides
from bodymap.gui.marks import (
    legend_of,
    marks_of,
    paint_mark,
    paint_question,
    paint_target,
    questions_of,
)
from bodymap.gui.overlays import Overlay, Overlays
from bodymap.gui.overview import Overview
from bodymap.gui.qt_shapes import colour
from bodymap.gui.session import Session
from bodymap.gui.shown import Target
from bodymap.gui.under_way import Trail, paint_hand, paint_outline, to_sheet
from bodymap.language import tr
from bodymap.report.appearance import LIGHT, Theme
from bodymap.report.layout import BODY_LAYOUT, SHEET_HEIGHT, SHEET_WIDTH, view_at
from bodymap.terms import View

SHEET: Box = (0.0, 0.0, SHEET_WIDTH, SHEET_HEIGHT - 24)
LEAST_SCALE, MOST_SCALE = 0.12, 24.0
REST_MS = 70
"""The figure is drawn anew for a zoom once the zoom has rested so long."""


class SheetView(QWidget):
    """Shows the sheet: figure, marks, and the stroke under way."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.theme: Theme = LIGHT
        self.camera = Camera()
        self._fitted = True
        self._below = legend_room()
        self._aimed: tuple[Target, ...] = ()
        self._figure: BodyPicture | None = None
        self.overlays: Overlays | None = None
        """The maps that can be laid over the figure."""
        self._still: tuple[Camera, QPixmap] | None = None
        self._marked: tuple[Camera, QPixmap] | None = None
        self._stroke: StrokeGesture | None = None
        self._trail: Trail | None = None
        self._overview = Overview(SHEET)
        self._outline: OutlineGesture | None = None
        self._over_the_edge = False
        self._pointer: QPointF | None = None
        self.by_keys = False
        """Whether keys move the hand over the figure."""
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._renew)
        self.setMouseTracking(True)
        keep_sides(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(320, 240)
        self.setAccessibleName(tr("Body canvas"))
        self.setAccessibleDescription(
            tr(
                "Paint findings on the figure. With K, keys lead the hand; the list of named "
                "regions marks whole regions by keyboard."
            )
        )
        session.atlas_ready.connect(self._begin)
        session.drawing_changed.connect(self.marks_changed)
        session.selection_changed.connect(self.marks_changed)
        session.selection_changed.connect(self._follow_targets)
        session.answer_changed.connect(self.marks_changed)
        session.choices_changed.connect(self._choices_changed)
        self._shown = session.choices

    # What is shown

    def _begin(self) -> None:
        if self.session.atlas is not None:
            self._figure = BodyPicture(self.session.atlas)
            self.overlays = Overlays(self.session.atlas, self)
            self.overlays.loaded.connect(self._renew)
        self._renew()

    def set_theme(self, theme: Theme) -> None:
        """Show everything in another theme."""
        self.theme = theme
        self._renew()

    def _choices_changed(self) -> None:
        now, before = self.session.choices, self._shown
        self._shown = now
        if (now.overlay, now.overlay_strength) != (before.overlay, before.overlay_strength):
            self._still = None
        self.marks_changed()

    def marks_changed(self) -> None:
        """Draw the marks anew."""
        self._marked = None
        if self._fitted and self._room_below() != self._below:
            self.fit()
        self.update()

    def _renew(self) -> None:
        self._still = self._marked = None
        self.update()

    def _follow_targets(self) -> None:
        """Show the whole body where none of the places to touch next is in view."""
        targets = self.session.targets
        if targets == self._aimed:
            return
        self._aimed = targets
        if targets and not self._fitted and not any(map(self._in_view, targets)):
            self.fit()

    def _in_view(self, target: Target) -> bool:
        spot = BODY_LAYOUT[target.view].to_sheet(target.x, target.y)
        x, y = self.camera.to_canvas(*spot)
        return 0 <= x <= self.width() and 0 <= y <= self.height()

    # The camera

    @property
    def enlarged(self) -> bool:
        """Whether a part of the sheet is shown, not the whole."""
        return not self._fitted

    def fit(self) -> None:
        """Show the whole sheet."""
        self._fitted = True
        self._below = self._room_below()
        self._look(showing(SHEET, self.width(), self.height() - self._below), at_once=True)

    def _room_below(self) -> int:
        """Room for the legend in hand, pixels; the whole body stands above it."""
        rows = legend_of(self.session)
        return max(legend_room(), legend_height(rows, self.width()) if rows else 0)

    def show_box(self, box: Box) -> None:
        """Show a part of the sheet as large as the canvas allows."""
        self._fitted = False
        self._look(showing(box, self.width(), self.height()), at_once=True)

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Nearer or farther, holding the skin under a pixel (or the middle) in place."""
        hand = self._pointer if self.by_keys else None
        at = at or hand or QPointF(self.width() / 2, self.height() / 2)
        self._fitted = False
        self._look(self.camera.zoomed(factor, at.x(), at.y(), LEAST_SCALE, MOST_SCALE))

    def pan(self, dx: float, dy: float) -> None:
        """Move the sheet by so many pixels."""
        self._fitted = False
        self._look(self.camera.panned(dx, dy))

    def _look(self, camera: Camera, at_once: bool = False) -> None:
        hand = self._pointer if self.by_keys else None
        place = self.camera.to_sheet(hand.x(), hand.y()) if hand is not None else None
        self.camera = camera.held(SHEET, self.width(), self.height())
        if place is not None:
            # The hand that keys lead stays on its skin, or comes to the middle of what is seen.
            on_skin = QPointF(*self.camera.to_canvas(*place))
            seen = self.rect().contains(on_skin.toPoint())
            if not seen:
                self._leave_skin()
            self._pointer = on_skin if seen else QPointF(self.rect().center())
        if at_once:
            self._rest.stop()
            self._renew()
        else:
            self._rest.start()
            self.update()

    def _leave_skin(self) -> None:
        """The hand that keys lead is about to be taken to other skin."""

    def place_at(self, pixel: QPointF) -> tuple[View, float, float] | None:
        """The view and the place in it under a pixel, or None between the views."""
        atlas = self.session.atlas
        if atlas is None:
            return None
        x, y = self.camera.to_sheet(pixel.x(), pixel.y())
        view = view_at(atlas, x, y)
        return None if view is None else (view, *BODY_LAYOUT[view].to_view(x, y))

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setClipRect(event.rect())
        if self._figure is None:
            paint_preparing(painter, QRectF(self.rect()), self.theme)
            return
        resting = not self._rest.isActive()
        if self._still is None or (resting and self._still[0] != self.camera):
            self._still = (self.camera, self._still_pixmap())
        if self._marked is None or (resting and self._marked[0] != self.camera):
            self._marked = (self.camera, self._marks_pixmap())
        painter.fillRect(event.rect(), colour(self.theme.canvas))
        for camera, pixmap in (self._still, self._marked):
            self._show(painter, camera, pixmap)
        self._paint_under_way(painter)
        if event.rect().bottom() > self.height() - self._below - legend_room():
            paint_legend(
                painter, legend_of(self.session), self.theme, QRectF(self.rect()),
                self.devicePixelRatioF(),
            )  # fmt: skip
        if not self._fitted:
            self._overview.paint(
                painter, self._figure, self.camera, QRectF(self.rect()), self.theme,
                self.devicePixelRatioF(),
            )  # fmt: skip
        if not self.session.drawing and self._stroke is None and not self.session.covered:
            paint_hint(painter, self.font(), QRectF(self.rect()), self.theme)

    def _show(self, painter: QPainter, camera: Camera, pixmap: QPixmap) -> None:
        if camera == self.camera:
            painter.drawPixmap(0, 0, pixmap)
            return
        # While the zoom moves, the last picture stands in, enlarged.
        x, y = self.camera.to_canvas(camera.left, camera.top)
        factor = self.camera.scale / camera.scale
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(
            QRectF(x, y, self.width() * factor, self.height() * factor),
            pixmap,
            QRectF(pixmap.rect()),
        )

    def _blank(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        pixmap = QPixmap(round(self.width() * ratio), round(self.height() * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        return pixmap

    def _still_pixmap(self) -> QPixmap:
        pixmap, chosen = self._blank(), self.session.choices
        assert self._figure is not None
        painter = QPainter(pixmap)
        room = QRectF(self.rect())
        self._figure.paint(
            painter, self.camera, self.theme, self._overlay(), chosen.overlay_strength, room
        )
        painter.end()
        return pixmap

    def _overlay(self) -> Overlay | None:
        """The map in hand, once it is ready."""
        chosen = self.session.choices.overlay
        return self.overlays.get(chosen) if self.overlays is not None and chosen else None

    def _marks_pixmap(self) -> QPixmap:
        pixmap = self._blank()
        painter = QPainter(pixmap)
        painter.save()
        to_sheet(painter, self.camera)
        marks = marks_of(self.session)
        for mark in marks:
            paint_mark(painter, mark, self.theme, self.camera, self.devicePixelRatioF())
        painter.restore()
        assert self._figure is not None
        self._figure.write(
            painter, self.camera, self.theme, self._overlay(), QRectF(self.rect()),
            [mark.path for mark in marks],
        )  # fmt: skip
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for number, (x, y) in questions_of(self.session):
            at = QPointF(*self.camera.to_canvas(x, y))
            paint_question(painter, number, at, self.theme)
        for target in self.session.targets:
            spot = BODY_LAYOUT[target.view].to_sheet(target.x, target.y)
            paint_target(painter, target, QPointF(*self.camera.to_canvas(*spot)), self.theme)
        painter.end()
        return pixmap

    def _paint_under_way(self, painter: QPainter) -> None:
        if self._trail is not None:
            self._trail.paint(
                painter, self.camera, self.theme, self.size(), self.devicePixelRatioF()
            )
        if self._outline is not None:
            paint_outline(
                painter, self._outline, self._pointer, self._over_the_edge, self.camera, self.theme
            )
        radius = self.brush_radius()
        if self._pointer is not None and (radius is not None or self.by_keys):
            paint_hand(painter, self._pointer, radius, self.by_keys, self.theme)

    def brush_radius(self) -> float | None:
        """How far the brush in hand reaches, pixels; None for another tool. A stroke keeps its
        width on the skin while the figure is enlarged."""
        stroke, chosen = self._stroke, self.session.choices
        if stroke is not None:
            return stroke.radius * BODY_LAYOUT[stroke.view].scale * self.camera.scale
        return chosen.brush / 2 if chosen.tool in (Tool.BRUSH, Tool.ERASER) else None

    def centre_on_overview(self, pixel: QPointF) -> bool:
        """Move what is seen to a place of the overview; says whether the pixel is on it."""
        place = None if self._fitted else self._overview.place(self.width(), pixel)
        if place is None:
            return False
        px, py = self.camera.to_canvas(*place)
        self.pan(self.width() / 2 - px, self.height() / 2 - py)
        return True
