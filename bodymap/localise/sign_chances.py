"""How probable weak muscles and changed reflexes are under every hypothesis.

Roots act by the main and accessory roots of a muscle, lesion sites by the table of
their signs, parts of a plexus by the nerves that hang on them. A brisk reflex
speaks for the cord or brain above it. The chances stand in the table of weights.
"""

from functools import cached_property

import numpy as np

from bodymap.atlas.facts import Sign
from bodymap.atlas.nerve_tree import FibrePaths
from bodymap.findings.signs import SignChange, SignKey, Signs
from bodymap.geometry import Floats
from bodymap.localise.catalogue import Catalogue
from bodymap.localise.hypotheses import NO_LESION, Hypothesis
from bodymap.terms import Side

FOOT_NERVES = ("deep-fibular", "medial-plantar", "lateral-plantar")


class SignChances:
    """Chances of every sign, lost and brisk, under every hypothesis of a catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._weights = catalogue.weights
        self._facts = catalogue.atlas.facts
        self._paths = FibrePaths(self._facts)
        self.keys: tuple[SignKey, ...] = tuple(
            (sign, side) for sign in self._facts.signs for side in (Side.LEFT, Side.RIGHT)
        )
        self.number = {key: n for n, key in enumerate(self.keys)}

    @cached_property
    def lost(self) -> Floats:
        """Chance that a muscle is weak or a reflex reduced, (hypotheses, keys)."""
        signs = self._facts.signs
        found = [
            [self._lost(h, signs[sign], side) for sign, side in self.keys]
            for h in self._catalogue.hypotheses
        ]
        return np.array(found)

    @cached_property
    def brisk(self) -> Floats:
        """Chance that a reflex is brisk, (hypotheses, keys)."""
        signs = self._facts.signs
        found = [
            [self._brisk(h, signs[sign], side) for sign, side in self.keys]
            for h in self._catalogue.hypotheses
        ]
        return np.array(found)

    def log_likelihood(self, signs: Signs) -> tuple[Floats, float]:
        """Log likelihood of noted signs: of every hypothesis, and of something else."""
        total = np.zeros(len(self._catalogue.hypotheses))
        other = 0.0
        tempering, unrelated = self._weights["sign_tempering"], self._weights["sign_something_else"]
        for key, change in signs.found.items():
            at = self.number[key]
            if change is SignChange.NORMAL:
                total += tempering * np.log1p(-self.lost[:, at])
                other += tempering * np.log1p(-unrelated)
            else:
                chance = self.brisk if change is SignChange.BRISK else self.lost
                total += tempering * np.log(chance[:, at])
                other += tempering * np.log(unrelated)
        return total, other

    def _lost(self, hypothesis: Hypothesis, sign: Sign, side: Side) -> float:
        w, elsewhere = self._weights, self._weights["sign_elsewhere"]
        if hypothesis.kind == NO_LESION:
            return w["sign_something_else"]
        here = hypothesis.side in (side, Side.BOTH)
        if hypothesis.kind == "polyneuropathy":
            if sign.id == "ankle-reflex":
                return w["sign_polyneuropathy_ankle"]
            distal = sign.kind == "muscle" and any(n in FOOT_NERVES for n in sign.nerves)
            return w["sign_polyneuropathy_distal"] if distal else elsewhere
        if not here:
            return elsewhere
        if hypothesis.kind == "brain":
            weak = hypothesis.id != "lateral-medulla" and sign.kind == "muscle"
            return w["sign_brain_side"] if weak else elsewhere
        if hypothesis.kind == "cord":
            inside = any(r in hypothesis.segments for r in sign.main_roots)
            if not inside:
                return elsewhere
            spared = hypothesis.id.startswith("cord-posterior") or sign.kind == "reflex"
            return w["sign_cord_spared"] if spared else w["sign_cord_below"]
        if hypothesis.kind == "root":
            return self._by_root(hypothesis, sign)
        if hypothesis.id in self._facts.lesion_sites:
            expect = self._facts.site_signs.get((hypothesis.id, sign.id))
            return w[f"sign_site_{expect}"] if expect else elsewhere
        if hypothesis.kind == "plexus":
            below = self._paths.below(hypothesis.id)
            return w["sign_plexus_part"] if set(sign.nerves) & set(below) else elsewhere
        return elsewhere

    def _by_root(self, hypothesis: Hypothesis, sign: Sign) -> float:
        if any(r in hypothesis.segments for r in sign.main_roots):
            return self._weights["sign_main_root"]
        if any(r in hypothesis.segments for r in sign.accessory_roots):
            return self._weights["sign_accessory_root"]
        return self._weights["sign_elsewhere"]

    def _brisk(self, hypothesis: Hypothesis, sign: Sign, side: Side) -> float:
        elsewhere = self._weights["sign_elsewhere"]
        if sign.kind != "reflex" or hypothesis.side not in (side, Side.BOTH):
            return elsewhere
        if hypothesis.kind == "cord" and not hypothesis.id.startswith("cord-central"):
            below = all(r in hypothesis.segments[1:] for r in sign.main_roots)
            return self._weights["sign_cord_brisk"] if below else elsewhere
        if hypothesis.kind == "brain" and hypothesis.id != "lateral-medulla":
            return self._weights["sign_brain_side"]
        return elsewhere
