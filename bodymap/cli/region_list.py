"""The list of named skin regions with the segments and nerves that supply them.

Made from the fact tables alone, so it comes without building the atlas.
"""

import difflib
import re
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bodymap.atlas.assets import assets_folder
from bodymap.atlas.assets import table as fact_table
from bodymap.atlas.facts import MAIN_NERVE_ROLES, MAIN_SEGMENT_ROLES, Facts
from bodymap.errors import RequestError
from bodymap.language import searchable, tr
from bodymap.terms import DERMATOMES

INDENT = "  "
VIEW = "view"
"""The context of the views in a catalogue, which other words for places may not share."""


@dataclass(frozen=True)
class RegionRow:
    """One region or part of one, in English. ``nerves`` are (id, name); main supply only,
    the signature (core, autonomous) first."""

    id: str
    label: str
    view: str
    where: str
    whole: str
    dermatomes: tuple[str, ...]
    nerves: tuple[tuple[str, str], ...]

    def as_json(self) -> dict[str, Any]:
        """The row for other programs."""
        return {
            "id": self.id,
            "label": self.label,
            "view": self.view,
            "where": self.where,
            "part_of": None if self.whole == self.id else self.whole,
            "dermatomes": list(self.dermatomes),
            "nerves": [{"id": id_, "name": name} for id_, name in self.nerves],
        }

    def answers(self, word: str) -> bool:
        """Whether a word is a segment of the region or stands in its descriptions."""
        if word.upper() in DERMATOMES:
            return word.upper() in self.dermatomes
        texts = (self.id, self.label, self.where, self.whole)
        names = (text for nerve in self.nerves for text in nerve)
        view = (self.view, tr(self.view, VIEW))
        return word.casefold() in searchable(*texts, *names, *view)


def region_rows() -> tuple[RegionRow, ...]:
    """All regions in table order, the parts of a divided one after it."""
    folder = assets_folder()
    facts = Facts(folder)
    views = {row["id"]: row["view"] for row in fact_table(folder, "skin-regions")}
    rows = []
    for whole in facts.regions.values():
        parts = [p for p in facts.parts.values() if p.whole == whole.id and p.id != whole.id]
        segments = _supply(facts.segment_roles, whole.id, MAIN_SEGMENT_ROLES)
        nerves = [
            (n, facts.nerves[n].english)
            for n in _supply(facts.nerve_roles, whole.id, MAIN_NERVE_ROLES)
        ]
        for region in (whole, *parts):
            rows.append(
                RegionRow(
                    region.id,
                    region.english,
                    views[whole.id],
                    region.where,
                    whole.id,
                    tuple(segments),
                    tuple(nerves),
                )
            )
    return tuple(rows)


def matching(rows: Sequence[RegionRow], words: Sequence[str]) -> list[RegionRow]:
    """The rows that answer every word.

    Raises RequestError, with the nearest id or word of a name, if there are none.
    """
    found = [row for row in rows if all(row.answers(word) for word in words)]
    if not found:
        asked = " ".join(words)
        known = {word.casefold(): word for r in rows for word in re.findall(r"\w+", tr(r.label))}
        known |= {r.id: r.id for r in rows}
        near = difflib.get_close_matches("-".join(words).casefold(), known, 1, 0.5)
        if near:
            meant = known[near[0]]
            raise RequestError(
                tr("No region matches '{words}'; did you mean '{near}'?", words=asked, near=meant)
            )
        raise RequestError(
            tr("No region matches '{words}'; 'bodymap regions' lists all.", words=asked)
        )
    return found


def table(rows: Iterable[RegionRow], columns: int) -> str:
    """The rows as text: what fits goes in columns of ``columns`` characters in all."""
    shown = [
        (
            (INDENT if row.whole != row.id else "") + row.id,
            tr(row.view, VIEW),
            " ".join(row.dermatomes),
            tr(row.label),
            ", ".join(tr(name) for _, name in row.nerves),
        )
        for row in rows
    ]
    head = (tr("region"), tr("view"), tr("segments"), tr("in words"), tr("nerves"))
    widths = [max(len(line[i]) for line in (head, *shown)) for i in range(4)]
    start = sum(widths) + 4 * len(INDENT)
    lines = []
    for line in (head, *shown):
        fixed = INDENT.join(f"{line[i]:<{widths[i]}}" for i in range(4))
        nerves = textwrap.wrap(line[4], max(24, columns - start)) or [""]
        lines.append(f"{fixed}{INDENT}{nerves[0]}".rstrip())
        lines += [" " * start + more for more in nerves[1:]]
    return "\n".join(lines) + "\n"


def _supply(roles: Mapping[tuple[str, str], str], region: str, main: Sequence[str]) -> list[str]:
    """What supplies a region in a main role, in the order of the roles."""
    mine = [(name, role) for (r, name), role in roles.items() if r == region and role in main]
    return [name for name, _ in sorted(mine, key=lambda item: main.index(item[1]))]
