"""The language of what is shown: an English text is looked up when it is shown.

English is what the code says, so it needs no catalogue and costs one test of a value. Any
other language is one file, ``assets/languages/<code>.po``, in the usual form of a
translator's catalogue; its head says what the language calls itself and which way it is
written. A text that a catalogue lacks is shown in English.

Values and files never change with the language: a case holds "right" and "reduced"
whatever the window says.
"""

import gettext
import io
import os
import re
import string
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from itertools import takewhile
from pathlib import Path

from bodymap.errors import RequestError

ENGLISH = "en"
VARIABLE = "BODYMAP_LANGUAGE"
"""The variable of the environment that names a language, for one run."""

_PACKAGE = Path(__file__).resolve().parent
_code = ENGLISH
_catalogue: gettext.NullTranslations | None = None
_info: dict[str, str] = {}
"""What the head of the catalogue in hand says."""
_english: ContextVar[bool] = ContextVar("english", default=False)


class Phrase(str):
    """A text that was filled in English and can be said again: a name such as
    "C5 to C6 nerve roots" that is made once and read in any language."""

    template: str
    values: dict[str, object]


def phrase(template: str, /, **values: object) -> Phrase:
    """A text with values; those that are texts are looked up as well."""
    made = Phrase(template.format(**values))
    made.template, made.values = template, values
    return made


def tr(text: str, context: str = "", /, **values: object) -> str:
    """A text in the language in hand, with values in the place of its ``{names}``.

    ``context`` tells apart what English has one word for ("None": no overlay, not felt).
    """
    if _catalogue is not None and text and not _english.get():
        if isinstance(text, Phrase):
            inner = {k: tr(v) if isinstance(v, str) else v for k, v in text.values.items()}
            return tr(text.template, **inner)
        text = _catalogue.pgettext(context, text) if context else _catalogue.gettext(text)
    return _filled(text, values) if values else text


def trn(one: str, many: str, count: int, /, **values: object) -> str:
    """The form of a text that goes with a count, which stands in it as ``{count}``."""
    if _catalogue is not None and not _english.get():
        text = _catalogue.ngettext(one, many, count)
    else:
        text = one if count == 1 else many
    return _filled(text, {"count": count, **values})


NO_BREAK = "\u00a0"

_SWAPPED = str.maketrans(".,", ",.")
"""The comma before the decimals and the point between the thousands."""


class _Numbers(string.Formatter):
    """Fills a text with numbers as the language in hand writes them."""

    def format_field(self, value: object, format_spec: str) -> str:
        if isinstance(value, int | float):
            return number(value, format_spec)
        return format(value, format_spec)


def _filled(text: str, values: dict[str, object]) -> str:
    if language() != ENGLISH:
        return _Numbers().vformat(text, (), values)
    return text.format(**values)


def searchable(*texts: str) -> str:
    """Texts as a search reads them: in English and in the language in hand, without the
    difference of large and small letters."""
    return " ".join(dict.fromkeys((*texts, *map(tr, texts)))).casefold()


def number(value: float, form: str = "") -> str:
    """A number alone, as the language in hand writes it: "3.5" or "3,5", "56%" or "56 %"."""
    said = format(value, form)
    if language() == ENGLISH:
        return said
    if _info.get("x-percent") == "spaced":
        said = said.replace("%", f"{NO_BREAK}%")
    return said.translate(_SWAPPED) if _info.get("x-decimal") == "comma" else said


def later(text: str) -> str:
    """Mark a text of a constant for the catalogue; it is looked up where it is shown."""
    return text


def capital(text: str) -> str:
    """A text with a large first letter. Only that: other letters mean something in German."""
    return text[:1].upper() + text[1:]


def lower_first(text: str) -> str:
    """A text as it goes on within a sentence: its first letter small, save in a language
    that writes its nouns large, where nobody can tell from the outside."""
    return text if language() != ENGLISH else text[:1].lower() + text[1:]


@contextmanager
def english() -> Iterator[None]:
    """Within this, and in this thread, everything is English: for what programs and the
    dictation read."""
    before = _english.set(True)
    try:
        yield
    finally:
        _english.reset(before)


def language() -> str:
    """The code of the language in hand."""
    return ENGLISH if _english.get() else _code


def use(code: str) -> None:
    """Take a language from now on.

    Raises RequestError if there is no such language.
    """
    global _code, _catalogue, _info
    if code != ENGLISH and code not in languages():
        known = ", ".join(languages())
        raise RequestError(
            tr("There is no language '{code}'; there are {known}.", code=code[:20], known=known)
        )
    _catalogue = None if code == ENGLISH else catalogue(code)
    _info = {} if code == ENGLISH else _head(catalogue_file(code))
    _code = code


def wanted(kept: str = "") -> str:
    """The language to start in: what the environment names, else what was kept, else English.

    The language of the desktop is not followed: what is written leaves with the person's
    notes, so its language is chosen, never guessed. A kept language that is no longer
    there is passed over; one that the environment names is not.
    """
    return os.environ.get(VARIABLE) or (kept if kept in languages() else ENGLISH)


def languages() -> dict[str, str]:
    """The code of every language, and what it calls itself."""
    files = sorted(_folder().glob("*.po"))
    return {ENGLISH: "English"} | {f.stem: _head(f).get("x-language-name", f.stem) for f in files}


def right_to_left() -> bool:
    """Whether the language in hand is written from right to left."""
    return language() != ENGLISH and _info.get("x-direction") == "right-to-left"


def catalogue_file(code: str) -> Path:
    """Where the catalogue of a language is kept."""
    return _folder() / f"{code}.po"


def _folder() -> Path:
    """As in ``atlas.assets``, which stands above this."""
    inside = _PACKAGE / "assets" / "languages"
    return inside if inside.is_dir() else _PACKAGE.parent / "assets" / "languages"


def _head(file: Path) -> dict[str, str]:
    """The head of a catalogue: what stands before its first empty line."""
    with file.open(encoding="utf-8") as lines:
        head = "".join(takewhile(str.strip, lines))
    pairs = (line.partition(":") for line in messages(head).get("", "").splitlines())
    return {name.strip().lower(): value.strip() for name, _, value in pairs}


def catalogue(code: str) -> gettext.GNUTranslations:
    """The catalogue of a language."""
    text = catalogue_file(code).read_text(encoding="utf-8")
    return gettext.GNUTranslations(io.BytesIO(_machine_form(messages(text))))


def messages(text: str) -> dict[str, str]:
    """What a catalogue translates, and into what, in the keys of its machine form: a context
    stands before the text and an end of transmission, a plural after the text and a zero."""
    found: dict[str, str] = {}
    entry: dict[str, str] = {}
    field = ""
    for line in [*text.splitlines(), "msgid"]:
        word, _, rest = line.strip().partition(" ")
        if word == "msgctxt" or (word == "msgid" and "msgid" in entry):
            _take(found, entry)
            entry = {}
        if word.startswith("msg"):
            field = word
            entry[field] = ""
        quoted = rest if word.startswith("msg") else line.strip()
        if quoted.startswith('"'):
            entry[field] += _unquoted(quoted)
    return found


def _unquoted(quoted: str) -> str:
    """A text as it stands in a catalogue, without its quotes and escapes."""
    text = quoted[1:-1]
    if "\\" not in text:
        return text
    return re.sub(r"\\(.)", lambda m: {"n": "\n", "t": "\t"}.get(m[1], m[1]), text)


def _take(found: dict[str, str], entry: dict[str, str]) -> None:
    """Add an entry that says something."""
    said = [v for k, v in sorted(entry.items()) if k.startswith("msgstr")]
    if "msgid" not in entry or not all(said) or not said:
        return
    key = entry["msgid"]
    if "msgctxt" in entry:
        key = f"{entry['msgctxt']}\x04{key}"
    if "msgid_plural" in entry:
        key = f"{key}\0{entry['msgid_plural']}"
    found[key] = "\0".join(said)


def _machine_form(found: dict[str, str]) -> bytes:
    """A catalogue as the standard library reads it (GNU gettext manual, "MO Files")."""
    pairs = [(key.encode(), found[key].encode()) for key in sorted(found)]
    start = 28 + 16 * len(pairs)
    tables: list[list[int]] = [[], []]
    pieces: list[bytes] = []
    for table, texts in zip(tables, zip(*pairs, strict=True), strict=True):
        for one in texts:
            table += [len(one), start]
            pieces.append(one + b"\0")
            start += len(one) + 1
    count = len(pairs)
    head = struct.pack("<7I", 0x950412DE, 0, count, 28, 28 + 8 * count, 0, 28 + 16 * count)
    return head + struct.pack(f"<{4 * count}I", *tables[0], *tables[1]) + b"".join(pieces)
