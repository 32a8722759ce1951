"""What each command does, from its options to its output.

Output goes to standard output in one piece, or to a file whole or not at all.
"""

import argparse
import json
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bodymap.cli.output import opened_drawing, print_json, write_out
from bodymap.cli.pictures import PICTURES, picture_form
from bodymap.errors import RequestError
from bodymap.language import tr

if TYPE_CHECKING:
    from bodymap.atlas import Atlas
    from bodymap.findings.drawing import Drawing
    from bodymap.terms import Side


def window(case: str | None) -> int:
    """Open the window, with a case if one is named; rank it here if there is no screen."""
    from bodymap.cli.display import screen_fault

    fault = screen_fault()
    if fault and case is None:
        raise RequestError(
            tr(
                "No window can be opened ({fault}); without one, 'bodymap rank', 'bodymap draw' "
                "and 'bodymap regions' work.",
                fault=fault,
            )
        )
    if fault:
        said = tr("No window can be opened ({fault}); here is the ranking.", fault=fault)
        print(f"{said}\n", file=sys.stderr)
        return rank(argparse.Namespace(case=case, format="text", modality=None, sign=None))
    from bodymap.gui.app import run

    return run(None if case is None else Path(case))


def rank(options: argparse.Namespace) -> int:
    """Print the ranking of a case."""
    from bodymap.localise.answer import answered
    from bodymap.localise.ranking import Scales
    from bodymap.report.ranking_report import as_json, as_text

    atlas, drawing = opened_drawing(options.case)
    if options.modality:
        drawing = drawing.only(options.modality)
    for words in options.sign or ():
        drawing = _noted(atlas, drawing, words)
    answer = answered(Scales(atlas), drawing)
    if options.format == "json":
        print_json(as_json(answer))
    else:
        sys.stdout.write(as_text(answer))
    return 0


def _noted(atlas: "Atlas", drawing: "Drawing", words: str) -> "Drawing":
    """The drawing with a sign noted that is written SIGN:SIDE=CHANGE."""
    from bodymap.faults import nearest
    from bodymap.findings.signs import CHANGES, SignChange
    from bodymap.terms import Side

    name, _, change = words.partition("=")
    id_, _, side = name.partition(":")
    known = atlas.facts.signs.get(id_)
    if known is None:
        near = nearest(id_, tuple(atlas.facts.signs))
        if near:
            raise RequestError(
                tr("There is no sign '{id}'; did you mean '{near}'?", id=id_, near=near)
            )
        raise RequestError(tr("There is no sign '{id}'; 'bodymap signs' lists them.", id=id_))
    allowed = CHANGES[known.kind]
    if side not in list(Side) or change not in list(allowed):
        raise RequestError(_no_finding(words, id_, known.kind, ", ".join(allowed)))
    return drawing.with_signs(drawing.signs.noted(id_, Side(side), SignChange(change)))


def _no_finding(words: str, id_: str, kind: str, allowed: str) -> str:
    if kind == "muscle":
        return tr(
            "'{words}' is no finding of a muscle; write {id}:SIDE=CHANGE with a side (left, "
            "right, both) and one of {allowed}.",
            words=words,
            id=id_,
            allowed=allowed,
        )
    return tr(
        "'{words}' is no finding of a reflex; write {id}:SIDE=CHANGE with a side (left, "
        "right, both) and one of {allowed}.",
        words=words,
        id=id_,
        allowed=allowed,
    )


def compare(options: argparse.Namespace) -> int:
    """Hold lesions against each other, as text, JSON, a picture or slides."""
    from bodymap.atlas import load_atlas
    from bodymap.findings.drawing import Drawing
    from bodymap.localise.comparison import classic_confusions, compared
    from bodymap.localise.ranking import Scales
    from bodymap.report.comparison_report import as_json, as_text
    from bodymap.report.picture import PictureOptions, draw_svg

    atlas = load_atlas()
    scales = Scales(atlas)
    if not (options.lesions or options.picture or options.slides):
        for pair in classic_confusions(scales):
            print(f"{pair.first} {pair.second}")
        return 0
    comparison = compared(scales, _lesions(options.lesions))
    deck = _deck_file(options.slides) if options.slides else None
    if options.picture:
        form = picture_form(options.picture)
        names = ", ".join(t.name for t in comparison.members)
        svg = draw_svg(atlas, Drawing(), PictureOptions(comparison=comparison, title=names))
        write_out(options.picture, PICTURES[form](svg, 1600))
    if deck is not None:
        from bodymap.localise.answer import answered
        from bodymap.slides.compared_words import compared_title
        from bodymap.slides.deck import make_deck

        nothing = answered(scales, Drawing())
        title = compared_title(comparison)
        write_out(deck, make_deck(nothing, title, comparison=comparison))
    if options.format == "json":
        print_json(as_json(atlas, comparison))
    else:
        sys.stdout.write(as_text(atlas, comparison))
    return 0


def _lesions(written: list[str]) -> "tuple[tuple[str, Side], ...]":
    """Lesions written ID[:SIDE], the right one where no side is named."""
    from bodymap.terms import Side

    chosen = []
    for words in written:
        id_, _, side = words.partition(":")
        if side and side not in list(Side):
            raise RequestError(
                tr("'{side}' is no side; write {id}:left or {id}:right.", side=side, id=id_)
            )
        chosen.append((id_, Side(side) if side else Side.RIGHT))
    return tuple(chosen)


def _deck_file(out: str) -> str:
    if Path(out).suffix.lower() != ".pptx":
        raise RequestError(tr("{file} names no deck; end it in .pptx.", file=out))
    return out


def signs(options: argparse.Namespace) -> int:
    """List the muscles and reflexes that can be noted."""
    from bodymap.cli.sign_list import as_json, matching, table

    rows = matching(options.words)
    if options.format == "json":
        print_json(as_json(rows))
    else:
        sys.stdout.write(table(rows, shutil.get_terminal_size((100, 24)).columns))
    return 0


def patient(options: argparse.Namespace) -> int:
    """Write the case of a simulated patient."""
    from bodymap.atlas import load_atlas
    from bodymap.findings.case_file import Case, encode_case
    from bodymap.localise.catalogue import Catalogue
    from bodymap.simulation.request import requested, told

    atlas = load_atlas()
    catalogue = Catalogue(atlas)
    made = requested(catalogue, options.lesion or [], options.seed)
    case = Case(made.drawing, {"simulated": told(catalogue, made)} if options.reveal else {})
    data = encode_case(case)
    if options.out is None:
        sys.stdout.write(data.decode("utf-8"))
    else:
        write_out(options.out, data)
    return 0


def handout(options: argparse.Namespace) -> int:
    """Write a page that compares roots and nerves of a limb."""
    from bodymap.atlas import load_atlas
    from bodymap.report.handout import handout_svg

    form = picture_form(options.out)
    write_out(options.out, PICTURES[form](handout_svg(load_atlas(), options.limb), 2400))
    return 0


def slides(options: argparse.Namespace) -> int:
    """Write a deck of teaching slides."""
    from bodymap.localise.answer import answered
    from bodymap.localise.comparison import compared
    from bodymap.localise.ranking import Scales
    from bodymap.report.appearance import DARK, LIGHT
    from bodymap.slides.deck import make_deck

    out = _deck_file(options.out)
    atlas, drawing = opened_drawing(options.case)
    scales = Scales(atlas)
    comparison = compared(scales, _lesions(options.compare)) if options.compare else None
    answer = answered(scales, drawing)
    theme = DARK if options.dark else LIGHT
    write_out(out, make_deck(answer, Path(options.case).stem, theme, comparison))
    return 0


def classify(options: argparse.Namespace) -> int:
    """Print the neurological classification of the record of a case."""
    from bodymap.cli.classify import classify as classified

    return classified(options)


def calibrate(options: argparse.Namespace) -> int:
    """Measure the ranking on simulated patients and write the document."""
    from bodymap.atlas import load_atlas
    from bodymap.localise.catalogue import Catalogue
    from bodymap.report.calibration_report import curve, document
    from bodymap.simulation.calibration import calibrated

    folder = Path(options.folder)
    if not folder.is_dir():
        raise RequestError(
            tr(
                "There is no folder '{folder}'; make it, or name another one.",
                folder=options.folder,
            )
        )
    shown = sys.stderr.isatty()

    def progress(share: float) -> None:
        if shown:
            print(f"\r{share:4.0%}", end="", file=sys.stderr, flush=True)

    catalogue = Catalogue(load_atlas())
    measured = calibrated(options.patients, options.seed, progress)
    if shown:
        print(file=sys.stderr)
    picture = "calibration.svg"
    write_out(str(folder / picture), curve(measured).encode("utf-8"))
    page = folder / "calibration.md"
    write_out(str(page), document(catalogue, measured, picture).encode("utf-8"))
    print(page)
    return 0


def regions(options: argparse.Namespace) -> int:
    """List the named regions that match all words."""
    from bodymap.cli.region_list import matching, region_rows, table

    rows = matching(region_rows(), options.words)
    if options.format == "json":
        print_json([row.as_json() for row in rows])
    else:
        sys.stdout.write(table(rows, shutil.get_terminal_size((100, 24)).columns))
    return 0


def sample(options: argparse.Namespace) -> int:
    """List the samples, name the file of one, or copy it."""
    from bodymap.findings.samples import sample_file, sample_files

    if options.name is None:
        files = sample_files()
        width = max(len(path.stem) for path in files)
        for path in files:
            shows = json.loads(path.read_bytes())["shows"]["sentence"]
            print(f"{path.stem:<{width}}  {tr(shows)}")
        return 0
    path = sample_file(options.name)
    if options.out is None:
        print(path)
    else:
        write_out(options.out, path.read_bytes())
    return 0
