"""The plan as a file: CSV as RFC 4180 has it, behind a mark that spreadsheet programs know UTF-8 by, or XLSX."""

import csv
import io
from typing import Any

from openpyxl import Workbook  # type: ignore[import-untyped]
from openpyxl.cell import WriteOnlyCell  # type: ignore[import-untyped]
from openpyxl.styles import Font  # type: ignore[import-untyped]

from portal.pages.plan_file import cells
from portal.pages.plan_file.cells import Row, guarded, numbered
from portal.store.facts import PhaseFact, Snapshot

CSV_TYPE = "text/csv; charset=utf-8"
XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_WIDTHS = {cells.PHASE: 36, cells.AFTER: 32, cells.HELD_BY: 32}


def plan_rows(snapshot: Snapshot) -> list[Row]:
    """The sheet: its head, and a row for each phase, whose cells are as they go out."""
    after = max((len(phase.after) for phase in snapshot.phases), default=1) or 1
    held = max((len(phase.held_by) for phase in snapshot.phases), default=1) or 1
    head = [*cells.SINGLE]
    for number in range(1, after + 1):
        head += [numbered(cells.AFTER, number), numbered(cells.WAIT, number)]
    head += [numbered(cells.HELD_BY, number) for number in range(1, held + 1)]
    return [head, *(_row(snapshot, phase, after, held) for phase in snapshot.phases)]


def as_csv(rows: list[Row]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows(rows)
    return out.getvalue().encode("utf-8-sig")


def as_xlsx(rows: list[Row]) -> bytes:
    """Every cell is text or a number, none a formula."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet("Plan")
    sheet.freeze_panes = "B2"
    for place, name in enumerate(rows[0], 1):
        letter = chr(ord("A") + (place - 1) % 26)
        width = _WIDTHS.get(name.rstrip(" 0123456789"), 14)
        sheet.column_dimensions[f"A{letter}" if place > 26 else letter].width = width
    for number, row in enumerate(rows):
        sheet.append([_cell(sheet, name, text, number == 0) for name, text in zip(rows[0], row, strict=True)])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cell(sheet: object, column: str, text: str, head: bool) -> Any:
    if not text:
        return None
    hours = column.startswith((cells.HOURS, cells.WAIT)) and not head
    cell = WriteOnlyCell(sheet, float(text) if hours else text)
    if not hours:
        cell.data_type = "s"
    if head:
        cell.font = Font(bold=True)
    return cell


def _row(snapshot: Snapshot, phase: PhaseFact, after: int, held: int) -> Row:
    spread = not phase.work_low == phase.work_likely == phase.work_high
    row = [
        phase.name, "" if phase.room_id is None else snapshot.room_name(phase.room_id), phase.crew,
        hours_text(phase.work_likely), hours_text(phase.work_low) if spread else "",
        hours_text(phase.work_high) if spread else "",
        "" if phase.not_before is None else phase.not_before.isoformat(),
    ]
    pairs = [(snapshot.phase(one).name, hours_text(wait) if wait else "") for one, wait in phase.after]
    for name, wait in [*pairs, *[("", "")] * (after - len(pairs))]:
        row += [name, wait]
    row += [_question(snapshot, one) for one in phase.held_by]
    return [guarded(text) for text in [*row, *[""] * (held - len(phase.held_by))]]


def _question(snapshot: Snapshot, decision: int) -> str:
    """Its words; its number where another question has the same words, or these could be taken for a number."""
    one = snapshot.decision(decision)
    alike = [other for other in snapshot.decisions if other.question.casefold() == one.question.casefold()]
    plain = " ".join(one.question.split()) == one.question and not one.question.isdecimal()
    return one.question if len(alike) == 1 and plain and len(one.question) < 200 else str(one.number)


def hours_text(minutes: int) -> str:
    """Two digits of an hour tell each minute."""
    return f"{minutes / 60:.2f}".rstrip("0").rstrip(".")
