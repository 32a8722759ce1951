"""Reasons in words that a clinician would use, and tie-breakers."""

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.localise.answer import Answer, answered
from bodymap.localise.explanation import Reasons
from bodymap.localise.ranking import Scales
from bodymap.report.question_words import told_apart
from bodymap.terms import Change, Modality, Side

PIN = Modality.PINPRICK


def _answer(
    atlas: Atlas, scales: Scales, altered: list[str], normal: list[str], **signs: SignChange
) -> Answer:
    drawing = Drawing()
    for change, regions in ((Change.REDUCED, altered), (Change.NORMAL, normal)):
        for region in regions:
            drawing = drawing.with_region(atlas, PIN, change, region, Side.RIGHT)
    noted = drawing.signs
    for sign, change in signs.items():
        noted = noted.noted(sign.replace("_", "-"), Side.RIGHT, change)
    return answered(scales, drawing.with_signs(noted))


def _reasons(answer: Answer, id_: str) -> Reasons:
    candidate = next(
        c
        for c in answer.ranking.candidates
        if c.territory.id == id_ and c.territory.side is Side.RIGHT
    )
    return answer.reasons(candidate)


ULNAR = ["little-palmar", "little-dorsal", "ring-palmar-ulnar", "palm-ulnar", "hand-dorsum-ulnar"]


def test_split_ring_finger_speaks_for_the_nerve(atlas: Atlas, scales: Scales) -> None:
    """Stewart 2010, Focal peripheral neuropathies (from memory): a ring finger split along
    its middle speaks for the ulnar nerve and against C8."""
    answer = _answer(atlas, scales, ULNAR, ["ring-palmar-radial", "forearm-front-ulnar"])
    nerve = " ".join(_reasons(answer, "ulnar-elbow").in_favour)
    root = " ".join(_reasons(answer, "root-c8").against)
    assert "ring finger is split" in nerve
    assert "ring finger is split" in root
    assert answer.ranking.candidates[0].territory.id == "ulnar-elbow"


def test_reasons_name_unexplained_normal_and_missing_skin(atlas: Atlas, scales: Scales) -> None:
    answer = _answer(atlas, scales, [*ULNAR, "cheek"], ["palm-radial"])
    said = _reasons(answer, "ulnar-elbow")
    assert said.in_favour[0].startswith("Explains ")
    assert "cheek" in said.against[0]
    assert "ring finger" in " ".join(said.missing)
    median = (
        _reasons(answer, "median-elbow")
        if any(c.territory.id == "median-elbow" for c in answer.ranking.candidates)
        else None
    )
    assert median is None or "found normal" in " ".join(median.against)


def test_signs_are_among_the_reasons(atlas: Atlas, scales: Scales) -> None:
    """Triceps hangs on C7 and the radial nerve, not on the median nerve at the wrist
    (MRC 2010, from memory)."""
    answer = _answer(
        atlas, scales, ["middle-palmar", "index-palmar"], ["thenar"], triceps=SignChange.WEAK
    )
    assert "Triceps, right: weak, which it explains." in _reasons(answer, "root-c7").in_favour
    against = _reasons(answer, "median-wrist").against
    assert "Triceps, right: weak, which it does not explain." in against


def test_tie_breakers_name_skin_then_signs(atlas: Atlas, scales: Scales) -> None:
    answer = _answer(atlas, scales, ["thumb-palmar", "index-palmar"], [])
    assert answer.tie_breakers
    tie = answer.tie_breakers[0]
    assert tie.first is answer.ranking.candidates[0]
    said = told_apart(atlas, tie)
    assert said[0].startswith(("Skin lost only in", "No spot of skin"))
    assert len(said) >= 2


def test_pair_of_identical_skin_says_so(atlas: Atlas, scales: Scales) -> None:
    from bodymap.localise.tie_breakers import TieBreaker, TieBreaking

    answer = _answer(
        atlas, scales, ["medial" and "forearm-front-ulnar", "forearm-back-ulnar", "little-palmar",
                        "ring-palmar-ulnar", "hand-dorsum-ulnar", "arm-medial"], []
    )  # fmt: skip
    found = {c.territory.id: c for c in answer.ranking.candidates if c.territory.side is Side.RIGHT}
    first, second = found["lower-trunk"], found["medial-cord"]
    difference = TieBreaking(scales).between(first.parts, second.parts)
    said = " ".join(told_apart(atlas, TieBreaker(first, second, difference)))
    assert "No spot of skin tells them apart." in said
    assert "Extensor indicis" in said


def test_a_neighbouring_root_says_why_it_stands_high(atlas: Atlas, scales: Scales) -> None:
    """62.6 % of proven roots fit the standard dermatome (Hong and Nam, from the abstract)."""
    c6 = ["thumb-palmar", "thumb-dorsal", "forearm-front-radial", "forearm-back-radial"]
    answer = _answer(atlas, scales, c6, ["middle-palmar", "little-palmar"])
    assert any("63%" in s for s in _reasons(answer, "root-c7").in_favour)
    assert not any("63%" in s for s in _reasons(answer, "root-c6").in_favour)
