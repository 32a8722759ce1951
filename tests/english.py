"""What gives English away in texts that should be in another language."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from bodymap.language import ENGLISH, use
from tests.messages import CONTEXT, PLURAL, known

ENGLISH_WORDS = re.compile(r"\b(the|of|and|with|which|from|are|not|by|right|left|both)\b", re.I)
"""Words that no German text holds."""

ALSO_GERMAN = {"of its own"}
"""English texts that are German as well, for something else."""


def english_texts(code: str, plain: Callable[[str], str] = str) -> set[str]:
    """English texts that a language says otherwise; ``plain`` is how a text is read."""
    found, said = set(), set()
    for text, translated in known(code).items():
        forms = {plain(s) for s in translated.split(PLURAL)}
        said |= forms
        for form in text.rpartition(CONTEXT)[2].split(PLURAL):
            if plain(form) not in forms:
                found.add(plain(form))
    return found - ALSO_GERMAN - said


def english_in(text: str, english: set[str]) -> str:
    """What of a text is English, or nothing: a word, the whole, or a piece between marks."""
    word = ENGLISH_WORDS.search(text)
    if word:
        return text[max(0, word.start() - 60) : word.end() + 60]
    pieces = (text, *re.split(r"[;:,.()\n]\s*", text))
    return next((p for p in pieces if p.strip() in english), "")


@contextmanager
def speaking(code: str) -> Iterator[None]:
    """Within this the language in hand is another one, and English after it."""
    use(code)
    try:
        yield
    finally:
        use(ENGLISH)
