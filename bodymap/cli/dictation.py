"""Between a drawing and words: ``describe`` says what is drawn, ``dictate`` reads a phrase."""

import argparse
import sys

from bodymap.cli.output import print_json, write_out
from bodymap.errors import RequestError
from bodymap.language import tr


def describe(options: argparse.Namespace) -> int:
    """Print the findings of a case in words."""
    from bodymap.atlas import load_atlas
    from bodymap.examination.exchange import opened
    from bodymap.report.skin_sentences import drawing_said

    atlas = load_atlas()
    print(drawing_said(atlas, opened(options.case, atlas).drawing))
    return 0


def dictate(options: argparse.Namespace) -> int:
    """Print what a phrase means, and write the case that results if one is wanted."""
    from bodymap.atlas import load_atlas
    from bodymap.findings.case_file import Case, encode_case, open_case
    from bodymap.report.skin_sentences import findings_said
    from bodymap.wording.finding import with_findings
    from bodymap.wording.understand import understood

    atlas = load_atlas()
    case = open_case(options.case, atlas) if options.case else Case()
    got = understood(options.phrase, atlas, options.side)
    if options.out:
        if not got.findings:
            raise RequestError(
                tr(
                    "'{phrase}' gives no finding; say a change and a place, such as 'reduced "
                    "pinprick over the right thumb'.",
                    phrase=options.phrase,
                )
            )
        if got.side_missing:
            raise RequestError(
                tr(
                    "'{phrase}' has no side; say left or right, or add --side.",
                    phrase=options.phrase,
                )
            )
        drawing = with_findings(atlas, case.drawing, got.findings)
        write_out(options.out, encode_case(case.with_drawing(drawing)))
    if options.format == "json":
        said = {
            "understood": got.canonical,
            "not_understood": list(got.not_understood),
            "notes": list(got.notes),
            "side_missing": got.side_missing,
            "findings": [
                {
                    "modality": f.modality.value,
                    "change": f.change.value,
                    "side": f.side.value if f.side else None,
                    "regions": sorted(f.regions),
                }
                for f in got.findings
            ],
        }
        print_json(said)
        return 0
    lines = [findings_said(atlas, got.findings) or tr("No finding was understood.")]
    lines += [tr("Note: {note}.", note=tr(note)) for note in got.notes]
    if got.side_missing:
        lines.append(tr("No side was said; add --side left or --side right."))
    if got.not_understood:
        words = " ".join(got.not_understood)
        lines.append(tr("Not understood: {words}.", words=words))
    sys.stdout.write("\n".join(lines) + "\n")
    return 0
