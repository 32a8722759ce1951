"""A note as plain text and as Markdown."""

import re
import textwrap

from bodymap.report.note import Form, Note
from bodymap.report.note_results import unlabelled

LINE = 88
"""Characters in a line of text."""


def as_text(note: Note, width: int | None = LINE) -> str:
    """The note as plain text; without a width every line is as long as it is, for charts
    that wrap lines themselves."""
    parts = ["\n".join([_wrapped(note.title, "", "", width), _wrapped(note.head, "", "", width)])]
    for section in note.sections:
        if note.form is Form.SHORT:
            words = f"{section.heading}: {' '.join(section.lines)}"
            parts[-1] += "\n" + _wrapped(words, "", "  ", width)
        else:
            lines = [_wrapped(line, "- ", "  ", width) for line in section.lines]
            parts.append("\n".join([section.heading, *lines]))
    if note.form is Form.FULL:
        parts.append(_wrapped(note.caution, "", "", width))
    return "\n\n".join(parts) + "\n"


def _wrapped(words: str, head: str, further: str, width: int | None) -> str:
    if width is None:
        return head + words
    return textwrap.fill(
        words, width, initial_indent=head, subsequent_indent=further, break_on_hyphens=False
    )


def as_markdown(note: Note) -> str:
    """The note as Markdown (CommonMark); whatever was written by hand is escaped."""
    parts = [f"# {escaped(note.title)}", escaped(note.head)]
    if note.form is Form.SHORT:
        parts += [f"**{escaped(s.heading)}:** {escaped(' '.join(s.lines))}" for s in note.sections]
        return "\n\n".join(parts) + "\n"
    for section in note.sections:
        parts.append(f"## {escaped(section.heading)}")
        parts.append("\n".join(f"- {_labelled(line)}" for line in section.lines))
    parts.append(f"*{escaped(note.caution)}*")
    return "\n\n".join(parts) + "\n"


def _labelled(line: str) -> str:
    """A line with the word that sorts it in bold."""
    label, words = unlabelled(line)
    return f"**{label}:** {escaped(words)}" if label else escaped(words)


_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~!&$])")
_LEADING = re.compile(r"^(\s*)([-+=]|\d+[.)])(?=\s|$)")


def escaped(text: str) -> str:
    """Text that Markdown shows as it stands: every character that could mean something is
    escaped with a backslash (CommonMark 0.31, section 2.4)."""
    text = _SPECIAL.sub(r"\\\1", text)
    leading = _LEADING.match(text)
    if leading:
        at = leading.end() - 1
        text = f"{text[:at]}\\{text[at:]}"
    return text
