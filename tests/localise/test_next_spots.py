"""The next question: the information gain against direct enumeration, and its use."""

import itertools
import math

import numpy as np
import pytest

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.localise.next_spots import OFFERED, expected_gain, next_spots
from bodymap.localise.ranking import Scales
from bodymap.terms import Change, Modality, Side

PIN = Modality.PINPRICK


def _bits(probabilities: list[float]) -> float:
    return -sum(p * math.log2(p) for p in probabilities if p > 0)


def test_gain_is_that_of_direct_enumeration() -> None:
    """Entropy before, less mean entropy after, over every answer, by Bayes' rule (Shannon
    1948); no formula of the program is used."""
    rng = np.random.default_rng(7)
    support = rng.dirichlet(np.ones(6))
    chances = rng.uniform(0.02, 0.98, (6, 9))
    gains = expected_gain(support, chances)
    for question in range(9):
        after = 0.0
        for altered in (True, False):
            answer = [c if altered else 1 - c for c in chances[:, question]]
            joint = [s * a for s, a in zip(support, answer, strict=True)]
            total = sum(joint)
            after += total * _bits([j / total for j in joint])
        assert gains[question] == pytest.approx(_bits(list(support)) - after, abs=1e-12)


def test_second_question_adds_most_to_the_first() -> None:
    """Of two questions that tell the same and one that tells other things, the first two
    chosen are not the twins: enumeration over all four answers of each pair."""
    from bodymap.localise.next_spots import _greedy

    support = np.array([0.4, 0.3, 0.2, 0.1])
    chances = np.array([[0.9, 0.9, 0.5], [0.9, 0.9, 0.1], [0.1, 0.1, 0.9], [0.1, 0.1, 0.1]])
    chosen = _greedy(support, chances, np.ones(3), np.arange(3))[:2]

    def left(pair: tuple[int, int]) -> float:
        total = 0.0
        for answers in itertools.product((True, False), repeat=2):
            joint = support.copy()
            for question, altered in zip(pair, answers, strict=True):
                joint = joint * (chances[:, question] if altered else 1 - chances[:, question])
            total += joint.sum() * _bits(list(joint / joint.sum()))
        return total

    first = chosen[0]
    best = min((q for q in range(3) if q != first), key=lambda q: left((first, q)))
    assert chosen[1] == best == 2


def _drawn(atlas: Atlas, *regions: str) -> Drawing:
    drawing = Drawing()
    for region in regions:
        drawing = drawing.with_region(atlas, PIN, Change.REDUCED, region, Side.RIGHT)
    return drawing


def test_no_spot_is_asked_twice(atlas: Atlas, scales: Scales) -> None:
    drawing = _drawn(atlas, "index-palmar", "middle-palmar")
    for _ in range(6):
        ranking = scales.rank_drawing(drawing)
        assert ranking.posterior is not None
        offered = next_spots(scales, ranking.posterior)
        assert len(offered.best) == len(offered.skin) == OFFERED
        spot = offered.skin[0]
        assert spot.region is not None
        assert spot.modality is not None
        layers = [layer for m, _, layer in drawing if m is spot.modality]
        assert all((spot.region, spot.side) not in layer.regions for layer in layers)
        drawing = drawing.with_region(atlas, spot.modality, Change.NORMAL, spot.region, spot.side)


def test_palm_parts_wrist_from_elbow(atlas: Atlas, scales: Scales) -> None:
    """With all else of the median fingers known, the skin that parts carpal tunnel and
    elbow is the palm (Stewart 2010, from memory), or muscles that leave above the wrist
    (MRC 2010, from memory)."""
    drawing = _drawn(
        atlas, "thumb-palmar", "index-palmar", "middle-palmar", "ring-palmar-radial",
        "index-dorsal-tip", "middle-dorsal-tip",
    )  # fmt: skip
    for region in ("little-palmar", "thumb-dorsal", "forearm-front-radial", "web-first-dorsal"):
        drawing = drawing.with_region(atlas, PIN, Change.NORMAL, region, Side.RIGHT)
    ranking = scales.rank_drawing(drawing)
    assert ranking.posterior is not None
    offered = next_spots(scales, ranking.posterior)
    assert any(q.region in ("thenar", "palm-radial") for q in offered.skin)
    muscles = {"pronator-teres", "flexor-pollicis-longus", "flexor-carpi-radialis"}
    assert muscles & {q.sign for q in offered.best}


def test_an_answer_raises_what_predicts_it(atlas: Atlas, scales: Scales) -> None:
    drawing = _drawn(atlas, "great-toe-dorsal", "foot-dorsum-middle")
    ranking = scales.rank_drawing(drawing)
    posterior = ranking.posterior
    assert posterior is not None
    spot = next_spots(scales, posterior).skin[0]
    assert spot.region is not None
    assert spot.modality is not None
    for change, number in ((Change.REDUCED, spot.if_altered), (Change.NORMAL, spot.if_normal)):
        after = drawing.with_region(atlas, spot.modality, change, spot.region, spot.side)
        moved = scales.rank_drawing(after).posterior
        assert moved is not None
        assert moved.single[number] > posterior.single[number]


def test_cancelling_leaves_nothing_half_done(atlas: Atlas, scales: Scales) -> None:
    from bodymap.localise.answer import answered

    drawing = _drawn(atlas, "great-toe-dorsal", "cheek", "thigh-back-upper", "little-palmar")
    answer = answered(scales, drawing, lambda: True)
    assert answer.questions.best == ()
    assert answer.tie_breakers == ()
    assert answer.ranking.posterior is not None
    assert answer.ranking.posterior.pairs == ()
