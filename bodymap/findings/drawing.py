"""The drawing: which skin is altered, in which modality, in which way.

A drawing has one layer for each modality and change. A layer keeps named regions
by name and free-hand skin as geometry, so that a case file says "thenar" and not
its outline. Within one modality a new finding replaces what was there before, as
a second answer at the bedside replaces the first; a case written by hand may hold
two findings on the same skin, and that is kept as it is.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np
import numpy.typing as npt

from bodymap.atlas import Atlas
from bodymap.atlas.cells import VIEWS
from bodymap.atlas.territories import Mask
from bodymap.findings.record import BedsideRecord
from bodymap.findings.signs import Signs
from bodymap.geometry import Floats, Skin, common, mirrored, union_of, united, without
from bodymap.terms import Change, Modality, Side, View

if TYPE_CHECKING:
    from bodymap.findings.case_file import Case

NamedRegion = tuple[str, Side]
"""A region id (whole or part) and the side: left or right, never both."""

Kind = tuple[Modality, Change]

Array = TypeVar("Array", bound=npt.NDArray[Any])


@dataclass(frozen=True)
class Layer:
    """Skin with one change in one modality: named regions, and drawn skin by view."""

    regions: frozenset[NamedRegion] = frozenset()
    drawn: Mapping[View, Skin] = field(default_factory=lambda: MappingProxyType({}))
    _known: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What was worked out of this value before, by one atlas."""

    def __bool__(self) -> bool:
        return bool(self.regions or self.drawn)

    def skin(self, atlas: Atlas, view: View) -> Skin | None:
        """All skin of the layer in one view."""
        mask = self.region_cells(atlas)
        named = atlas.skin_of(mask, view) if mask is not None else None
        return united(named, self.drawn.get(view))

    def region_cells(self, atlas: Atlas) -> Mask | None:
        """Cells of the named regions, or None without any; not to be written to."""
        if not self.regions:
            return None
        return _kept(self._known, atlas, "regions", self._region_cells)

    def _region_cells(self, atlas: Atlas) -> Mask:
        mask = np.zeros(len(atlas.cells), dtype=bool)
        for id_, side in self.regions:
            mask |= atlas.cells_of_region(id_, side)
        return mask

    def painted_cm2(self, atlas: Atlas) -> Floats:
        """Area of the layer in every cell of the atlas, cm²; not to be written to."""
        return _kept(self._known, atlas, "painted", self._painted_cm2)

    def _painted_cm2(self, atlas: Atlas) -> Floats:
        total = atlas.painted_cm2(dict(self.drawn))
        mask = self.region_cells(atlas)
        if mask is not None:
            total[mask] = atlas.cells.area_cm2[mask]
        return total

    def with_drawn(self, view: View, skin: Skin | None) -> "Layer":
        """The layer with other drawn skin in a view."""
        drawn = {v: s for v, s in self.drawn.items() if v is not view}
        if skin is not None:
            drawn[view] = skin
        return replace(self, drawn=MappingProxyType(drawn))

    def painted(self, view: View, skin: Skin) -> "Layer":
        """The layer with more skin in a view."""
        return self.with_drawn(view, united(self.drawn.get(view), skin))

    def erased(self, atlas: Atlas, view: View, skin: Skin) -> "Layer":
        """The layer without some skin of a view.

        A named region that loses skin is no longer that region: what is left of it
        stays as drawn skin, in every view that shows it.
        """
        result = self
        touched = [r for r in self.regions if _overlaps(atlas, r, view, skin)]
        if touched:
            result = replace(result, regions=self.regions.difference(touched))
            for region in touched:
                for other in VIEWS:
                    piece = atlas.skin_of(atlas.cells_of_region(*region), other)
                    if piece is not None:
                        result = result.painted(other, piece)
        drawn = result.drawn.get(view)
        return result if drawn is None else result.with_drawn(view, without(drawn, skin))

    def mirrored(self) -> "Layer":
        """The same findings on the other side of the patient."""
        regions = frozenset((id_, side.opposite) for id_, side in self.regions)
        drawn = {mirrored_view(v): mirrored(s) for v, s in self.drawn.items()}
        return Layer(regions, MappingProxyType(drawn))


@dataclass(frozen=True)
class Drawing:
    """All findings of the visit in hand: on the skin, by modality and change, the signs
    beside them, and the bedside record that they were answers of.

    Layers are never empty. ``date`` of the visit is as ISO 8601 writes it (2026-11-25),
    None where nobody noted it. ``earlier`` visits, by date, are cases of their own: what
    was found, and how its file said it. They are part of this value so that whatever is
    done to them is a step like any other: undone, journalled and saved (see ``visits``).
    """

    layers: Mapping[Kind, Layer] = field(default_factory=lambda: MappingProxyType({}))
    signs: Signs = field(default_factory=Signs)
    record: BedsideRecord = field(default_factory=BedsideRecord)
    date: str | None = None
    earlier: "tuple[Case, ...]" = ()
    _known: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What was worked out of this value before, by one atlas."""

    def __bool__(self) -> bool:
        return bool(self.layers or self.signs or self.record)

    def __iter__(self) -> Iterator[tuple[Modality, Change, Layer]]:
        for (modality, change), layer in sorted(self.layers.items()):
            yield modality, change, layer

    def layer(self, modality: Modality, change: Change) -> Layer:
        """The layer of a modality and change, empty if nothing was found."""
        return self.layers.get((modality, change), Layer())

    def with_layer(self, modality: Modality, change: Change, layer: Layer) -> "Drawing":
        """The drawing with another layer in this place."""
        layers = {k: v for k, v in self.layers.items() if k != (modality, change)}
        if layer:
            layers[modality, change] = layer
        return replace(self, layers=MappingProxyType(layers))

    def painted(
        self, atlas: Atlas, modality: Modality, change: Change, view: View, skin: Skin
    ) -> "Drawing":
        """The drawing after skin of a view was found to be changed in this way.

        Skin outside the outline is dropped; other findings of the same modality on
        this skin are replaced.
        """
        inside = common(skin, atlas.figures[view].outline)
        if inside is None:
            return self
        result = self.erased(atlas, modality, view, inside)
        return result.with_layer(
            modality, change, result.layer(modality, change).painted(view, inside)
        )

    def erased(self, atlas: Atlas, modality: Modality | None, view: View, skin: Skin) -> "Drawing":
        """The drawing without some skin of a view, in one modality or in all."""
        result = self
        for (m, change), layer in self.layers.items():
            if modality in (None, m):
                result = result.with_layer(m, change, layer.erased(atlas, view, skin))
        return result

    def with_region(
        self, atlas: Atlas, modality: Modality, change: Change, id_: str, side: Side
    ) -> "Drawing":
        """The drawing after a whole named region was found to be changed in this way.

        Raises RequestError for an unknown region.
        """
        result = self.without_region(atlas, modality, id_, side)
        layer = result.layer(modality, change)
        named = {(id_, s) for s in _each(side)}
        return result.with_layer(modality, change, replace(layer, regions=layer.regions | named))

    def without_region(
        self, atlas: Atlas, modality: Modality | None, id_: str, side: Side
    ) -> "Drawing":
        """The drawing with nothing on a named region, in one modality or in all.

        Raises RequestError for an unknown region.
        """
        mask = atlas.cells_of_region(id_, side)
        result = self
        for (m, change), layer in self.layers.items():
            if modality in (None, m):
                kept = layer.regions.difference((id_, s) for s in _each(side))
                layer = replace(layer, regions=kept)
                for view in VIEWS:
                    skin = atlas.skin_of(mask, view)
                    if skin is not None:
                        layer = layer.erased(atlas, view, skin)
                result = result.with_layer(m, change, layer)
        return result

    def mirrored(self) -> "Drawing":
        """The same findings on the other side of the patient.

        Mirroring mends a side that was mistaken while drawing; earlier visits stay as
        they are.
        """
        layers = {k: v.mirrored() for k, v in self.layers.items()}
        return replace(
            self,
            layers=MappingProxyType(layers),
            signs=self.signs.mirrored(),
            record=self.record.mirrored(),
        )

    def with_findings_of(self, other: "Drawing") -> "Drawing":
        """The same visit, with the skin, signs and record of another drawing."""
        return replace(self, layers=other.layers, signs=other.signs, record=other.record)

    def with_signs(self, signs: Signs) -> "Drawing":
        """The drawing with other muscles and reflexes noted beside it."""
        return replace(self, signs=signs)

    def with_record(self, record: BedsideRecord) -> "Drawing":
        """The drawing with another bedside record."""
        return replace(self, record=record)

    def only(self, modalities: Collection[Modality]) -> "Drawing":
        """The findings of some modalities alone, with the signs."""
        layers = {k: layer for k, layer in self.layers.items() if k[0] in modalities}
        return replace(self, layers=MappingProxyType(layers))

    def altered_skin(self, atlas: Atlas, view: View) -> Skin | None:
        """Skin of a view that is altered in any modality."""
        return union_of(layer.skin(atlas, view) for _, change, layer in self if change.altered)

    def altered_cm2(self, atlas: Atlas) -> Floats:
        """Altered area of every cell, cm²: skin altered in several modalities counts once.
        Not to be written to."""
        return _kept(self._known, atlas, "altered", self._altered_cm2)

    def _altered_cm2(self, atlas: Atlas) -> Floats:
        drawn = {v: self.altered_freehand(v) for v in VIEWS}
        total = atlas.painted_cm2({v: s for v, s in drawn.items() if s is not None})
        whole = self.altered_whole(atlas)
        total[whole] = atlas.cells.area_cm2[whole]
        return total

    def altered_whole(self, atlas: Atlas) -> Mask:
        """Cells of the named regions that are altered in any modality."""
        whole = np.zeros(len(atlas.cells), dtype=bool)
        for _, change, layer in self:
            named = layer.region_cells(atlas) if change.altered else None
            if named is not None:
                whole |= named
        return whole

    def altered_freehand(self, view: View) -> Skin | None:
        """Skin of a view that was drawn as altered in any modality, beside named regions."""
        return union_of(la.drawn.get(view) for _, change, la in self if change.altered)

    def normal_cm2(self, atlas: Atlas) -> Floats:
        """Area explicitly found normal in some modality, by cell, cm²."""
        total = np.zeros(len(atlas.cells))
        for _, change, layer in self:
            if not change.altered:
                total = np.maximum(total, layer.painted_cm2(atlas))
        return total


def _kept(
    known: dict[str, Any], atlas: Atlas, name: str, worked_out: Callable[[Atlas], Array]
) -> Array:
    """What was worked out of a value for an atlas; each is asked many times in one step."""
    found = known.get(name)
    if found is None or found[0] is not atlas:
        array = worked_out(atlas)
        array.setflags(write=False)
        found = known[name] = (atlas, array)
    return found[1]


def mirrored_view(view: View) -> View:
    """The view that shows the other side."""
    return {View.HEAD_LEFT: View.HEAD_RIGHT, View.HEAD_RIGHT: View.HEAD_LEFT}.get(view, view)


def _each(side: Side) -> tuple[Side, ...]:
    return (Side.LEFT, Side.RIGHT) if side is Side.BOTH else (side,)


def _overlaps(atlas: Atlas, region: NamedRegion, view: View, skin: Skin) -> bool:
    piece = atlas.skin_of(atlas.cells_of_region(*region), view)
    return common(piece, skin) is not None
