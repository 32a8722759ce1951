"""Clinical pictures from handbooks and papers, each with its source in the data.

The pictures were written from the literature by someone who did not see the ranking
at work (``clinical_pictures.json``; the weights were chosen with these in view). A
second set (``held_out_pictures.json``) was written when the weights were chosen; after
it was tried, only the charge for a second lesion and the noise far from a lesion were
touched again, which changed the result of none of its pictures.
The shares asked for are those a careful
clinician would ask of an aid: 95 % of whole territories first, 80 % of partial ones
(95 % among the first three), 85 % where one spot decides, nine in ten drawings without
a lesion told as such.
"""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from bodymap.atlas import Atlas
from bodymap.findings.case_file import parse_case
from bodymap.localise.ranking import Ranking, Scales, Verdict
from bodymap.terms import Side

HERE = Path(__file__).parent
PICTURES: list[dict[str, Any]] = json.loads((HERE / "clinical_pictures.json").read_bytes())
HELD_OUT: list[dict[str, Any]] = json.loads((HERE / "held_out_pictures.json").read_bytes())


def ranked(atlas: Atlas, scales: Scales, picture: dict[str, Any]) -> Ranking:
    """The ranking of a picture, read as a case file is read."""
    case = {"format": "bodymap-case", "version": 1} | {
        key: picture[key] for key in ("findings", "tested_normal") if picture.get(key)
    }
    return scales.rank_drawing(parse_case(json.dumps(case).encode(), "picture", atlas).drawing)


def place(ranking: Ranking, picture: dict[str, Any]) -> int:
    """Place of the first accepted answer on the right side; 99 if it is nowhere."""
    found = [
        c.place
        for c in ranking.candidates
        if c.territory.id in picture["answer"] and c.territory.side == picture["side"]
    ]
    return min(found, default=99)


def failures(
    atlas: Atlas, scales: Scales, pictures: list[dict[str, Any]], within: int = 1
) -> list[str]:
    """Names of the pictures whose answer is not among the first ``within``, or that are
    not put forward at all."""
    found = []
    for picture in pictures:
        ranking = ranked(atlas, scales, picture)
        if place(ranking, picture) > within or ranking.verdict is not Verdict.RANKED:
            found.append(picture["name"])
    return found


def of(group: str) -> list[dict[str, Any]]:
    """The pictures of a group."""
    return [p for p in PICTURES if p["group"] == group]


def test_every_picture_names_its_source() -> None:
    assert len(PICTURES) >= 60
    both = [*PICTURES, *HELD_OUT]
    assert len({p["name"] for p in both}) == len(both)
    for picture in both:
        assert picture["source"].strip(), picture["name"]
        assert picture["basis"] in ("checked", "memory"), picture["name"]
        assert bool(picture["answer"]) == (picture["group"] != "none"), picture["name"]


def test_whole_territories_come_first(atlas: Atlas, scales: Scales) -> None:
    wrong = failures(atlas, scales, of("whole"))
    assert len(wrong) <= 0.05 * len(of("whole")), wrong


def test_partial_territories_come_first_or_near(atlas: Atlas, scales: Scales) -> None:
    wrong = failures(atlas, scales, of("partial"))
    assert len(wrong) <= 0.20 * len(of("partial")), wrong
    far = failures(atlas, scales, of("partial"), within=3)
    assert len(far) <= 0.05 * len(of("partial")), far


def test_one_spot_decides(atlas: Atlas, scales: Scales) -> None:
    wrong = failures(atlas, scales, of("discriminating"))
    assert len(wrong) <= 0.15 * len(of("discriminating")), wrong


def test_patterns_of_cord_brain_and_neuropathy(atlas: Atlas, scales: Scales) -> None:
    wrong = failures(atlas, scales, of("pattern"))
    assert len(wrong) <= 0.10 * len(of("pattern")), wrong


def test_drawings_that_follow_no_lesion_are_told_as_such(atlas: Atlas, scales: Scales) -> None:
    """Socks and gloves with a sharp ring, whole limbs, both hands only, scattered patches."""
    none = of("none")
    said = [ranked(atlas, scales, p) for p in none]
    missed = [
        p["name"]
        for p, r in zip(none, said, strict=True)
        if r.verdict is not Verdict.NO_SINGLE_EXPLANATION
    ]
    assert len(missed) <= 0.1 * len(none), missed
    for ranking in said:
        if ranking.verdict is Verdict.NO_SINGLE_EXPLANATION:
            assert "excludes no disease" in ranking.sentence


@pytest.mark.parametrize(
    ("group", "wrong_at_most"),
    [("whole", 0.05), ("partial", 0.20), ("discriminating", 0.15), ("pattern", 0.10)],
)
def test_held_out_pictures(atlas: Atlas, scales: Scales, group: str, wrong_at_most: float) -> None:
    pictures = [p for p in HELD_OUT if p["group"] == group]
    wrong = failures(atlas, scales, pictures)
    assert len(wrong) <= wrong_at_most * len(pictures), wrong


def test_held_out_drawings_without_a_lesion(atlas: Atlas, scales: Scales) -> None:
    none = [p for p in HELD_OUT if p["group"] == "none"]
    said = [ranked(atlas, scales, p).verdict for p in none]
    assert said.count(Verdict.NO_SINGLE_EXPLANATION) >= 0.9 * len(none)


# Pairs, both ways ------------------------------------------------------------------

MAIN = ("core", "usual", "autonomous")


def _skin(atlas: Atlas, site_id: str) -> set[str]:
    """Regions that the tables give to a lesion in a main role."""
    facts = atlas.facts
    site = facts.lesion_sites[site_id]
    if site.kind == "root":
        rows = {r: role for (r, s), role in facts.segment_roles.items() if s in site.segments}
        return {r for r, role in rows.items() if role in MAIN}
    return {r for (r, n), role in facts.nerve_roles.items() if n in site.affected and role in MAIN}


def _pairs() -> list[tuple[str, str, str, tuple[str, ...], tuple[str, ...]]]:
    """(row, lesion a, lesion b, lost in a only, lost in b only), both ways round."""
    found = []
    with (HERE.parents[1] / "assets/anatomy/pairs.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            a, b = (
                tuple(filter(None, row[k].split(";"))) for k in ("lost_in_a_only", "lost_in_b_only")
            )
            found.append((row["id"], row["a"], row["b"], a, b))
            found.append((row["id"], row["b"], row["a"], b, a))
    return found


NO_SPOT = {"pair-11", "pair-38", "pair-67"}
"""Rows of the table that no skin spot separates; muscles must (see the next test)."""

EXAMPLE = {"pair-59"}
"""One of the pair stands for any level; it is ranked as the nerve of its level."""

TOO_ALIKE = {"pair-65", "pair-66"}
"""Skin that both share outweighs the one spot that parts them: T1 against the thoracic
outlet (inner upper arm spared), C8 against the lower trunk (elbow and upper arm spared).
The two stand side by side in the ranking."""


def test_pairs_without_a_spot_are_those_of_the_table() -> None:
    assert {row for row, _, _, a, b in _pairs() if not a and not b} == NO_SPOT


def test_pairs_are_told_apart_both_ways(atlas: Atlas, scales: Scales) -> None:
    """pairs.csv (Stewart 2010; MRC 2010 and others, per row): shared skin and what is lost
    in the one only is altered, what is lost in the other only is tested and normal; the
    one then stands before the other."""
    wrong, tried = set(), 0
    for row, a, b, only_a, only_b in _pairs():
        if row in NO_SPOT | EXAMPLE:
            continue
        altered = (_skin(atlas, a) & _skin(atlas, b)) | set(only_a)
        altered = altered or _skin(atlas, a) - set(only_b)
        picture = {
            "findings": [
                {"modality": "pinprick", "change": "reduced", "side": "right",
                 "regions": sorted(altered)}
            ],
            "tested_normal": [
                {"modality": "pinprick", "side": "right", "regions": sorted(set(only_b) - altered)}
            ] if set(only_b) - altered else [],
        }  # fmt: skip
        ranking = ranked(atlas, scales, picture)
        at = {}
        for candidate in ranking.candidates:
            if candidate.territory.side is not Side.LEFT:
                at.setdefault(candidate.territory.id, candidate.place)
        tried += 1
        if at.get(a, 99) >= at.get(b, 99):
            wrong.add(row)
    assert tried >= 128
    assert wrong <= TOO_ALIKE, wrong


@pytest.mark.parametrize(
    ("sign", "first", "second"),
    [
        # pair-11: the cord spares thumb and index extension, the lower trunk weakens them.
        ("extensor-indicis:right=weak", "lower-trunk", "medial-cord"),
        # pair-38: the lumbosacral trunk weakens inversion, the fibular nerve does not.
        ("tibialis-posterior:right=weak", "lumbosacral-trunk", "common-fibular-neck"),
        # pair-67: the groove weakens wrist extension, a lesion at the wrist does not.
        ("extensor-carpi-radialis-longus:right=weak", "radial-spiral-groove",
         "superficial-radial-wrist"),
    ],
)  # fmt: skip
def test_muscles_part_what_skin_cannot(
    atlas: Atlas, scales: Scales, sign: str, first: str, second: str
) -> None:
    """pairs.csv: Ferrante 1995; Stewart 2010; MRC 2010 (from memory)."""
    from bodymap.findings.signs import SignChange

    name, _, rest = sign.partition(":")
    side, _, change = rest.partition("=")
    picture = {
        "findings": [
            {"modality": "pinprick", "change": "reduced", "side": "right",
             "regions": sorted(_skin(atlas, first) & _skin(atlas, second))}
        ]
    }  # fmt: skip
    case = {"format": "bodymap-case", "version": 1, **picture}
    drawing = parse_case(json.dumps(case).encode(), "picture", atlas).drawing
    signs = drawing.signs.noted(name, Side(side), SignChange(change))
    at = {}
    for c in scales.rank_drawing(drawing.with_signs(signs)).candidates:
        at.setdefault(c.territory.id, c.place)
    assert at[first] < at[second]
