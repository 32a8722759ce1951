"""A sitting with a simulated patient: honest answers, a hidden truth, a debrief by hand."""

import math

import numpy as np
import pytest

from bodymap.atlas import Atlas
from bodymap.errors import RequestError
from bodymap.findings.drawing import Drawing
from bodymap.findings.signs import SignChange
from bodymap.localise.evidence import Evidence
from bodymap.localise.ranking import Scales
from bodymap.practice.debrief import Debrief, debriefed
from bodymap.practice.hidden_patients import Difficulty
from bodymap.practice.information import Known, Question
from bodymap.practice.sitting import Practice, Sitting, Verdict
from bodymap.practice.textbook import complained
from bodymap.practice.words import (
    efficiency_told,
    judged,
    missed_told,
    path_told,
    support_told,
    truth_told,
)
from bodymap.simulation.lesions import Lesion
from bodymap.terms import Change, Modality, Side, View

PIN, COTTON, FORK = Modality.PINPRICK, Modality.LIGHT_TOUCH, Modality.VIBRATION
CARPAL = Lesion("median-wrist", Side.RIGHT)


@pytest.fixture(scope="module")
def practice(atlas: Atlas) -> Practice:
    return Practice(Scales(atlas))


def _sitting(practice: Practice, id_: str = "median-wrist", side: Side = Side.RIGHT) -> Sitting:
    return Sitting(practice, Difficulty.WHOLE, 1, Lesion(id_, side))


# The patient


@pytest.mark.parametrize("difficulty", Difficulty)
def test_same_seed_same_patient_and_same_answers(
    practice: Practice, difficulty: Difficulty
) -> None:
    def one(seed: int) -> tuple[object, ...]:
        sitting = Sitting(practice, difficulty, seed)
        said = [
            sitting.touch(r, Side.LEFT, PIN) for r in ("thumb-palmar", "sole-medial", "sole-heel")
        ]
        sitting.give_up()
        hidden = sitting.truth
        return sitting.complaint, said, hidden.lesion, hidden.patient.truth.tobytes()

    assert one(4) == one(4)
    assert len({one(seed)[2] for seed in range(12)}) > 6


@pytest.mark.parametrize(
    ("id_", "side"),
    [
        ("median-wrist", Side.RIGHT), ("ulnar-elbow", Side.LEFT), ("root-c6", Side.LEFT),
        ("root-t10", Side.RIGHT), ("common-fibular-neck", Side.RIGHT), ("cauda-whole", Side.BOTH),
    ],
)  # fmt: skip
def test_whole_loss_is_felt_all_over_its_territory_and_nowhere_else(
    practice: Practice, id_: str, side: Side
) -> None:
    """Against the drawn territory of the atlas, spot by spot, without the two borders
    where a spot is half inside."""
    sitting = _sitting(practice, id_, side)
    cells = practice.scales.atlas.cells
    extent = practice.scales.atlas.territory(id_, side).extent
    touched = 0
    for id_of_spot, half in practice.textbook.clinic.spots:
        mask = practice.scales.atlas.cells_of_region(id_of_spot, half)
        share = float((cells.area_cm2 * (mask & extent)).sum() / cells.area_cm2[mask].sum())
        if 0.35 < share < 0.65:
            continue
        bedside = sitting._bedside  # Touching by the sitting would also weigh every touch.
        assert bedside.is_altered(id_of_spot, half, 0) is (share > 0.5), (id_of_spot, half)
        touched += share > 0.5
    assert touched >= 1


def test_touches_are_answered_in_order_and_drawn(practice: Practice) -> None:
    sitting = _sitting(practice)
    assert sitting.touch("index-palmar", Side.RIGHT, PIN) is Change.REDUCED
    assert sitting.touch("index-palmar", Side.LEFT, PIN) is Change.NORMAL
    assert sitting.touch("little-palmar", Side.RIGHT, COTTON) is Change.NORMAL
    assert [s.order for s in sitting.steps] == [1, 2, 3]
    assert [s.answer for s in sitting.steps] == ["reduced", "normal", "normal"]
    drawing = sitting.drawing
    assert drawing.layer(PIN, Change.REDUCED).regions == {("index-palmar", Side.RIGHT)}
    assert drawing.layer(PIN, Change.NORMAL).regions == {("index-palmar", Side.LEFT)}
    assert drawing.layer(COTTON, Change.NORMAL).regions == {("little-palmar", Side.RIGHT)}


def test_a_place_on_the_figure_can_be_touched(practice: Practice) -> None:
    atlas = practice.scales.atlas
    cell = np.flatnonzero(atlas.cells_of_region("index-palmar", Side.RIGHT))[0]
    point = atlas.cells.polygons[cell].representative_point()
    place = atlas.place(View.FRONT, point.x, point.y)
    assert place is not None
    sitting = _sitting(practice)
    assert sitting.touch(place, place.side, PIN) is Change.REDUCED


def test_signs_of_a_whole_lesion_are_the_textbook_ones(practice: Practice) -> None:
    """A carpal tunnel weakens the abductor pollicis brevis and not the triceps (site-signs)."""
    sitting = _sitting(practice)
    assert sitting.test_sign("abductor-pollicis-brevis", Side.RIGHT) is SignChange.WEAK
    assert sitting.test_sign("abductor-pollicis-brevis", Side.LEFT) is SignChange.NORMAL
    assert sitting.test_sign("triceps", Side.RIGHT) is SignChange.NORMAL
    assert len(sitting.drawing.signs.found) == 3


def test_partial_loss_is_part_of_the_textbook_skin_and_never_answers_wrongly(
    practice: Practice,
) -> None:
    book = practice.textbook
    for seed in range(6):
        sitting = Sitting(practice, Difficulty.PARTIAL, seed, Lesion("ulnar-elbow", Side.LEFT))
        bedside = sitting._bedside
        sitting.give_up()
        hidden = sitting.truth
        truth = hidden.patient.truth
        whole = book.spots(book.skin(hidden.number))
        assert 0 < (truth & whole)[0].sum() < whole[0].sum()
        for at, (id_, side) in enumerate(book.clinic.spots):
            assert bedside.is_altered(id_, side, 0) is bool(truth[0, at])


def test_noisy_patients_are_sometimes_wrong(practice: Practice) -> None:
    """Two of three applications err: 3 e^2 - 2 e^3 = 0.05 for e = 0.136."""
    wrong = []
    for seed in range(8):
        sitting = Sitting(practice, Difficulty.NOISY, seed, CARPAL)
        truth = sitting._hidden.patient.truth
        for at, (id_, side) in enumerate(practice.textbook.clinic.spots):
            wrong.append(sitting._bedside.is_altered(id_, side, 0) != truth[0, at])
    assert 0.03 < float(np.mean(wrong)) < 0.08


def test_complaint_is_where_the_loss_is(practice: Practice) -> None:
    assert _sitting(practice).complaint == "It feels wrong in my right hand."
    for seed in range(15):
        sitting = Sitting(practice, Difficulty.WHOLE, seed)
        part, side = sitting.complaint_at
        sitting.give_up()
        book, truth = practice.textbook, sitting.truth.patient.truth.any(axis=0)
        here = [
            s for n, (_, s) in enumerate(book.clinic.spots)
            if truth[n] and book.part_of_spot[n] == part
        ]  # fmt: skip
        assert set(here) == ({Side.LEFT, Side.RIGHT} if side is Side.BOTH else {side})


def test_complaints_read_as_english() -> None:
    assert complained("foot", Side.BOTH) == "It feels wrong in both feet."
    assert complained("trunk", Side.LEFT) == "It feels wrong on the left side of my trunk."
    assert complained("buttocks", Side.RIGHT) == "It feels wrong in my right buttock."


# Before and after the name


def test_truth_is_never_told_before_a_name(practice: Practice) -> None:
    sitting = _sitting(practice)
    sitting.touch("index-palmar", Side.RIGHT, PIN)
    for tell in (lambda: sitting.truth, lambda: debriefed(sitting)):
        with pytest.raises(RequestError, match="once a lesion was named"):
            tell()
    public = [sitting.complaint, repr(sitting), *map(repr, sitting.steps), repr(sitting.drawing)]
    assert not any("median" in words.lower() or "carpal" in words.lower() for words in public)
    sitting.give_up()
    assert sitting.truth.lesion == CARPAL


def test_nothing_is_answered_after_the_end(practice: Practice) -> None:
    sitting = _sitting(practice)
    sitting.give_up()
    with pytest.raises(RequestError, match="over"):
        sitting.touch("index-palmar", Side.RIGHT, PIN)
    with pytest.raises(RequestError, match="over"):
        sitting.test_sign("triceps", Side.RIGHT)
    with pytest.raises(RequestError, match="over"):
        sitting.name("median-wrist", Side.RIGHT)


def test_bad_requests_are_told_and_change_nothing(practice: Practice) -> None:
    sitting = _sitting(practice)
    with pytest.raises(RequestError, match="did you mean"):
        sitting.touch("index-palmer", Side.RIGHT, PIN)
    with pytest.raises(RequestError, match="one side"):
        sitting.touch("index-palmar", Side.BOTH, PIN)
    with pytest.raises(RequestError, match="no muscle or reflex"):
        sitting.test_sign("trapezoid", Side.RIGHT)
    with pytest.raises(RequestError, match="no lesion"):
        sitting.name("median-moon", Side.RIGHT)
    assert not sitting.steps
    assert not sitting.drawing
    assert not sitting.over


@pytest.mark.parametrize(
    ("truth", "named", "side", "verdict", "words"),
    [
        ("median-wrist", "median-wrist", Side.RIGHT, Verdict.RIGHT, "Right: "),
        # The median nerve at the elbow and above it take the same skin (README).
        ("median-elbow", "median-arm", Side.RIGHT, Verdict.RIGHT_SKIN, "Right skin"),
        ("median-wrist", "median-wrist", Side.LEFT, Verdict.WRONG, "wrong side"),
        ("median-wrist", "root-s1", Side.RIGHT, Verdict.WRONG, "other skin"),
        ("roots-c6-c7", "roots-c6-c8", Side.RIGHT, Verdict.NEIGHBOURHOOD, "neighbourhood"),
    ],
)
def test_verdicts(
    practice: Practice, truth: str, named: str, side: Side, verdict: Verdict, words: str
) -> None:
    sitting = _sitting(practice, truth)
    assert sitting.name(named, side) is verdict
    assert sitting.verdict is verdict
    assert words in judged(practice.textbook, debriefed(sitting))


def test_pathways_count_for_the_skin(practice: Practice) -> None:
    """Front and back of the cord take the same dermatomes, but not in the same modality."""
    front = practice.textbook.number("cord-anterior-t6", Side.BOTH)
    back = practice.textbook.number("cord-posterior-t6", Side.BOTH)
    assert practice.textbook.common(front, back) < 0.1
    assert practice.textbook.common(front, front) == 1.0


# The debrief


def test_gain_by_hand(practice: Practice) -> None:
    """Two lesions alike, one touch altered in 0.9 of one and 0.1 of the other:
    1 - H(0.9) = 1 - 0.469 = 0.531 bits; a touch of 0.7 and 0.5 tells 0.030."""
    information = practice.information
    spots = practice.textbook.clinic.spots
    chances = np.full((2, len(information.questions)), 0.5)
    at, poor = spots.index(("thumb-palmar", Side.RIGHT)), spots.index(("sole-heel", Side.LEFT))
    chances[:, at], chances[:, poor] = (0.9, 0.1), (0.7, 0.5)
    tested = np.zeros((3, len(spots)))
    noted = np.zeros(len(practice.scales.sign_chances.keys), dtype=bool)
    known = Known(np.array([0, 1]), np.array([0.5, 0.5]), chances, tested, noted, 1.0)
    h = -0.9 * math.log2(0.9) - 0.1 * math.log2(0.1)
    good = information.gain(known, Question(Side.RIGHT, "thumb-palmar", PIN))
    assert good == pytest.approx(1 - h)
    assert good == pytest.approx(0.531, abs=0.001)
    weak = information.gain(known, Question(Side.LEFT, "sole-heel", PIN))
    assert weak == pytest.approx(0.030, abs=0.001)
    best = information.best(known)
    assert best is not None
    assert (best.region, best.side, best.modality) == ("thumb-palmar", Side.RIGHT, PIN)
    # Tested skin tells nothing more with another pin, and less with cotton.
    tested[0, at] = 1.0
    assert information.gain(known, Question(Side.RIGHT, "thumb-palmar", PIN)) == 0.0
    best = information.best(known)
    assert best is not None
    assert best.region == "sole-heel"
    assert information.best(known, signs=True) is None


def test_chances_are_those_of_the_likelihood(practice: Practice) -> None:
    """All lesions at once, against ``Likelihoods.chances`` one by one."""
    scales, information = practice.scales, practice.information
    drawing = Drawing().with_region(
        scales.atlas, PIN, Change.REDUCED, "index-palmar", Side.RIGHT
    )  # fmt: skip
    posterior = scales.posterior(Evidence.of(scales.catalogue.spots, drawing), drawing.signs)
    some = np.arange(0, scales.catalogue.named, 53)
    ours = information._chances(posterior, some)
    for row, number in enumerate(some.tolist()):
        cells = scales.likelihoods.chances(number, posterior.columns, posterior.sums)
        assert ours[row] == pytest.approx((cells @ information._mean).ravel(), abs=1e-5)


def test_touches_where_the_complaint_is_tell_more(practice: Practice) -> None:
    sitting = _sitting(practice)
    sitting.touch("index-palmar", Side.RIGHT, PIN)
    sitting.touch("sole-heel", Side.LEFT, PIN)
    sitting.touch("index-palmar", Side.RIGHT, PIN)
    near, far, again = (s.question.bits for s in sitting.steps)
    assert near > 5 * far
    assert again == 0.0
    assert all(s.best_bits >= s.question.bits for s in sitting.steps)


def test_debrief_adds_up(practice: Practice) -> None:
    sitting = _sitting(practice)
    for region in ("thumb-palmar", "little-palmar", "index-palmar"):
        sitting.touch(region, Side.RIGHT, PIN)
    sitting.test_sign("triceps", Side.RIGHT)
    sitting.name("root-c6", Side.RIGHT)
    debrief = debriefed(sitting)
    assert debrief.gained_bits == pytest.approx(sum(s.question.bits for s in sitting.steps))
    assert 0 < debrief.gained_bits < debrief.best_bits
    assert debrief.efficiency == pytest.approx(debrief.gained_bits / debrief.best_bits)
    ranking = practice.scales.rank_drawing(sitting.drawing)
    mine = next(c for c in ranking.candidates if c.parts == (("median-wrist", Side.RIGHT),))
    assert (debrief.support, debrief.place) == (mine.support, mine.place)
    # What was missed parts the truth from what was named, and was not yet asked.
    assert 1 <= len(debrief.missed) <= 4
    regions = {m.question.region for m in debrief.missed}
    assert not regions & {"thumb-palmar", "little-palmar", "index-palmar"}
    signs = {m.question.sign: m.answer for m in debrief.missed if m.question.sign}
    assert signs == {"abductor-pollicis-brevis": SignChange.WEAK}
    assert ("index-palmar", Side.RIGHT) in debrief.lost
    assert debrief.outside == 0.0


def test_first_touch_of_the_best_path_is_the_best_question(practice: Practice) -> None:
    sitting = _sitting(practice)
    sitting.touch("sole-heel", Side.LEFT, PIN)
    sitting.give_up()
    debrief = debriefed(sitting)
    assert debrief.best_bits == pytest.approx(sitting.steps[0].best_bits)


def test_asking_the_best_each_time_is_fully_efficient(practice: Practice) -> None:
    sitting = _sitting(practice, "ulnar-elbow")
    for _ in range(4):
        known = practice.information.known(sitting.drawing, sitting.complaint_at)
        best = practice.information.best(known)
        assert best is not None
        assert best.region is not None
        assert best.modality is not None
        sitting.touch(best.region, best.side, best.modality)
    sitting.name("ulnar-elbow", Side.RIGHT)
    debrief = debriefed(sitting)
    assert debrief.efficiency == pytest.approx(1.0)
    assert debrief.missed == ()


def test_efficiency_by_hand() -> None:
    made = Debrief(0, None, None, (), 0.3, 0.6, 1.0, None, (), 0.0, None, "", (), 0.0)
    assert made.efficiency == pytest.approx(0.5)
    none = Debrief(0, None, None, (), 0.0, 0.0, 1.0, None, (), 0.0, None, "", (), 0.0)
    assert none.efficiency == 1.0


def test_debrief_without_any_touch(practice: Practice) -> None:
    sitting = _sitting(practice)
    sitting.give_up()
    debrief = debriefed(sitting)
    assert efficiency_told(debrief) == "Nothing was touched."
    assert "nothing is ranked" in support_told(debrief)
    assert judged(practice.textbook, debrief) == (
        "The lesion was: Median nerve at the carpal tunnel, right."
    )


def test_mirrored_lesions_answer_alike(practice: Practice) -> None:
    """The same touches on the other side: the same answers and the same bits."""
    told = []
    for side in (Side.LEFT, Side.RIGHT):
        sitting = _sitting(practice, "root-l5", side)
        for region in ("great-toe-dorsal", "sole-heel", "sole-medial"):
            sitting.touch(region, side, PIN)
            sitting.touch(region, side.opposite, FORK)
        sitting.name("root-l4", side)
        debrief = debriefed(sitting)
        told.append((
            [(s.answer, round(s.question.bits, 6), round(s.best_bits, 6)) for s in sitting.steps],
            sitting.verdict, round(debrief.best_bits, 6), round(debrief.support, 6),
            sorted(id_ for id_, _ in debrief.lost),
        ))  # fmt: skip
    assert told[0] == told[1]


def test_words_of_every_difficulty(practice: Practice) -> None:
    """Nothing breaks and nothing is empty, whoever comes."""
    for seed in range(5):
        for difficulty in Difficulty:
            sitting = Sitting(practice, difficulty, seed)
            side = Side.LEFT if sitting.complaint_at[1] is Side.LEFT else Side.RIGHT
            sitting.touch("index-palmar", side, PIN)
            sitting.touch("chest-middle-flank", side, COTTON)
            sitting.touch("great-toe-dorsal", side, FORK)
            if seed % 2:
                sitting.give_up()
            else:
                sitting.name("root-c6", side)
            debrief = debriefed(sitting)
            said = [
                judged(practice.textbook, debrief), efficiency_told(debrief),
                support_told(debrief), *truth_told(sitting, debrief),
                *path_told(sitting, debrief), *missed_told(sitting, debrief),
            ]  # fmt: skip
            assert all(words.endswith((".", ")")) for words in said), said
            assert len(truth_told(sitting, debrief)) >= 1
