"""The tables of a sheet, and the blanks that are filled in by hand."""

from collections.abc import Sequence

from portal.drawings.sheets.lettering import BOLD, PLAIN, glued, width_mm, wrapped, write
from portal.drawings.sheets.paper import POINTS
from portal.drawings.sheets.writer import Writer
from portal.words.drawn import sheet_words as words

Row = Sequence[str]
_SIZE = 9.0  # points; smaller is not read on a saw horse
_CELL = 3.0  # mm between columns
_STEP = _SIZE * 1.3 / POINTS  # mm from line to line


def write_table(writer: Writer, heading: str, columns: Row, rows: Sequence[Row], *, former: bool = False) -> None:
    """Write a table below its heading, each cell folded where it must be, but never between a number and its unit;
    nothing where there are no rows. The names of its columns stand on each page that it runs on to. `former`: as it
    was done before version 0.3.0, without either."""
    if not rows:
        return
    if heading:
        writer.lines(heading, font=BOLD)
    lines = _fitting([columns, *rows], writer.page.text.width)
    lines = lines if former else [[glued(cell) for cell in cells] for cells in lines]
    widths = _column_widths(lines, writer.page.text.width)
    for number, cells in enumerate(lines):
        if not former and number and not writer.fits(_height(cells, widths, PLAIN)):
            writer.next_page()
            _row(writer, lines[0], widths, BOLD)
        _row(writer, cells, widths, BOLD if number == 0 else PLAIN)
    writer.gap(2)


def write_blanks(writer: Writer, found: Sequence[tuple[str, str]]) -> None:
    """Leave room for what is found on the day: beside each size what was drawn, then a line for whoever measures, and
    one for the second person who reads it all back. Nothing where nothing is asked."""
    if not found:
        return
    box, height = writer.page.text, 8.0
    writer.room(height + (len(found) + 1) * 6)
    write_table(writer, "", words.FOUND_COLUMNS, [(name, drawn, "") for name, drawn in found])
    writer.gap(height)
    middle = box.left + box.width * 0.4
    for text, x, end in ((words.MEASURED_BY, box.left, middle - 4), (words.READ_BACK_BY, middle, box.right)):
        write(writer.canvas, x, writer.y, text, _SIZE, font=BOLD)
        writer.canvas.line((x + width_mm(text, _SIZE, BOLD) + 2) * POINTS, writer.y * POINTS, end * POINTS,
                           writer.y * POINTS)
    writer.gap(2)


def _fitting(lines: Sequence[Row], width: float) -> Sequence[Row]:
    """Cells in one line each where the page is wide enough for all of them."""
    flat = [[cell.replace("\n", " ") for cell in cells] for cells in lines]
    wanted = sum(max(width_mm(cell, _SIZE, BOLD) for cell in column) + _CELL for column in zip(*flat, strict=True))
    return flat if wanted <= width else lines


def _column_widths(lines: Sequence[Row], width: float) -> list[float]:
    """Each column holds its longest word; what is left is shared by what else its words want."""
    columns = list(zip(*lines, strict=True))
    pieces = [[word for cell in column for word in [*_pieces(cell), ""]] for column in columns]
    least = [max(width_mm(word, _SIZE, BOLD) for word in column) + _CELL for column in pieces]
    wanted = [max(width_mm(line, _SIZE, BOLD) for cell in column for line in cell.split("\n")) + _CELL
              for column in columns]
    spare, more = width - sum(least), [w - m for w, m in zip(wanted, least, strict=True)]
    if spare <= 0:
        return [m * width / sum(least) for m in least]
    if sum(more) <= spare:
        return [w + (spare - sum(more)) / len(wanted) for w in wanted]
    return [m + e * spare / sum(more) for m, e in zip(least, more, strict=True)]


def _pieces(cell: str) -> list[str]:
    """What is not parted: each word; each line, where it has lines of its own."""
    return cell.split("\n") if "\n" in cell else cell.split()


def _folded(cells: Row, widths: list[float], font: str) -> list[list[str]]:
    return [wrapped(c, _SIZE, w - _CELL + 0.5, font) for c, w in zip(cells, widths, strict=True)]


def _height(cells: Row, widths: list[float], font: str) -> float:
    return max(len(lines) for lines in _folded(cells, widths, font)) * _STEP + 1.4


def _row(writer: Writer, cells: Row, widths: list[float], font: str) -> None:
    step, folded, height = _STEP, _folded(cells, widths, font), _height(cells, widths, font)
    writer.room(height)
    x = writer.page.text.left
    for lines, width in zip(folded, widths, strict=True):
        for n, line in enumerate(lines, start=1):
            write(writer.canvas, x, writer.y - n * step, line, _SIZE, font=font)
        x += width
    writer.gap(height)
    writer.canvas.setLineWidth(0.15 * POINTS)
    writer.canvas.line(writer.page.text.left * POINTS, writer.y * POINTS, x * POINTS, writer.y * POINTS)
