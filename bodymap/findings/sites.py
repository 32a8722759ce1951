"""The places where vibration, joint position, temperature, the filament and two points
are tested, from distal to proximal, with the skin that an answer there stands for."""

from dataclasses import dataclass
from functools import cache

from bodymap.atlas.assets import assets_folder, listed, table
from bodymap.language import tr


@dataclass(frozen=True)
class Site:
    """A rung of a ladder. ``test`` is a part of the examination, ``limb`` leg or arm;
    ``regions`` are the named skin that an answer is drawn on."""

    test: str
    limb: str
    id: str
    english: str
    regions: tuple[str, ...]
    norm: bool = False
    """Whether there are norms for readings of the graduated fork here (Martina 1998)."""

    @property
    def label(self) -> str:
        """The place as it is read."""
        return tr(self.english)


@cache
def sites() -> tuple[Site, ...]:
    """All places, by test and limb, the most distal first."""
    rows = sorted(table(assets_folder(), "sites", "examination"), key=lambda row: int(row["order"]))
    return tuple(
        Site(
            row["test"],
            row["limb"],
            row["id"],
            row["label"],
            listed(row["regions"]),
            row["norm"] == "yes",
        )
        for row in rows
    )


def ladder(test: str, limb: str) -> tuple[Site, ...]:
    """The places of a test on a limb, the most distal first."""
    return tuple(s for s in sites() if s.test == test and s.limb == limb)


def site(test: str, id_: str) -> Site | None:
    """A place of a test by id."""
    return next((s for s in sites() if s.test == test and s.id == id_), None)
