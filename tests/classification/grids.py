"""Records for the tests: written short, and drawn at random near a lesion."""

from random import Random

from bodymap.classification.scores import (
    KEY_MUSCLES,
    PLACE,
    POINTS,
    HalfRecord,
    NonKey,
    Record,
    Score,
)


def score(word: str) -> Score:
    """A score as it is written: "1", "NT", "NT*"."""
    plain = word.removesuffix("*")
    return Score(None if plain == "NT" else int(plain), word.endswith("*"))


def run(text: str) -> tuple[Score, ...]:
    """Scores of C2 to S4-5 from runs: "2:T4 1:C8 0"; each run ends at its segment."""
    found: list[Score] = []
    for part in text.split():
        word, _, last = part.partition(":")
        count = POINTS.index(last or POINTS[-1]) + 1 - len(found)
        found += [score(word)] * count
    assert len(found) == len(POINTS)
    return tuple(found)


def half(
    touch: str, pin: str | None = None, motor: str = "55555 55555", non_key: str = "", **put: str
) -> HalfRecord:
    """A side: two modalities in runs, ten grades; then single scores as LT_T2="NT",
    PP_C6="NT*", M_C6="3*"."""
    grades = tuple(Score(int(g)) for g in motor.replace(" ", ""))
    made = HalfRecord(
        run(touch),
        run(touch if pin is None else pin),
        grades,
        NonKey(PLACE[non_key]) if non_key else NonKey(),
    )
    parts = {"LT": ("light_touch", POINTS), "PP": ("pinprick", POINTS), "M": ("motor", KEY_MUSCLES)}
    for name, word in put.items():
        kind, _, segment = name.partition("_")
        part, segments = parts[kind]
        made = made.with_score(part, segments.index(segment.replace("S45", "S4-5")), score(word))
    return made


def record(
    right: HalfRecord,
    left: HalfRecord | None = None,
    anal: tuple[bool | None, bool | None] = (False, False),
    injury: bool = True,
) -> Record:
    """A record; ``anal`` is deep anal pressure and voluntary anal contraction."""
    return Record(right, left or right, *anal, cord_injury=injury)


def random_record(chance: Random, untested: int, starred: float) -> Record:
    """A record with a lesion at random on each side, ``untested`` points at most, and a
    share of its abnormal scores starred."""
    sides = [_random_half(chance, starred) for _ in range(2)]
    if chance.random() < 0.15:
        sides[1] = sides[0]
    anal: list[bool | None] = [chance.random() < 0.3, chance.random() < 0.25]
    for _ in range(untested):
        where = chance.random()
        if where < 0.12:
            anal[chance.randrange(2)] = None
            continue
        side = chance.randrange(2)
        if where < 0.15:
            sides[side] = HalfRecord(
                sides[side].light_touch,
                sides[side].pinprick,
                sides[side].motor,
                NonKey(tested=False),
            )
            continue
        part = chance.choice(("light_touch", "pinprick", "motor"))
        size = len(getattr(sides[side], part))
        place = size - 1 if chance.random() < 0.2 else chance.randrange(size)
        star = chance.random() < starred
        sides[side] = sides[side].with_score(part, place, Score(None, star))
    return Record(sides[0], sides[1], *anal, cord_injury=chance.random() < 0.9)


def _random_half(chance: Random, starred: float) -> HalfRecord:
    lesion = chance.choice((*range(len(POINTS) + 1), len(POINTS)))
    below = chance.choice(((0,), (0,), (0, 0, 0, 1), (0, 0, 1), (0, 1, 2), (1,), (2,)))
    slip = chance.choice((0, 0.03, 0.15))

    def sensation(place: int) -> Score:
        value = 2 if place < lesion else chance.choice(below)
        if chance.random() < slip:
            value = chance.randrange(3)
        return Score(value, value < 2 and chance.random() < starred)

    grades = chance.choice(((0,), (0, 0, 1), (0, 1, 2, 3), (1, 2, 3), (5,), (0, 5)))
    shift = chance.choice((0, 0, 0, 1, 2, 12))

    def muscle(name: str) -> Score:
        value = 5 if PLACE[name] - 1 < lesion + shift else chance.choice(grades)
        if chance.random() < slip:
            value = chance.randrange(6)
        return Score(value, value < 5 and chance.random() < starred)

    touch = tuple(sensation(place) for place in range(len(POINTS)))
    pin = tuple(sensation(place) for place in range(len(POINTS)))
    if chance.random() < 0.3:
        pin = touch
    motor = tuple(muscle(name) for name in KEY_MUSCLES)
    other = NonKey(PLACE[chance.choice(KEY_MUSCLES)]) if chance.random() < 0.2 else NonKey()
    return HalfRecord(touch, pin, motor, other)
