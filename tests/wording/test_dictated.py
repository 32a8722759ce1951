"""Forty phrases of ordinary clinical English, written before the reader was changed for them.

They are invented for this test. The skin expected for each is stated by hand, as regions or
as groups of region-groups.csv, and with it a piece of the note where what is drawn is wider
than what was said or had to be assumed. A phrase without a piece must give no note.
"""

import pytest

from bodymap.atlas import Atlas
from bodymap.wording.understand import understood
from tests.wording.test_understand import _expected, _found

_C6 = ("arm-lateral-lower elbow-crease-lateral forearm-front-radial forearm-back-radial thenar "
       "palm-radial thumb index-finger web-first-dorsal hand-dorsum-radial")  # fmt: skip

DICTATED: list[tuple[str, list[str], str]] = [
    ("reduced PP over 5th MTP R", ["PP reduced R foot-dorsum-lateral"], "joint"),
    ("vibration absent at the MTP joints, bilat.", ["V absent B foot-dorsum"], "joint"),
    ("JPS absent at MTP of R great toe", ["J absent R great-toe"], ""),
    ("vib absent at the IP jt of L great toe, reduced at the L medial malleolus",
     ["V absent L great-toe-dorsal", "V reduced L malleolus-medial"], "joint"),
    ("JPS impaired at the DIP of the R index finger", ["J reduced R index-dorsal-tip"], "joint"),
    ("Reduced vibration over the left lateral malleolus and 1st MTP jt",
     ["V reduced L malleolus-lateral foot-dorsum-medial"], "joint"),
    ("numb ulnar border of the left hand",
     ["LT reduced L palm-ulnar hand-dorsum-ulnar little-finger"], "border"),
    ("Decreased LT over the dorsum of the left foot sparing the first web space",
     ["LT reduced L foot-dorsum"], ""),
    ("1st dorsal web space of the left foot numb to pin", ["PP reduced L web-first-foot"], ""),
    ("web space between R thumb and index reduced to LT", ["LT reduced R web-first-dorsal"], ""),
    ("PP decr. R medial forearm", ["PP reduced R forearm-front-ulnar forearm-back-ulnar"], ""),
    ("LT incr. L lat. forearm", ["LT increased L forearm-front-radial forearm-back-radial"], ""),
    ("tingling at the tips of the fingers, bilat.", ["LT tingling B fingertips"], "beyond the PIP"),
    ("numb tip of the R index", ["LT reduced R index-palmar index-dorsal-tip"], "beyond the PIP"),
    ("Pinprick diminished over digits 4-5 of the left hand, palmar and dorsal",
     ["PP reduced L ring-finger little-finger"], ""),
    ("abs. vib. both LEs up to the knees", ["V absent B stocking-knee"], "up to the knee"),
    ("Numbness V2 and V3 on the right, V1 spared",
     ["LT reduced R upper-lip cheek temple cheek-side lower-lip chin jaw-body ear-upper "
      "scalp-side", "LT normal R forehead scalp-front upper-eyelid nose"], ""),
    ("Reduced PP in the left V1 distribution, LT intact",
     ["PP reduced L forehead scalp-front upper-eyelid nose",
      "LT normal L forehead scalp-front upper-eyelid nose"], ""),
    ("saddle anesthesia, sparing the genitals", ["LT absent B perineum perianal"], ""),
    ("Perianal sensation to PP absent on the right, reduced on the left",
     ["PP absent R perianal", "PP reduced L perianal"], ""),
    ("Absent PP below T6 bilaterally",
     ["PP absent B abdomen back-middle loin groin sacrum saddle buttock lower-limb"], "T6"),
    ("Glove and stocking hypoesthesia to the wrists and mid-shins",
     ["LT reduced B hand stocking-knee"], "up to the knee"),
    ("numb lateral aspect of the R foot and 5th toe",
     ["LT reduced R foot-dorsum-lateral little-toe"], ""),
    ("Hyperalgesia over the left thenar eminence and volar aspect of the thumb",
     ["PP increased L thenar thumb-palmar"], ""),
    ("reduced light touch and pinprick, posterolateral R thigh and lat. calf",
     ["LT reduced R thigh-lateral-back calf-lateral",
      "PP reduced R thigh-lateral-back calf-lateral"], ""),
    ("PP decr. L post. calf, ant. shin normal", ["PP reduced L calf", "PP normal L shin"], ""),
    ("temp abs. over the prox. ant. R thigh", ["T absent R thigh-front-upper"], ""),
    ("Allodynia over the right cheek and upper lip but not the nose",
     ["LT increased R cheek upper-lip"], ""),
    ("numb from the right wrist to the elbow, ulnar side",
     ["LT reduced R forearm-front-ulnar forearm-back-ulnar"], ""),
    ("dysesthesia of both soles and heels", ["LT tingling B sole heel"], ""),
    ("Decreased LT in the L face, UE and LE", ["LT reduced L face upper-limb lower-limb"], ""),
    ("PP intact C7-8 on the right",
     ["PP normal R arm-back elbow-back forearm-back-middle forearm-front-ulnar "
      "forearm-back-ulnar palm-radial palm-ulnar index-finger middle-finger ring-finger "
      "little-finger hand-dorsum-radial hand-dorsum-ulnar"], ""),
    ("numb 2nd-4th toes of the R foot, plantar surface",
     ["LT reduced R second-third-toes-plantar fourth-toe-plantar"], ""),
    ("PP decreased over the medial leg from knee to ankle, L", ["PP reduced L leg-medial"], ""),
    ("anaesthetic patch over the L regimental badge area",
     ["LT absent L deltoid-lateral"], "patch"),
    ("little finger and ulnar half of ring finger numb bilaterally, palmar aspect only",
     ["LT reduced B little-palmar ring-palmar-ulnar"], ""),
    ("hypoalgesia in the C6 dermatome on the left including the thumb",
     [f"PP reduced L {_C6}"], ""),
    ("sharp/dull impaired over dorsum of R hand and dorsal aspect of digits 1-3",
     ["PP reduced R hand-dorsum thumb-back index-back middle-back"], ""),
    ("stocking loss of LT to mid-calf, L>R", ["LT absent B stocking-knee"], "up to the knee"),
    ("vib decreased at both wrists and ankles", ["V reduced B ankle"], ""),
]  # fmt: skip

NOT_WHOLE: dict[str, set[str]] = {
    "stocking loss of LT to mid-calf, L>R": {"l", ">", "r"},
    "vib decreased at both wrists and ankles": {"wrists"},
}
"""Phrases with words that no region stands for, and the words that must be handed back."""


def test_there_are_forty_and_nine_tenths_are_whole() -> None:
    assert len({text for text, _, _ in DICTATED}) == 40
    assert NOT_WHOLE.keys() <= {text for text, _, _ in DICTATED}
    assert len(NOT_WHOLE) <= 4


@pytest.mark.parametrize(("text", "lines", "note"), DICTATED, ids=[t for t, _, _ in DICTATED])
def test_dictated(atlas: Atlas, text: str, lines: list[str], note: str) -> None:
    result = understood(text, atlas)
    assert _found(result) == _expected(atlas, lines), result.canonical
    assert set(result.not_understood) == NOT_WHOLE.get(text, set())
    notes = " ".join(result.notes)
    assert note in notes if note else not notes


WHICH_IS_LEFT_OPEN = ["numb first web space L", "JPS absent MTP R", "PP reduced 2nd PIP L",
                      "PP reduced distal to the MTP joints R"]  # fmt: skip


@pytest.mark.parametrize("text", WHICH_IS_LEFT_OPEN)
def test_a_joint_or_web_that_may_be_another_is_handed_back(atlas: Atlas, text: str) -> None:
    result = understood(text, atlas)
    assert result.findings == ()
    assert any("say which" in note for note in result.notes)


BY_CONTEXT: list[tuple[str, list[str]]] = [
    ("numb right hand sparing the first web space",
     ["LT reduced R palm hand-dorsum-radial hand-dorsum-ulnar digits"]),
    ("numb right foot sparing the first dorsal web space",
     ["LT reduced R heel foot-dorsum toes sole"]),
    ("PP reduced R thumb and 1st web", ["PP reduced R thumb web-first-dorsal"]),
    ("PP reduced L great toe and 1st web", ["PP reduced L great-toe web-first-foot"]),
    ("PP absent 1st web space, L foot", ["PP absent L web-first-foot"]),
    ("R hand normal to PP, PP reduced over the dorsum of the R foot and 1st web",
     ["PP normal R hand", "PP reduced R foot-dorsum web-first-foot"]),
    ("PP reduced plantar 5th MTP L", ["PP reduced L sole-lateral"]),
    ("PP reduced 2nd and 3rd PIP joints of the left hand",
     ["PP reduced L index-dorsal-proximal middle-dorsal-proximal"]),
    ("vib and JPS absent 1st MTP bilat",
     ["V absent B foot-dorsum-medial", "J absent B great-toe"]),
    ("numb fingertip of the right little finger", ["LT reduced R little-palmar"]),
    ("medial leg numb below the knee L", ["LT reduced L leg-medial"]),
    ("right leg, from the knee down, numb", ["LT reduced R stocking-knee"]),
    ("Lt hand numb, Rt hand normal", ["LT reduced L hand", "LT normal R hand"]),
    ("rt hand normal, lt hand numb", ["LT reduced L hand", "LT normal R hand"]),
    ("LT reduced RT hand", ["LT reduced R hand"]),
    ("Vibration absent at ankles bilat. Numb R thumb.",
     ["V absent B ankle", "LT reduced R thumb"]),
    ("numb R thigh post-op", ["LT reduced R thigh"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "lines"), BY_CONTEXT, ids=[t for t, _ in BY_CONTEXT])
def test_what_stands_around_decides(atlas: Atlas, text: str, lines: list[str]) -> None:
    result = understood(text, atlas)
    assert _found(result) == _expected(atlas, lines), result.canonical


def test_joint_position_at_a_toe_that_shares_its_regions_says_so(atlas: Atlas) -> None:
    assert understood("JPS absent at the right 3rd MTP", atlas).notes
    assert not understood("JPS absent at the right 1st MTP", atlas).notes
