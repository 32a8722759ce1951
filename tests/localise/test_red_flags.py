"""Patterns that need urgent thought are told whatever ranks first."""

import pytest

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.localise.red_flags import RedFlag, red_flags
from bodymap.report.cautions import FLAGS, cautions
from bodymap.terms import Change, Modality, Side

PIN = Modality.PINPRICK
ARM = ("arm-front", "deltoid-lateral", "forearm-front-radial", "forearm-front-ulnar",
       "forearm-back-radial", "palm-radial", "palm-ulnar", "thumb-palmar")  # fmt: skip
LEG = ("thigh-front-upper", "thigh-front-middle", "thigh-front-lower", "thigh-lateral",
       "leg-front-medial", "leg-front-lateral", "calf-medial", "foot-dorsum-middle")  # fmt: skip
FACE = ("forehead", "cheek", "chin", "upper-lip", "lower-lip")
TRUNK = ("abdomen-upper", "abdomen-middle", "abdomen-lower")


def _drawn(atlas: Atlas, *parts: tuple[tuple[str, ...], Side]) -> Drawing:
    drawing = Drawing()
    for regions, side in parts:
        for region in regions:
            drawing = drawing.with_region(atlas, PIN, Change.REDUCED, region, side)
    return drawing


@pytest.mark.parametrize(
    ("parts", "flag"),
    [
        # Cauda equina: any new perianal change (Venkatesan 2019, from the abstract).
        ([(("perianal",), Side.LEFT)], RedFlag.SADDLE),
        # A level on the trunk: the cord at or above it (Hardy 2021, from the opening).
        ([(TRUNK, Side.BOTH)], RedFlag.SENSORY_LEVEL),
        ([((*TRUNK, "chest-lower", *LEG), Side.LEFT)], RedFlag.SENSORY_LEVEL),
        # Face of one side, body of the other: lateral medulla (Kim 1997, from the abstract).
        ([(FACE, Side.LEFT), ((*ARM, *LEG), Side.RIGHT)], RedFlag.CROSSED),
        # One half of the body: pure sensory stroke (Arboix 2005, from the abstract).
        ([((*FACE, *ARM, *TRUNK, *LEG), Side.RIGHT)], RedFlag.HALF_OF_BODY),
        # Mouth corner and fingers: cheiro-oral (Chen 2009, from the abstract).
        ([(("upper-lip", "lower-lip", "thumb-palmar", "index-palmar", "middle-palmar",
            "little-palmar"), Side.LEFT)], RedFlag.MOUTH_AND_HAND),
        # Both feet: an ascending loss may be Guillain-Barré (common practice, no source).
        ([(("sole-heel", "sole-medial", "sole-lateral", "foot-dorsum-middle",
            "foot-dorsum-lateral", "foot-dorsum-medial", "great-toe-dorsal"), Side.BOTH)],
         RedFlag.BOTH_LEGS),
    ],
)  # fmt: skip
def test_a_pattern_raises_its_flag(
    atlas: Atlas, parts: list[tuple[tuple[str, ...], Side]], flag: RedFlag
) -> None:
    drawing = _drawn(atlas, *parts)
    assert flag in red_flags(atlas, drawing)
    assert flag in red_flags(atlas, drawing.mirrored())
    assert FLAGS[flag] in cautions(atlas, drawing)


@pytest.mark.parametrize(
    "parts",
    [
        [(("index-palmar", "middle-palmar", "thumb-palmar"), Side.RIGHT)],
        [(("great-toe-dorsal", "foot-dorsum-middle"), Side.LEFT)],
        [(("thigh-lateral",), Side.BOTH)],
        [(("cheek",), Side.LEFT)],
        [(("abdomen-upper",), Side.RIGHT)],
    ],
)
def test_local_loss_raises_none(atlas: Atlas, parts: list[tuple[tuple[str, ...], Side]]) -> None:
    assert red_flags(atlas, _drawn(atlas, *parts)) == ()


def test_every_flag_defers_to_a_pathway() -> None:
    for flag in RedFlag:
        assert "pathway" in FLAGS[flag]
        for word in ("proves", "excluded", "diagnosis"):
            assert word not in FLAGS[flag]


@pytest.mark.parametrize(
    ("field", "flag"),
    [("deep_anal_pressure", RedFlag.SPHINCTER), ("voluntary_anal_contraction", RedFlag.SPHINCTER)],
)
def test_sacral_findings_of_the_record_are_red_flags(
    atlas: Atlas, field: str, flag: RedFlag
) -> None:
    """Loss of anal sensation or tone belongs to the red flags of the cauda equina
    (Venkatesan 2019, from the abstract); with no skin drawn at all."""
    drawing = Drawing()
    assert red_flags(atlas, drawing) == ()
    for value, raised in (("yes", False), ("NT", False), ("no", True)):
        told = drawing.with_record(drawing.record.with_value((field,), value))
        assert (flag in red_flags(atlas, told)) is raised
        assert ("emergency" in " ".join(cautions(atlas, told)[:-1])) is raised


def test_weak_muscles_of_both_legs_are_a_red_flag(atlas: Atlas) -> None:
    """Bilateral leg weakness: usual teaching (common practice, no source)."""
    record = Drawing().record.with_value(("motor", "right", "L5"), "4")
    assert red_flags(atlas, Drawing(record=record)) == ()
    record = record.with_value(("motor", "left", "C7"), "2")
    assert red_flags(atlas, Drawing(record=record)) == ()
    record = record.with_value(("motor", "left", "S1"), "4")
    assert red_flags(atlas, Drawing(record=record)) == (RedFlag.WEAK_LEGS,)
