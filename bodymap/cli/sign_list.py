"""The list of muscles and reflexes. Made from the fact tables alone."""

import textwrap
from collections.abc import Iterable, Sequence
from typing import Any

from bodymap.atlas.assets import assets_folder
from bodymap.atlas.facts import Facts, Sign
from bodymap.errors import RequestError
from bodymap.language import searchable, tr


def matching(words: Sequence[str]) -> list[Sign]:
    """The signs that answer to all words.

    Raises RequestError if there is none.
    """
    facts = Facts(assets_folder())
    found = [s for s in facts.signs.values() if all(_answers(s, facts, w) for w in words)]
    if not found:
        asked = " ".join(words)[:60]
        raise RequestError(
            tr("No muscle or reflex answers to '{words}'; 'bodymap signs' lists all.", words=asked)
        )
    return found


def as_json(signs: Iterable[Sign]) -> list[dict[str, Any]]:
    """The signs for other programs."""
    return [
        {
            "id": s.id,
            "kind": s.kind,
            "label": s.english,
            "test": s.test,
            "main_roots": list(s.main_roots),
            "accessory_roots": list(s.accessory_roots),
            "nerves": list(s.nerves),
        }
        for s in signs
    ]


def table(signs: Sequence[Sign], width: int) -> str:
    """Two lines for each sign: id and roots, then how it is tested."""
    longest = max(len(s.id) for s in signs)
    kinds = max(len(tr(s.kind)) for s in signs)
    lines = []
    for sign in signs:
        roots = " ".join(sign.main_roots)
        if sign.accessory_roots:
            roots += f" ({' '.join(sign.accessory_roots)})"
        lines.append(f"{sign.id:<{longest}}  {tr(sign.kind):<{kinds}}  {roots}")
        said = f"{sign.label}: {tr(sign.test)}"
        lines.append(textwrap.fill(said, max(width, 40), initial_indent="  ",
                                   subsequent_indent="  "))  # fmt: skip
    return "\n".join(lines) + "\n"


def _answers(sign: Sign, facts: Facts, word: str) -> bool:
    if word.upper() in (*sign.main_roots, *sign.accessory_roots):
        return True
    nerves = [facts.nerves[n].english for n in sign.nerves if n in facts.nerves]
    texts = (sign.id, sign.kind, sign.english, sign.test, *sign.nerves, *nerves)
    return word.casefold() in searchable(*texts)
