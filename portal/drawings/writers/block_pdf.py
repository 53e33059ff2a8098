"""A sheet that is one title block: a heading with its stamp, the named fields in a frame, two side by side as in the
corner of a drawing, sentences below. The same input gives the same bytes; black on white."""

import io
from collections.abc import Iterator, Sequence

from reportlab.pdfgen.canvas import Canvas

from portal.drawings.sheets.block_sheet import BlockSheet, Row
from portal.drawings.sheets.lettering import BOLD, PLAIN, width_mm, wrapped, write
from portal.drawings.sheets.paper import POINTS, Paper, upright
from portal.drawings.sheets.writer import Writer

_TITLE, _STAMP = 20.0, 16.0  # points
_NAME, _WORDS, _BIG = 11.0, 13.0, 17.0  # points; smaller than 11 is not read by everybody
_PAD = 3.0  # mm between a line and what is written beside it
_LEADING = 1.28
_THICK, _THIN = 0.8, 0.35  # mm
_PEN = 14.0  # mm: room for a name by pen


def block_pdf(sheet: BlockSheet, paper: Paper = Paper.LETTER) -> bytes:
    """Draw the sheet on `paper`. What does not fit one page goes on to a next."""
    out, page = io.BytesIO(), upright(paper)
    canvas = Canvas(out, pagesize=page.points, invariant=1, lang="en")
    canvas.setTitle(sheet.title)
    canvas.setAuthor("")
    writer = Writer(canvas, page, canvas.showPage)
    _heading(writer, sheet)
    for sentence in sheet.first:
        writer.lines(sentence, _NAME, font=BOLD)
        writer.gap(1)
    writer.gap(2)
    _block(writer, sheet.fields)
    writer.gap(5)
    for sentence in sheet.sentences:
        writer.lines(sentence, _NAME)
        writer.gap(1.5)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _heading(writer: Writer, sheet: BlockSheet) -> None:
    top, free = writer.y, _stamp(writer, sheet.stamp) if sheet.stamp else 0.0
    writer.lines(sheet.title, _TITLE, font=BOLD, right=free)
    writer.y = min(writer.y, top - 12) - 2


def _stamp(writer: Writer, words: str) -> float:
    """In two frames at the right edge; gives the width that is taken, in mm."""
    box, width = writer.page.text, width_mm(words, _STAMP, BOLD) + 8
    left, bottom = box.right - width, writer.y - 11
    for inset, line in ((0.0, 0.9), (1.1, 0.3)):
        writer.canvas.setLineWidth(line * POINTS)
        writer.canvas.roundRect(
            (left + inset) * POINTS, (bottom + inset) * POINTS, (width - 2 * inset) * POINTS, (10 - 2 * inset) * POINTS,
            2 * POINTS,
        )  # fmt: skip
    write(writer.canvas, left + 4, bottom + 3.2, words, _STAMP, font=BOLD)
    return width + 4


def _block(writer: Writer, fields: Sequence[Row]) -> None:
    """Write the fields from where the pen is, in a frame as wide as the page."""
    box, top = writer.page.text, writer.y
    for row in _rows(fields):
        width = box.width / len(row)
        height = max(_height(one, width) for one in row)
        writer.room(height)
        for place, one in enumerate(row):
            _write_field(writer, one, box.left + place * width, width, height)
        writer.gap(height)
    writer.canvas.setLineWidth(_THICK * POINTS)
    writer.canvas.rect(box.left * POINTS, writer.y * POINTS, box.width * POINTS, (top - writer.y) * POINTS)


def _rows(fields: Sequence[Row]) -> Iterator[list[Row]]:
    """Those of a row: one that is wide, or that has no neighbor, stands alone."""
    waiting: list[Row] = []
    for one in fields:
        if one.wide and waiting:
            yield waiting
            waiting = []
        waiting = [*waiting, one]
        if one.wide or len(waiting) == 2:
            yield waiting
            waiting = []
    if waiting:
        yield waiting


def _size(one: Row) -> float:
    return _BIG if one.look in ("big", "code") else _WORDS


def _lines(one: Row, width: float) -> list[str]:
    return wrapped(one.words, _size(one), width - 2 * _PAD, BOLD)


def _height(one: Row, width: float) -> float:
    words = _PEN if one.look == "pen" else len(_lines(one, width)) * _size(one) * _LEADING / POINTS
    return _NAME * _LEADING / POINTS + words + _PAD


def _write_field(writer: Writer, one: Row, left: float, width: float, height: float) -> None:
    canvas = writer.canvas
    canvas.setLineWidth(_THIN * POINTS)
    canvas.rect(left * POINTS, (writer.y - height) * POINTS, width * POINTS, height * POINTS)
    y = writer.y - _NAME * _LEADING / POINTS
    write(canvas, left + _PAD, y, one.name, _NAME, font=PLAIN)
    for line in () if one.look == "pen" else _lines(one, width):
        y -= _size(one) * _LEADING / POINTS
        write(canvas, left + _PAD, y, line, _size(one), font=BOLD)
