"""What stands beside an empty figure: how to begin, and samples one click away."""

from html import escape

from bodymap.language import later, tr

SAMPLES = {
    "root-c6": later("C6 root"),
    "carpal-tunnel": later("median nerve at the wrist"),
    "stocking-record": later("neuropathy with its whole examination"),
    "thoracic-level": later("a level on the trunk"),
}
"""A few of the samples; all of them stand in the File menu."""


def start_html() -> str:
    """Three ways to begin, and the samples as links (``sample:`` and the name)."""
    links = ", ".join(
        f"<a href='sample:{name}'>{escape(tr(words))}</a>" for name, words in SAMPLES.items()
    )
    ways = tr(
        "<p><b>Paint</b> what is altered on the figure; or <b>examine</b> step by step "
        "(Ctrl+B); or <b>dictate</b> a finding (Ctrl+I).</p>"
    )
    return ways + tr("<p>Or look at a sample: {samples}.</p>", samples=links)
