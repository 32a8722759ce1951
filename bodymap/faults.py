"""How a fault in a file is told: one sentence with the file, the place and the mend."""

import difflib
import json
from typing import NoReturn

from bodymap.errors import CaseError


def fault(name: str, path: str, sentence: str) -> NoReturn:
    """Raise CaseError for a place of a file."""
    raise CaseError(f"{name}, {path}: {sentence}{'' if sentence.endswith('?') else '.'}")


def shown(value: object) -> str:
    """A value as it stands in a sentence: short, on one line, printable."""
    text = value if isinstance(value, str) else json.dumps(value, default=str)
    if len(text) > 40:
        text = text[:37] + "..."
    return "".join(c if c.isprintable() else "?" for c in text)


def nearest(word: str, known: list[str] | tuple[str, ...]) -> str | None:
    """The known word that is most like this one, if any is."""
    near = difflib.get_close_matches(word[:60].lower(), known, n=1, cutoff=0.6)
    return near[0] if near else None
