"""What every page of a sheet carries: whose it is, which page, and the overprint when it must not be used."""

import math

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.sheets.lettering import BOLD, PLAIN, width_mm, write
from portal.drawings.sheets.paper import MARGIN, POINTS, Page
from portal.drawings.sheets.sheet import Sheet
from portal.words.drawn.sheet_words import page_of


def finish_page(canvas: Canvas, sheet: Sheet, page: Page, number: int, total: int) -> None:
    """Write the foot and, over everything else, the overprint; then turn the page."""
    write(canvas, MARGIN + 6, 8, sheet.name, _fitting(sheet.name, page.width - 2 * MARGIN - 40))
    write(canvas, page.width - MARGIN - 6, 8, page_of(number, total), 8, anchor="end")
    if sheet.overprint:
        _overprint(canvas, sheet.overprint, page)
    canvas.showPage()


def _fitting(text: str, width: float, largest: float = 8.0, font: str = PLAIN) -> float:
    """The size in points at which `text` is no wider than `width` mm."""
    return min(largest, largest * width / width_mm(text, largest, font))


def _overprint(canvas: Canvas, texts: tuple[str, ...], page: Page) -> None:
    """White words on a black bar on top, and twice across the page: a copy shows it, a cut-off corner too. Of two
    texts, each stands across once."""
    bar = " - ".join(texts)
    canvas.saveState()
    canvas.setFillGray(0)
    canvas.rect(0, (page.height - 13) * POINTS, page.width * POINTS, 8 * POINTS, stroke=0, fill=1)
    canvas.setFillGray(1)
    size = _fitting(bar, page.width - 6, 15, BOLD)
    write(canvas, page.width / 2, page.height - 11, bar, size, font=BOLD, anchor="middle")
    canvas.restoreState()
    for height, text in zip((0.25, 0.6), (texts[-1], texts[0]), strict=True):
        _across(canvas, text, page, height)


def _across(canvas: Canvas, text: str, page: Page, height: float) -> None:
    slope = math.degrees(math.atan2(page.height * 0.4, page.width))
    canvas.saveState()
    canvas.translate(page.width / 2 * POINTS, page.height * height * POINTS)
    canvas.rotate(slope)
    canvas.setFillGray(0)
    canvas.setFillAlpha(0.35)
    size = _fitting(text, math.hypot(page.width, page.height * 0.4) - 30, 60, BOLD)
    write(canvas, 0, -size / POINTS / 3, text, size, font=BOLD, anchor="middle")
    canvas.restoreState()
