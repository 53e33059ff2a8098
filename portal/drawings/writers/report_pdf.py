"""A report as PDF: a title, and sections of lines that run on from page to page. The same input, the same bytes."""

import io
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import KeepTogether, Paragraph, SimpleDocTemplate, Spacer
from reportlab.platypus.flowables import Flowable

from portal.drawings.sheets.lettering import BOLD, PLAIN
from portal.drawings.sheets.paper import Paper, upright
from portal.drawings.writers.report import Report
from portal.words.drawn.sheet_words import page_of

_TITLE = ParagraphStyle("title", fontName=BOLD, fontSize=18, leading=22)
_UNDER = ParagraphStyle("under", fontName=PLAIN, fontSize=11, leading=14)
_HEADING = ParagraphStyle("heading", fontName=BOLD, fontSize=13, leading=16, spaceBefore=12, spaceAfter=3)
_LINE = ParagraphStyle("line", fontName=PLAIN, fontSize=10.5, leading=13.5, spaceAfter=2, splitLongWords=1)
_MARGIN = 18 * mm


def report_pdf(report: Report, paper: Paper = Paper.LETTER) -> bytes:
    """Lay the report out on `paper`. A heading never stands alone at the foot of a page."""
    total = _build(report, paper, 0)[1]
    return _build(report, paper, total)[0]


def _build(report: Report, paper: Paper, total: int) -> tuple[bytes, int]:
    out = io.BytesIO()
    document = SimpleDocTemplate(
        out, pagesize=upright(paper).points, leftMargin=_MARGIN, rightMargin=_MARGIN, topMargin=_MARGIN,
        bottomMargin=_MARGIN + 6 * mm, title=report.title, author="", lang="en", invariant=1,
    )

    def foot(canvas: Canvas, page: SimpleDocTemplate) -> None:
        canvas.setFont(PLAIN, 9)
        canvas.drawString(_MARGIN, _MARGIN - 2 * mm, report.foot)
        canvas.drawRightString(page.pagesize[0] - _MARGIN, _MARGIN - 2 * mm, page_of(page.page, total))

    document.build(_flow(report), onFirstPage=foot, onLaterPages=foot)
    return out.getvalue(), document.page


def _flow(report: Report) -> list[Flowable]:
    flow: list[Flowable] = [_text(report.title, _TITLE), *(_text(line, _UNDER) for line in report.under), Spacer(1, 6)]
    for section in report.sections:
        first, *rest = [_text(line, _LINE) for line in section.lines]
        flow += [KeepTogether([_text(section.heading, _HEADING), first]), *rest]
    return flow


def _text(line: str, style: ParagraphStyle) -> Paragraph:
    """What people typed is text here, whatever it looks like."""
    return Paragraph(escape(line), style)
