"""A file that somebody sends, as rows of cells. Nothing of it is computed, and its size is known before it is read."""

import csv
import io
import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime
from typing import Any

from openpyxl import load_workbook  # type: ignore[import-untyped]

from portal.pages.plan_file.cells import Cell, unguarded
from portal.pages.plan_file.unpacking import Damaged, TooLarge, unpacked

MOST_BYTES = 4 * 1024 * 1024
MOST_ROWS = 200
MOST_COLUMNS = 60
LONGEST_CELL = 1000
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_SEPARATORS = (",", ";", "\t")
_OTHERS = (b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"%PDF", b"RIFF")
"""What pictures and papers begin with."""
_NO_TEXT = re.compile(rb"[\x01-\x08\x0e-\x1f]")
_OLD_EXCEL = b"\xd0\xcf\x11\xe0"

Rows = list[tuple[int, list[Cell]]]
"""Each with the number of its line in the file."""


class FileRefused(Exception):
    """Nothing of it can be used; its text is said to whoever sent it."""


def rows_of(data: bytes) -> Rows:
    """The rows of a CSV or an XLSX file that are not blank. Raises FileRefused."""
    if not data.strip(b"\0 \r\n\t"):
        raise FileRefused("The file is empty. Take the plan with you as a file first, and fill that in.")
    if len(data) > MOST_BYTES:
        most = MOST_BYTES // 2**20
        raise FileRefused(f"The file has more than {most} MB; a plan is far smaller. Choose the plan’s own file.")
    if data.startswith(_OLD_EXCEL):
        raise FileRefused("This is a file of an old kind, or one with a password. Save it as XLSX or CSV, without one.")
    if data.startswith(_OTHERS) or (not data.startswith((b"PK", *_UTF_16)) and _NO_TEXT.search(data)):
        raise FileRefused("This is no CSV or XLSX file. Take the plan with you as one of them first, and fill that in.")
    rows = _xlsx(data) if data.startswith(b"PK") else _csv(data)
    found = [(number, cells) for number, cells in _bounded(rows) if any(one.text or one.formula for one in cells)]
    if not found:
        raise FileRefused("The file has no lines. Take the plan with you as a file first, and fill that in.")
    return found


def _bounded(rows: Iterable[list[Cell]]) -> Iterator[tuple[int, list[Cell]]]:
    filled = 0
    for number, cells in enumerate(rows, 1):
        filled += any(one.text for one in cells)
        if filled > MOST_ROWS + 1:  # with its head
            raise FileRefused(f"The file has more than {MOST_ROWS} lines; no plan can have more. Make it shorter.")
        yield number, cells


def _csv(data: bytes) -> Iterator[list[Cell]]:
    text = _decoded(data)
    named = text[:5].lower().startswith("sep=")  # a spreadsheet program's own way to name the separator
    head = text.partition("\n")[0]
    separator = head.rstrip("\r")[4:5] if named else max(_SEPARATORS, key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator or ",", strict=True)
    try:
        for number, row in enumerate(reader):
            yield [] if named and not number else [_short(unguarded(text)) for text in row[:MOST_COLUMNS]]
    except csv.Error as error:
        raise FileRefused(f"Line {reader.line_num} can’t be read: a quotation mark is not closed, or stands where none "
                          "may. Save the sheet again as CSV or XLSX.") from error


def _decoded(data: bytes) -> str:
    """UTF-8, UTF-16 by its mark, else as Windows writes western languages."""
    marked = data.startswith(_UTF_16)
    for encoding in ("utf-16",) if marked else ("utf-8-sig", "cp1252"):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise FileRefused("The letters of the file can’t be read. Save it as XLSX, or as CSV in UTF-8.")


def _xlsx(data: bytes) -> Iterator[list[Cell]]:
    try:
        plain = unpacked(data)
    except TooLarge as error:
        raise FileRefused("The file would unpack to far more than a plan. Save its sheet by itself, as XLSX or "
                          "CSV.") from error
    except Damaged as error:
        raise FileRefused("The file is damaged. Save it again as XLSX or CSV.") from error
    try:
        book = load_workbook(plain, read_only=True, data_only=False, keep_vba=False, keep_links=False)
        sheet: Any = next(one for one in book.worksheets if one.sheet_state == "visible")
        sheet.reset_dimensions()
        for row in sheet.iter_rows(max_col=MOST_COLUMNS, max_row=MOST_ROWS * 5):
            yield [_cell(one) for one in row]
    except FileRefused:
        raise
    except Exception as error:  # of a file that is damaged, or made to do damage, the reader may raise anything
        raise FileRefused("The file is damaged, or holds no sheet. Save it again as XLSX or CSV.") from error


def _cell(cell: Any) -> Cell:
    value = cell.value
    if value is None:
        return Cell("")
    if cell.data_type == "f":
        return Cell(str(value)[:LONGEST_CELL], True)
    if isinstance(value, str):
        return _short(unguarded(value))
    return _short(Cell(_plain(value)))


def _plain(value: object) -> str:
    if isinstance(value, datetime) and value.time() == datetime.min.time():
        return value.date().isoformat()
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, float):
        return f"{value:.4f}".rstrip("0").rstrip(".")
    return str(value)


def _short(cell: Cell) -> Cell:
    """So much that a refusal of its length can still be said."""
    return Cell(cell.text[:LONGEST_CELL], cell.formula)
