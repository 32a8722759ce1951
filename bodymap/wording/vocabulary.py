"""What skin is called: spoken names, groups and other names, from the tables.

``region-words.csv`` gives each named region its spoken name, the body part it is
counted to, its facets (which side of that part it is) and other names;
``region-groups.csv`` the larger pieces that one word stands for. A group without a
spoken name is understood but never said. ``near-places.csv`` gives the skin nearest to
each joint of fingers and toes and each web between them.
"""

from dataclasses import dataclass
from functools import lru_cache

from bodymap.atlas.assets import listed, table
from bodymap.atlas.facts import Facts
from bodymap.errors import AssetError
from bodymap.language import english


@dataclass(frozen=True)
class RegionWords:
    """How a named region is said. ``facets`` tell it from the rest of its ``group``."""

    id: str
    spoken: str
    group: str
    facets: frozenset[str]
    aliases: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """Regions that one word stands for.

    ``qualified`` is the group that is meant where the word carries a qualifier: an
    arm is the limb, an outer arm the upper arm. ``note`` says what was assumed of the
    ``{word}`` that was said.
    """

    id: str
    spoken: str
    members: frozenset[str]
    qualified: str
    aliases: tuple[str, ...]
    note: str


@dataclass(frozen=True)
class Vocabulary:
    """All names of skin. ``order`` is the place of a region in the table, head to foot.

    ``near`` is the skin (over it, on the palm or sole, moved) of a joint or web, by its
    name, "f" or "t", and number.
    """

    regions: dict[str, RegionWords]
    groups: dict[str, Group]
    order: dict[str, int]
    near: dict[tuple[str, str, int], tuple[frozenset[str], frozenset[str], frozenset[str]]]

    def spoken(self, facts: Facts, id_: str) -> str:
        """The spoken name of a region, or what a part of one is called."""
        known = self.regions.get(id_)
        return known.spoken if known else facts.parts[id_].english

    def faceted(self, members: frozenset[str], facets: frozenset[str]) -> frozenset[str]:
        """Members that carry at least one of these facets."""
        return frozenset(m for m in members if self.regions[m].facets & facets)


@english()
def vocabulary(facts: Facts) -> Vocabulary:
    """The names that belong to a set of facts (remembered).

    Raises AssetError where a table is incomplete or names an unknown region.
    """
    return _vocabulary(facts)


@lru_cache(maxsize=4)
def _vocabulary(facts: Facts) -> Vocabulary:
    regions = {
        row["id"]: RegionWords(
            row["id"],
            row["spoken"],
            row["group"],
            frozenset(row["facets"].split()),
            listed(row["aliases"]),
        )
        for row in table(facts.folder, "region-words")
    }
    for id_ in facts.regions:
        if id_ not in regions:
            raise AssetError(f"region-words.csv has no row for region '{id_}'; add one.")
    for id_ in regions:
        if id_ not in facts.regions:
            raise AssetError(f"region-words.csv: unknown region '{id_}'.")
    rows = {row["id"]: row for row in table(facts.folder, "region-groups")}
    members = {id_: listed(row["members"]) for id_, row in rows.items()}
    groups = {
        id_: Group(
            id_,
            row["spoken"],
            _members(id_, members, frozenset(regions), ()),
            row["qualified"],
            listed(row["aliases"]),
            row["note"],
        )
        for id_, row in rows.items()
    }
    known = frozenset(regions)

    def skin(cell: str) -> frozenset[str]:
        return _named(listed(cell), members, known, (), "near-places.csv")

    near = {
        (row["place"], row["kind"], int(row["number"])): (
            skin(row["over"]),
            skin(row["under"]),
            skin(row["moved"]),
        )
        for row in table(facts.folder, "near-places")
    }
    return Vocabulary(regions, groups, {id_: n for n, id_ in enumerate(facts.regions)}, near)


def _members(
    id_: str,
    members: dict[str, tuple[str, ...]],
    regions: frozenset[str],
    above: tuple[str, ...],
) -> frozenset[str]:
    """Regions of a group, through the groups it names."""
    if id_ in above:
        raise AssetError(f"region-groups.csv: group '{id_}' contains itself.")
    return _named(members[id_], members, regions, (*above, id_), f"region-groups.csv, '{id_}'")


def _named(
    names: tuple[str, ...],
    members: dict[str, tuple[str, ...]],
    regions: frozenset[str],
    above: tuple[str, ...],
    where: str,
) -> frozenset[str]:
    """Regions of a list of regions and groups. A region's own name wins."""
    found: set[str] = set()
    for name in names:
        if name in regions:
            found.add(name)
        elif name in members:
            found |= _members(name, members, regions, above)
        else:
            raise AssetError(f"{where}: unknown member '{name}'.")
    return frozenset(found)
