"""A typed phrase as words, spelled alike: plurals, dashes, ranges and short forms."""

import re
from dataclasses import dataclass

from bodymap.wording.short_forms import written_out

SKIPPED = frozenset({"the", "of", "a", "an", "over"})
"""Words that may stand inside a name without changing it."""

_KEPT_PLURALS = frozenset({"fingers", "digits", "toes"})
_IRREGULAR = {"feet": "foot", "calves": "calf", "extremities": "extremity"}
_LEVEL = r"(?:[vctls]|d)?\d+(?:st|nd|rd|th)?"


@dataclass(frozen=True)
class Token:
    """A word in its common spelling, and as it was typed. Marks are words too."""

    text: str
    raw: str

    @property
    def is_word(self) -> bool:
        """Whether it is more than a mark."""
        return self.raw[:1].isalnum() or self.raw == "?"


def tokens(text: str) -> list[Token]:
    """The words and marks of a phrase."""
    text = written_out(text)
    text = re.sub(r"\((r|l)\)", r" \1 ", text)
    text = re.sub(r"(\d) ?(?:½|1/2|\.5)", r"\1 and a half ", text)
    text = re.sub(rf"(?<![a-z0-9])({_LEVEL})\s*[-–]\s*(?={_LEVEL}\b)", r"\1 to ", text)
    text = re.sub(r"(?<=[a-z])[-–](?=[a-z])", " ", text)
    return [Token(common(raw), raw) for raw in re.findall(r"[a-z0-9']+|[^\sa-z0-9']", text)]


def common(raw: str) -> str:
    """The common spelling of a word: singular, and the joining marks as "and"."""
    if raw in ("&", "+", "/"):
        return "and"
    if raw in _IRREGULAR:
        return _IRREGULAR[raw]
    plural = len(raw) > 3 and raw.endswith("s") and not raw.endswith(("ss", "us", "is"))
    return raw[:-1] if plural and raw not in _KEPT_PLURALS else raw


def name_of(alias: str) -> tuple[str, ...]:
    """A name from a table as the words to look for."""
    return tuple(t.text for t in tokens(alias) if t.text not in SKIPPED)
