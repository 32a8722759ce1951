"""Dictated phrases as findings; what is not understood is always said.

The phrases are invented for this test. The skin expected for each is stated by hand, as
regions or as groups of region-groups.csv.
"""

import pytest

from bodymap.atlas import Atlas
from bodymap.terms import Change, Modality, Side
from bodymap.wording.understand import Understood, understood
from bodymap.wording.vocabulary import vocabulary

SHORT = {
    "LT": Modality.LIGHT_TOUCH, "PP": Modality.PINPRICK, "T": Modality.TEMPERATURE,
    "V": Modality.VIBRATION, "J": Modality.JOINT_POSITION,
}  # fmt: skip
SIDES = {"R": Side.RIGHT, "L": Side.LEFT, "B": Side.BOTH, "-": None}

PHRASES: list[tuple[str, list[str]]] = [
    ("numb right thumb, index and middle fingers",
     ["LT reduced R thumb index-finger middle-finger"]),
    ("Reduced pinprick over the left little finger and ulnar half of the ring finger.",
     ["PP reduced L little-finger ring-palmar-ulnar ring-dorsal-ulnar"]),
    ("decreased LT and PP over the dorsum of the right foot",
     ["LT reduced R foot-dorsum", "PP reduced R foot-dorsum"]),
    ("vibration absent at both great toes", ["V absent B great-toe"]),
    ("JPS impaired at the hallux, b/l", ["J reduced B great-toe"]),
    ("tingling in the palmar thumb, index and middle fingers and the radial half of the ring "
     "finger (R)", ["LT tingling R thumb-palmar index-palmar middle-palmar ring-palmar-radial"]),
    ("pins and needles in both hands", ["LT tingling B hand"]),
    ("saddle anaesthesia", ["LT absent B saddle"]),
    ("Perianal and perineal pinprick reduced on the left", ["PP reduced L perianal perineum"]),
    ("loss of temperature sensation in the left lateral thigh", ["T absent L thigh-outer"]),
    ("allodynia over the R forehead and upper eyelid",
     ["LT increased R forehead upper-eyelid"]),
    ("right cheek and upper lip numb", ["LT reduced R cheek upper-lip"]),
    ("Left hand numb, right hand normal", ["LT reduced L hand", "LT normal R hand"]),
    ("numb left hand except the thumb",
     ["LT reduced L palm index-finger middle-finger ring-finger little-finger hand-dorsum"]),
    ("diminished sharp sensation over digits 4-5, rt, with normal palm",
     ["PP reduced R ring-finger little-finger", "PP normal R palm"]),
    ("right hand: reduced to pinprick, normal to light touch",
     ["PP reduced R hand", "LT normal R hand"]),
    ("LT reduced, PP absent over the left sole", ["LT reduced L sole", "PP absent L sole"]),
    ("bilat. stocking numbness to mid-shin", ["LT reduced B stocking-knee"]),
    ("glove and stocking loss of pinprick", ["PP absent B hand stocking-ankle"]),
    ("reduced temp below the right knee", ["T reduced R stocking-knee"]),
    ("vibration lost to the ankles", ["V absent B stocking-ankle"]),
    ("numb from the elbow to the wrist, left", ["LT reduced L forearm"]),
    ("outer border of the right foot and little toe dull to pin",
     ["PP reduced R foot-dorsum-lateral little-toe"]),
    ("numb calf and sole on the left, sparing the heel",
     ["LT reduced L calf sole-medial sole-lateral"]),
    ("hypersensitive to cold over the left shin", ["T increased L shin"]),
    ("decreased sensation, front of the right thigh and inner shin",
     ["LT reduced R thigh-front leg-front-medial"]),
    ("reduced LT over the upper third of the front of the left thigh",
     ["LT reduced L thigh-front-upper"]),
    ("right shoulder badge patch numb", ["LT reduced R deltoid-lateral"]),
    ("numb web space between the great and second toes, left", ["LT reduced L web-first-foot"]),
    ("pinprick diminished over the back of the right hand and dorsal thumb",
     ["PP reduced R hand-dorsum thumb-back"]),
    ("reduced pin dorsal index finger beyond the PIP joint (L)", ["PP reduced L index-dorsal-tip"]),
    ("numb outer three toes on the left",
     ["LT reduced L middle-toes-dorsal fourth-toe-plantar little-toe"]),
    ("radial three and a half digits of the right hand tingling",
     ["LT tingling R thumb index-finger middle-finger ring-palmar-radial "
      "ring-dorsal-radial"]),
    ("right face and left arm and leg reduced to pin and temp",
     ["PP reduced R face", "PP reduced L upper-limb lower-limb", "T reduced R face",
      "T reduced L upper-limb lower-limb"]),
    ("hyperaesthesia in a band over the lower chest from front to back, right",
     ["LT increased R band-chest-lower"]),
    ("Light touch intact in the buttock, groin and popliteal fossa, left",
     ["LT normal L buttock groin popliteal"]),
    ("volar forearm and thenar eminence (R): LT and PP normal",
     ["LT normal R forearm-front thenar", "PP normal R forearm-front thenar"]),
    ("numb right foot but sole spared",
     ["LT reduced R heel-lateral heel-medial foot-dorsum web-first-foot toes", "LT normal R sole"]),
    ("right leg numb from the knee down", ["LT reduced R stocking-knee"]),
    ("index to little fingers numb, right, dorsal aspect only",
     ["LT reduced R index-back middle-back ring-back little-dorsal"]),
    ("V2 numb right, upper lip spared",
     ["LT reduced R nose cheek cheek-side temple", "LT normal R upper-lip"]),
    ("absent proprioception in the fingers of the left hand",
     ["J absent L thumb index-finger middle-finger ring-finger little-finger"]),
]  # fmt: skip
"""Phrases that are understood whole."""

PARTLY: list[tuple[str, list[str], set[str]]] = [
    ("numb right index finger distal to the DIP", ["LT reduced R index-finger"], {"dip"}),
    ("markedly reduced pinprick over the left wrist and palm", ["PP reduced L palm"],
     {"markedly", "wrist"}),
    ("numb radial side of the left index finger", ["LT reduced L index-finger"], {"radial"}),
    ("pinprick not tested over the left foot; right foot numb", ["LT reduced R foot"],
     {"not", "tested"}),
    ("both soles numb, left > right", ["LT reduced B sole"], {"left", ">", "right"}),
    ("numb left hand, no right hand numbness", ["LT reduced L hand"], {"no", "right", "hand"}),
    ("pinprick reduced over the left shin, normal elsewhere", ["PP reduced L shin"],
     {"normal", "elsewhere"}),
    ("possible numbness of the right heel", ["LT reduced R heel"], {"possible"}),
    ("numb left sole. No numbness in the right sole.", ["LT reduced L sole"], {"no"}),
]  # fmt: skip
"""Phrases with words that must be handed back."""


def _expected(atlas: Atlas, lines: list[str]) -> dict[tuple[str, ...], frozenset[str]]:
    groups = vocabulary(atlas.facts).groups
    found = {}
    for line in lines:
        test, change, side, *names = line.split()
        regions: set[str] = set()
        for name in names:
            regions |= groups[name].members if name in groups else {name}
        found[SHORT[test], change, SIDES[side]] = frozenset(regions)
    return found


def _found(result: Understood) -> dict[tuple[str, ...], frozenset[str]]:
    return {(f.modality, f.change, f.side): f.regions for f in result.findings}


@pytest.mark.parametrize(("text", "lines"), PHRASES, ids=lambda p: p if isinstance(p, str) else "")
def test_phrase_is_understood_whole(atlas: Atlas, text: str, lines: list[str]) -> None:
    result = understood(text, atlas)
    assert _found(result) == _expected(atlas, lines), result.canonical
    assert result.not_understood == ()


@pytest.mark.parametrize(("text", "lines", "lost"), PARTLY)
def test_what_is_not_understood_is_said(
    atlas: Atlas, text: str, lines: list[str], lost: set[str]
) -> None:
    result = understood(text, atlas)
    assert _found(result) == _expected(atlas, lines), result.canonical
    assert lost <= set(result.not_understood)


@pytest.mark.parametrize("text", ["the cat sat", "", "...", "no", "left", "palm", "pinprick",
                                  "seven green bottles", "numb", "T4"])  # fmt: skip
def test_nothing_is_invented(atlas: Atlas, text: str) -> None:
    result = understood(text, atlas)
    assert result.findings == ()
    assert result.canonical == ""
    assert " ".join(result.not_understood) == text.strip(".").lower()


@pytest.mark.parametrize(
    ("british", "american"),
    [
        ("hypoaesthesia", "hypoesthesia"), ("anaesthesia", "anesthesia"),
        ("hyperaesthesia", "hyperesthesia"), ("paraesthesia", "paresthesia"),
        ("dysaesthesia", "dysesthesia"), ("anaesthetic", "anesthetic"),
    ],
)  # fmt: skip
def test_both_spellings_are_one_word(atlas: Atlas, british: str, american: str) -> None:
    one, other = (understood(f"{w} of the left calf", atlas) for w in (british, american))
    assert one == other
    assert one.findings
    assert not one.not_understood


@pytest.mark.parametrize("side", ["right", "R", "(R)", "rt", "Rt."])
def test_short_forms_of_a_side(atlas: Atlas, side: str) -> None:
    result = understood(f"numb {side} palm", atlas)
    assert [f.side for f in result.findings] == [Side.RIGHT]


@pytest.mark.parametrize("side", ["both", "bilateral", "bilat.", "b/l", "left and right"])
def test_short_forms_of_both_sides(atlas: Atlas, side: str) -> None:
    result = understood(f"numb {side} palms", atlas)
    assert [f.side for f in result.findings] == [Side.BOTH]


def test_a_missing_side_is_left_open(atlas: Atlas) -> None:
    result = understood("numb thumb", atlas)
    assert result.side_missing
    assert understood("numb thumb", atlas, Side.LEFT).findings[0].side is Side.LEFT


def test_every_name_of_every_region(atlas: Atlas) -> None:
    words = vocabulary(atlas.facts)
    for id_, region in atlas.facts.regions.items():
        known = words.regions[id_]
        for name in (id_, region.label, known.spoken, *known.aliases):
            result = understood(f"numb {name}, right", atlas)
            assert [f.regions for f in result.findings] == [{id_}], name
            assert not result.not_understood, name


def test_every_name_of_every_group(atlas: Atlas) -> None:
    for group in vocabulary(atlas.facts).groups.values():
        for name in (group.spoken, *group.aliases):
            if name:
                result = understood(f"numb {name}, right", atlas)
                assert [f.regions for f in result.findings] == [group.members], name


def test_tables_agree(atlas: Atlas) -> None:
    words = vocabulary(atlas.facts)
    spoken = [r.spoken for r in words.regions.values()]
    spoken += [g.spoken for g in words.groups.values() if g.spoken]
    assert len(spoken) == len(set(spoken))
    assert not set(words.regions) & set(words.groups)
    for region in words.regions.values():
        assert not region.group or region.id in words.groups[region.group].members


def test_a_segment_takes_its_main_regions(atlas: Atlas) -> None:
    """Against dermatomes.csv."""
    roles = atlas.facts.segment_roles
    c6 = {r for (r, d), role in roles.items() if d == "C6" and role in ("core", "usual")}
    (finding,) = understood("reduced pinprick in the C6 distribution, right", atlas).findings
    assert finding.regions == c6


@pytest.mark.parametrize(
    "text",
    ["pinprick reduced from T10 down", "T10 level down reduced PP",
     "reduced pinprick below T10", "PP reduced T10 and below"],
)  # fmt: skip
def test_a_level_takes_all_below(atlas: Atlas, text: str) -> None:
    result = understood(text, atlas)
    (finding,) = result.findings
    assert finding.side is Side.BOTH
    assert {"abdomen-middle", "groin", "little-toe-plantar", "perianal"} <= finding.regions
    assert not {"abdomen-upper", "chest-middle", "little-palmar"} & finding.regions
    assert not result.not_understood


def test_normal_skin_within_altered_skin_is_taken_out(atlas: Atlas) -> None:
    result = understood("numb right hand with normal thumb", atlas)
    by_change = {f.change: f.regions for f in result.findings}
    assert not by_change[Change.REDUCED] & by_change[Change.NORMAL]


@pytest.mark.parametrize(
    "phrase",
    [
        "Absent pinprick right thumb; left normal",
        "right thumb absent to PP, left normal",
        "PP absent right thumb but left normal",
        "left normal PP, right thumb absent PP",
        "thumb right PP absent left normal",
    ],
)
def test_a_clause_never_borrows_the_side_of_another(atlas: Atlas, phrase: str) -> None:
    """What is said of one side is never drawn on the other."""
    found = {(f.modality, f.change, f.side) for f in understood(phrase, atlas).findings}
    assert found == {
        (Modality.PINPRICK, Change.ABSENT, Side.RIGHT),
        (Modality.PINPRICK, Change.NORMAL, Side.LEFT),
    }


def test_skin_of_the_same_statement_comes_first(atlas: Atlas) -> None:
    phrase = "right palm: LT reduced, PP absent; left palm: normal LT"
    found = {(f.modality, f.change, f.side) for f in understood(phrase, atlas).findings}
    assert found == {
        (Modality.LIGHT_TOUCH, Change.REDUCED, Side.RIGHT),
        (Modality.PINPRICK, Change.ABSENT, Side.RIGHT),
        (Modality.LIGHT_TOUCH, Change.NORMAL, Side.LEFT),
    }


def test_two_sides_of_the_same_skin_are_handed_back(atlas: Atlas) -> None:
    got = understood("numb right thumb and index finger on the left", atlas)
    assert not got.findings
    assert {"right", "thumb", "left"} <= set(got.not_understood)
    assert "say each apart" in got.notes[0]
