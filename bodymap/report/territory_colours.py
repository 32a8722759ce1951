"""Soft fills for territories: kin have kindred hues, neighbours differ clearly.

Each name gets a family hue (the trunk of a nerve, the part of the spine, the part
of the body) and the member of that family's range that differs most from the
neighbours that already have a colour. These fills carry no meaning of their own:
every territory is named on the skin and has a border.
"""

from functools import lru_cache

from bodymap.atlas import Atlas
from bodymap.atlas.facts import Facts
from bodymap.report.appearance import Theme
from bodymap.report.borders import neighbours
from bodymap.report.colour import difference, oklch
from bodymap.terms import DERMATOMES, MapName

CLEAR = 7.0
"""Distance (OKLab times 100) at which two soft fills are plainly two. Judgement."""

_SEGMENT_HUES = {"V": 320.0, "C": 60.0, "T": 150.0, "L": 245.0, "S": 20.0}

_NERVE_HUES = {
    "ophthalmic": 250.0,
    "maxillary": 155.0,
    "mandibular": 60.0,
    "supraclavicular-nerves": 330.0,
    "axillary": 30.0,
    "radial": 60.0,
    "musculocutaneous": 330.0,
    "median": 250.0,
    "ulnar": 145.0,
    "femoral": 60.0,
    "saphenous": 85.0,
    "posterior-femoral-cutaneous": 300.0,
    "pudendal": 200.0,
    "sural": 165.0,
    "tibial": 250.0,
    "superficial-fibular": 30.0,
    "common-fibular": 60.0,
    "deep-fibular": 345.0,
    "iliohypogastric": 100.0,
    "genitofemoral": 200.0,
}
"""Hue of the nearest trunk above a branch, degrees (OKLCH)."""

_GROUP_HUES = {
    "trigeminal": 250.0,
    "cervical plexus": 130.0,
    "brachial plexus": 190.0,
    "thoracic": 140.0,
    "dorsal rami": 220.0,
    "lumbar plexus": 290.0,
    "sacral plexus": 20.0,
    "coccygeal": 110.0,
}

_PART_HUES = {
    "head": 60.0,
    "neck": 200.0,
    "trunk": 140.0,
    "upper-arm": 260.0,
    "forearm": 40.0,
    "hand": 180.0,
    "buttocks": 300.0,
    "perineum": 60.0,
    "thigh": 210.0,
    "leg": 90.0,
    "foot": 330.0,
}

# (turn of the hue, change of lightness, factor of chroma) of the members of a family
_LEAPS = (
    (0.0, 0.0, 1.0), (24.0, -0.075, 1.1), (-24.0, -0.075, 1.1), (0.0, 0.06, 0.7),
    (40.0, 0.03, 1.0), (-40.0, 0.03, 1.0), (0.0, -0.10, 1.0), (60.0, -0.04, 1.1),
    (-60.0, -0.04, 1.1),
)  # fmt: skip


@lru_cache(maxsize=12)
def territory_colours(atlas: Atlas, map_name: MapName, theme: Theme) -> dict[str, str]:
    """A fill ('#rrggbb') for every name of a map that has skin."""
    beside = neighbours(atlas, map_name)
    chosen: dict[str, str] = {}
    order = _order(map_name, tuple(beside), atlas.facts)
    for name in order:
        hue = _hue(map_name, name, atlas.facts)
        taken = [chosen[o] for o in beside[name] if o in chosen]
        best, worth = "", -1.0
        for place, (turn, lift, factor) in enumerate(_LEAPS):
            colour = _soft(hue + turn, lift, factor, theme)
            apart = min((difference(colour, t) for t in taken), default=99.0)
            # Beyond twice the clear distance, staying near the family's hue counts more.
            value = min(apart, 2.0 * CLEAR) - 0.2 * place
            if value > worth:
                best, worth = colour, value
        chosen[name] = best
    return chosen


def _soft(hue: float, lift: float, factor: float, theme: Theme) -> str:
    if theme.dark:
        return oklch(0.50 + 0.9 * lift, 0.075 * factor, hue)
    return oklch(0.86 + 0.9 * lift, 0.068 * factor, hue)


def _order(map_name: MapName, names: tuple[str, ...], facts: Facts) -> list[str]:
    if map_name == "nerves":
        known = list(facts.nerves)
    elif map_name == "regions":
        known = list(facts.regions)
    else:
        known = list(DERMATOMES)
    return [n for n in known if n in names]


def _hue(map_name: MapName, name: str, facts: Facts) -> float:
    if map_name == "dermatomes":
        return _SEGMENT_HUES[name[0]] + 7.0 * (int(name[1:]) - 1) * (name[0] != "T")
    if map_name == "regions":
        return _PART_HUES.get(facts.body_parts[name], 100.0)
    nerve = facts.nerves[name]
    while nerve.id not in _NERVE_HUES and nerve.parent:
        nerve = facts.nerves[nerve.parent]
    return _NERVE_HUES.get(nerve.id) or _GROUP_HUES.get(_group(facts, name), 100.0)


def _group(facts: Facts, name: str) -> str:
    """The plexus or other group that a branch belongs to, told by its segments."""
    nerve = facts.nerves[name]
    if "dorsal-ram" in name or nerve.parent.startswith("dorsal-ram") or "occipital" in name:
        return "dorsal rami" if name != "lesser-occipital" else "cervical plexus"
    first = nerve.segments[0]
    if first[0] == "C" and first[1:].isdigit():
        return "cervical plexus" if int(first[1:]) < 5 else "brachial plexus"
    if first == "T1" or (first[0] == "T" and nerve.parent.startswith(("intercostal", "subc"))):
        return "thoracic"
    return {"V": "trigeminal", "L": "lumbar plexus", "S": "sacral plexus"}.get(first[0], "thoracic")
