"""The words of argparse itself, in the language in hand.

argparse asks gettext for each of them when it is said, by two names of its module. Those
two look in our catalogue first; what they do not find there, gettext answers as before.
"""

import argparse
from gettext import gettext, ngettext

from bodymap.language import later, tr, trn

WORDS = (
    later("usage: "),
    later("positional arguments"),
    later("options"),
    later("show this help message and exit"),
    later("the following arguments are required: %s"),
    later("unrecognized arguments: %s"),
    later("argument %(argument_name)s: %(message)s"),
    later("invalid choice: %(value)r (choose from %(choices)s)"),
    later("invalid %(type)s value: %(value)r"),
    later("expected one argument"),
    later("expected at most one argument"),
    later("expected at least one argument"),
    later("ignored explicit argument %r"),
)
"""What argparse of Python 3.11 may say of the options that there are."""

COUNTED = "expected %s argument"


def look_up() -> None:
    """Have argparse look in our catalogue."""
    for name, words in (("_", _said), ("ngettext", _counted)):
        setattr(argparse, name, words)


def _said(text: str) -> str:
    return tr(text) if text in WORDS else gettext(text)


def _counted(one: str, many: str, count: int) -> str:
    if one == COUNTED:
        return trn("expected %s argument", "expected %s arguments", count)
    return ngettext(one, many, count)
