"""What a simulated patient answers when one more spot, muscle or reflex is tested."""

from functools import cached_property

import numpy as np

from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.localise.next_spots import NextSpot
from bodymap.simulation.habits import error_from_kappa
from bodymap.simulation.lesions import Lesion
from bodymap.simulation.patients import CHANNELS, Clinic, Patient
from bodymap.terms import Change, Modality, Side

CHANNEL_OF = {
    Modality.PINPRICK: 0,
    Modality.TEMPERATURE: 0,
    Modality.LIGHT_TOUCH: 1,
    Modality.VIBRATION: 2,
    Modality.JOINT_POSITION: 2,
}


class Bedside:
    """Tests one patient further; a decisive question is put more than once."""

    def __init__(self, clinic: Clinic, patient: Patient) -> None:
        self._clinic = clinic
        self._patient = patient
        self._chance = np.random.default_rng([patient.seed, 77])
        self._facts = clinic.atlas.facts

    def asked(self, drawing: Drawing, question: NextSpot) -> Drawing:
        """The drawing after a question was answered."""
        if question.region is not None and question.modality is not None:
            return self.touched(drawing, question.region, question.side, question.modality)
        sign = question.sign or ""
        lost = SignChange.WEAK
        if self._facts.signs[sign].kind == "reflex":
            lost = SignChange.REDUCED
        changed = self.sign_is_changed(sign, question.side)
        change = lost if changed else SignChange.NORMAL
        return drawing.with_signs(drawing.signs.noted(sign, question.side, change))

    def touched(self, drawing: Drawing, region: str, side: Side, modality: Modality) -> Drawing:
        """The drawing after a region was tested."""
        altered = self.is_altered(region, side, CHANNEL_OF[modality])
        change = Change.REDUCED if altered else Change.NORMAL
        return drawing.with_region(self._clinic.atlas, modality, change, region, side)

    def is_altered(self, region: str, side: Side, channel: int) -> bool:
        """What the patient says when a region is tested: where most of it is altered, yes,
        unless the answer is wrong."""
        assert channel < len(CHANNELS)
        mine = [
            n
            for n, (id_, s) in enumerate(self._clinic.spots)
            if s is side and region in (id_, self._facts.parts[id_].whole)
        ]
        truth = bool(np.mean(self._patient.truth[channel, mine]) >= 0.5)
        return truth != self._wrong(self._patient.error)

    def sign_is_changed(self, sign: str, side: Side) -> bool:
        """Whether a muscle is found weak or a reflex reduced."""
        if (sign, side) not in self._signs:
            rate = max((self._rate(le, sign, side) for le in self._patient.lesions), default=0.0)
            self._signs[sign, side] = bool(self._chance.random() < rate)
        error = error_from_kappa(self._clinic.habits["kappa_muscle"])
        return self._signs[sign, side] != self._wrong(error)

    def _wrong(self, error: float) -> bool:
        """Whether the majority of the applications gives the wrong answer."""
        times = int(self._clinic.habits["applications"])
        return bool((self._chance.random(times) < error).mean() > 0.5)

    @cached_property
    def _signs(self) -> dict[tuple[str, Side], bool]:
        return {}

    def _rate(self, lesion: Lesion, sign: str, side: Side) -> float:
        """How often a lesion changes a sign in this clinic."""
        if lesion.side not in (side, Side.BOTH):
            return 0.0
        habits, known = self._clinic.habits, self._facts.signs[sign]
        if lesion.id == "polyneuropathy":
            return habits["ankle_reflex_lost"] if sign == "ankle-reflex" else 0.0
        expect = self._facts.site_signs.get((lesion.id, sign))
        if expect is not None:
            rates = {"changed": "weak_at_site", "variable": "weak_at_site_variable"}
            return habits[rates[expect]] if expect in rates else 0.0
        roots = self._clinic.bodies.roots_of(lesion)
        if set(known.main_roots) & roots:
            return habits["weak_by_main_root"]
        return habits["weak_by_accessory_root"] if set(known.accessory_roots) & roots else 0.0
