"""Every single lesion and pattern that can explain a drawing.

A hypothesis has one or more rows: ways in which the same answer can look (the cut
height of a neuropathy, a root that supplies its neighbour's strip). A row says, for
each channel, the grade of every cell. Rows that say the same share memory.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bodymap.atlas import Atlas
from bodymap.atlas.territories import KINDS, Territory
from bodymap.language import phrase, tr
from bodymap.localise.grading import Grades, Grading
from bodymap.localise.weights import CHANNELS, CORE, EDGE, FRINGE, PROXIMAL, VARIABLE, Weights
from bodymap.terms import Side

NO_LESION = "none"
"""Kind of the hypotheses that name no lesion (rings, sleeves); they are part of
"something else" and are never candidates."""


@dataclass(frozen=True, eq=False)
class Row:
    """One way a hypothesis can look: log weight, and grades for each channel."""

    log_weight: float
    grades: tuple[Grades, ...]
    note: str = ""

    @classmethod
    def same(cls, grades: Grades, log_weight: float = 0.0) -> "Row":
        """A row that takes the same skin in every channel."""
        return cls(log_weight, (grades,) * len(CHANNELS))


@dataclass(frozen=True, eq=False)
class Hypothesis:
    """One answer: id, name, kind and side as in a case file's ranking.

    ``family`` names its extent states, ``prior`` its relative weight before any
    finding, ``segments`` the roots it takes wholly (for muscles and reflexes).
    """

    id: str
    english: str
    kind: str
    side: Side
    family: str
    prior: float
    rows: tuple[Row, ...]
    segments: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The lesion or pattern as it is read."""
        return tr(self.english)


def territory_of(hypothesis: Hypothesis, row: Row, channels: Iterable[int]) -> Territory:
    """What a row of a hypothesis takes in some channels, as a territory.

    Extent is the skin a whole lesion takes; signature its core; fringe the rest.
    """
    grades = np.max([row.grades[c] for c in channels], axis=0)
    inside = (grades >= PROXIMAL) & (grades <= CORE)
    fringe = (grades == FRINGE) | (grades == EDGE) | (grades == VARIABLE)
    return Territory(
        hypothesis.id, hypothesis.english, hypothesis.kind, hypothesis.side,
        inside, grades == CORE, fringe,
    )  # fmt: skip


def focal_hypotheses(atlas: Atlas, grading: Grading, weights: Weights) -> list[Hypothesis]:
    """Roots, runs of roots, lesion sites, parts of plexuses, intercostal nerves."""
    from bodymap.localise.roots import root_hypotheses

    found = root_hypotheses(atlas, grading, weights)
    sites = atlas.facts.lesion_sites
    for territory in atlas.territories:
        site = sites.get(territory.id)
        if site is not None and site.kind == "root":
            continue
        if territory.id == "intercostal-single":
            continue
        family = {"plexus": "plexus", "cauda": "cauda"}.get(territory.kind, "nerve")
        if site is None:
            prior = weights.priors["plexus-part"]
            grades = grading.of_territory(territory)
        else:
            default = f"default-{'nerve' if site.kind == 'mononeuropathy' else 'plexus'}"
            if site.id.startswith("intercostal-t") or site.id == "subcostal":
                default = "intercostal"
            prior = weights.priors.get(site.id, weights.priors[default])
            grades = grading.of_site(site, territory.side)
        found.append(
            Hypothesis(
                id=territory.id,
                english=territory.english,
                kind=territory.kind,
                side=territory.side,
                family=family,
                prior=prior,
                rows=(Row.same(grades),),
                segments=() if site is None else site.segments,
            )
        )
    return found + _intercostals(atlas, grading, weights)


def _intercostals(atlas: Atlas, grading: Grading, weights: Weights) -> list[Hypothesis]:
    """The intercostal nerves that no lesion site of the tables stands for."""
    found = []
    names = atlas.facts.cutaneous
    for number in range(2, 12):
        id_ = f"intercostal-t{number}"
        branches = tuple(b for b in (f"{id_}-lateral", f"{id_}-anterior") if b in names)
        if id_ in atlas.facts.lesion_sites or not branches:
            continue
        template = atlas.facts.lesion_sites["intercostal-t4"]
        site = type(template)(
            id_, phrase("Intercostal nerve T{number}", number=number), "mononeuropathy", id_, "",
            (), False, template.site, branches, (), (f"dorsal-ramus-t{number}",), "", "",
        )  # fmt: skip
        for side in (Side.LEFT, Side.RIGHT):
            row = Row.same(grading.of_site(site, side))
            found.append(
                Hypothesis(
                    id_,
                    site.english,
                    KINDS[site.kind],
                    side,
                    "nerve",
                    weights.priors["intercostal"],
                    (row,),
                )
            )
    return found


def mirrored_rows(atlas: Atlas, rows: Iterable[Row]) -> tuple[Row, ...]:
    """The same rows on the other side of the patient."""
    twin: npt.NDArray[np.int64] = atlas.cells.twin
    return tuple(Row(r.log_weight, tuple(g[twin] for g in r.grades), r.note) for r in rows)
