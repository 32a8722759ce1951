"""What changed between two visits, in sentences."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from bodymap.atlas import Atlas
from bodymap.examination.answers_moved import (
    NOWHERE,
    FirstFelt,
    LevelMoved,
    Moved,
    RecordsMoved,
)
from bodymap.examination.answers_said import Place
from bodymap.findings.progress import Degree, Examined, Progress
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import site
from bodymap.report.course_marks import area, measured
from bodymap.report.note_method import because

MOST_TOLD = 12
"""Answers that are told one by one; the JSON has all."""

NAMES = {
    "light_touch": "light touch", "pinprick": "pinprick", "motor": "key muscle",
    "temperature": "temperature", "vibration": "vibration", "joint_position": "joint position",
    "monofilament": "10 g filament", "two_point": "two points", "romberg": "Romberg",
    "deep_anal_pressure": "deep anal pressure",
    "voluntary_anal_contraction": "voluntary anal contraction",
    "neurological_level": "Neurological level of injury",
}  # fmt: skip


def skin_sentences(skin: Iterable[Progress]) -> Iterator[str]:
    """One sentence for each modality, and one for each change of degree."""
    for p in skin:
        if p.modality is None:
            continue
        name = p.modality.label
        if p.examined is Examined.THEN:
            yield f"{name} was not examined again ({area(p.then.cm2)} altered then)."
        elif p.examined is Examined.NOW:
            yield f"{name} was not examined before ({area(p.now.cm2)} altered now)."
        elif not p.then and not p.now:
            yield f"{name}: no altered skin drawn at either visit."
        elif p.same:
            yield (
                f"{name}: exactly the skin drawn then, {measured(p.now)}: "
                f"taken over, or found the same."
            )
        else:
            yield f"{name}: {_course(p)}."
        for degree in p.degrees:
            yield _degree(name, degree)


def _course(p: Progress) -> str:
    parts = []
    if p.new:
        parts.append(f"{_percented(measured(p.new))} newly altered")
    if p.gone:
        normal = area(p.gone_normal.cm2)
        marked = f", {normal} of it found normal" if p.gone_normal else ", none of it marked normal"
        parts.append(f"{_percented(measured(p.gone))} no longer altered{marked}")
    if p.unchanged:
        parts.append(f"{_percented(measured(p.unchanged))} altered as before")
    if p.not_again:
        parts.append(f"{_percented(measured(p.not_again))} altered then, not examined again")
    if p.not_before:
        parts.append(f"{_percented(measured(p.not_before))} altered now, not examined before")
    return "; ".join(parts)


def _percented(words: str) -> str:
    return words.replace(" %)", " % of body surface)")


def _degree(name: str, degree: Degree) -> str:
    way = {True: "deeper", False: "milder", None: ""}[degree.deeper]
    return (
        f"{name}: {degree.then} then, {degree.now} now on {area(degree.skin.cm2)}"
        f"{f' ({way} loss)' if way else ''}."
    )


def sign_sentences(atlas: Atlas, signs: Iterable[Moved]) -> Iterator[str]:
    """Muscles and reflexes that are others now."""
    told = [
        f"{atlas.facts.signs[m.where.place].label} {_sides(sides)} {m.then}, now {m.now}"
        for m, sides in _of_both_sides(signs, lambda m: m.where.side)
    ]
    if told:
        yield f"muscles and reflexes: {'; '.join(told)}."


def record_sentences(found: RecordsMoved, record: BedsideRecord) -> Iterator[str]:
    """Answers, ladders, levels and scale. The ``record`` of now says why something could
    not be tested."""
    if found.both:
        yield _answers(found)
    if found.untestable:
        yield _untestable(found.untestable, record)
    for felt, sides in _of_both_sides(found.first_felt, lambda f: f.side):
        yield _first_felt(felt, sides)
    for level, sides in _of_both_sides(found.levels, lambda m: m.side):
        yield _level(level, sides)
    if found.scale is not None:
        then, now = found.scale
        yield (
            f"impairment scale: {then} then and now."
            if then == now
            else (f"impairment scale: {then} then, {now} now.")
        )


Told = TypeVar("Told", Moved, FirstFelt, LevelMoved)


def _of_both_sides(
    found: Iterable[Told], side_of: Callable[[Told], str]
) -> list[tuple[Told, list[str]]]:
    """What is told, with its sides: what is alike on both is told once."""
    grouped: list[tuple[Told, list[str]]] = []
    for one in found:
        for other, sides in grouped:
            if side_of(one) and _sideless(one) == _sideless(other):
                sides.append(side_of(one))
                break
        else:
            grouped.append((one, [side_of(one)]))
    return grouped


def _sideless(told: Moved | FirstFelt | LevelMoved) -> Moved | FirstFelt | LevelMoved:
    if isinstance(told, Moved):
        return replace(told, where=told.where._replace(side=""))
    return replace(told, side="")


def _sides(sides: Sequence[str]) -> str:
    return "on both sides" if len(sides) > 1 else sides[0]


def _answers(found: RecordsMoved) -> str:
    again = f"; {found.not_again} were not asked again" if found.not_again else ""
    asked = f"of {found.both} answers given at both visits"
    if not found.answers:
        return f"{asked}, none changed{again}."
    grouped = _of_both_sides(found.answers, lambda m: m.where.side)
    told = [_answer(m, sides) for m, sides in grouped[:MOST_TOLD]]
    more = sum(len(sides) for _, sides in grouped[MOST_TOLD:])
    rest = f" and {more} more" if more else ""
    return f"{asked}, {len(found.answers)} changed{again}: {'; '.join(told)}{rest}."


def _answer(moved: Moved, sides: Sequence[str]) -> str:
    return f"{_named(moved.where, sides)} {moved.then}, now {moved.now}"


def _named(place: Place, sides: Sequence[str]) -> str:
    """The part, the place and its sides."""
    known = site(place.part.replace("_", "-"), place.place)
    where = known.label if known else place.place
    return " ".join(word for word in (NAMES[place.part], where, _sides(sides)) if word)


def _untestable(places: Sequence[Place], now: BedsideRecord) -> str:
    """What could not be tested now, each with its reason."""
    told: dict[tuple[Place, str], list[str]] = {}
    for place in places:
        key = place._replace(side=""), because(now, *place)
        told.setdefault(key, []).append(place.side)
    words = [f"{_named(place, sides)}{why}" for (place, why), sides in told.items()]
    more = len(words) - MOST_TOLD
    rest = f" and {more} more" if more > 0 else ""
    return f"could not be tested now: {'; '.join(words[:MOST_TOLD])}{rest}."


def _first_felt(felt: FirstFelt, sides: Sequence[str]) -> str:
    then, now = (_place(felt.part, p) for p in (felt.then, felt.now))
    limb = f"both {felt.limb}s" if len(sides) > 1 else f"{felt.side} {felt.limb}"
    head = f"{NAMES[felt.part]}, {limb}: first felt"
    if felt.places == 0:
        return f"{head} {then} then and now."
    way = "nearer the trunk" if felt.places > 0 else "farther out"
    count = abs(felt.places)
    return f"{head} {then} then, {now} now, {count} place{'s' if count > 1 else ''} {way}."


def _place(part: str, id_: str) -> str:
    known = site(part.replace("_", "-"), id_)
    return NOWHERE if id_ == NOWHERE or known is None else f"at the {known.label}"


def _level(level: LevelMoved, sides: Sequence[str]) -> str:
    name = NAMES[level.what]
    what = f"sensory level for {name}, {_sides(sides)}" if level.side else name
    if level.down == 0:
        return f"{what}: {level.then} then and now."
    way = "down" if level.down > 0 else "up"
    count = abs(level.down)
    moved = f", {count} segment{'s' if count > 1 else ''} {way}" if level.counted else f", {way}"
    return f"{what}: {level.then} then, {level.now} now{moved}."
