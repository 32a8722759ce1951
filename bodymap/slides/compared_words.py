"""What the slides of a comparison say, and their notes for the teacher."""

from dataclasses import replace

from bodymap.atlas import Atlas
from bodymap.atlas.territories import Territory
from bodymap.geometry import Floats
from bodymap.language import later, tr
from bodymap.localise.comparison import TOLD, Comparison
from bodymap.localise.tie_breakers import Difference
from bodymap.report.borders import names_of_cells
from bodymap.report.names import spoken
from bodymap.report.question_words import differing
from bodymap.slides.page import LEAST, Words
from bodymap.terms import MapName, Side

SUBTITLE = later("Which skin, which muscles, which reflexes: told apart step by step")

LEAST_SHARE = 0.03
"""A map's territory with less of the skin than this is not named."""

MORE = later("More in the notes.")
NO_SKIN = later("No spot of skin tells them apart.")


def compared_title(comparison: Comparison) -> str:
    """The lesions as a question: "C6 nerve root or median nerve …?"."""
    *first, last = (t.name for t in comparison.members)
    return tr("{first} or {second}?", first=", ".join(first), second=last)


def sided_name(territory: Territory) -> str:
    """A lesion with its side."""
    side = tr("both sides") if territory.side is Side.BOTH else territory.side.word
    return f"{territory.name}, {side}"


def title_notes() -> str:
    """Notes of the title of a deck without a case."""
    return tr(
        "Say which lesions are compared, and have the group draw each of them on paper before "
        "the figure is shown: where does the skin of the one end, and which muscle would settle "
        "it? Sides are the patient's."
    )


def compared_notes(atlas: Atlas, comparison: Comparison, amounts: list[str]) -> str:
    """Notes of the comparison: every area, and all that tells the lesions apart."""
    parts = [tr("Skin: {amounts}.", amounts="; ".join(amounts))]
    parts += [" ".join((head, *said)) for head, said in told(atlas, comparison)]
    parts.append(
        tr(
            "Ask for one spot of skin and one muscle that would tell them apart before the words "
            "are read. Published maps differ and people do: a spot is worth more the further it "
            "lies from a border."
        )
    )
    return "\n".join(parts)


def told(atlas: Atlas, comparison: Comparison) -> list[tuple[str, list[str]]]:
    """For each pair a heading, and sentences on what tells the two apart."""
    found = []
    for a, b, difference in comparison.differences:
        first, second = comparison.members[a].name, comparison.members[b].name
        said = differing(atlas, difference, first, second)
        found.append((tr("{first} or {second}?", first=first, second=second), said))
    return found


def told_in_room(atlas: Atlas, comparison: Comparison, width: float, height: float) -> list[Words]:
    """What tells the lesions apart, as many spots and signs of each as there is room for."""
    more = Words(tr(MORE), LEAST, colour="TEXT_2", after=0.0)
    for most in (TOLD, 4, 3, 2, 1):
        fewer = tuple((a, b, _fewer(d, most)) for a, b, d in comparison.differences)
        found: list[Words] = []
        for head, said in told(atlas, replace(comparison, differences=fewer)):
            heading = head if len(fewer) > 1 else tr("What tells them apart")
            found.append(Words(heading, LEAST, True, "ACCENT_1", 1.0))
            found += [Words(sentence, LEAST, after=5.0) for sentence in said]
        if fewer != comparison.differences:
            found.append(more)
        if sum(w.height(width) for w in found) <= height:
            return found
    kept: list[Words] = []
    for words in found[:-1]:
        if sum(w.height(width) for w in (*kept, words, more)) > height:
            break
        kept.append(words)
    while kept and kept[-1].bold:
        kept.pop()
    return [*kept, more]


def _fewer(difference: Difference, most: int) -> Difference:
    """The same with at most so many spots and signs of each of the two."""
    if most == TOLD:
        return difference
    skin = [r for first in (True, False) for r in _first(difference.skin, first, most)]
    signs = [r for first in (True, False) for r in _first(difference.signs, first, most)]
    return Difference(tuple(skin), tuple(signs), difference.note if most > 1 else "")


def _first(
    rows: tuple[tuple[str, Side, bool], ...], first: bool, most: int
) -> list[tuple[str, Side, bool]]:
    return [row for row in rows if row[2] is first][:most]


def table_rows(
    atlas: Atlas, difference: Difference, first: Territory, second: Territory
) -> list[tuple[str, str, str]]:
    """What tells two lesions apart as a table: a row each for skin, muscles and reflexes,
    where there are any."""
    lost, weak, reflex = tr("Skin lost"), tr("Weak"), tr("Reflex reduced")
    kinds: dict[str, dict[bool, list[str]]] = {
        head: {True: [], False: []} for head in (lost, weak, reflex)
    }
    for region, side, in_first in difference.skin:
        words = f"{atlas.facts.regions[region].label} ({side.word})"
        kinds[lost][in_first].append(words)
    for name, side, in_first in difference.signs:
        sign = atlas.facts.signs[name]
        head = weak if sign.kind == "muscle" else reflex
        kinds[head][in_first].append(f"{sign.label} ({side.word})")
    only = [tr("Only in {lesion}", lesion=t.name) for t in (first, second)]
    rows = [("", only[0], only[1])]
    for head, found in kinds.items():
        if found[True] or found[False]:
            rows.append((head, "; ".join(found[True]) or "–", "; ".join(found[False]) or "–"))
    return rows


def apart_notes(heading: str, said: list[str]) -> str:
    """Notes of what tells two lesions apart."""
    return tr(
        "{question} {told} Have the group order the tests by how much each would change their "
        "mind, and say what they would do if skin and muscle disagree.",
        question=heading,
        told=" ".join(said),
    )


def territory_said(atlas: Atlas, territory: Territory) -> list[str]:
    """The dermatomes and the skin nerves in whose skin a lesion lies, the largest first."""
    taken = atlas.cells.area_cm2 * territory.extent
    found = []
    if dermatomes := _held(atlas, "dermatomes", taken):
        found.append(tr("Lies in the dermatomes: {names}.", names=dermatomes))
    if nerves := _held(atlas, "nerves", taken):
        found.append(tr("Lies in the skin of: {names}.", names=nerves))
    return found


def _held(atlas: Atlas, map_name: MapName, taken: Floats) -> str:
    return ", ".join(
        spoken(atlas, map_name, name)
        for name, share in shares(atlas, map_name, taken)
        if share >= LEAST_SHARE
    )


def shares(atlas: Atlas, map_name: MapName, covered_cm2: Floats) -> list[tuple[str, float]]:
    """The territories of a map that some skin (cm² by cell) lies in, with the share of it
    that each holds, the largest first."""
    found: dict[str, float] = {}
    names = names_of_cells(atlas, map_name)
    for name, area in zip(names, covered_cm2.tolist(), strict=True):
        if area > 0:
            found[name] = found.get(name, 0.0) + area
    total = sum(found.values())
    return sorted(((n, a / total) for n, a in found.items()), key=lambda pair: -pair[1])


def territory_notes(atlas: Atlas, territory: Territory, amounts: list[str]) -> str:
    """Notes of the slide of one lesion."""
    return tr(
        "{lesion}. Skin: {amounts}. {told} Let the group trace the border with a finger on their "
        "own skin. What lies in the fringe differs from person to person and from map to map.",
        lesion=sided_name(territory),
        amounts="; ".join(amounts),
        told=" ".join(territory_said(atlas, territory)),
    )
