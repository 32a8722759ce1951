"""What changed between two visits as the panel shows it."""

from html import escape

from bodymap.atlas import Atlas
from bodymap.examination.visits_compared import VisitsCompared
from bodymap.findings.dates import day
from bodymap.findings.progress import Examined, Piece
from bodymap.report.course_marks import BORDERS, area, share
from bodymap.report.visits_report import ONCE, SURFACE, sentences

HOW = (
    "<p>A case holds one visit or several. The findings in hand are always the latest: give "
    "them their date, and begin a new visit when you examine again. It starts with the skin "
    "and signs of the visit before, to be amended, or empty; its record starts empty.</p>"
    "<p>Mark skin that has recovered as normal: what is only taken off the figure counts as "
    "gone, but nobody can see later that it was tested.</p>"
    "<p>Two visits laid over each other show which skin is new, gone or unchanged. Esc shows "
    "the findings again.</p>"
)


def visits_html(atlas: Atlas, found: VisitsCompared) -> str:
    """The table of areas, then everything that changed, in sentences."""
    rows = []
    for p in found.skin:
        name = p.modality.label if p.modality else "all together"
        cells = (
            "".join(_cell(piece) for piece in (p.new, p.gone, p.unchanged))
            if p.examined is Examined.BOTH
            else f"<td colspan='3'>{ONCE[p.examined]}</td>"
        )
        weight = "<b>{}</b>" if p.modality is None else "{}"
        rows.append(f"<tr><td>{weight.format(name)}</td>{cells}</tr>")
    said = "".join(
        f'<p style="margin: 5px 0 0 0">{escape(s[:1].upper() + s[1:])}</p>'
        for s in sentences(atlas, found)
    )
    return (
        f"<p><b>{day(found.then.date)} to {day(found.now.date)}</b></p>"
        "<table cellpadding='3'><tr><td></td><td align='right'>new</td>"
        f"<td align='right'>gone</td><td align='right'>unchanged</td></tr>{''.join(rows)}</table>"
        f"{said}"
        f'<p style="margin: 9px 0 0 0"><i>{BORDERS} {SURFACE}</i></p>'
    )


def _cell(piece: Piece) -> str:
    words = f"{area(piece.cm2)}<br>{share(piece.percent)}" if piece else "none"
    return f"<td align='right'>{words}</td>"
