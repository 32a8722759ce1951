"""Skin by segment: "C6 distribution", "T4 to T6", "T10 level down", "umbilicus down"."""

from collections.abc import Sequence
from dataclasses import dataclass

from bodymap.atlas.facts import MAIN_SEGMENT_ROLES, Facts
from bodymap.language import later, phrase
from bodymap.terms import DERMATOMES
from bodymap.wording.tokens import Token

LANDMARKS = {
    "neck": ("C4", later("'from the neck down' taken as from C4 down")),
    "clavicle": ("C4", later("'from the clavicles down' taken as from C4 down")),
    "nipple": ("T4", later("'from the nipples down' taken as from T4 down")),
    "xiphisternum": ("T6", later("'from the xiphisternum down' taken as from T6 down")),
    "umbilicus": ("T10", later("'from the umbilicus down' taken as from T10 down")),
    "navel": ("T10", later("'from the navel down' taken as from T10 down")),
    "waist": ("T12", later("'from the waist down' taken as from T12 down")),
    "groin": ("L1", later("'from the groin down' taken as from L1 down")),
}
"""Levels of landmarks: key points of the ISNCSCI 2019 (T4, T6, T10, T12 and L1 near the
inguinal ligament); neck, clavicle and waist are judgement."""

BELOW = later("'below {level}' taken as from {level} down")

_DOWN = frozenset({"down", "downward", "downwards", "below", "caudally", "distally"})


@dataclass(frozen=True)
class Strip:
    """Skin of one or more segments; ``level`` if all below is meant."""

    regions: frozenset[str]
    end: int
    level: bool
    note: str = ""


def strip_at(facts: Facts, words: Sequence[Token], start: int) -> Strip | None:
    """The segments that are named from a word on, if any."""
    from_above, at = _opening(words, start)
    landmark = LANDMARKS.get(_text(words, at))
    if landmark is not None:
        at += 1
        at += _text(words, at) in ("line", "level")
        end = _down(words, at)
        if end is None and not from_above:
            return None
        return Strip(_below(facts, landmark[0]), end or at, True, landmark[1])
    levels, at = _levels(words, at)
    if not levels:
        return None
    if len(levels) == 1:
        after = at + (_text(words, at) == "level")
        end = _down(words, after)
        if end is not None or from_above:
            note = phrase(BELOW, level=levels[0]) if from_above else ""
            return Strip(_below(facts, levels[0]), end or after, True, note)
    if at - start > 1 and words[start].text in ("from", "below"):
        return None
    roles = facts.segment_roles
    regions = {r for (r, d), role in roles.items() if d in levels and role in MAIN_SEGMENT_ROLES}
    return Strip(frozenset(regions), at, False) if regions else None


def _text(words: Sequence[Token], at: int) -> str:
    return words[at].text if at < len(words) else ""


def _opening(words: Sequence[Token], start: int) -> tuple[bool, int]:
    """Whether "below" opens the phrase, and the place of what follows."""
    at = start
    below = _text(words, at) == "below"
    if below or _text(words, at) == "from":
        at += 1
    while at > start and _text(words, at) in ("the", "level", "of"):
        at += 1
    return below, at


def _down(words: Sequence[Token], at: int) -> int | None:
    """The place after "down" or "and below", if it stands here."""
    if _text(words, at) in ("and", "or") and _text(words, at + 1) in _DOWN:
        return at + 2
    return at + 1 if _text(words, at) in _DOWN else None


def _levels(words: Sequence[Token], start: int) -> tuple[list[str], int]:
    """Segments of a list or range: "C6", "C5 to T1", "S2 to 4", "L5/S1"."""
    found: list[str] = []
    at, end, through, letter = start, start, False, ""
    while at < len(words):
        word = words[at].text
        level = (letter + word if word.isdigit() and letter else word).upper()
        if level not in DERMATOMES:
            break
        if through and found:
            low, high = sorted((DERMATOMES.index(found[-1]), DERMATOMES.index(level)))
            found += DERMATOMES[low + 1 : high]
        found.append(level)
        letter, at, through = level[0], at + 1, False
        end = at
        while _text(words, at) in ("and", ",", "to"):
            through = through or words[at].text == "to"
            at += 1
        if at == end:
            break
    return found, end


def _below(facts: Facts, level: str) -> frozenset[str]:
    """Regions whose main segments all lie at a level or below: the core ones where
    there are any."""
    core: dict[str, list[int]] = {}
    usual: dict[str, list[int]] = {}
    for (region, segment), role in facts.segment_roles.items():
        table = {"core": core, "usual": usual}.get(role)
        if table is not None:
            table.setdefault(region, []).append(DERMATOMES.index(segment))
    highest = DERMATOMES.index(level)
    return frozenset(
        r for r in facts.regions if min(core.get(r) or usual.get(r) or [-1]) >= highest
    )
