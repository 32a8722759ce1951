"""Which command was asked for, and how its faults reach the person.

Exit codes: 0 done; 2 one sentence on standard error says what is wrong; 130 stopped
by the keyboard; 141 the reader of the output went away.
"""

import argparse
import difflib
import os
import sys
from collections.abc import Callable, Sequence
from enum import StrEnum
from pathlib import Path
from typing import NoReturn, TypeVar

from bodymap import __version__
from bodymap.cli import commands, dictation, note, visits, words
from bodymap.errors import BodymapError, RequestError
from bodymap.terms import MAP_NAMES, MapName, Modality, Side, View

Word = TypeVar("Word", bound=StrEnum)

WRONG, STOPPED, READER_GONE = 2, 130, 141


def main(arguments: Sequence[str] | None = None) -> int:
    """Run bodymap with the arguments of the command line; returns the exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _run(given)
        sys.stdout.flush()
    except BodymapError as error:
        print(f"bodymap: {error}", file=sys.stderr)
        return WRONG
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:
        # Python flushes standard output once more at the end; give it nowhere to fail.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_GONE
    return code


class _Parser(argparse.ArgumentParser):
    """A parser that tells a fault in one sentence."""

    def error(self, message: str) -> NoReturn:
        sentence = message[:1].upper() + " ".join(message[1:].split()).rstrip(".")
        raise RequestError(f"{sentence}; '{self.prog} --help' shows how.")


def _run(given: list[str]) -> int:
    if given and given[0] in PARSERS:
        parser = PARSERS[given[0]]()
        options = parser.parse_args(given[1:])
        code: int = options.run(options)
        return code
    options, left = _top().parse_known_args(given)
    _check_top(options.case, left)
    return commands.window(options.case)


def _check_top(case: str | None, left: list[str]) -> None:
    """Refuse what is neither a command nor a case, with the nearest command."""
    if case is None or (not left and Path(case).exists()):
        if left:
            raise RequestError(f"There is no option '{left[0]}'; 'bodymap --help' shows how.")
        return
    near = difflib.get_close_matches(case, PARSERS, n=1, cutoff=0.6)
    if near:
        raise RequestError(
            f"There is no command and no file '{case}'; did you mean 'bodymap {near[0]}'?"
        )
    if left:
        raise RequestError(
            f"There is no command '{case}' that takes '{left[0]}'; 'bodymap --help' lists them."
        )
    raise RequestError(f"There is no command and no file '{case}'; 'bodymap --help' shows how.")


def _parser(name: str, what: str, end: str) -> _Parser:
    return _Parser(
        prog=f"bodymap {name}".strip(),
        description=what,
        epilog=end,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )


def _top() -> _Parser:
    parser = _parser("", words.TOP, words.TOP_END)
    parser.usage = "bodymap [CASE] | bodymap COMMAND ..."
    parser.add_argument("case", nargs="?", metavar="CASE", help="a case file to open")
    parser.add_argument("--version", action="version", version=f"bodymap {__version__}")
    return parser


def _rank() -> _Parser:
    parser = _parser("rank", words.RANK, words.RANK_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    _add_format(parser)
    parser.add_argument(
        "--modality",
        action="append",
        type=_one_of(Modality),
        metavar="WORD",
        help=f"look at this modality only (may be repeated): {', '.join(Modality)}",
    )
    parser.add_argument(
        "--sign",
        action="append",
        metavar="SIGN:SIDE=CHANGE",
        help="a muscle or reflex that was tested (may be repeated): triceps:right=weak, "
        "ankle-reflex:left=reduced",
    )
    parser.set_defaults(run=commands.rank)
    return parser


def _draw() -> _Parser:
    parser = _parser("draw", words.DRAW, words.DRAW_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.add_argument("out", metavar="OUT", help="the picture: .svg, .png or .pdf, or -")
    parser.add_argument(
        "--maps",
        type=_maps,
        default=(),
        metavar="MAPS",
        help="territories under the drawing: dermatomes, nerves, regions or none; several "
        "with commas: the first is filled and named, of the others the borders are dashed",
    )
    parser.add_argument(
        "--candidate", metavar="ID[:SIDE]", help="hold this lesion site against the drawing"
    )
    parser.add_argument(
        "--view",
        action="append",
        type=_one_of(View),
        metavar="VIEW",
        help=f"show this view only (may be repeated): {', '.join(View)}",
    )
    parser.add_argument("--dark", action="store_true", help="light lines on a dark sheet")
    parser.add_argument(
        "--height", type=_height, default=1600, metavar="PX", help="height of a png (1600)"
    )
    parser.set_defaults(run=commands.draw)
    return parser


def _regions() -> _Parser:
    parser = _parser("regions", words.REGIONS, words.REGIONS_END)
    parser.add_argument("words", nargs="*", metavar="WORD", help="show regions with all of these")
    _add_format(parser)
    parser.set_defaults(run=commands.regions)
    return parser


def _sample() -> _Parser:
    parser = _parser("sample", words.SAMPLE, words.SAMPLE_END)
    parser.add_argument("name", nargs="?", metavar="NAME", help="a sample")
    parser.add_argument("out", nargs="?", metavar="OUT", help="where to copy it")
    parser.set_defaults(run=commands.sample)
    return parser


def _slides() -> _Parser:
    parser = _parser("slides", words.SLIDES, words.SLIDES_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.add_argument("out", metavar="OUT", help="the deck: .pptx")
    parser.add_argument("--dark", action="store_true", help="light shapes on dark slides")
    parser.set_defaults(run=commands.slides)
    return parser


def _handout() -> _Parser:
    parser = _parser("handout", words.HANDOUT, words.HANDOUT_END)
    parser.add_argument("limb", metavar="LIMB", help="arm or leg")
    parser.add_argument("out", metavar="OUT", help="the page: .pdf, .svg or .png")
    parser.set_defaults(run=commands.handout)
    return parser


def _compare() -> _Parser:
    parser = _parser("compare", words.COMPARE, words.COMPARE_END)
    parser.add_argument("lesions", nargs="*", metavar="ID[:SIDE]", help="two or three lesions")
    parser.add_argument("--picture", metavar="OUT", help="a picture as well: .svg, .png or .pdf")
    _add_format(parser)
    parser.set_defaults(run=commands.compare)
    return parser


def _signs() -> _Parser:
    parser = _parser("signs", words.SIGNS, words.SIGNS_END)
    parser.add_argument("words", nargs="*", metavar="WORD", help="show signs with all of these")
    _add_format(parser)
    parser.set_defaults(run=commands.signs)
    return parser


def _patient() -> _Parser:
    parser = _parser("patient", words.PATIENT, words.PATIENT_END)
    parser.add_argument("out", nargs="?", metavar="OUT", help="the case file to write")
    parser.add_argument(
        "--lesion",
        action="append",
        metavar="ID[:SIDE]",
        help="the hidden lesion (twice for two lesions; by default drawn at random)",
    )
    parser.add_argument("--seed", type=_seed, default=0, metavar="N", help="which patient (0)")
    parser.add_argument(
        "--reveal", action="store_true", help="write the hidden lesion into the case as well"
    )
    parser.set_defaults(run=commands.patient)
    return parser


def _classify() -> _Parser:
    parser = _parser("classify", words.CLASSIFY, words.CLASSIFY_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    _add_format(parser)
    parser.set_defaults(run=commands.classify)
    return parser


def _visits() -> _Parser:
    parser = _parser("visits", words.VISITS, words.VISITS_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.add_argument(
        "--between",
        nargs=2,
        metavar="DATE",
        help="the two visits, the earlier first (by default the last two): 2026-03-02, or "
        "latest for the one at the top of the file",
    )
    parser.add_argument("--picture", metavar="OUT", help="a picture as well: .svg, .png or .pdf")
    parser.add_argument(
        "--modality",
        type=_one_of(Modality),
        metavar="WORD",
        help=f"show this modality only on the picture: {', '.join(Modality)}",
    )
    _add_format(parser)
    parser.set_defaults(run=visits.visits)
    return parser


def _describe() -> _Parser:
    parser = _parser("describe", words.DESCRIBE, words.DESCRIBE_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.set_defaults(run=dictation.describe)
    return parser


def _note() -> _Parser:
    parser = _parser("note", words.NOTE, words.NOTE_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.add_argument(
        "--format",
        choices=("text", "md", "pdf"),
        help="text (usual), Markdown, or a PDF; without it the ending of OUT says which",
    )
    parser.add_argument("--short", action="store_true", help="a few lines for a busy chart")
    parser.add_argument("--out", metavar="OUT", help="write it here: .txt, .md or .pdf")
    parser.set_defaults(run=note.note)
    return parser


def _dictate() -> _Parser:
    parser = _parser("dictate", words.DICTATE, words.DICTATE_END)
    parser.add_argument("phrase", metavar="PHRASE", help="the finding in words, in quotes")
    parser.add_argument("--case", metavar="CASE", help="draw it into this case")
    parser.add_argument(
        "--side", type=_one_of(Side), metavar="SIDE", help="left, right or both, if none is said"
    )
    parser.add_argument("--out", metavar="OUT", help="write the case that results")
    _add_format(parser)
    parser.set_defaults(run=dictation.dictate)
    return parser


def _calibrate() -> _Parser:
    parser = _parser("calibrate", words.CALIBRATE, words.CALIBRATE_END)
    parser.add_argument("folder", metavar="FOLDER", help="where calibration.md and .svg go")
    parser.add_argument(
        "--patients", type=_patients, default=5000, metavar="N", help="how many (5000)"
    )
    parser.add_argument("--seed", type=_seed, default=1, metavar="N", help="which patients (1)")
    parser.set_defaults(run=commands.calibrate)
    return parser


def _patients(text: str) -> int:
    count = int(text)
    if not 10 <= count <= 100_000:
        raise argparse.ArgumentTypeError("the number of patients is between 10 and 100000")
    return count


def _seed(text: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise argparse.ArgumentTypeError("the seed is a whole number from 0 to 999999999")
    return int(text)


def _add_format(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="text to read, or JSON"
    )


def _one_of(words: type[Word]) -> Callable[[str], Word]:
    def word(text: str) -> Word:
        if text not in list(words):
            raise argparse.ArgumentTypeError(f"'{text}' is none of {', '.join(words)}")
        return words(text)

    return word


def _maps(text: str) -> tuple[MapName, ...]:
    words = [] if text == "none" else text.split(",")
    unknown = [word for word in words if word not in MAP_NAMES]
    if unknown:
        known = ", ".join((*MAP_NAMES, "none"))
        raise argparse.ArgumentTypeError(f"'{unknown[0]}' is none of {known}")
    return tuple(known for word in dict.fromkeys(words) for known in MAP_NAMES if known == word)


def _height(text: str) -> int:
    height = int(text)
    if not 100 <= height <= 10000:
        raise argparse.ArgumentTypeError("the height is between 100 and 10000 pixels")
    return height


PARSERS = {
    "rank": _rank,
    "draw": _draw,
    "slides": _slides,
    "handout": _handout,
    "compare": _compare,
    "classify": _classify,
    "visits": _visits,
    "describe": _describe,
    "dictate": _dictate,
    "note": _note,
    "regions": _regions,
    "signs": _signs,
    "sample": _sample,
    "patient": _patient,
    "calibrate": _calibrate,
}
