"""What changed between two visits, in sentences."""

from collections.abc import Iterable, Iterator

from bodymap.atlas import Atlas
from bodymap.examination.answers_moved import (
    NOWHERE,
    FirstFelt,
    LevelMoved,
    Moved,
    RecordsMoved,
)
from bodymap.findings.progress import Degree, Examined, Progress
from bodymap.findings.sites import site
from bodymap.report.course_marks import area, measured

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
        f"{atlas.facts.signs[m.where.place].label} {m.where.side} {m.then}, now {m.now}"
        for m in signs
    ]
    if told:
        yield f"muscles and reflexes: {'; '.join(told)}."


def record_sentences(found: RecordsMoved) -> Iterator[str]:
    """Answers, ladders, levels and scale."""
    if found.both:
        yield _answers(found)
    for felt in found.first_felt:
        yield _first_felt(felt)
    for level in found.levels:
        yield _level(level)
    if found.scale is not None:
        then, now = found.scale
        yield (
            f"impairment scale: {then} then and now."
            if then == now
            else (f"impairment scale: {then} then, {now} now.")
        )


def _answers(found: RecordsMoved) -> str:
    again = f"; {found.not_again} were not asked again" if found.not_again else ""
    asked = f"of {found.both} answers given at both visits"
    if not found.answers:
        return f"{asked}, none changed{again}."
    told = [_answer(m) for m in found.answers[:MOST_TOLD]]
    more = len(found.answers) - len(told)
    rest = f" and {more} more" if more else ""
    return f"{asked}, {len(found.answers)} changed{again}: {'; '.join(told)}{rest}."


def _answer(moved: Moved) -> str:
    part, side, place = moved.where
    known = site(part.replace("_", "-"), place)
    where = " ".join(word for word in (known.label if known else place, side) if word)
    return f"{NAMES[part]}{f' {where}' if where else ''} {moved.then}, now {moved.now}"


def _first_felt(felt: FirstFelt) -> str:
    then, now = (_place(felt.part, p) for p in (felt.then, felt.now))
    head = f"{NAMES[felt.part]}, {felt.side} {felt.limb}: first felt"
    if felt.places == 0:
        return f"{head} {then} then and now."
    way = "nearer the trunk" if felt.places > 0 else "farther out"
    count = abs(felt.places)
    return f"{head} {then} then, {now} now, {count} place{'s' if count > 1 else ''} {way}."


def _place(part: str, id_: str) -> str:
    known = site(part.replace("_", "-"), id_)
    return NOWHERE if id_ == NOWHERE or known is None else f"at the {known.label}"


def _level(level: LevelMoved) -> str:
    name = NAMES[level.what]
    what = f"sensory level for {name}, {level.side}" if level.side else name
    if level.down == 0:
        return f"{what}: {level.then} then and now."
    way = "down" if level.down > 0 else "up"
    count = abs(level.down)
    moved = f", {count} segment{'s' if count > 1 else ''} {way}" if level.counted else f", {way}"
    return f"{what}: {level.then} then, {level.now} now{moved}."
