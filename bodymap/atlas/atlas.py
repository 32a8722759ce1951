"""The atlas: the skin, its partition and its territories, ready to be asked.

Everything later (findings, ranking, report, window) stands on this value.
"""

import difflib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import shapely

from bodymap.atlas.assets import AUTHORED_VIEWS, assets_folder, fingerprint, view_file
from bodymap.atlas.cache import FORM, cache_file, store, stored
from bodymap.atlas.cells import VIEWS, Cells, build_cells
from bodymap.atlas.drawing_file import read_view
from bodymap.atlas.facts import Facts, Region
from bodymap.atlas.figure import Figure, assembled
from bodymap.atlas.territories import Mask, Territory, all_territories
from bodymap.errors import RequestError
from bodymap.geometry import Floats, Skin, prepared, shared_areas, union_of_cells
from bodymap.language import tr
from bodymap.terms import DERMATOMES, Side, View

SKINS = 1024
"""Shapes of named skin that are remembered, the latest; a long session meets thousands."""


@dataclass(frozen=True)
class Place:
    """What a point of skin is: the words under the pointer."""

    side: Side
    region: Region
    dermatome: str
    nerve: str
    nerve_name: str
    nerve_segments: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Atlas:
    """One skin: figures of every view, the cells, the facts and the territories."""

    facts: Facts
    cells: Cells
    figures: dict[View, Figure]

    @cached_property
    def territories(self) -> tuple[Territory, ...]:
        """Every root, lesion site and plexus part on each side."""
        return all_territories(self.cells, self.facts)

    @cached_property
    def extents(self) -> Floats:
        """Matrix (territories, cells) of 0 and 1: which cells each territory takes."""
        return np.array([t.extent for t in self.territories], dtype=np.float64)

    @cached_property
    def _trees(self) -> dict[View, tuple[npt.NDArray[np.int64], shapely.STRtree]]:
        found = {}
        for view in VIEWS:
            indices = self.cells.in_view(view)
            found[view] = (indices, shapely.STRtree(self.cells.polygons[indices]))
        return found

    @cached_property
    def _skin(self) -> Callable[[bytes, View], Skin | None]:
        """The cells of a packed mask in one view as one shape; the latest are remembered."""

        @lru_cache(maxsize=SKINS)
        def skin(packed: bytes, view: View) -> Skin | None:
            bits = np.unpackbits(np.frombuffer(packed, dtype=np.uint8), count=len(self.cells))
            indices = self.cells.in_view(view)
            return union_of_cells(self.cells.polygons[indices[bits[indices].astype(bool)]])

        return skin

    @cached_property
    def region_of_cell(self) -> npt.NDArray[np.int64]:
        """For each cell, the index of its whole region in ``facts.regions``."""
        order = list(self.facts.regions)
        wholes = [order.index(self.facts.parts[r].whole) for r in self.cells.region_names]
        found: npt.NDArray[np.int64] = np.array(wholes)[self.cells.region]
        return found

    def territory(self, id_: str, side: Side) -> Territory:
        """A territory by id and side.

        Raises RequestError if there is none.
        """
        found = self.territories_by_id.get((id_, side)) or self.territories_by_id.get(
            (id_, Side.BOTH)
        )
        if found is None:
            raise RequestError(
                tr(
                    "There is no root, lesion site or plexus part '{id}' ({side}).",
                    id=id_,
                    side=side.word,
                )
            )
        return found

    @cached_property
    def territories_by_id(self) -> dict[tuple[str, Side], Territory]:
        """The territories by id and side."""
        return {(t.id, t.side): t for t in self.territories}

    def cells_of_region(self, id_: str, side: Side) -> Mask:
        """The cells of a named region (whole or part) on a side or both.

        Raises RequestError, with the nearest known name, if there is no such region.
        """
        known = self._region_cells.get((id_, side))
        if known is not None:
            return known
        numbers = self._region_numbers.get(id_)
        if numbers is None:
            raise RequestError(self._no_region(id_))
        found: Mask = np.isin(self.cells.region, numbers) & self.cells.on_side(side)
        # Asked of every finding at every step, so the answer is kept, and nobody may write.
        found.setflags(write=False)
        self._region_cells[id_, side] = found
        return found

    @cached_property
    def _region_cells(self) -> dict[tuple[str, Side], Mask]:
        return {}

    @cached_property
    def _region_numbers(self) -> dict[str, list[int]]:
        numbers: dict[str, list[int]] = {r: [] for r in self.facts.regions}
        for number, name in enumerate(self.cells.region_names):
            whole = self.facts.parts[name].whole
            numbers[whole].append(number)
            if name != whole:
                numbers[name] = [number]
        return numbers

    def _no_region(self, id_: str) -> str:
        near = difflib.get_close_matches(id_, self._region_numbers, n=1, cutoff=0.5)
        if near:
            return tr("There is no region '{id}'; did you mean '{near}'?", id=id_, near=near[0])
        return tr("There is no region '{id}'; 'bodymap regions' lists them.", id=id_)

    def cells_of_dermatome(self, name: str, side: Side) -> Mask:
        """The cells of a dermatome on a side or both."""
        here: Mask = self.cells.dermatome == DERMATOMES.index(name)
        return here & self.cells.on_side(side)

    def skin_of(self, mask: Mask, view: View) -> Skin | None:
        """The cells of a mask in one view as one shape (remembered)."""
        return self._skin(np.packbits(mask).tobytes(), view)

    def painted_units(self, view: View, skin: Skin) -> tuple[npt.NDArray[np.int64], Floats]:
        """Cells that a piece of skin touches, and the area it shares with each.

        Areas are square view units; cells of other views are never among them. Several
        threads may ask about the same skin.
        """
        indices, tree = self._trees[view]
        skin = prepared(skin)
        touched = np.sort(tree.query(skin, predicate="intersects"))
        polygons = tree.geometries[touched]
        whole = shapely.contains_properly(skin, polygons)
        shared = np.where(whole, self.cells.area_units[indices[touched]], 0.0)
        if not whole.all():
            shared[~whole] = shared_areas(skin, polygons[~whole])
        return indices[touched], shared

    def painted_cm2(self, skins: dict[View, Skin]) -> Floats:
        """Painted area of every cell, cm², for skin in any views."""
        total = np.zeros(len(self.cells))
        for view, skin in skins.items():
            indices, shared = self.painted_units(view, skin)
            total[indices] += shared
        return np.minimum(total, self.cells.area_units) * self.cells.cm2_per_unit

    def cell_at(self, view: View, x: float, y: float) -> int | None:
        """The cell under a point, or None outside the skin."""
        indices, tree = self._trees[view]
        hits = tree.query(shapely.Point(x, y), predicate="intersects")
        return int(indices[hits.min()]) if len(hits) else None

    def place(self, view: View, x: float, y: float) -> Place | None:
        """What lies under a point, or None outside the skin."""
        cell = self.cell_at(view, x, y)
        if cell is None:
            return None
        cells = self.cells
        nerve = cells.nerve_names[int(cells.nerve[cell])]
        known = self.facts.nerves[nerve]
        return Place(
            Side.LEFT if cells.left[cell] else Side.RIGHT,
            self.facts.parts[cells.region_names[int(cells.region[cell])]],
            DERMATOMES[int(cells.dermatome[cell])],
            nerve,
            known.name,
            known.segments,
        )


def load_atlas(folder: Path | None = None, cache: Path | None = None) -> Atlas:
    """The atlas of an assets folder (the one that comes with bodymap by default).

    ``cache`` names another cache folder. Raises AssetError where an asset is wrong.
    """
    folder = folder or assets_folder()
    facts = Facts(folder)
    key = fingerprint(folder, FORM, shapely.__version__, shapely.geos_version_string)
    path = cache_file(cache)
    found = stored(path, key)
    if found is None:
        found = build(facts)
        store(path, key, *found)
    return Atlas(facts, *found)


def build(facts: Facts) -> tuple[Cells, dict[View, Figure]]:
    """Cells and figures from the drawings. Takes a second or two.

    Raises AssetError where an asset is wrong.
    """
    drawn = {name: read_view(view_file(facts.folder, name)) for name in AUTHORED_VIEWS}
    return build_cells(drawn, facts), assembled(drawn)
