"""The fact tables of assets/anatomy, read into values.

Which segment and which nerve branch supply each named region, in which role
(core, usual, fringe; autonomous, usual, fringe), with sources in the tables.
"""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from bodymap.atlas.assets import listed, table
from bodymap.errors import AssetError
from bodymap.language import tr

MAIN_SEGMENT_ROLES = ("core", "usual")
MAIN_NERVE_ROLES = ("autonomous", "usual")


@dataclass(frozen=True)
class Region:
    """A named skin region, or a part of one. ``whole`` is the region it belongs to."""

    id: str
    english: str
    whole: str
    where: str

    @property
    def label(self) -> str:
        """The region as it is read."""
        return tr(self.english)


@dataclass(frozen=True)
class Nerve:
    """A trunk or branch of the nerve tree."""

    id: str
    english: str
    parent: str
    segments: tuple[str, ...]
    kind: str
    autonomous_regions: tuple[str, ...]

    @property
    def name(self) -> str:
        """The nerve as it is read."""
        return tr(self.english)


@dataclass(frozen=True)
class LesionSite:
    """A place where a nerve, plexus part, root or the cauda equina is hurt."""

    id: str
    english: str
    kind: str
    nerve: str
    plexus_node: str
    segments: tuple[str, ...]
    bilateral: bool
    site: str
    affected: tuple[str, ...]
    variable: tuple[str, ...]
    spared: tuple[str, ...]
    motor_signs: str
    reflex_change: str

    @property
    def name(self) -> str:
        """The lesion as it is read."""
        return tr(self.english)


@dataclass(frozen=True)
class PlexusLink:
    """A link of the graph root - trunk - division - cord - nerve, with a rough weight."""

    start: str
    end: str
    weight: float
    kind: str


@dataclass(frozen=True)
class KeyPoint:
    """One of the 28 key sensory points of the ISNCSCI 2019."""

    dermatome: str
    region: str
    location: str
    alternative_regions: tuple[str, ...]


@dataclass(frozen=True)
class Sign:
    """A muscle or a reflex: its roots, the nerves it hangs on, and how it is tested."""

    id: str
    kind: str
    english: str
    test: str
    main_roots: tuple[str, ...]
    accessory_roots: tuple[str, ...]
    nerves: tuple[str, ...]

    @property
    def label(self) -> str:
        """The muscle or reflex as it is read."""
        return tr(self.english)


@dataclass(frozen=True)
class Facts:
    """All fact tables of one assets folder."""

    folder: Path

    @cached_property
    def regions(self) -> dict[str, Region]:
        """The 115 named regions by id, in table order."""
        return {
            row["id"]: Region(row["id"], row["label"], row["id"], row["where"])
            for row in table(self.folder, "skin-regions")
        }

    @cached_property
    def parts(self) -> dict[str, Region]:
        """The regions that the map draws: undivided ones, and the parts of divided ones."""
        divided: dict[str, list[Region]] = {}
        for row in table(self.folder, "region-parts"):
            whole = self.regions.get(row["region_id"])
            if whole is None:
                raise AssetError(f"region-parts.csv: unknown region '{row['region_id']}'.")
            part = Region(row["part_id"], row["label"], whole.id, whole.where)
            divided.setdefault(whole.id, []).append(part)
        found = (p for r in self.regions.values() for p in divided.get(r.id, [r]))
        return {part.id: part for part in found}

    @cached_property
    def segment_roles(self) -> dict[tuple[str, str], str]:
        """(region, dermatome) to core, usual or fringe."""
        return {
            (row["region_id"], row["dermatome"]): row["role"]
            for row in table(self.folder, "dermatomes")
        }

    @cached_property
    def nerve_roles(self) -> dict[tuple[str, str], str]:
        """(region, nerve branch) to autonomous, usual or fringe."""
        return {
            (row["region_id"], row["nerve_id"]): row["role"]
            for row in table(self.folder, "nerve-territories")
        }

    @cached_property
    def nerves(self) -> dict[str, Nerve]:
        """The nerve tree by id, in table order."""
        return {
            row["id"]: Nerve(
                row["id"],
                row["name"],
                row["parent_id"],
                listed(row["root_segments"]),
                row["kind"],
                listed(row["autonomous_regions"]),
            )
            for row in table(self.folder, "nerves")
        }

    @cached_property
    def cutaneous(self) -> tuple[str, ...]:
        """Branches that end in skin, in table order."""
        return tuple(n.id for n in self.nerves.values() if n.kind == "cutaneous")

    @cached_property
    def without_own_skin(self) -> tuple[str, ...]:
        """Cutaneous branches that reach skin only as a fringe, so have no territory."""
        main = {nerve for (_, nerve), role in self.nerve_roles.items() if role in MAIN_NERVE_ROLES}
        return tuple(n for n in self.cutaneous if n not in main)

    @cached_property
    def lesion_sites(self) -> dict[str, LesionSite]:
        """The lesion sites by id, in table order."""
        return {
            row["id"]: LesionSite(
                row["id"],
                row["name"],
                row["kind"],
                row["nerve_id"],
                row["plexus_node"],
                listed(row["segments"]),
                row["sides"] == "bilateral",
                row["site"],
                listed(row["branches_affected"]),
                listed(row["branches_variable"]),
                listed(row["branches_spared"]),
                row["motor_signs"],
                row["reflex_change"],
            )
            for row in table(self.folder, "lesion-sites")
        }

    @cached_property
    def plexus(self) -> tuple[PlexusLink, ...]:
        """The plexus graph without the measured shares, which repeat its paths."""
        return tuple(
            PlexusLink(row["from"], row["to"], float(row["weight"]), row["kind"])
            for row in table(self.folder, "plexus")
            if row["kind"] != "sensory-share"
        )

    @cached_property
    def key_points(self) -> tuple[KeyPoint, ...]:
        """The 28 key sensory points, head to foot."""
        return tuple(
            KeyPoint(
                row["dermatome"],
                row["region_id"],
                row["location"],
                listed(row["alternative_region_ids"]),
            )
            for row in table(self.folder, "key-points")
        )

    @cached_property
    def signs(self) -> dict[str, Sign]:
        """Muscles and reflexes by id, in table order (signs.csv beside myotomes.csv)."""
        rows = zip(table(self.folder, "signs"), table(self.folder, "myotomes"), strict=True)
        return {
            row["id"]: Sign(
                row["id"],
                row["kind"],
                row["label"],
                row["test"],
                listed(supply["roots_main"]),
                listed(supply["roots_accessory"]),
                listed(supply["nerve_id"]),
            )
            for row, supply in rows
        }

    @cached_property
    def site_signs(self) -> dict[tuple[str, str], str]:
        """(lesion site, sign) to changed, variable or normal; others are not concerned."""
        return {
            (row["site_id"], row["sign_id"]): row["expect"]
            for row in table(self.folder, "site-signs")
        }

    @cached_property
    def body_parts(self) -> dict[str, str]:
        """Region id to the body part of the surface table it belongs to."""
        parts = {row["region_id"]: row["part"] for row in table(self.folder, "body-parts")}
        missing = [r for r in self.regions if r not in parts]
        if missing:
            raise AssetError(f"body-parts.csv has no row for region '{missing[0]}'; add one.")
        return parts
