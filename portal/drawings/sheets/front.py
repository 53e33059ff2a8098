"""The written pages of a sheet: what was decided and by whom, the drawing, the numbers, the cautions."""

import io
from collections.abc import Callable, Sequence
from dataclasses import replace

import segno
from reportlab.pdfgen.canvas import Canvas

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Box, Scene
from portal.drawings.scenes.setting_out import set_out
from portal.drawings.sheets.lettering import BOLD, PLAIN, glued, write
from portal.drawings.sheets.paper import POINTS, Page
from portal.drawings.sheets.sheet import Sheet
from portal.drawings.sheets.tables import write_blanks, write_table
from portal.drawings.sheets.view import View, draw_scene
from portal.drawings.sheets.writer import TEXT, Writer
from portal.words.drawn import sheet_words as words

_QR = 30.0  # mm; a phone reads it at arm's length
_SMALL = 9.0  # points; smaller is not read on a saw horse
_SMALLEST, _LARGEST = 45.0, 85.0  # mm of page that the drawing takes; below, all runs on to a second page
_ENDLESS = 5000.0  # mm


def write_front(writer: Writer, sheet: Sheet, scene: Scene, *, about_template: str, to_size: bool) -> None:
    """Write the pages before the template; `about_template` says that it follows, or why there is none.

    The drawing takes what the words leave of the first page, so that all stands on one page where that can be.
    """
    _heading(writer, sheet)
    _list(writer, words.CHECK_FIRST, _first(sheet, to_size))
    _drawing(writer, scene, _left_for_drawing(writer, sheet, about_template))
    _numbers(writer, sheet, about_template)
    _cautions(writer, sheet)


def _left_for_drawing(writer: Writer, sheet: Sheet, about_template: str) -> float:
    """How high the drawing may be in mm, so that all stands on one page; else, so that at least all that is measured
    does, blanks included."""
    free = writer.y - writer.page.text.bottom - 4
    numbers = _height_of(writer.page, lambda on: _numbers(on, sheet, about_template))
    cautions = _height_of(writer.page, lambda on: _cautions(on, sheet))
    if free - numbers - cautions >= _SMALLEST:
        return free - numbers - cautions
    blanks = _height_of(writer.page, lambda on: write_blanks(on, sheet.found))
    for height in (free - numbers, free - numbers + blanks) if sheet.found else ():
        if height >= _SMALLEST:
            return min(_LARGEST, height)
    return min(_LARGEST, free + 4 - 20)


def _numbers(writer: Writer, sheet: Sheet, about_template: str) -> None:
    """What is written below the drawing: what is measured, and what is found on the day."""
    writer.lines(f"{sheet.caption} {about_template}".strip(), _SMALL)
    writer.gap(1)
    for line in sheet.sizes:
        writer.lines(glued(line) if sheet.found else line, font=BOLD)
    write_table(writer, sheet.measured_from, sheet.columns, sheet.rows, former=not sheet.found)
    for line in sheet.remarks:
        writer.lines(line, _SMALL)
    write_table(writer, "", words.DETAIL_COLUMNS, sheet.details)
    write_blanks(writer, sheet.found)


def _cautions(writer: Writer, sheet: Sheet) -> None:
    _list(writer, words.KEEP_SAFE, sheet.cautions, _SMALL)
    _list(writer, words.WHAT_WAS_CHECKED, _checked(sheet), _SMALL)


def _checked(sheet: Sheet) -> list[str]:
    """What passes, and as plainly what was not checked."""
    return [*([words.not_checked(sheet.not_checked)] if sheet.not_checked else []), *sheet.checks]


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
    return [approved, *bars, *sheet.first, words.if_it_differs(sheet.call, sheet.dont)]


def _heading(writer: Writer, sheet: Sheet) -> None:
    top, free = writer.y, _QR + 6
    writer.lines(sheet.title, 18, font=BOLD, right=free)
    writer.lines(words.place(sheet.house, sheet.room), 12, font=BOLD, right=free)
    writer.lines(words.asked(sheet.decision, sheet.revision, sheet.question), 10.5, right=free)
    writer.lines(words.to_do(sheet.option), 10.5, font=BOLD, right=free)
    if sheet.work:
        writer.lines(sheet.work, 10.5, font=BOLD, right=free)
    writer.lines(sheet.approval, 10.5, font=BOLD if sheet.approved_by else PLAIN, right=free)
    for line in sheet.failing:
        writer.lines(line, 10.5, font=BOLD, right=free)
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
    """The whole scene, at most so high and half as high as a page; not for measuring. Safe zones are left to the
    template: here they are smaller than a line."""
    scene = replace(scene, items=tuple(i for i in scene.items if getattr(i, "layer", None) is not Layer.ZONE))
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


def _list(writer: Writer, title: str, items: Sequence[str], size: float = TEXT) -> None:
    if not items:
        return
    writer.room(14)
    writer.gap(1.5)
    writer.lines(title, 11, font=BOLD)
    for item in items:
        writer.room(size * 1.3 / POINTS)
        write(writer.canvas, writer.page.text.left + 1, writer.y - size * 1.0 / POINTS, "-", size)
        writer.lines(item, size, indent=5)
