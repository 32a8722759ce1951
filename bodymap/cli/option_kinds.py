"""What an option may hold, checked while the command line is read."""

import argparse
from collections.abc import Callable
from enum import StrEnum
from typing import TypeVar

from bodymap.language import tr
from bodymap.terms import MAP_NAMES, MapName

Word = TypeVar("Word", bound=StrEnum)


def patients(text: str) -> int:
    """How many patients, 10 to 100,000."""
    count = int(text)
    if not 10 <= count <= 100_000:
        raise argparse.ArgumentTypeError(tr("the number of patients is between 10 and 100000"))
    return count


def seed(text: str) -> int:
    """A seed, 0 to 999,999,999."""
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise argparse.ArgumentTypeError(tr("the seed is a whole number from 0 to 999999999"))
    return int(text)


def add_format(parser: argparse.ArgumentParser) -> None:
    """Give a command the choice of text or JSON."""
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help=tr("text to read, or JSON")
    )


def one_of(words: type[Word]) -> Callable[[str], Word]:
    """A reader of one of some words."""

    def word(text: str) -> Word:
        if text not in list(words):
            none = tr("'{word}' is none of {words}", word=text, words=", ".join(words))
            raise argparse.ArgumentTypeError(none)
        return words(text)

    return word


def maps(text: str) -> tuple[MapName, ...]:
    """Maps by name, separated by commas, or none."""
    words = [] if text == "none" else text.split(",")
    unknown = [word for word in words if word not in MAP_NAMES]
    if unknown:
        known = ", ".join((*MAP_NAMES, "none"))
        none = tr("'{word}' is none of {words}", word=unknown[0], words=known)
        raise argparse.ArgumentTypeError(none)
    return tuple(known for word in dict.fromkeys(words) for known in MAP_NAMES if known == word)


def height(text: str) -> int:
    """The height of a picture, 100 to 10,000 pixels."""
    height = int(text)
    if not 100 <= height <= 10000:
        raise argparse.ArgumentTypeError(tr("the height is between 100 and 10000 pixels"))
    return height
