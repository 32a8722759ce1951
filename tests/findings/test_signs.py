"""Muscles and reflexes: noted, kept in the case file, refused in one sentence."""

import json

import pytest

from bodymap.atlas import Atlas
from bodymap.errors import CaseError
from bodymap.findings.case_file import encode_case, parse_case
from bodymap.findings.signs import SignChange, Signs
from bodymap.terms import Side


def _case(*signs: dict[str, object]) -> bytes:
    return json.dumps({"format": "bodymap-case", "version": 1, "signs": list(signs)}).encode()


def test_last_answer_counts_and_both_sides_are_two() -> None:
    signs = Signs().noted("knee-reflex", Side.BOTH, SignChange.NORMAL)
    signs = signs.noted("knee-reflex", Side.LEFT, SignChange.ABSENT)
    assert dict(signs.found) == {
        ("knee-reflex", Side.LEFT): SignChange.ABSENT,
        ("knee-reflex", Side.RIGHT): SignChange.NORMAL,
    }
    assert not signs.noted("knee-reflex", Side.BOTH, None)
    assert signs.mirrored().found["knee-reflex", Side.RIGHT] is SignChange.ABSENT


def test_signs_survive_the_file_with_fields_that_are_not_known(atlas: Atlas) -> None:
    kept = {"sign": "triceps", "side": "left", "change": "weak", "grade": "4"}
    case = parse_case(_case(kept, {"sign": "ankle-reflex", "side": "both", "change": "absent"}),
                      "x", atlas)  # fmt: skip
    assert json.loads(encode_case(case))["signs"][0] == kept
    signs = case.drawing.signs.noted("ankle-reflex", Side.LEFT, SignChange.NORMAL)
    again = parse_case(encode_case(case.with_drawing(case.drawing.with_signs(signs))), "x", atlas)
    assert again.drawing.signs.found == signs.found
    assert dict(again.signs[0]) == kept


BAD_SIGNS: list[tuple[dict[str, object], str, str]] = [
    ({"sign": "tricep", "side": "left", "change": "weak"}, "$.signs[0].sign", "triceps"),
    ({"sign": "triceps", "side": "left", "change": "absent"}, "$.signs[0].change", "weak"),
    ({"sign": "triceps", "side": "middle", "change": "weak"}, "$.signs[0].side", "left"),
    ({"sign": "triceps", "side": "left", "change": "wek"}, "$.signs[0].change", "weak"),
    ({"sign": "triceps", "side": "left"}, "$.signs[0]", "weak"),
    ({"sign": 3, "side": "left", "change": "weak"}, "$.signs[0].sign", "text"),
]  # fmt: skip


@pytest.mark.parametrize(("sign", "place", "mend"), BAD_SIGNS)
def test_a_wrong_sign_gets_one_sentence(
    atlas: Atlas, sign: dict[str, object], place: str, mend: str
) -> None:
    with pytest.raises(CaseError) as told:
        parse_case(_case(sign), "x", atlas)
    sentence = str(told.value)
    assert place in sentence
    assert mend in sentence
    assert "\n" not in sentence


def test_site_signs_agree_with_the_myotomes(atlas: Atlas) -> None:
    """Every muscle that a site weakens hangs on a nerve at or below the site's nerve, or is
    supplied by roots of the plexus part (nerves.csv and myotomes.csv: MRC 2010, from
    memory)."""
    from bodymap.atlas.nerve_tree import FibrePaths

    facts = atlas.facts
    paths = FibrePaths(facts)
    checked = 0
    for (site_id, sign_id), expect in facts.site_signs.items():
        assert site_id in facts.lesion_sites
        sign = facts.signs[sign_id]
        assert expect in ("changed", "variable", "normal")
        nerve = facts.lesion_sites[site_id].nerve
        if expect == "changed" and sign.kind == "muscle" and nerve and sign.nerves:
            assert set(sign.nerves) & set(paths.below(nerve)), (site_id, sign_id)
            checked += 1
    assert checked > 50
