"""Temperature, the ladders of vibration and joint position, sharp or dull, the filament,
two points and Romberg, as the record has them; each number with its unit."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from bodymap.classification.scores import POINTS, SIDES
from bodymap.examination.chances import chance_of_guessing, counted
from bodymap.examination.norms import (
    FELT_OF_THREE,
    LEAST_TRIALS,
    STOOD_SECONDS,
    lowest_normal_eighths,
    two_point_band,
)
from bodymap.findings.record import BedsideRecord
from bodymap.findings.sites import Site, sites
from bodymap.language import later, tr
from bodymap.report.note_results import (
    CHANGES,
    Result,
    State,
    figure,
    listed,
    ranges,
    said,
    sided,
    state_of,
)

RIGHT_OF_TEN = 0.8
"""Sharp and dull are told apart from this share of right answers on (8 of 10, ISNCSCI
2019 booklet, from memory)."""


def temperature_results(record: BedsideRecord) -> list[Result]:
    """Temperature at key points and at places of the limbs."""
    results = []
    for change in CHANGES:
        by_side = {
            side: [p for p, word in (record.at("temperature", side) or {}).items()
                   if word == change]
            for side in SIDES
        }  # fmt: skip
        points = {s: ranges([p for p in found if p in POINTS]) for s, found in by_side.items()}
        places = {
            side: listed([the(s) for s in _places("temperature") if s.id in found])
            for side, found in by_side.items()
        }
        result = said(tr("temperature (cold)"), change)
        if any(points.values()):
            told = tr("{result} at {segments}", result=result, segments=sided(points))
            results.append(Result(state_of(change), told))
        if any(places.values()):
            told = tr("{result} at {places}", result=result, places=sided(places))
            results.append(Result(state_of(change), told))
    return results


def the(site: Site) -> str:
    """A place as it stands among others, with its article where a language has it there."""
    return tr("the {place}", place=site.label)


def ladder_results(record: BedsideRecord, part: str) -> list[Result]:
    """Vibration or joint position, from the most distal place up."""
    label = tr({"vibration": later("vibration"), "joint_position": later("joint position")}[part])
    results = []
    for change in ("absent", "reduced", "normal"):
        places = list(_rungs(record, part, change, _reading))
        if places:
            told = tr(
                "{result} {rungs}{norms}",
                result=said(label, change), rungs=", ".join(places),
                norms=_norms(record, part, change),
            )  # fmt: skip
            results.append(Result(state_of(change), told))
    return results


def _rungs(
    record: BedsideRecord, part: str, change: str, reading: Callable[[Mapping[str, Any]], str]
) -> Iterator[str]:
    """Each place where this was found, with its sides and readings."""
    for site in _places(part):
        rungs = {side: record.at(part, side, site.id) for side in SIDES}
        values = {s: reading(r) for s, r in rungs.items() if r and r["felt"] == change}
        if not values:
            continue
        if len(values) == 2 and len(set(values.values())) == 1:
            numbers = next(iter(values.values()))
            yield tr("at the {place}, both sides{numbers}", place=site.label, numbers=numbers)
        else:
            sides = listed([f"{tr(side)}{value}" for side, value in values.items()])
            yield tr("at the {place}, {sides}", place=site.label, sides=sides)


def _reading(rung: Mapping[str, Any]) -> str:
    """The numbers of a place in brackets."""
    told = []
    if "eighths" in rung:
        told.append(f"{figure(rung['eighths'])}/8")
    if "seconds" in rung:
        told.append(tr("felt for {seconds} s", seconds=figure(rung["seconds"])))
    if rung.get("trials") and "correct" in rung:
        told.append(
            tr(
                "{correct} of {trials} moves right",
                correct=rung["correct"], trials=rung["trials"],
            )
        )  # fmt: skip
    return f" ({', '.join(told)})" if told else ""


def _norms(record: BedsideRecord, part: str, change: str) -> str:
    """The lower limits at the age, where a fork reading below them is told."""
    age = record.at("age")
    if part != "vibration" or age is None or change != "reduced":
        return ""
    limbs = {
        site.limb
        for side in SIDES
        for site in _places(part)
        if site.norm and (rung := record.at(part, side, site.id)) and "eighths" in rung
        and rung["felt"] == change
    }  # fmt: skip
    limits = [
        tr(IN_LIMB[limb], limit=figure(limit))
        for limb in ("leg", "arm")
        if limb in limbs and (limit := lowest_normal_eighths(age, limb)) is not None
    ]
    if not limits:
        return ""
    return tr(" (lower limit at {age} years: {limits})", age=age, limits=listed(limits))


IN_LIMB = {"leg": later("{limit}/8 in the leg"), "arm": later("{limit}/8 in the arm")}
"""A lower limit of the graduated fork, and the limb it is for."""


def sharp_dull_results(record: BedsideRecord) -> list[Result]:
    """Runs of sharp or dull: right answers of all, and how good guessing is."""
    results = []
    for run in record.at("sharp_dull") or ():
        correct, trials = counted(run["trials"])
        if trials:
            state = State.NORMAL if correct / trials >= RIGHT_OF_TEN else State.ABNORMAL
            means = tr(
                "chance of so many or more by guessing: {chance}",
                chance=_percent(chance_of_guessing(correct, trials)),
            )
            if trials < LEAST_TRIALS:
                state = State.OPEN
                means = tr(
                    "{chance}; fewer than {least} trials are no judgement",
                    chance=means, least=LEAST_TRIALS,
                )  # fmt: skip
            told = tr(
                "sharp or dull told apart {correct} of {trials} times at {point}, {side} ({means})",
                correct=correct, trials=trials, point=run["point"], side=tr(run["side"]),
                means=means,
            )  # fmt: skip
            results.append(Result(state, told))
    return results


def _percent(chance: float) -> str:
    return tr("below 1%") if chance < 0.01 else tr("{chance:.0%}", chance=chance)


def filament_results(record: BedsideRecord) -> list[Result]:
    """The 10 g filament: felt touches of all at each place."""
    found: dict[State, dict[str, list[str]]] = {s: {"right": [], "left": []} for s in State}
    for site in _places("monofilament"):
        for side in SIDES:
            count = record.at("monofilament", side, site.id)
            if count and count["of"]:
                present = 3 * count["felt"] >= FELT_OF_THREE * count["of"]
                state = State.NORMAL if present else State.ABNORMAL
                told = tr(
                    "{felt}/{touches} at the {place}",
                    felt=count["felt"], touches=count["of"], place=site.label,
                )  # fmt: skip
                found[state][side].append(told)
    words = {
        State.ABNORMAL: later("10 g filament too rarely felt: {places}"),
        State.NORMAL: later("10 g filament felt: {places}"),
    }
    return _by_state(found, words)


def two_point_results(record: BedsideRecord) -> list[Result]:
    """The least distance of two points told apart, mm."""
    found: dict[State, dict[str, list[str]]] = {s: {"right": [], "left": []} for s in State}
    for site in _places("two_point"):
        for side in SIDES:
            mm = record.at("two_point", side, site.id)
            if mm is not None:
                band = two_point_band(mm)
                state, distance = State.NORMAL, tr("{mm} mm", mm=figure(mm))
                if band != "normal":
                    state = State.ABNORMAL
                    distance = tr("{distance} ({band})", distance=distance, band=tr(band))
                told = tr("{distance} at the {place}", distance=distance, place=site.label)
                found[state][side].append(told)
    return _by_state(found, dict.fromkeys(State, later("two points told apart from {places}")))


def _by_state(found: dict[State, dict[str, list[str]]], words: dict[State, str]) -> list[Result]:
    """One result for each state that was found, with the sentence that its places go into."""
    return [
        Result(state, tr(words[state], places=sided({s: listed(p) for s, p in sides.items()})))
        for state, sides in found.items()
        if any(sides.values())
    ]


def romberg_results(record: BedsideRecord) -> list[Result]:
    """Romberg with the time stood; nothing where it was not done. The words do not name the
    test, for they may stand under its name."""
    found = record.at("romberg")
    if not found or found["result"] == "not done":
        return []
    seconds = found.get("seconds")
    state, untimed, timed = ROMBERG[found["result"]]
    words = tr(untimed) if seconds is None else tr(timed, seconds=figure(seconds))
    stood_up = found["result"] in ("steady", "sway")
    if stood_up and seconds is not None and seconds < STOOD_SECONDS:
        state = State.OPEN
        words = tr(
            "{result} (too short: {least} s are needed for a judgement)",
            result=words, least=figure(STOOD_SECONDS),
        )  # fmt: skip
    return [Result(state, words)]


CANNOT_STAND = later(
    "could not stand with feet together and eyes open, so standing with eyes closed was not tested"
)

ROMBERG = {
    "steady": (
        State.NORMAL,
        later("stood steady with eyes closed (time not recorded)"),
        later("stood steady with eyes closed for {seconds} s"),
    ),
    "sway": (
        State.OPEN,
        later(
            "swayed with eyes closed (time not recorded) without losing balance, which alone is "
            "neither normal nor a positive sign"
        ),
        later(
            "swayed with eyes closed for {seconds} s without losing balance, which alone is "
            "neither normal nor a positive sign"
        ),
    ),
    "lost balance": (
        State.ABNORMAL,
        later("lost balance with eyes closed"),
        later("lost balance after {seconds} s with eyes closed"),
    ),
    "cannot stand with open eyes": (State.ABNORMAL, CANNOT_STAND, CANNOT_STAND),
}
"""What each result counts as, and its words without and with the seconds."""


def _places(part: str) -> tuple[Site, ...]:
    test = part.replace("_", "-")
    return tuple(s for limb in ("leg", "arm") for s in sites() if s.test == test and s.limb == limb)
