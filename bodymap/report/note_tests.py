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
            side: listed([f"the {s.label}" for s in _places("temperature") if s.id in found])
            for side, found in by_side.items()
        }
        for words in (points, places):
            if any(words.values()):
                told = f"{said('temperature (cold)', change)} at {sided(words)}"
                results.append(Result(state_of(change), told))
    return results


def ladder_results(record: BedsideRecord, part: str) -> list[Result]:
    """Vibration or joint position, from the most distal place up."""
    label = {"vibration": "vibration", "joint_position": "joint position"}[part]
    results = []
    for change in ("absent", "reduced", "normal"):
        places = list(_rungs(record, part, change, _reading))
        if places:
            told = f"{said(label, change)} at {', at '.join(places)}"
            results.append(Result(state_of(change), told + _norms(record, part, change)))
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
            yield f"the {site.label}, both sides{next(iter(values.values()))}"
        else:
            sides = listed([f"{side}{value}" for side, value in values.items()])
            yield f"the {site.label}, {sides}"


def _reading(rung: Mapping[str, Any]) -> str:
    """The numbers of a place in brackets."""
    told = []
    if "eighths" in rung:
        told.append(f"{figure(rung['eighths'])}/8")
    if "seconds" in rung:
        told.append(f"felt for {figure(rung['seconds'])} s")
    if rung.get("trials") and "correct" in rung:
        told.append(f"{rung['correct']} of {rung['trials']} moves right")
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
        f"{figure(limit)}/8 in the {limb}"
        for limb in ("leg", "arm")
        if limb in limbs and (limit := lowest_normal_eighths(age, limb)) is not None
    ]
    return f" (lower limit at {age} years: {listed(limits)})" if limits else ""


def sharp_dull_results(record: BedsideRecord) -> list[Result]:
    """Runs of sharp or dull: right answers of all, and how good guessing is."""
    results = []
    for run in record.at("sharp_dull") or ():
        correct, trials = counted(run["trials"])
        if trials:
            chance = chance_of_guessing(correct, trials)
            good = correct / trials >= RIGHT_OF_TEN
            state, few = State.NORMAL if good else State.ABNORMAL, ""
            if trials < LEAST_TRIALS:
                state, few = State.OPEN, f"; fewer than {LEAST_TRIALS} trials are no judgement"
            results.append(
                Result(
                    state,
                    f"sharp or dull told apart {correct} of {trials} times at {run['point']}, "
                    f"{run['side']} (chance of so many or more by guessing: "
                    f"{_percent(chance)}{few})",
                )
            )
    return results


def _percent(chance: float) -> str:
    return "below 1%" if chance < 0.01 else f"{chance:.0%}"


def filament_results(record: BedsideRecord) -> list[Result]:
    """The 10 g filament: felt touches of all at each place."""
    found: dict[State, dict[str, list[str]]] = {s: {"right": [], "left": []} for s in State}
    for site in _places("monofilament"):
        for side in SIDES:
            count = record.at("monofilament", side, site.id)
            if count and count["of"]:
                present = 3 * count["felt"] >= FELT_OF_THREE * count["of"]
                state = State.NORMAL if present else State.ABNORMAL
                found[state][side].append(f"{count['felt']}/{count['of']} at the {site.label}")
    words = {
        State.ABNORMAL: "10 g filament too rarely felt: ",
        State.NORMAL: "10 g filament felt: ",
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
                state = State.NORMAL if band == "normal" else State.ABNORMAL
                known = "" if band == "normal" else f" ({band})"
                found[state][side].append(f"{figure(mm)} mm{known} at the {site.label}")
    return _by_state(found, dict.fromkeys(State, "two points told apart from "))


def _by_state(found: dict[State, dict[str, list[str]]], words: dict[State, str]) -> list[Result]:
    """One result for each state that was found, with the words that begin it."""
    return [
        Result(state, words[state] + sided({s: listed(p) for s, p in sides.items()}))
        for state, sides in found.items()
        if any(sides.values())
    ]


def romberg_results(record: BedsideRecord) -> list[Result]:
    """Romberg with the time stood; nothing where it was not done."""
    found = record.at("romberg")
    if not found or found["result"] == "not done":
        return []
    seconds = found.get("seconds")
    stood = " (time not recorded)" if seconds is None else f" for {figure(seconds)} s"
    after = "" if seconds is None else f" after {figure(seconds)} s"
    state, words = {
        "steady": (State.NORMAL, f"Romberg: stood steady with eyes closed{stood}"),
        "sway": (
            State.OPEN,
            f"Romberg: swayed with eyes closed{stood} without losing balance, which alone is "
            "neither normal nor a positive sign",
        ),
        "lost balance": (State.ABNORMAL, f"Romberg: lost balance{after} with eyes closed"),
        "cannot stand with open eyes": (
            State.ABNORMAL,
            "Romberg: could not stand with feet together and eyes "
            "open, so standing with eyes closed was not tested",
        ),
    }[found["result"]]
    stood_up = found["result"] in ("steady", "sway")
    if stood_up and seconds is not None and seconds < STOOD_SECONDS:
        state = State.OPEN
        words += f" (too short: {figure(STOOD_SECONDS)} s are needed for a judgement)"
    return [Result(state, words)]


def _places(part: str) -> tuple[Site, ...]:
    test = part.replace("_", "-")
    return tuple(s for limb in ("leg", "arm") for s in sites() if s.test == test and s.limb == limb)
