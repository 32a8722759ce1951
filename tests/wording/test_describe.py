"""A drawing in words, and the words understood again."""

import random

import pytest
import shapely

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.geometry import common
from bodymap.terms import Change, Modality, Side, View
from bodymap.wording.describe import described, findings_of
from bodymap.wording.finding import Finding, with_findings
from bodymap.wording.understand import Understood, understood
from bodymap.wording.vocabulary import vocabulary

PIN, TOUCH, FORK = Modality.PINPRICK, Modality.LIGHT_TOUCH, Modality.VIBRATION

FAMILIES = {
    "hand": 0.2, "face": 0.2, "foot": 0.2, "trunk": 0.2, "lower-limb": 0.2, "upper-limb": 0.2,
    "saddle": 0.5, "thigh": 0.4,
}  # fmt: skip
"""Groups from which combinations are drawn, and the share that is left out."""


def _drawn(
    atlas: Atlas, ids: list[str], side: Side = Side.RIGHT, change: Change = Change.REDUCED,
    modality: Modality = PIN, drawing: Drawing | None = None,
) -> Drawing:  # fmt: skip
    drawing = drawing or Drawing()
    for id_ in ids:
        drawing = drawing.with_region(atlas, modality, change, id_, side)
    return drawing


def _set(findings: tuple[Finding, ...]) -> set[Finding]:
    assert not any(f.partial for f in findings)
    return set(findings)


def _comes_back(atlas: Atlas, drawing: Drawing) -> None:
    words = described(atlas, drawing)
    found: Understood = understood(words, atlas)
    assert not found.not_understood, words
    assert _set(found.findings) == _set(findings_of(atlas, drawing)), words
    assert found.canonical == words


def test_hand_as_it_is_dictated(atlas: Atlas) -> None:
    drawing = _drawn(atlas, ["thumb-palmar", "index-palmar", "middle-palmar", "ring-palmar-radial"])
    drawing = _drawn(atlas, ["thenar"], change=Change.NORMAL, drawing=drawing)
    assert described(atlas, drawing) == (
        "Reduced pinprick over the palmar thumb, index and middle fingers, and the radial half "
        "of the ring finger, right. Normal pinprick over the base of the thumb, right."
    )


@pytest.mark.parametrize(
    ("group", "words"),
    [
        ("hand", "Reduced pinprick over the whole hand, right."),
        ("palm", "Reduced pinprick over the palm, right."),
        ("sole", "Reduced pinprick over the sole, right."),
        ("foot-dorsum", "Reduced pinprick over the dorsum of the foot, right."),
        ("toes", "Reduced pinprick over all toes, right."),
        ("lower-leg", "Reduced pinprick over the lower leg all round, right."),
        ("face", "Reduced pinprick over the whole face, right."),
        (
            "band-chest-lower",
            "Reduced pinprick over a band over the lower chest from front to back, right.",
        ),
    ],
)
def test_larger_pieces_have_one_name(atlas: Atlas, group: str, words: str) -> None:
    members = sorted(vocabulary(atlas.facts).groups[group].members)
    assert described(atlas, _drawn(atlas, members)) == words


def test_both_sides_are_told_once(atlas: Atlas) -> None:
    drawing = _drawn(atlas, ["sole-heel"], Side.BOTH)
    drawing = _drawn(atlas, ["ankle-back"], Side.LEFT, drawing=drawing)
    assert described(atlas, drawing) == (
        "Reduced pinprick over the sole under the heel on both sides; "
        "over the back of the ankle, left."
    )


def test_modalities_that_agree_are_told_together(atlas: Atlas) -> None:
    drawing = _drawn(atlas, ["sacrum"])
    drawing = _drawn(atlas, ["sacrum"], modality=TOUCH, drawing=drawing)
    assert described(atlas, drawing) == (
        "Reduced light touch and pinprick over the skin over the sacrum, right."
    )


def test_deep_modalities_are_felt_at_a_place(atlas: Atlas) -> None:
    drawing = _drawn(atlas, ["malleolus-medial"], change=Change.ABSENT, modality=FORK)
    assert described(atlas, drawing) == "Absent vibration sense at the inner ankle, right."


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.05, "No findings on the skin."),
        (0.3, "Reduced pinprick over part of the forehead, right."),
        (0.9, "Reduced pinprick over the forehead, right."),
    ],
)
def test_share_of_a_region_is_told(atlas: Atlas, share: float, words: str) -> None:
    mask = atlas.cells_of_region("forehead", Side.RIGHT)
    drawing = Drawing()
    for view in (View.FRONT, View.HEAD_RIGHT):
        skin = atlas.skin_of(mask, view)
        if skin is None:
            continue
        left, low, right, high = skin.bounds
        for step in range(1, 400):
            box = shapely.box(left, low, right, low + (high - low) * step / 400)
            piece = common(skin, box)
            if piece is not None and piece.area >= share * skin.area:
                drawing = drawing.painted(atlas, PIN, Change.REDUCED, view, piece)
                break
    assert described(atlas, drawing) == words


def test_empty_drawing_has_a_sentence(atlas: Atlas) -> None:
    assert described(atlas, Drawing()) == "No findings on the skin."


def test_every_region_comes_back(atlas: Atlas) -> None:
    for number, id_ in enumerate(atlas.facts.regions):
        side = list(Side)[number % 3]
        change = list(Change)[number % 5]
        _comes_back(atlas, _drawn(atlas, [id_], side, change, list(Modality)[number % 5]))
        _comes_back(atlas, _drawn(atlas, [id_], Side.RIGHT))


def test_every_modality_change_and_side_comes_back(atlas: Atlas) -> None:
    for modality in Modality:
        for change in Change:
            for side in Side:
                _comes_back(atlas, _drawn(atlas, ["great-toe-dorsal"], side, change, modality))


@pytest.mark.parametrize("number", range(40))
def test_combinations_come_back(atlas: Atlas, number: int) -> None:
    rng = random.Random(number)
    groups = vocabulary(atlas.facts).groups
    drawing = Drawing()
    for _ in range(rng.randint(1, 3)):
        name, left_out = rng.choice(list(FAMILIES.items()))
        members = [m for m in sorted(groups[name].members) if rng.random() > left_out]
        drawing = _drawn(
            atlas, members, rng.choice(list(Side)), rng.choice(list(Change)),
            rng.choice(list(Modality)), drawing,
        )  # fmt: skip
    _comes_back(atlas, drawing)


def test_understood_words_make_the_same_drawing(atlas: Atlas) -> None:
    drawing = _drawn(atlas, ["thenar", "palm-ulnar"], Side.LEFT)
    found = understood(described(atlas, drawing), atlas)
    assert with_findings(atlas, Drawing(), found.findings) == drawing


def test_numb_and_tingling_skin_keeps_both(atlas: Atlas) -> None:
    found = understood("numbness and tingling over the right palm", atlas)
    drawing = with_findings(atlas, Drawing(), found.findings)
    assert {change for _, change, _ in drawing} == {Change.REDUCED, Change.TINGLING}
