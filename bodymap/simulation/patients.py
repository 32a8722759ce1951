"""A patient drawn at random: hidden lesion, imperfect examination, findings by spot."""

from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing, Kind, Layer, NamedRegion
from bodymap.geometry import Floats
from bodymap.localise.evidence import BESIDE
from bodymap.simulation.habits import Habits
from bodymap.simulation.lesions import Bodies, Lesion, Mask
from bodymap.terms import Change, Modality, Side

JOINTS = (
    "great-toe-dorsal", "malleolus-medial", "malleolus-lateral", "knee-front", "index-dorsal-tip",
    "little-dorsal", "elbow-back", "shoulder-top",
)  # fmt: skip
"""Where vibration and joint position are tested."""

NEAREST = 3
"""Neighbours that make an altered answer believed at once."""

CHANNELS = (
    (Modality.PINPRICK,),
    (Modality.LIGHT_TOUCH,),
    (Modality.VIBRATION,),
)


@dataclass(frozen=True, eq=False)
class Patient:
    """One simulated patient.

    ``lesions`` is the hidden truth (none, one or two); ``truth`` (channels, spots) what
    is really altered; ``drawing`` what the examiner wrote down; ``examined`` (channels,
    spots) where they tested.
    """

    lesions: tuple[Lesion, ...]
    truth: Mask
    examined: Mask
    drawing: Drawing
    error: float
    seed: int = field(default=0)


class Clinic:
    """Where simulated patients come from."""

    def __init__(self, atlas: Atlas) -> None:
        self.atlas = atlas
        self.habits = Habits(atlas.facts.folder)
        self.bodies = Bodies(atlas, self.habits)
        parts = list(atlas.facts.parts)
        region = [parts.index(name) for name in atlas.cells.region_names]
        key = 2 * np.array(region)[atlas.cells.region] + atlas.cells.left
        kept = np.unique(key)
        self.spots: tuple[NamedRegion, ...] = tuple(
            (parts[k // 2], Side.LEFT if k % 2 else Side.RIGHT) for k in kept.tolist()
        )
        self.spot_of_cell: npt.NDArray[np.int64] = np.searchsorted(kept, key)
        self._area = np.bincount(self.spot_of_cell, atlas.cells.area_cm2)

    @cached_property
    def _part(self) -> npt.NDArray[np.int64]:
        names = list(BESIDE)
        facts = self.atlas.facts
        whole = [facts.parts[id_].whole for id_, _ in self.spots]
        return np.array([names.index(facts.body_parts[r]) for r in whole])

    @cached_property
    def _left(self) -> Mask:
        return np.array([side is Side.LEFT for _, side in self.spots])

    @cached_property
    def _joint(self) -> Mask:
        return np.array([self.atlas.facts.parts[id_].whole in JOINTS for id_, _ in self.spots])

    @cached_property
    def _distance(self) -> Floats:
        cells = self.bodies.distance() * self.atlas.cells.area_cm2
        found: Floats = np.bincount(self.spot_of_cell, cells) / self._area
        return found

    def patient(self, lesions: tuple[Lesion, ...], seed: int) -> Patient:
        """A patient with these lesions; the same seed gives the same patient."""
        chance = np.random.default_rng(seed)
        truth = np.zeros((len(CHANNELS), len(self.spots)), dtype=bool)
        for lesion in lesions:
            truth |= self._partial(self.bodies.skin(lesion, chance), lesion, chance)
        return self._seen(lesions, truth, chance, seed)

    def patient_without_lesion(self, seed: int) -> Patient:
        """A patient whose altered skin follows no territory: patches, or a ring."""
        chance = np.random.default_rng(seed)
        truth = np.zeros((len(CHANNELS), len(self.spots)), dtype=bool)
        if chance.random() < 0.5:
            for _ in range(chance.integers(3, 7)):
                truth[:, chance.integers(len(self.spots))] = True
        else:
            limb = chance.integers(1, 3)
            mine = self.bodies.limbs.limb == limb
            mine &= self.atlas.cells.on_side(chance.choice([Side.LEFT, Side.RIGHT]))
            cut = chance.uniform(15, 110)
            truth |= self._share(mine & (self.bodies.limbs.distance < cut)) > 0.5
        return self._seen((), truth, chance, seed)

    def _share(self, mask: Mask) -> Floats:
        """Share of every spot that lies in a mask of cells."""
        inside = np.bincount(self.spot_of_cell, self.atlas.cells.area_cm2 * mask, len(self.spots))
        return np.asarray(inside / self._area)

    def _partial(self, skin: Mask, lesion: Lesion, chance: np.random.Generator) -> Mask:
        """What this lesion takes of its skin in this person, spot by spot."""
        share = np.array([self._share(mask) for mask in skin])
        spread = chance.normal(0, self.habits["border_spread"], len(self.spots))
        touched = share > 0.02
        taken = (share + spread > 0.5) & touched
        if not taken.any():
            taken = share >= 0.9 * share.max() if share.max() > 0 else taken
        pattern = lesion.id.startswith(("cord", "polyneuropathy", "lateral", "hemi", "cheiro"))
        if pattern or chance.random() < self.habits["whole"]:
            return taken
        spots = np.flatnonzero(taken.any(axis=0))
        keep = max(1, round(len(spots) * chance.uniform(0.25, 0.9)))
        if chance.random() < self.habits["distal_first"]:
            order = self._distance[spots] + chance.normal(0, 4.0, len(spots))
            kept = spots[np.argsort(order)[:keep]]
        else:
            # Some fascicles: spots around one of their own.
            centre = chance.choice(spots)
            apart = self._apart(spots, int(centre)) * chance.uniform(0.6, 1.4, len(spots))
            kept = spots[np.argsort(apart)[:keep]]
        mask = np.zeros(len(self.spots), dtype=bool)
        mask[kept] = True
        return np.asarray(taken & mask)

    @cached_property
    def _middle(self) -> Floats:
        centre = np.array([[p.centroid.x, p.centroid.y] for p in self.atlas.cells.polygons])
        centre[:, 0] = np.abs(centre[:, 0])
        weight = self.atlas.cells.area_cm2
        return np.array(
            [np.bincount(self.spot_of_cell, centre[:, k] * weight) / self._area for k in (0, 1)]
        )

    def _apart(self, spots: npt.NDArray[np.int64], centre: int) -> Floats:
        x, y = self._middle[:, spots] - self._middle[:, [centre]]
        return np.asarray(np.hypot(x, y))

    def _examined(self, truth: Mask, chance: np.random.Generator) -> Mask:
        """Where the examiner tests: where something is wrong, around it, and opposite."""
        names = list(BESIDE)
        rate = np.full((len(names), 2), self.habits["examined_elsewhere"])
        for spot in np.flatnonzero(truth.any(axis=0)):
            part, left = self._part[spot], int(self._left[spot])
            rate[part, left] = self.habits["examined_here"]
            rate[part, 1 - left] = max(rate[part, 1 - left], self.habits["examined_opposite"])
            for other in BESIDE[names[part]]:
                at = names.index(other)
                rate[at, left] = max(rate[at, left], self.habits["examined_beside"])
        asked = chance.random(len(self.spots)) < rate[self._part, self._left.astype(int)]
        found = np.tile(asked, (len(CHANNELS), 1))
        found[1] &= chance.random() < self.habits["touch_tested"]
        deep = chance.random() < self.habits["deep_tested"]
        found[2] = self._joint & deep & (chance.random(len(self.spots)) < 0.8)
        return np.asarray(found)

    def _error(self, truth: Mask, examined: Mask) -> Floats:
        """Chance of a wrong answer at every spot: higher beside a border of what is
        altered, and over the examined spots on average what kappa implies."""
        altered = truth.any(axis=0)
        by_part = np.zeros((len(BESIDE), 2, 2), dtype=bool)
        by_part[self._part, self._left.astype(int), altered.astype(int)] = True
        mixed = np.asarray(by_part.all(axis=2))[self._part, self._left.astype(int)]
        rate = np.where(mixed, self.habits["error_at_border"], 1.0)
        asked = examined.any(axis=0)
        if asked.any():
            rate = rate / rate[asked].mean()
        return np.asarray(np.minimum(self.habits.error * rate, 0.4))

    def _isolated(self, altered: Mask, examined: Mask) -> Mask:
        """Altered answers without another altered one among the nearest examined spots of
        the body part."""
        found = np.zeros(len(self.spots), dtype=bool)
        for spot in np.flatnonzero(altered & examined):
            same = examined & (self._part == self._part[spot]) & (self._left == self._left[spot])
            same[spot] = False
            others = np.flatnonzero(same)
            near = others[np.argsort(self._apart(others, int(spot)))[:NEAREST]]
            found[spot] = not altered[near].any()
        return found

    def _seen(
        self, lesions: tuple[Lesion, ...], truth: Mask, chance: np.random.Generator, seed: int
    ) -> Patient:
        examined = self._examined(truth, chance)
        # One examiner, one day: what is wrong in one modality is mostly wrong in all.
        wrong = chance.random(len(self.spots)) < self._error(truth, examined)
        said = np.asarray((truth ^ wrong[None, :]).any(axis=0))
        again = self._isolated(said, np.asarray(examined.any(axis=0)))
        # An answer that stands alone is doubted, and the spot is tested once more.
        wrong = np.where(again, chance.random(len(self.spots)) < self.habits.error, wrong)
        answers = truth ^ wrong[None, :]
        notes_normal = chance.random() < self.habits["records_normal"]
        symptom = chance.random() < self.habits["symptoms_only"]
        if symptom:
            beside = np.isin(self._part, self._part[truth.any(axis=0)])
            beside &= np.isin(self._left, self._left[truth.any(axis=0)])
            answers |= beside & (chance.random(len(self.spots)) < self.habits["symptoms_spread"])
        altered = Change.TINGLING if symptom else chance.choice([Change.REDUCED, Change.ABSENT])
        layers: dict[Kind, Layer] = {}
        for channel, modalities in enumerate(CHANNELS):
            for modality in modalities:
                for change, mask in (
                    (Change(altered), answers[channel] & examined[channel]),
                    (Change.NORMAL, ~answers[channel] & examined[channel] & notes_normal),
                ):
                    named = frozenset(self.spots[n] for n in np.flatnonzero(mask))
                    if named:
                        layers[modality, change] = Layer(named)
        drawing = Drawing(MappingProxyType(layers))
        return Patient(lesions, truth, examined, drawing, self.habits.error, seed)
