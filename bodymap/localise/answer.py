"""Everything that is said about one drawing: ranking, questions, tie-breakers, reasons.

Command line, window and tests ask for the same answer here.
"""

from collections.abc import Callable
from dataclasses import dataclass

from bodymap.findings.drawing import Drawing
from bodymap.localise.explanation import Explaining, Reasons
from bodymap.localise.next_spots import Questions, next_spots
from bodymap.localise.ranking import Candidate, Ranking, Scales
from bodymap.localise.tie_breakers import TieBreaker, TieBreaking


@dataclass(frozen=True, eq=False)
class Answer:
    """The answer to a drawing, as far as it is worked out."""

    scales: Scales
    drawing: Drawing
    ranking: Ranking
    questions: Questions
    tie_breakers: tuple[TieBreaker, ...]

    def reasons(self, candidate: Candidate) -> Reasons:
        """Why a candidate stands where it stands."""
        explaining = Explaining(self.scales, self.drawing, self.ranking.posterior)
        return explaining.reasons(candidate)


def answered(
    scales: Scales, drawing: Drawing, cancelled: Callable[[], bool] = lambda: False
) -> Answer:
    """The whole answer; what is left out when cancelled is empty."""
    ranking = scales.rank_drawing(drawing, cancelled)
    questions = Questions()
    if ranking.posterior is not None and not cancelled():
        questions = next_spots(scales, ranking.posterior, cancelled)
    ties = () if cancelled() else TieBreaking(scales).of(ranking)
    return Answer(scales, drawing, ranking, questions, ties)
