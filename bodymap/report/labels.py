"""What is written on the figure of a picture: names, numbers and call-outs.

A name that fits its skin stands there in words. Else its number stands there, which
the key beside the figure explains (a dermatome's name is as short as a number). Where
not even that fits, it stands outside the figure at the end of a thin line.
"""

from functools import lru_cache

from bodymap.atlas import Atlas
from bodymap.language import language
from bodymap.report.call_outs import LEAST_AREA, Label, Placer, clusters
from bodymap.report.layout import BODY_LAYOUT
from bodymap.report.names import NamePlace, name_places
from bodymap.terms import MapName, View

WORDS_LEAST, WORDS_MOST = 7.5, 13.0
"""Size of words on the skin, sheet units. 7.5 is about 3.3 points on an A4 page and
8 pixels in a picture 1,400 pixels high."""

NUMBER_LEAST, NUMBER_MOST = 6.5, 11.0
"""Size of numbers, and of dermatomes' names where they have to be small."""


def labels(atlas: Atlas, map_name: MapName) -> dict[View, tuple[Label, ...]]:
    """Everything written on the skin of each view for a map."""
    return _labels(atlas, map_name, language())


@lru_cache(maxsize=8)
def _labels(atlas: Atlas, map_name: MapName, _language: str) -> dict[View, tuple[Label, ...]]:
    places = {view: name_places(atlas, map_name, view) for view in View}
    found: dict[View, tuple[Label, ...]] = {}
    placer = Placer(atlas)
    for view, here in places.items():
        inside = [_inside(place, map_name) for place in here]
        written = {(la.name, p.side) for la, p in zip(inside, here, strict=True) if la}
        outside = [
            p for p in here
            if p.main and (p.name, p.side) not in written
            and p.area * BODY_LAYOUT[view].scale ** 2 >= LEAST_AREA
        ]  # fmt: skip
        number = map_name != "dermatomes"
        calls = [la for near in clusters(outside) for la in placer.call_outs(near, number)]
        found[view] = (*(la for la in inside if la), *calls)
    return found


def _inside(place: NamePlace, map_name: MapName) -> Label | None:
    placed = BODY_LAYOUT[place.view]
    fit, number = place.words, False
    least, most = WORDS_LEAST, WORDS_MOST
    if map_name == "dermatomes":
        least = NUMBER_LEAST
    elif fit.size * placed.scale < least:
        fit, number = place.number, True
        least, most = NUMBER_LEAST, NUMBER_MOST
    size = fit.size * placed.scale
    if size < least:
        return None
    x, y = placed.to_sheet(fit.x, fit.y)
    return Label(place.name, fit.lines, x, y, min(size, most), number)
