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
from bodymap.language import Phrase, later, tr, trn
from bodymap.report.course_marks import area, measured
from bodymap.report.note_method import because

MOST_TOLD = 12
"""Answers that are told one by one; the JSON has all."""

NAMES = {
    "light_touch": later("light touch"),
    "pinprick": later("pinprick"),
    "motor": later("key muscle"),
    "temperature": later("temperature"),
    "vibration": later("vibration"),
    "joint_position": later("joint position"),
    "monofilament": later("10 g filament"),
    "two_point": later("two points"),
    "romberg": later("Romberg"),
    "deep_anal_pressure": later("deep anal pressure"),
    "voluntary_anal_contraction": later("voluntary anal contraction"),
    "neurological_level": later("Neurological level of injury"),
}


def skin_sentences(skin: Iterable[Progress]) -> Iterator[str]:
    """One sentence for each modality, and one for each change of degree."""
    for p in skin:
        if p.modality is None:
            continue
        name = p.modality.label
        if p.examined is Examined.THEN:
            yield tr(
                "{modality} was not examined again ({area} altered then).",
                modality=name, area=area(p.then.cm2),
            )  # fmt: skip
        elif p.examined is Examined.NOW:
            yield tr(
                "{modality} was not examined before ({area} altered now).",
                modality=name, area=area(p.now.cm2),
            )  # fmt: skip
        elif not p.then and not p.now:
            yield tr("{modality}: no altered skin drawn at either visit.", modality=name)
        elif p.same:
            yield tr(
                "{modality}: exactly the skin drawn then, {area}: taken over, or found the same.",
                modality=name, area=measured(p.now),
            )  # fmt: skip
        else:
            yield f"{name}: {_course(p)}."
        for degree in p.degrees:
            yield _degree(name, degree)


def _course(p: Progress) -> str:
    parts = []
    if p.new:
        parts.append(tr("{area} newly altered", area=_percented(measured(p.new))))
    if p.gone:
        normal = area(p.gone_normal.cm2)
        marked = tr(", none of it marked normal")
        if p.gone_normal:
            marked = tr(", {area} of it found normal", area=normal)
        gone = _percented(measured(p.gone))
        parts.append(tr("{area} no longer altered{marked}", area=gone, marked=marked))
    if p.unchanged:
        parts.append(tr("{area} altered as before", area=_percented(measured(p.unchanged))))
    if p.not_again:
        area_then = _percented(measured(p.not_again))
        parts.append(tr("{area} altered then, not examined again", area=area_then))
    if p.not_before:
        area_now = _percented(measured(p.not_before))
        parts.append(tr("{area} altered now, not examined before", area=area_now))
    return "; ".join(parts)


def _percented(words: str) -> str:
    return words.replace(" %)", " % " + tr("of body surface") + ")")


def _degree(name: str, degree: Degree) -> str:
    way = {True: tr(" (deeper loss)"), False: tr(" (milder loss)"), None: ""}[degree.deeper]
    return tr(
        "{modality}: {then} then, {now} now on {area}{way}.",
        modality=name, then=degree.then.word, now=degree.now.word,
        area=area(degree.skin.cm2), way=way,
    )  # fmt: skip


def sign_sentences(atlas: Atlas, signs: Iterable[Moved]) -> Iterator[str]:
    """Muscles and reflexes that are others now."""
    told = [
        tr(
            "{what} {then}, now {now}",
            what=f"{atlas.facts.signs[m.where.place].label} {_sides(sides)}",
            then=_read(m.then),
            now=_read(m.now),
        )
        for m, sides in _of_both_sides(signs, lambda m: m.where.side)
    ]
    if told:
        yield tr("muscles and reflexes: {told}.", told="; ".join(told))


def _read(answer: str) -> str:
    """An answer as it is read; a plain text for a member of an enumeration."""
    return tr(answer if isinstance(answer, Phrase) else str(answer))


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
        if then == now:
            yield tr("impairment scale: {then} then and now.", then=then)
        else:
            yield tr("impairment scale: {then} then, {now} now.", then=then, now=now)


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
    return tr("on both sides") if len(sides) > 1 else tr(sides[0])


def _answers(found: RecordsMoved) -> str:
    again = ""
    if found.not_again:
        again = trn(
            "; {count} were not asked again", "; {count} were not asked again", found.not_again
        )
    if not found.answers:
        return tr(
            "of {count} answers given at both visits, none changed{again}.",
            count=found.both, again=again,
        )  # fmt: skip
    grouped = _of_both_sides(found.answers, lambda m: m.where.side)
    told = [_answer(m, sides) for m, sides in grouped[:MOST_TOLD]]
    more = sum(len(sides) for _, sides in grouped[MOST_TOLD:])
    rest = " " + trn("and {count} more", "and {count} more", more) if more else ""
    return tr(
        "of {count} answers given at both visits, {changed} changed{again}: {told}.",
        count=found.both, changed=len(found.answers), again=again, told="; ".join(told) + rest,
    )  # fmt: skip


def _answer(moved: Moved, sides: Sequence[str]) -> str:
    return tr(
        "{what} {then}, now {now}",
        what=_named(moved.where, sides), then=_read(moved.then), now=_read(moved.now),
    )  # fmt: skip


def _named(place: Place, sides: Sequence[str]) -> str:
    """The part, the place and its sides."""
    known = site(place.part.replace("_", "-"), place.place)
    where = known.label if known else place.place
    return " ".join(word for word in (tr(NAMES[place.part]), where, _sides(sides)) if word)


def _untestable(places: Sequence[Place], now: BedsideRecord) -> str:
    """What could not be tested now, each with its reason."""
    told: dict[tuple[Place, str], list[str]] = {}
    for place in places:
        key = place._replace(side=""), because(now, *place)
        told.setdefault(key, []).append(place.side)
    words = [f"{_named(place, sides)}{why}" for (place, why), sides in told.items()]
    more = len(words) - MOST_TOLD
    rest = " " + trn("and {count} more", "and {count} more", more) if more > 0 else ""
    return tr("could not be tested now: {told}.", told="; ".join(words[:MOST_TOLD]) + rest)


def _first_felt(felt: FirstFelt, sides: Sequence[str]) -> str:
    then, now = (_place(felt.part, p) for p in (felt.then, felt.now))
    limb = tr(f"both {felt.limb}s" if len(sides) > 1 else f"{felt.side} {felt.limb}", "of a limb")
    what = f"{tr(NAMES[felt.part])}, {limb}"
    if felt.places == 0:
        return tr("{what}: first felt {then} then and now.", what=what, then=then)
    count = abs(felt.places)
    if felt.places > 0:
        moved = trn("{count} place nearer the trunk", "{count} places nearer the trunk", count)
    else:
        moved = trn("{count} place farther out", "{count} places farther out", count)
    return tr(
        "{what}: first felt {then} then, {now} now, {moved}.",
        what=what, then=then, now=now, moved=moved,
    )  # fmt: skip


def _place(part: str, id_: str) -> str:
    known = site(part.replace("_", "-"), id_)
    if id_ == NOWHERE or known is None:
        return tr(NOWHERE)
    return tr("at the {place}", place=known.label)


def _level(level: LevelMoved, sides: Sequence[str]) -> str:
    what = tr(NAMES[level.what])
    if level.side:
        what = tr("sensory level for {modality}, {sides}", modality=what, sides=_sides(sides))
    if level.down == 0:
        return tr("{what}: {then} then and now.", what=what, then=tr(level.then))
    count = abs(level.down)
    if not level.counted:
        moved = tr(", down") if level.down > 0 else tr(", up")
    elif level.down > 0:
        moved = trn(", {count} segment down", ", {count} segments down", count)
    else:
        moved = trn(", {count} segment up", ", {count} segments up", count)
    return tr(
        "{what}: {then} then, {now} now{moved}.",
        what=what, then=tr(level.then), now=tr(level.now), moved=moved,
    )  # fmt: skip
