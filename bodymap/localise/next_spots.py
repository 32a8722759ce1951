"""What to test next: the spot, muscle or reflex that is expected to tell most.

For every question q and hypothesis h the chance p(h, q) of the answer "altered" is
known from what was found so far. The expected information is the entropy of the
hypotheses now, less what is expected to be left after the answer, in bits:

    gain(q) = H(altered) - sum over h of support(h) * H(p(h, q))

with H(p) = -p log2 p - (1-p) log2 (1-p) and H(altered) for the mixed chance. The
first question has the largest gain; the second and third are those that add most to
the ones before them, so that three answers do not tell the same thing.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from bodymap.geometry import Floats
from bodymap.localise.evidence import CHANNEL_OF
from bodymap.localise.weights import CHANNELS, DEEP, SMALL, TOUCH
from bodymap.terms import Modality, Side

if TYPE_CHECKING:
    from bodymap.localise.posterior import Posterior
    from bodymap.localise.ranking import Scales

OFFERED = 3
"""Questions that are offered."""

LEADING = 10
"""Hypotheses whose order a question may change."""

TESTED = 0.5
"""A region of which this share was tested is not asked again in that modality."""

LEAST_BITS = 0.005
"""A smaller gain is not worth a touch. Judgement."""

JOINTS = (
    "great-toe-dorsal", "malleolus-medial", "knee-front", "index-dorsal-tip", "little-dorsal",
    "elbow-back",
)  # fmt: skip
"""Where vibration is asked for."""

INTIMATE = ("genital", "perineum", "perianal")

ASKED_WITH = {SMALL: Modality.PINPRICK, TOUCH: Modality.LIGHT_TOUCH, DEEP: Modality.VIBRATION}


@dataclass(frozen=True)
class NextSpot:
    """A question: a region in a modality, or a sign (muscle or reflex); with its gain.

    ``if_altered`` and ``if_normal`` name the leading hypothesis that each answer
    speaks for most, by number.
    """

    side: Side
    gain_bits: float
    region: str | None
    modality: Modality | None
    sign: str | None
    if_altered: int
    if_normal: int


def entropy(chance: Floats) -> Floats:
    """Entropy of a yes-or-no answer, in bits.

    >>> from bodymap.localise.next_spots import entropy
    >>> import numpy as np
    >>> [round(float(b), 3) for b in entropy(np.array([0.5, 0.9]))]
    [1.0, 0.469]
    """
    p = np.clip(chance, 1e-12, 1 - 1e-12)
    return np.asarray(-p * np.log2(p) - (1 - p) * np.log2(1 - p))


def expected_gain(support: Floats, chances: Floats) -> Floats:
    """Expected information of every question, bits.

    ``support`` (hypotheses,) sums to one; ``chances`` (hypotheses, questions).
    """
    return np.asarray(entropy(support @ chances) - support @ entropy(chances))


@dataclass(frozen=True)
class Questions:
    """The best questions of any kind, and the best that touch skin; best first."""

    best: tuple[NextSpot, ...] = ()
    skin: tuple[NextSpot, ...] = ()


def next_spots(
    scales: "Scales", posterior: "Posterior", cancelled: Callable[[], bool] = lambda: False
) -> Questions:
    """The best questions for what is known now; none if cancelled."""
    numbers, support = _leading(posterior)
    regions = _Regions(scales)
    rows = []
    for number in numbers:
        if cancelled():
            return Questions()
        known = scales.likelihoods.chances(number, posterior.columns, posterior.sums)
        rows.append(regions.mean(known))
    rows.append(regions.scattered(posterior))
    skin = _tempered(np.array(rows), scales.weights["tempering"])
    unrelated = np.full(len(scales.sign_chances.keys), scales.weights["sign_something_else"])
    lost = np.vstack([scales.sign_chances.lost[numbers], unrelated])
    chances = np.hstack([skin, _tempered(lost, scales.weights["sign_tempering"])])
    open_ = ~np.r_[regions.asked(posterior), _noted(scales, posterior)]
    worth = np.r_[regions.worth(posterior), np.ones(len(unrelated))] * open_
    same = np.r_[regions.same, len(regions.same) + np.arange(len(unrelated))]
    gains = expected_gain(support, chances)

    def asked(at: int) -> NextSpot:
        lift = chances[:, at] - support @ chances[:, at]
        words = [
            int(numbers[int(np.argmax((support * np.maximum(sign * lift, 0))[: len(numbers)]))])
            for sign in (1, -1)
        ]
        gain = float(gains[at])
        if at < skin.shape[1]:
            region, side, channel = regions.questions[at]
            return NextSpot(side, gain, region, _modality(posterior, channel), None, *words)
        sign, side = scales.sign_chances.keys[at - skin.shape[1]]
        return NextSpot(side, gain, None, None, sign, *words)

    only = np.arange(len(worth)) < skin.shape[1]
    best = _greedy(support, chances, worth, same)
    on_skin = best if only[best].all() else _greedy(support, chances, worth * only, same)
    return Questions(tuple(map(asked, best)), tuple(map(asked, on_skin)))


def _leading(posterior: "Posterior") -> tuple[npt.NDArray[np.int64], Floats]:
    """Numbers of the leading hypotheses (rings among them), and the supports of these
    and, last, of structureless skin, scaled to sum to one."""
    order = np.argsort(-posterior.single, kind="stable")[:LEADING]
    nothing = max(posterior.something_else - posterior.single[posterior.named :].sum(), 1e-9)
    support = np.r_[posterior.single[order], nothing]
    return order, np.asarray(support / support.sum())


def _tempered(chance: Floats, tempering: float) -> Floats:
    """Chances that tell as much as one answer does in the likelihood."""
    yes, no = chance**tempering, (1 - chance) ** tempering
    return np.asarray(yes / (yes + no))


def _greedy(
    support: Floats, chances: Floats, worth: Floats, same: npt.NDArray[np.int64]
) -> list[int]:
    """Indices of the best questions; of those that are the ``same`` only one."""
    chosen: list[int] = []
    # Branches: joint probability of hypothesis and the answers to what is chosen.
    branches = support[None, :]
    score = expected_gain(support, chances) * worth
    while len(chosen) < OFFERED:
        at = int(score.argmax())
        if score[at] < LEAST_BITS:
            break
        chosen.append(at)
        yes = chances[:, at]
        branches = np.concatenate([branches * yes, branches * (1 - yes)])
        gain = np.zeros(len(score))
        for branch in branches:
            total = float(branch.sum())
            if total > 1e-9:
                gain += total * expected_gain(branch / total, chances)
        score = gain * worth
        score[np.isin(same, same[chosen])] = 0.0
    return chosen


def _noted(scales: "Scales", posterior: "Posterior") -> npt.NDArray[np.bool_]:
    return np.array([key in posterior.signs.found for key in scales.sign_chances.keys])


def _modality(posterior: "Posterior", channel: int) -> Modality:
    """The modality in use in a channel, or the usual one."""
    used = [m for m in posterior.evidence.shares if CHANNEL_OF[m] == channel]
    return used[0] if used else ASKED_WITH[channel]


class _Regions:
    """Every named region of both sides in every channel, as questions."""

    def __init__(self, scales: "Scales") -> None:
        atlas = scales.atlas
        names = list(atlas.facts.regions)
        self._key = 2 * atlas.region_of_cell + atlas.cells.left
        self._weight = scales.catalogue.spots.weight
        self._whole = np.bincount(self._key, self._weight, 2 * len(names))
        self._weights = scales.weights
        usable = [k for k in range(2 * len(names)) if self._whole[k] > 0]
        self.questions: list[tuple[str, Side, int]] = []
        self._at: list[tuple[int, int]] = []
        for channel in range(len(CHANNELS)):
            for key in usable:
                if channel == DEEP and names[key // 2] not in JOINTS:
                    continue
                side = Side.LEFT if key % 2 else Side.RIGHT
                self.questions.append((names[key // 2], side, channel))
                self._at.append((channel, key))

    @property
    def same(self) -> npt.NDArray[np.int64]:
        """The same number for questions about one region and side."""
        return np.array([key for _, key in self._at])

    def mean(self, chance: Floats) -> Floats:
        """Chances (channels, cells) averaged over each question's region."""
        by_region = [
            np.bincount(self._key, row * self._weight, len(self._whole))
            / np.where(self._whole > 0, self._whole, 1.0)
            for row in chance
        ]
        return np.array([by_region[channel][key] for channel, key in self._at])

    def scattered(self, posterior: "Posterior") -> Floats:
        """Chances under altered skin without structure: the share altered so far."""
        altered = posterior.columns[:, :2].sum(axis=(1, 2))
        normal = posterior.columns[:, 2].sum(axis=1)
        share = (altered + 1) / (altered + normal + 2)
        return np.array([share[channel] for channel, _ in self._at])

    def asked(self, posterior: "Posterior") -> npt.NDArray[np.bool_]:
        """Which questions were answered already. Touch is only asked for where it is in
        use or the pin was used."""
        tested = self._tested(posterior)
        used = np.asarray(tested.any(axis=1))
        found = []
        for channel, key in self._at:
            done = tested[channel, key] >= TESTED
            idle = channel == TOUCH and not used[TOUCH] and tested[SMALL, key] < TESTED
            found.append(bool(done or idle))
        return np.array(found)

    def worth(self, posterior: "Posterior") -> Floats:
        """Factor on the gain: less for intimate skin where it is not in question, and for
        touch where the pin was used, or the other way round: they mostly agree."""
        altered = np.flatnonzero(posterior.evidence.altered.any(axis=0))
        saddle = any(key in self._intimate for key in (self._key[altered] // 2).tolist())
        tested = [row >= TESTED for row in self._tested(posterior)]
        repeated = 2 ** (1 - self._weights["several_modalities"]) - 1
        found = []
        for (name, _, channel), (_, key) in zip(self.questions, self._at, strict=True):
            factor = 1.0 if saddle or name not in INTIMATE else self._weights["intimate_discount"]
            if channel != DEEP and tested[TOUCH if channel == SMALL else SMALL][key]:
                factor *= repeated
            found.append(factor)
        return np.array(found)

    def _tested(self, posterior: "Posterior") -> Floats:
        """Tested share of every region, (channels, regions on both sides)."""
        tested = np.zeros((len(CHANNELS), len(self._weight)))
        for modality, share in posterior.evidence.shares.items():
            channel = CHANNEL_OF[modality]
            tested[channel] = np.maximum(tested[channel], share.sum(axis=0))
        scale = np.where(self._whole > 0, self._whole, 1.0)
        return np.array(
            [np.bincount(self._key, row * self._weight, len(scale)) / scale for row in tested]
        )

    @property
    def _intimate(self) -> set[int]:
        return {key // 2 for (name, _, _), (_, key) in zip(self.questions, self._at, strict=True)
                if name in INTIMATE}  # fmt: skip
