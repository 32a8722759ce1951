"""The options of every command."""

import argparse
from collections.abc import Callable
from typing import NoReturn

from bodymap import __version__
from bodymap.cli import argparse_words, commands, dictation, note, visits, words
from bodymap.cli.option_kinds import add_format, height, maps, one_of, patients, seed
from bodymap.cli.pictures import draw
from bodymap.errors import RequestError
from bodymap.language import tr
from bodymap.terms import Modality, Side, View

argparse_words.look_up()


class Parser(argparse.ArgumentParser):
    """A parser that tells a fault in one sentence."""

    def error(self, message: str) -> NoReturn:
        fault = message[:1].upper() + " ".join(message[1:].split()).rstrip(".")
        raise RequestError(
            tr("{fault}; '{command} --help' shows how.", fault=fault, command=self.prog)
        )


def _parser(name: str, what: str, examples: str, note: str = "") -> Parser:
    """A parser of a command; ``what`` and ``note`` stand before and after its options."""
    end = f"{tr('examples:')}\n{examples}"
    return Parser(
        prog=f"bodymap {name}".strip(),
        description=tr(what),
        epilog=f"{end}\n{tr(note)}" if note else end,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )


def top() -> Parser:
    """The options without a command: a case to open."""
    parser = _parser("", words.TOP, words.TOP_EXAMPLES, words.TOP_NOTE)
    parser.description = f"{parser.description}\n{_commands()}"
    parser.usage = "bodymap [CASE] | bodymap COMMAND ..."
    parser.add_argument("case", nargs="?", metavar="CASE", help=tr("a case file to open"))
    parser.add_argument(
        "--version",
        action="version",
        version=f"bodymap {__version__}",
        help=tr("show program's version number and exit"),
    )
    return parser


def _commands() -> str:
    return "".join(f"  {usage:<30}{tr(what)}\n" for usage, what in words.COMMANDS)


def _rank() -> Parser:
    parser = _parser("rank", words.RANK, words.RANK_EXAMPLES, words.RANK_NOTE)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    add_format(parser)
    parser.add_argument(
        "--modality",
        action="append",
        type=one_of(Modality),
        metavar="WORD",
        help=tr("look at this modality only (may be repeated): {words}", words=", ".join(Modality)),
    )
    parser.add_argument(
        "--sign",
        action="append",
        metavar="SIGN:SIDE=CHANGE",
        help=tr(
            "a muscle or reflex that was tested (may be repeated): triceps:right=weak, "
            "ankle-reflex:left=reduced"
        ),
    )
    parser.set_defaults(run=commands.rank)
    return parser


def _draw() -> Parser:
    parser = _parser("draw", words.DRAW, words.DRAW_EXAMPLES, words.DRAW_NOTE)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    parser.add_argument("out", metavar="OUT", help=tr("the picture: .svg, .png or .pdf, or -"))
    parser.add_argument(
        "--maps",
        type=maps,
        default=(),
        metavar="MAPS",
        help=tr(
            "territories under the drawing: dermatomes, nerves, regions or none; several "
            "with commas: the first is filled and named, of the others the borders are dashed"
        ),
    )
    parser.add_argument(
        "--candidate", metavar="ID[:SIDE]", help=tr("hold this lesion site against the drawing")
    )
    parser.add_argument(
        "--view",
        action="append",
        type=one_of(View),
        metavar="VIEW",
        help=tr("show this view only (may be repeated): {words}", words=", ".join(View)),
    )
    parser.add_argument("--dark", action="store_true", help=tr("light lines on a dark sheet"))
    parser.add_argument(
        "--height", type=height, default=1600, metavar="PX", help=tr("height of a png (1600)")
    )
    parser.set_defaults(run=draw)
    return parser


def _regions() -> Parser:
    parser = _parser("regions", words.REGIONS, words.REGIONS_EXAMPLES)
    parser.add_argument(
        "words", nargs="*", metavar="WORD", help=tr("show regions with all of these")
    )
    add_format(parser)
    parser.set_defaults(run=commands.regions)
    return parser


def _sample() -> Parser:
    parser = _parser("sample", words.SAMPLE, words.SAMPLE_EXAMPLES)
    parser.add_argument("name", nargs="?", metavar="NAME", help=tr("a sample"))
    parser.add_argument("out", nargs="?", metavar="OUT", help=tr("where to copy it"))
    parser.set_defaults(run=commands.sample)
    return parser


def _slides() -> Parser:
    parser = _parser("slides", words.SLIDES, words.SLIDES_EXAMPLES)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    parser.add_argument("out", metavar="OUT", help=tr("the deck: .pptx"))
    parser.add_argument("--dark", action="store_true", help=tr("light shapes on dark slides"))
    parser.add_argument(
        "--compare",
        action="append",
        metavar="ID[:SIDE]",
        help=tr("compare this lesion on a slide (two or three times, once for each lesion)"),
    )
    parser.set_defaults(run=commands.slides)
    return parser


def _handout() -> Parser:
    parser = _parser("handout", words.HANDOUT, words.HANDOUT_EXAMPLES)
    parser.add_argument("limb", metavar="LIMB", help=tr("arm or leg"))
    parser.add_argument("out", metavar="OUT", help=tr("the page: .pdf, .svg or .png"))
    parser.set_defaults(run=commands.handout)
    return parser


def _compare() -> Parser:
    parser = _parser("compare", words.COMPARE, words.COMPARE_EXAMPLES)
    parser.add_argument("lesions", nargs="*", metavar="ID[:SIDE]", help=tr("two or three lesions"))
    parser.add_argument(
        "--picture", metavar="OUT", help=tr("a picture as well: .svg, .png or .pdf")
    )
    parser.add_argument("--slides", metavar="OUT", help=tr("teaching slides as well: .pptx"))
    add_format(parser)
    parser.set_defaults(run=commands.compare)
    return parser


def _signs() -> Parser:
    parser = _parser("signs", words.SIGNS, words.SIGNS_EXAMPLES)
    parser.add_argument("words", nargs="*", metavar="WORD", help=tr("show signs with all of these"))
    add_format(parser)
    parser.set_defaults(run=commands.signs)
    return parser


def _patient() -> Parser:
    parser = _parser("patient", words.PATIENT, words.PATIENT_EXAMPLES)
    parser.add_argument("out", nargs="?", metavar="OUT", help=tr("the case file to write"))
    parser.add_argument(
        "--lesion",
        action="append",
        metavar="ID[:SIDE]",
        help=tr("the hidden lesion (twice for two lesions; by default drawn at random)"),
    )
    parser.add_argument("--seed", type=seed, default=0, metavar="N", help=tr("which patient (0)"))
    parser.add_argument(
        "--reveal", action="store_true", help=tr("write the hidden lesion into the case as well")
    )
    parser.set_defaults(run=commands.patient)
    return parser


def _classify() -> Parser:
    parser = _parser("classify", words.CLASSIFY, words.CLASSIFY_EXAMPLES)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    add_format(parser)
    parser.set_defaults(run=commands.classify)
    return parser


def _visits() -> Parser:
    parser = _parser("visits", words.VISITS, words.VISITS_EXAMPLES, words.VISITS_NOTE)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    parser.add_argument(
        "--between",
        nargs=2,
        metavar="DATE",
        help=tr(
            "the two visits, the earlier first (by default the last two): 2026-03-02, or "
            "latest for the one at the top of the file"
        ),
    )
    parser.add_argument(
        "--picture", metavar="OUT", help=tr("a picture as well: .svg, .png or .pdf")
    )
    parser.add_argument(
        "--modality",
        type=one_of(Modality),
        metavar="WORD",
        help=tr("show this modality only on the picture: {words}", words=", ".join(Modality)),
    )
    add_format(parser)
    parser.set_defaults(run=visits.visits)
    return parser


def _describe() -> Parser:
    parser = _parser("describe", words.DESCRIBE, words.DESCRIBE_EXAMPLES)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    parser.set_defaults(run=dictation.describe)
    return parser


def _note() -> Parser:
    parser = _parser("note", words.NOTE, words.NOTE_EXAMPLES, words.NOTE_NOTE)
    parser.add_argument("case", metavar="CASE", help=tr("the case file"))
    parser.add_argument(
        "--format",
        choices=("text", "md", "pdf"),
        help=tr("text (usual), Markdown, or a PDF; without it the ending of OUT says which"),
    )
    parser.add_argument("--short", action="store_true", help=tr("a few lines for a busy chart"))
    parser.add_argument("--out", metavar="OUT", help=tr("write it here: .txt, .md or .pdf"))
    parser.set_defaults(run=note.note)
    return parser


def _dictate() -> Parser:
    parser = _parser("dictate", words.DICTATE, words.DICTATE_EXAMPLES)
    parser.add_argument("phrase", metavar="PHRASE", help=tr("the finding in words, in quotes"))
    parser.add_argument("--case", metavar="CASE", help=tr("draw it into this case"))
    parser.add_argument(
        "--side", type=one_of(Side), metavar="SIDE", help=tr("left, right or both, if none is said")
    )
    parser.add_argument("--out", metavar="OUT", help=tr("write the case that results"))
    add_format(parser)
    parser.set_defaults(run=dictation.dictate)
    return parser


def _calibrate() -> Parser:
    parser = _parser("calibrate", words.CALIBRATE, words.CALIBRATE_EXAMPLES)
    parser.add_argument("folder", metavar="FOLDER", help=tr("where calibration.md and .svg go"))
    parser.add_argument(
        "--patients", type=patients, default=5000, metavar="N", help=tr("how many (5000)")
    )
    parser.add_argument("--seed", type=seed, default=1, metavar="N", help=tr("which patients (1)"))
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
