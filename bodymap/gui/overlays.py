"""The maps that can be laid over the figure, made ready beside the window.

A map's fills, borders and names take up to a second to work out the first time; until then
the figure is shown without them.
"""

import threading
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QPainterPath

from bodymap.atlas import Atlas
from bodymap.gui.qt_shapes import path_of
from bodymap.report.appearance import THEMES
from bodymap.report.borders import names_of_cells, territory_borders
from bodymap.report.call_outs import LEAST_AREA, Label, Placer, clusters
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.middle_names import middle_names
from bodymap.report.names import name_places
from bodymap.report.shading import rings_of, smoothed
from bodymap.report.territory_colours import territory_colours
from bodymap.terms import MapName, Side, View

BESIDE_SIZE = 17.0
"""Size of names beside the figure, sheet units: 8 to 9 pixels on the smallest window."""

HEADING_SIZE = 22.0
"""Titles and side marks have at least 11 pixels, which is so much there."""

SURE_SIZE = 16.0
"""A name that can be so large on its skin is readable there, sheet units."""


@dataclass(frozen=True, eq=False)
class Overlay:
    """One map on the sheet: the territories by name, and their borders."""

    map_name: MapName
    fills: tuple[tuple[str, QPainterPath], ...]
    borders: QPainterPath
    beside: dict[tuple[View, str, Side], Label]
    """Names that may not fit on their skin when the whole body is shown, for beside it."""


@lru_cache(maxsize=4)
def overlay_of(atlas: Atlas, map_name: MapName) -> Overlay:
    """A map as paths on the sheet. Its names and colours are worked out too, and remembered
    where they are asked for. All windows share it."""
    names = np.array(names_of_cells(atlas, map_name))
    fills, borders = [], QPainterPath()
    for view in View:
        indices = atlas.cells.in_view(view)
        for name in dict.fromkeys(names[indices].tolist()):
            skin = atlas.skin_of(names == name, view)
            if skin is not None:
                fills.append((name, path_of(rings_of(smoothed(skin, view)), view)))
        borders.addPath(path_of(territory_borders(atlas, map_name, view), view, closed=False))
        name_places(atlas, map_name, view)
        if map_name == "dermatomes":
            middle_names(atlas, view)
    for theme in THEMES.values():
        territory_colours(atlas, map_name, theme)
    return Overlay(map_name, tuple(fills), borders, {})


@lru_cache(maxsize=4)
def with_names_beside(atlas: Atlas, overlay: Overlay) -> Overlay:
    """The same map with names for beside the figure; they take as long as all the rest."""
    if overlay.map_name != "dermatomes":
        return overlay
    found = {}
    placer = Placer(atlas, BESIDE_SIZE, HEADING_SIZE)
    for view in View:
        middles = middle_names(atlas, view)
        places = [
            place for place in name_places(atlas, "dermatomes", view)
            if place.main and place.area * BODY_LAYOUT[view].scale ** 2 >= LEAST_AREA
            and place.words.size * BODY_LAYOUT[view].scale < SURE_SIZE
            and (place.name not in middles
                 or middles[place.name].size * BODY_LAYOUT[view].scale < SURE_SIZE)
        ]  # fmt: skip
        for near in clusters(places):
            by_name = {place.name: place for place in near}
            for label in placer.call_outs(near, False):
                found[view, label.name, by_name[label.name].side] = label
    return replace(overlay, beside=found)


class Overlays(QObject):
    """The maps of one atlas, each made in a thread of its own when it is first asked for."""

    loaded = Signal()
    """One more map is ready, or its names beside the figure are."""
    _made = Signal(object, bool)

    def __init__(self, atlas: Atlas, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._atlas = atlas
        self._known: dict[MapName, Overlay] = {}
        self._begun: set[MapName] = set()
        self._whole: set[MapName] = set()
        self._made.connect(self._take)

    @property
    def busy(self) -> bool:
        """Whether a map is being made ready."""
        return len(self._begun) > len(self._whole)

    def get(self, map_name: MapName) -> Overlay | None:
        """A map, or None while it is not ready; ``loaded`` follows."""
        if map_name not in self._begun:
            self._begun.add(map_name)
            threading.Thread(
                target=self._make, args=(map_name,), daemon=True, name="overlay"
            ).start()
        return self._known.get(map_name)

    def _make(self, map_name: MapName) -> None:
        made = overlay_of(self._atlas, map_name)
        try:
            self._made.emit(made, False)
            self._made.emit(with_names_beside(self._atlas, made), True)
        except RuntimeError:
            return  # The window was closed meanwhile.

    def _take(self, made: Overlay, whole: bool) -> None:
        self._known[made.map_name] = made
        if whole:
            self._whole.add(made.map_name)
        self.loaded.emit()
