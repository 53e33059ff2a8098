"""The written pages of a sheet: what was decided and by whom, the drawing, the numbers, the cautions."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import segno
from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scene import Box, Scene
from portal.drawings.setting_out import set_out
from portal.drawings.sheets.lettering import BOLD, PLAIN, width_mm, wrapped, write
from portal.drawings.sheets.paper import POINTS, Page
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.sheets.view import View, draw_scene

_QR = 30.0  # mm; a phone reads it at arm's length
_TEXT = 9.5  # points


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
        self.y -= height


def write_front(writer: Writer, sheet: Sheet, scene: Scene, *, about_template: str) -> None:
    """Write the pages before the template; `about_template` says that it follows, or why there is none."""
    _heading(writer, sheet)
    _drawing(writer, scene)
    writer.lines(about_template, 8)
    writer.gap(1)
    _table(writer, sheet)
    _list(writer, "Before you start", sheet.cautions)
    if sheet.call:
        writer.gap(2)
        writer.lines(f"Something differs on site? Don't drill. Call {sheet.call}.", font=BOLD)
    _list(writer, "Checked", sheet.checks)


def _heading(writer: Writer, sheet: Sheet) -> None:
    top, free = writer.y, _QR + 6
    writer.lines(sheet.title, 18, font=BOLD, right=free)
    writer.lines(f"{sheet.house}, {sheet.room}", 12, font=BOLD, right=free)
    writer.lines(f"Decision {sheet.decision}, revision {sheet.revision}: {sheet.question}", 10.5, right=free)
    writer.lines(f"To do: {sheet.option}", 10.5, font=BOLD, right=free)
    writer.gap(1)
    writer.lines(sheet.approval, 10.5, font=BOLD if sheet.approved_by else PLAIN, right=free)
    writer.lines(f"Check code {sheet.check_code}", 12, font=BOLD, right=free)
    writer.lines("Still the approved revision? Scan the code, or open", _TEXT, right=free)
    writer.lines(sheet.page_url, _TEXT, right=free)
    box = writer.page.text
    _qr(writer.canvas, sheet.page_url, Box(box.right - _QR, top - _QR - 1, box.right, top - 1))
    writer.y = min(writer.y, top - _QR - 1) - 3
    writer.canvas.setLineWidth(0.35 * POINTS)
    writer.canvas.line(box.left * POINTS, writer.y * POINTS, box.right * POINTS, writer.y * POINTS)
    writer.gap(2)


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


def _drawing(writer: Writer, scene: Scene) -> None:
    """The whole scene, as large as half the page allows; not for measuring."""
    box = writer.page.text
    most = min(85.0, writer.y - box.bottom - 20)
    text, scale = _fit(scene, box.width, most)
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
    least = [max(width_mm(w, _TEXT, BOLD) for cell in column for w in [*cell.split(), ""]) + 4 for column in columns]
    wanted = [max(width_mm(cell, _TEXT, BOLD) for cell in column) + 4 for column in columns]
    spare, more = width - sum(least), [w - m for w, m in zip(wanted, least, strict=True)]
    if spare <= 0:
        return [m * width / sum(least) for m in least]
    if sum(more) <= spare:
        return [w + (spare - sum(more)) / len(wanted) for w in wanted]
    return [m + e * spare / sum(more) for m, e in zip(least, more, strict=True)]


def _row(writer: Writer, cells: Sequence[str], widths: list[float], font: str) -> None:
    step = _TEXT * 1.3 / POINTS
    folded = [wrapped(c, _TEXT, w - 3, font) for c, w in zip(cells, widths, strict=True)]
    height = max(len(lines) for lines in folded) * step + 1.4
    writer.room(height)
    x = writer.page.text.left
    for lines, width in zip(folded, widths, strict=True):
        for n, line in enumerate(lines, start=1):
            write(writer.canvas, x, writer.y - n * step, line, _TEXT, font=font)
        x += width
    writer.gap(height)
    writer.canvas.setLineWidth(0.15 * POINTS)
    writer.canvas.line(writer.page.text.left * POINTS, writer.y * POINTS, x * POINTS, writer.y * POINTS)


def _list(writer: Writer, title: str, items: Sequence[str]) -> None:
    if not items:
        return
    writer.room(14)
    writer.gap(1.5)
    writer.lines(title, 11, font=BOLD)
    for item in items:
        writer.room(_TEXT * 1.3 / POINTS)
        write(writer.canvas, writer.page.text.left + 1, writer.y - _TEXT * 1.0 / POINTS, "-", _TEXT)
        writer.lines(item, indent=5)
