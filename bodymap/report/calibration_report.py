"""The calibration as a document for people: tables in Markdown, the curve as SVG."""

from collections import Counter

from bodymap.localise.catalogue import Catalogue
from bodymap.report.svg import element
from bodymap.simulation.calibration import Calibration
from bodymap.simulation.confusions import confusions
from bodymap.simulation.trial import Outcome, expected_calibration_error, reliability

SIZE, LEFT, TOP = 360, 64, 24
"""Side of the plot and its margins, pixels."""

INK, ACCENT, QUIET, PAPER = "#1f2933", "#0072b2", "#8a94a0", "#ffffff"
"""Colours; the accent is blue of Okabe and Ito (2008)."""


def document(catalogue: Catalogue, measured: Calibration, picture: str) -> str:
    """The whole document; ``picture`` is the file name of the curve."""
    outcomes, asked = measured.outcomes, measured.asked
    lines = [
        "# How far the ranking can be trusted",
        "",
        f"Written by `bodymap calibrate docs --patients {measured.patients} --seed "
        f"{measured.seed}`; the same command gives the same numbers. All patients are simulated: "
        "a hidden lesion, one person's borders, a partial or whole loss, missed spots, and wrong "
        "answers at the rate that an inter-examiner kappa of 0.53 implies (Schmid 2009). The "
        "simulator has its own borders and errors and does not read the weights of the ranking "
        "(`assets/localisation/simulation.csv`, `bodymap/simulation`). A simulation is no "
        "clinical study: it shows whether the stated support means what it says under these "
        "conditions, not how the ranking does on the ward.",
        "",
        "## Calibration",
        "",
        f"![Reliability curve]({picture})",
        "",
        f"Patients drawn by published incidence: {len(outcomes)} with something to rank. "
        f"Expected calibration error **{expected_calibration_error(outcomes):.3f}** "
        f"(ten bins); with all kinds of lesion alike, {len(measured.even)} patients: "
        f"{expected_calibration_error(measured.even):.3f}.",
        "",
        "| support of the leading answer | mean support | share right | patients |",
        "| --- | --- | --- | --- |",
    ]
    for support, right, count in reliability(outcomes):
        low = int(min(support, 0.999) * 10) / 10
        lines.append(f"| {low:.1f} to {low + 0.1:.1f} | {support:.2f} | {right:.2f} | {count} |")
    lines += ["", "## First place, from the first drawing alone", ""]
    lines += [*_by_kind(outcomes, "by incidence"), ""]
    lines += [*_by_kind(measured.even, "all kinds alike"), ""]
    lines += [
        "## Three further questions",
        "",
        f"{asked.patients} patients, at most three questions each, asked one after the other:",
        "",
        "| | truth in first place |",
        "| --- | --- |",
        f"| first drawing alone | {asked.alone:.1%} |",
        f"| three random spots of skin | {asked.random:.1%} |",
        f"| the three suggested spots of skin | {asked.suggested_skin:.1%} |",
        f"| the three suggested questions (skin, muscle or reflex) | {asked.suggested:.1%} |",
        "",
        "## The twenty commonest mix-ups",
        "",
        "| truth | taken for | patients | why |",
        "| --- | --- | --- | --- |",
    ]
    for c in confusions(catalogue, outcomes):
        lines.append(f"| {c.truth} | {c.given} | {c.count} | {c.why} |")
    return "\n".join(lines) + "\n"


def _by_kind(outcomes: list[Outcome], title: str) -> list[str]:
    total = Counter(o.kind for o in outcomes)
    first = Counter(o.kind for o in outcomes if o.right)
    three = Counter(o.kind for o in outcomes if o.place <= 3)
    lines = [
        f"| kind ({title}) | patients | first | among the first three |",
        "| --- | --- | --- | --- |",
    ]
    for kind, count in sorted(total.items(), key=lambda item: -item[1]):
        lines.append(
            f"| {kind} | {count} | {first[kind] / count:.0%} | {three[kind] / count:.0%} |"
        )
    whole = len(outcomes)
    lines.append(
        f"| **all** | {whole} | {sum(first.values()) / whole:.0%} | "
        f"{sum(three.values()) / whole:.0%} |"
    )
    return lines


def curve(measured: Calibration) -> str:
    """The reliability curve as an SVG picture."""
    bins = reliability(measured.outcomes)
    most = max(count for _, _, count in bins)
    what = "Share of right answers against the stated support, in ten bins."
    parts = [
        element("title", "Reliability curve"),
        element("desc", what),
        element("rect", None, x=0, y=0, width=SIZE + 100, height=SIZE + 90, fill=PAPER),
    ]
    for tick in range(0, 11, 2):
        at = tick / 10
        x, y = _at(at, at)
        parts += [
            element("path", None, d=f"M{x:.1f},{TOP} V{TOP + SIZE}", stroke="#e3e7ec"),
            element("path", None, d=f"M{LEFT},{y:.1f} H{LEFT + SIZE}", stroke="#e3e7ec"),
            _text(f"{at:.1f}", x, TOP + SIZE + 18, "middle"),
            _text(f"{at:.1f}", LEFT - 8, y + 4, "end"),
        ]
    (x0, y0), (x1, y1) = _at(0, 0), _at(1, 1)
    parts.append(element("path", None, d=f"M{x0},{y0} L{x1},{y1}", stroke=QUIET,
                         stroke_dasharray="5 4", stroke_width=1.4))  # fmt: skip
    points = [_at(support, right) for support, right, _ in bins]
    d = "M" + " L".join(f"{x:.1f},{y:.1f}" for x, y in points)
    parts.append(element("path", None, d=d, fill="none", stroke=ACCENT, stroke_width=2))
    for (x, y), (_, _, count) in zip(points, bins, strict=True):
        radius = 3 + 6 * (count / most) ** 0.5
        parts.append(element("circle", None, cx=f"{x:.1f}", cy=f"{y:.1f}", r=f"{radius:.1f}",
                             fill=ACCENT, stroke=PAPER))  # fmt: skip
    parts += [
        _text("stated support of the leading answer", LEFT + SIZE / 2, TOP + SIZE + 42, "middle"),
        element(
            "text", "share that is right", x=0, y=0, fill=INK,
            transform=f"translate(18,{TOP + SIZE / 2}) rotate(-90)",
            font_family="sans-serif", font_size=13, text_anchor="middle",
        ),
        _text("dashed: support means what it says; larger dots: more patients",
              LEFT + SIZE / 2, TOP + SIZE + 60, "middle"),
    ]  # fmt: skip
    return element(
        "svg", "".join(parts), xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {SIZE + 100} {SIZE + 90}", width=SIZE + 100, height=SIZE + 90,
    )  # fmt: skip


def _at(support: float, right: float) -> tuple[float, float]:
    return LEFT + SIZE * support, TOP + SIZE * (1 - right)


def _text(words: str, x: float, y: float, anchor: str) -> str:
    return element(
        "text", words, x=f"{x:.1f}", y=f"{y:.1f}", fill=INK,
        font_family="sans-serif", font_size=13, text_anchor=anchor,
    )  # fmt: skip
