"""The written pages of a sheet: what was decided and by whom, the drawing, the numbers, the cautions."""

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import segno
from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.scene import Box, Scene
from portal.drawings.scenes.setting_out import set_out
from portal.drawings.sheets.lettering import BOLD, PLAIN, width_mm, wrapped, write
from portal.drawings.sheets.paper import POINTS, Page
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.sheets.view import View, draw_scene
from portal.words import sheet_words as words

_QR = 30.0  # mm; a phone reads it at arm's length
_TEXT = 9.5  # points
_SMALL = 9.0  # points; smaller is not read on a saw horse
_CELL = 3.0  # mm between columns
_SMALLEST, _LARGEST = 45.0, 85.0  # mm of page that the drawing takes; below, all runs on to a second page
_ENDLESS = 5000.0  # mm


@dataclass
class Writer:
    """A pen that moves down the page and asks for the next page when there is no room."""

    canvas: Canvas
    page: Page
    turn: Callable[[], None]
    y: float = 0.0

    def __post_init__(self) -> None:
        self.y = self.page.text.top

    def room(self, height: float) -> None:
        """Make sure that `height` mm are free below."""
        if self.y - height < self.page.text.bottom and self.y < self.page.text.top:
            self.turn()
            self.y = self.page.text.top

    def lines(
        self, text: str, size: float = _TEXT, *, font: str = PLAIN, indent: float = 0.0, right: float = 0.0
    ) -> None:
        """Write wrapped text; `indent` and `right` are kept free, in mm."""
        box, step = self.page.text, size * 1.3 / POINTS
        for line in wrapped(text, size, box.width - indent - right, font):
            self.room(step)
            self.y -= step
            write(self.canvas, box.left + indent, self.y + step * 0.22, line, size, font=font)

    def gap(self, height: float) -> None:
        """Leave `height` mm free."""
        self.y -= height


def write_front(writer: Writer, sheet: Sheet, scene: Scene, *, about_template: str, to_size: bool) -> None:
    """Write the pages before the template; `about_template` says that it follows, or why there is none.

    The drawing takes what the words leave of the first page, so that all stands on one page where that can be.
    """
    _heading(writer, sheet)
    _list(writer, words.CHECK_FIRST, _first(sheet, to_size))
    written = _height_of(writer.page, lambda on: _below(on, sheet, about_template))
    left = writer.y - writer.page.text.bottom - written - 4
    _drawing(writer, scene, left if left >= _SMALLEST else min(_LARGEST, writer.y - writer.page.text.bottom - 20))
    _below(writer, sheet, about_template)


def _below(writer: Writer, sheet: Sheet, about_template: str) -> None:
    """What is written below the drawing."""
    writer.lines(f"{sheet.caption} {about_template}".strip(), _SMALL)
    writer.gap(1)
    for line in sheet.sizes:
        writer.lines(line, font=BOLD)
    _table(writer, sheet)
    _list(writer, words.KEEP_SAFE, sheet.cautions, _SMALL)
    _list(writer, words.WHAT_WAS_CHECKED, sheet.checks, _SMALL)


def _height_of(page: Page, put: Callable[[Writer], None]) -> float:
    """How high it stands on one endless page, in mm."""
    endless = Writer(Canvas(io.BytesIO()), Page(page.width, _ENDLESS), lambda: None)
    top = endless.y
    put(endless)
    return top - endless.y


def _first(sheet: Sheet, to_size: bool) -> list[str]:
    """What to look at before the first hole, the cheapest look first."""
    where = sheet.type_at or sheet.page_url
    approved, bars = words.still_approved(sheet.check_code, where), [words.BARS] if to_size else []
    return [approved, *bars, *sheet.first, words.if_it_differs(sheet.call)]


def _heading(writer: Writer, sheet: Sheet) -> None:
    top, free = writer.y, _QR + 6
    writer.lines(sheet.title, 18, font=BOLD, right=free)
    writer.lines(words.place(sheet.house, sheet.room), 12, font=BOLD, right=free)
    writer.lines(words.asked(sheet.decision, sheet.revision, sheet.question), 10.5, right=free)
    writer.lines(words.to_do(sheet.option), 10.5, font=BOLD, right=free)
    if sheet.work:
        writer.lines(sheet.work, 10.5, font=BOLD, right=free)
    writer.lines(sheet.approval, 10.5, font=BOLD if sheet.approved_by else PLAIN, right=free)
    writer.lines(words.code(sheet.check_code), 12, font=BOLD, right=free)
    box = writer.page.text
    _qr(writer.canvas, sheet.page_url, Box(box.right - _QR, top - _QR - 1, box.right, top - 1))
    writer.y = min(writer.y, top - _QR - 1) - 2
    writer.canvas.setLineWidth(0.35 * POINTS)
    writer.canvas.line(box.left * POINTS, writer.y * POINTS, box.right * POINTS, writer.y * POINTS)


def _qr(canvas: Canvas, url: str, box: Box) -> None:
    """ISO/IEC 18004 symbol with its quiet zone, level M: readable with a smudge of slurry on it."""
    code = segno.make(url, micro=False, error="m")
    rows = [list(row) for row in code.matrix_iter(scale=1, border=4)]
    size = box.width / len(rows)
    path = canvas.beginPath()
    for r, row in enumerate(rows):
        for c, dark in enumerate(row):
            if dark:
                x, y = box.left + c * size, box.top - (r + 1) * size
                path.rect(x * POINTS, y * POINTS, size * POINTS, size * POINTS)
    canvas.drawPath(path, stroke=0, fill=1)


def _drawing(writer: Writer, scene: Scene, most: float) -> None:
    """The whole scene, at most so high and half as high as a page; not for measuring."""
    box = writer.page.text
    writer.gap(2)
    text, scale = _fit(scene, box.width, min(most - 2, _LARGEST))
    plan = set_out(scene, text)
    height = plan.box.height * scale
    writer.room(height + 8)
    place = Box(box.left, writer.y - height, box.right, writer.y)
    draw_scene(View.onto(writer.canvas, plan.box, place, scale), scene, plan)
    writer.gap(height + 1)


def _fit(scene: Scene, width: float, height: float) -> tuple[float, float]:
    """Text height in mm of the scene, and the scale, for lettering of 3 mm on the page."""
    scale = width / max(scene.bounds.width, 1.0)
    for _ in range(5):
        text = 3.0 / scale
        plan = set_out(scene, text)
        scale = min(width / plan.box.width, height / plan.box.height)
    return text, scale * 0.995


def _table(writer: Writer, sheet: Sheet) -> None:
    if not sheet.rows:
        return
    if sheet.measured_from:
        writer.lines(sheet.measured_from, font=BOLD)
    widths = _column_widths(sheet, writer.page.text.width)
    for number, cells in enumerate((sheet.columns, *sheet.rows)):
        _row(writer, cells, widths, BOLD if number == 0 else PLAIN)
    writer.gap(2)


def _column_widths(sheet: Sheet, width: float) -> list[float]:
    """Each column holds its longest word; what is left is shared by what else its words want."""
    columns = list(zip(sheet.columns, *sheet.rows, strict=True))
    pieces = [[word for cell in column for word in [*cell.split(), ""]] for column in columns]
    least = [max(width_mm(word, _SMALL, BOLD) for word in column) + _CELL for column in pieces]
    wanted = [max(width_mm(cell, _SMALL, BOLD) for cell in column) + _CELL for column in columns]
    spare, more = width - sum(least), [w - m for w, m in zip(wanted, least, strict=True)]
    if spare <= 0:
        return [m * width / sum(least) for m in least]
    if sum(more) <= spare:
        return [w + (spare - sum(more)) / len(wanted) for w in wanted]
    return [m + e * spare / sum(more) for m, e in zip(least, more, strict=True)]


def _row(writer: Writer, cells: Sequence[str], widths: list[float], font: str) -> None:
    step = _SMALL * 1.3 / POINTS
    folded = [wrapped(c, _SMALL, w - _CELL + 0.5, font) for c, w in zip(cells, widths, strict=True)]
    height = max(len(lines) for lines in folded) * step + 1.4
    writer.room(height)
    x = writer.page.text.left
    for lines, width in zip(folded, widths, strict=True):
        for n, line in enumerate(lines, start=1):
            write(writer.canvas, x, writer.y - n * step, line, _SMALL, font=font)
        x += width
    writer.gap(height)
    writer.canvas.setLineWidth(0.15 * POINTS)
    writer.canvas.line(writer.page.text.left * POINTS, writer.y * POINTS, x * POINTS, writer.y * POINTS)


def _list(writer: Writer, title: str, items: Sequence[str], size: float = _TEXT) -> None:
    if not items:
        return
    writer.room(14)
    writer.gap(1.5)
    writer.lines(title, 11, font=BOLD)
    for item in items:
        writer.room(size * 1.3 / POINTS)
        write(writer.canvas, writer.page.text.left + 1, writer.y - size * 1.0 / POINTS, "-", size)
        writer.lines(item, size, indent=5)
