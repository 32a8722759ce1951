"""What changed between two visits as the panel shows it."""

from html import escape

from bodymap.atlas import Atlas
from bodymap.examination.visits_compared import VisitsCompared
from bodymap.findings.dates import day
from bodymap.findings.pieces import Piece
from bodymap.findings.progress import Examined
from bodymap.language import capital, later, tr
from bodymap.report.course_marks import BORDERS, area, share
from bodymap.report.visits_report import ONCE, SURFACE, sentences

HOW = later(
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
        name = p.modality.label if p.modality else tr("all together")
        cells = (
            "".join(_cell(piece) for piece in (p.new, p.gone, p.unchanged))
            if p.examined is Examined.BOTH
            else f"<td colspan='3'>{tr(ONCE[p.examined])}</td>"
        )
        weight = "<b>{}</b>" if p.modality is None else "{}"
        rows.append(f"<tr><td>{weight.format(name)}</td>{cells}</tr>")
        for state, piece in ((Examined.THEN, p.not_again), (Examined.NOW, p.not_before)):
            if piece:
                once = f"{area(piece.cm2)} {tr(ONCE[state])}"
                rows.append(f"<tr><td></td><td colspan='3'>{once}</td></tr>")
    said = "".join(
        f'<p style="margin: 5px 0 0 0">{escape(capital(s))}</p>' for s in sentences(atlas, found)
    )
    return (
        f"<p><b>{tr('{then} to {now}', then=day(found.then.date), now=day(found.now.date))}</b></p>"
        f"<table cellpadding='3'><tr><td></td><td align='right'>{tr('new')}</td>"
        f"<td align='right'>{tr('gone')}</td><td align='right'>{tr('unchanged')}</td></tr>"
        f"{''.join(rows)}</table>"
        f"{said}"
        f'<p style="margin: 9px 0 0 0"><i>{tr(BORDERS)} {tr(SURFACE)}</i></p>'
    )


def _cell(piece: Piece) -> str:
    words = f"{area(piece.cm2)}<br>{share(piece.percent)}" if piece else tr("none")
    return f"<td align='right'>{words}</td>"
