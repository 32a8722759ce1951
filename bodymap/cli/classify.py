"""The classification of the bedside record of a case, to read or for other programs."""

import argparse
import sys

from bodymap.classification import classify as core
from bodymap.classification.classify import as_json
from bodymap.classification.reading import read_record
from bodymap.cli.output import print_json
from bodymap.findings.case_file import bytes_of_case
from bodymap.findings.case_reading import read_document


def classify(options: argparse.Namespace) -> int:
    """Print the classification of the record of a case."""
    path = options.case
    found = core.classify(read_record(read_document(bytes_of_case(path), path), path))
    if options.format == "json":
        print_json(as_json(found))
    else:
        from bodymap.report.classification_report import as_text

        sys.stdout.write(as_text(found))
    return 0
