"""How a fault in a file is told: one sentence with the file, the place and the mend."""

import difflib
import json
from collections.abc import Sequence
from functools import reduce
from typing import NoReturn

from bodymap.errors import CaseError
from bodymap.language import later, tr

CAUSES = (
    later("No such file or directory"),
    later("Permission denied"),
    later("Is a directory"),
    later("Not a directory"),
    later("File exists"),
    later("File name too long"),
    later("No space left on device"),
    later("Read-only file system"),
    later("Disk quota exceeded"),
    later("Input/output error"),
    later("Too many open files"),
    later("embedded null byte"),
    later("it is write-protected"),
    later("the disk gave back other bytes than were written"),
)
"""What the system says when a file cannot be read or written; the rest stays as it says it."""


class FaultError(CaseError):
    """A fault at a place of a file; ``path`` is the JSON path of the place ("$.version")."""

    def __init__(self, name: str, path: str, sentence: str) -> None:
        super().__init__(f"{name}, {path}: {sentence}{'' if sentence.endswith('?') else '.'}")
        self.name, self.path, self.sentence = name, path, sentence

    def inside(self, place: str) -> "FaultError":
        """The same fault of a document that itself stands at a place of the file."""
        return FaultError(self.name, place + self.path.removeprefix("$"), self.sentence)


def fault(name: str, path: str, sentence: str) -> NoReturn:
    """Raise CaseError for a place of a file."""
    raise FaultError(name, path, sentence)


def shown(value: object) -> str:
    """A value as it stands in a sentence: short, on one line, printable."""
    text = value if isinstance(value, str) else json.dumps(value, default=str)
    if len(text) > 40:
        text = text[:37] + "..."
    return "".join(c if c.isprintable() else "?" for c in text)


def cause(error: Exception) -> str:
    """Why a file could not be read or written, in the words of the system, looked up."""
    text = getattr(error, "strerror", None) or str(error).partition("\n")[0]
    return tr(str(text).rstrip("."))


def alternatives(words: Sequence[str]) -> str:
    """Words of which one is meant."""
    return reduce(lambda one, other: tr("{first} or {second}", first=one, second=other), words)


def nearest(word: str, known: list[str] | tuple[str, ...]) -> str | None:
    """The known word that is most like this one, if any is."""
    near = difflib.get_close_matches(word[:60].lower(), known, n=1, cutoff=0.6)
    return near[0] if near else None
