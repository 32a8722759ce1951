"""All hypotheses of an atlas in one place, built once."""

from functools import cached_property

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Territory
from bodymap.errors import RequestError
from bodymap.language import tr
from bodymap.localise.brain import brain_hypotheses
from bodymap.localise.cord import cord_hypotheses
from bodymap.localise.evidence import Spots
from bodymap.localise.grading import Grading
from bodymap.localise.hypotheses import NO_LESION, Hypothesis, focal_hypotheses, territory_of
from bodymap.localise.polyneuropathy import polyneuropathy, rings
from bodymap.localise.weights import CHANNELS, Weights
from bodymap.terms import Side


class Catalogue:
    """Hypotheses by number, and by id and side; rings that name no lesion come last."""

    def __init__(self, atlas: Atlas) -> None:
        self.atlas = atlas
        self.weights = Weights(atlas.facts.folder)
        self.spots = Spots(atlas, self.weights)
        self.grading = Grading(atlas, self.spots.weight)
        self.hypotheses: tuple[Hypothesis, ...] = (
            *focal_hypotheses(atlas, self.grading, self.weights),
            *cord_hypotheses(atlas, self.weights),
            polyneuropathy(atlas, self.grading.limbs, self.weights),
            *brain_hypotheses(atlas, self.weights),
            *rings(self.grading.limbs, self.weights),
        )

    @cached_property
    def named(self) -> int:
        """How many hypotheses name a lesion: those come first."""
        return sum(h.kind != NO_LESION for h in self.hypotheses)

    @cached_property
    def by_id(self) -> dict[tuple[str, Side], int]:
        """Number of each named hypothesis by id and side."""
        return {(h.id, h.side): n for n, h in enumerate(self.hypotheses[: self.named])}

    def territory(self, id_: str, side: Side) -> Territory:
        """Whole skin of a hypothesis by id and side (both counts for either side).

        Raises RequestError if there is none.
        """
        number = self.by_id.get((id_, side), self.by_id.get((id_, Side.BOTH)))
        if number is None:
            raise RequestError(
                tr("There is no lesion or pattern '{id}' ({side}).", id=id_, side=side.word)
            )
        known = self.atlas.territories_by_id.get((id_, self.hypotheses[number].side))
        if known is not None:
            return known
        hypothesis = self.hypotheses[number]
        return territory_of(hypothesis, hypothesis.rows[0], range(len(CHANNELS)))
