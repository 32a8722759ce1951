"""The options of every command."""

import argparse
from collections.abc import Callable
from typing import NoReturn

from bodymap import __version__
from bodymap.cli import commands, dictation, note, visits, words
from bodymap.cli.option_kinds import add_format, height, maps, one_of, patients, seed
from bodymap.cli.pictures import draw
from bodymap.errors import RequestError
from bodymap.terms import Modality, Side, View


class Parser(argparse.ArgumentParser):
    """A parser that tells a fault in one sentence."""

    def error(self, message: str) -> NoReturn:
        sentence = message[:1].upper() + " ".join(message[1:].split()).rstrip(".")
        raise RequestError(f"{sentence}; '{self.prog} --help' shows how.")


def _parser(name: str, what: str, end: str) -> Parser:
    return Parser(
        prog=f"bodymap {name}".strip(),
        description=what,
        epilog=end,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )


def top() -> Parser:
    """The options without a command: a case to open."""
    parser = _parser("", words.TOP, words.TOP_END)
    parser.usage = "bodymap [CASE] | bodymap COMMAND ..."
    parser.add_argument("case", nargs="?", metavar="CASE", help="a case file to open")
    parser.add_argument("--version", action="version", version=f"bodymap {__version__}")
    return parser


def _rank() -> Parser:
    parser = _parser("rank", words.RANK, words.RANK_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    add_format(parser)
    parser.add_argument(
        "--modality",
        action="append",
        type=one_of(Modality),
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


def _draw() -> Parser:
    parser = _parser("draw", words.DRAW, words.DRAW_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.add_argument("out", metavar="OUT", help="the picture: .svg, .png or .pdf, or -")
    parser.add_argument(
        "--maps",
        type=maps,
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
        type=one_of(View),
        metavar="VIEW",
        help=f"show this view only (may be repeated): {', '.join(View)}",
    )
    parser.add_argument("--dark", action="store_true", help="light lines on a dark sheet")
    parser.add_argument(
        "--height", type=height, default=1600, metavar="PX", help="height of a png (1600)"
    )
    parser.set_defaults(run=draw)
    return parser


def _regions() -> Parser:
    parser = _parser("regions", words.REGIONS, words.REGIONS_END)
    parser.add_argument("words", nargs="*", metavar="WORD", help="show regions with all of these")
    add_format(parser)
    parser.set_defaults(run=commands.regions)
    return parser


def _sample() -> Parser:
    parser = _parser("sample", words.SAMPLE, words.SAMPLE_END)
    parser.add_argument("name", nargs="?", metavar="NAME", help="a sample")
    parser.add_argument("out", nargs="?", metavar="OUT", help="where to copy it")
    parser.set_defaults(run=commands.sample)
    return parser


def _slides() -> Parser:
    parser = _parser("slides", words.SLIDES, words.SLIDES_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.add_argument("out", metavar="OUT", help="the deck: .pptx")
    parser.add_argument("--dark", action="store_true", help="light shapes on dark slides")
    parser.add_argument(
        "--compare",
        action="append",
        metavar="ID[:SIDE]",
        help="compare this lesion on a slide (two or three times, once for each lesion)",
    )
    parser.set_defaults(run=commands.slides)
    return parser


def _handout() -> Parser:
    parser = _parser("handout", words.HANDOUT, words.HANDOUT_END)
    parser.add_argument("limb", metavar="LIMB", help="arm or leg")
    parser.add_argument("out", metavar="OUT", help="the page: .pdf, .svg or .png")
    parser.set_defaults(run=commands.handout)
    return parser


def _compare() -> Parser:
    parser = _parser("compare", words.COMPARE, words.COMPARE_END)
    parser.add_argument("lesions", nargs="*", metavar="ID[:SIDE]", help="two or three lesions")
    parser.add_argument("--picture", metavar="OUT", help="a picture as well: .svg, .png or .pdf")
    parser.add_argument("--slides", metavar="OUT", help="teaching slides as well: .pptx")
    add_format(parser)
    parser.set_defaults(run=commands.compare)
    return parser


def _signs() -> Parser:
    parser = _parser("signs", words.SIGNS, words.SIGNS_END)
    parser.add_argument("words", nargs="*", metavar="WORD", help="show signs with all of these")
    add_format(parser)
    parser.set_defaults(run=commands.signs)
    return parser


def _patient() -> Parser:
    parser = _parser("patient", words.PATIENT, words.PATIENT_END)
    parser.add_argument("out", nargs="?", metavar="OUT", help="the case file to write")
    parser.add_argument(
        "--lesion",
        action="append",
        metavar="ID[:SIDE]",
        help="the hidden lesion (twice for two lesions; by default drawn at random)",
    )
    parser.add_argument("--seed", type=seed, default=0, metavar="N", help="which patient (0)")
    parser.add_argument(
        "--reveal", action="store_true", help="write the hidden lesion into the case as well"
    )
    parser.set_defaults(run=commands.patient)
    return parser


def _classify() -> Parser:
    parser = _parser("classify", words.CLASSIFY, words.CLASSIFY_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    add_format(parser)
    parser.set_defaults(run=commands.classify)
    return parser


def _visits() -> Parser:
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
        type=one_of(Modality),
        metavar="WORD",
        help=f"show this modality only on the picture: {', '.join(Modality)}",
    )
    add_format(parser)
    parser.set_defaults(run=visits.visits)
    return parser


def _describe() -> Parser:
    parser = _parser("describe", words.DESCRIBE, words.DESCRIBE_END)
    parser.add_argument("case", metavar="CASE", help="the case file")
    parser.set_defaults(run=dictation.describe)
    return parser


def _note() -> Parser:
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


def _dictate() -> Parser:
    parser = _parser("dictate", words.DICTATE, words.DICTATE_END)
    parser.add_argument("phrase", metavar="PHRASE", help="the finding in words, in quotes")
    parser.add_argument("--case", metavar="CASE", help="draw it into this case")
    parser.add_argument(
        "--side", type=one_of(Side), metavar="SIDE", help="left, right or both, if none is said"
    )
    parser.add_argument("--out", metavar="OUT", help="write the case that results")
    add_format(parser)
    parser.set_defaults(run=dictation.dictate)
    return parser


def _calibrate() -> Parser:
    parser = _parser("calibrate", words.CALIBRATE, words.CALIBRATE_END)
    parser.add_argument("folder", metavar="FOLDER", help="where calibration.md and .svg go")
    parser.add_argument(
        "--patients", type=patients, default=5000, metavar="N", help="how many (5000)"
    )
    parser.add_argument("--seed", type=seed, default=1, metavar="N", help="which patients (1)")
    parser.set_defaults(run=commands.calibrate)
    return parser


PARSERS: dict[str, Callable[[], Parser]] = {
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
"""How the options of each command are read."""
