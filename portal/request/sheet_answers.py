"""Answers with the sheet of a decision: PDF for the crew, DXF for the machine. The same under link, desk and API.

Asked for with `paper` (letter or a4), `option` (a key) and `revision`; without, the approved option of the current one.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from flask import Response, current_app, request

from portal.drawings.sheets.block_sheet import BlockSheet
from portal.drawings.sheets.kept_sheet import can_be_worked_to
from portal.drawings.writers.report import Report
from portal.layouts.kept_checks import is_drawn
from portal.pages.paper.sheet import Printable, option_to_print, printable
from portal.pages.without_sums import without
from portal.request.services import services
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.revisions.earlier_revision import in_revision
from portal.store.refusals import FieldRefused, NotAsAsked, NotDrawn, NotFound, Refused

PAPERS = ("letter", "a4")


def sheet_pdf(snapshot: Snapshot, decision: DecisionFact) -> Response:
    from portal.drawings.sheets.paper import Paper
    from portal.drawings.writers.pdf import pdf  # here: the library for it is heavy, and few requests need it

    paper = _paper()
    with _as_kept(decision):
        asked = _printable(snapshot, decision)
        data = pdf(asked.sheet, asked.scene, Paper[paper.upper()])
    return _file(data, "application/pdf", asked.file_name("pdf", paper))


def holes_dxf(snapshot: Snapshot, decision: DecisionFact) -> Response:
    from portal.drawings.writers.dxf import dxf

    with _as_kept(decision):
        asked = _printable(snapshot, decision)
        data = dxf(asked.machine, asked.sheet.notes(), barred=asked.sheet.barred)
    return _file(data, "image/vnd.dxf", asked.file_name("dxf"))


def block_pdf_answer(sheet: BlockSheet, name: str) -> Response:
    """A sheet that is one title block. `name` of the file, without its ending."""
    from portal.drawings.sheets.paper import Paper
    from portal.drawings.writers.block_pdf import block_pdf

    return _file(block_pdf(sheet, Paper[_paper().upper()]), "application/pdf", f"{name}.pdf")


def report_answer(report: Report, name: str) -> Response:
    """`name` of the file, without its ending."""
    from portal.drawings.sheets.paper import Paper
    from portal.drawings.writers.report_pdf import report_pdf

    return _file(report_pdf(report, Paper[_paper().upper()]), "application/pdf", f"{name}.pdf")


def _paper() -> str:
    paper = request.args.get("paper", PAPERS[0]).lower()
    if paper not in PAPERS:
        raise FieldRefused("paper", f"Choose one of: {', '.join(PAPERS)}.")
    return paper


@contextmanager
def _as_kept(decision: DecisionFact) -> Iterator[None]:
    """Refuse a drawing that can't be drawn as it is kept, whatever shape that has: the crew must not get half of it.
    The log says why, for whoever can mend it."""
    try:
        yield
    except Refused:
        raise
    except Exception as error:
        current_app.logger.exception("Decision %s can't be printed as it is kept", decision.id)
        raise NotDrawn from error


def _printable(snapshot: Snapshot, current: DecisionFact) -> Printable:
    decision = in_revision(snapshot.project.id, current, _revision(current))
    if not snapshot.sums:
        decision = without(decision)
    if not decision.as_asked:
        raise NotAsAsked
    option = _option(decision)
    if not can_be_worked_to(option, decision.kind):
        raise NotDrawn
    newer = current.revision if decision.revision != current.revision else None
    return printable(snapshot, decision, option, f"{services().settings.base_url}/check/", newer)


def _revision(current: DecisionFact) -> int:
    text = request.args.get("revision", str(current.revision))
    if not text.isdecimal() or len(text) > 9:
        raise FieldRefused("revision", "Give the number of a revision, such as 1.")
    return int(text)


def _option(decision: DecisionFact) -> dict[str, Any]:
    best = option_to_print(decision)
    if best is None:
        raise NotFound(what="drawing to print")
    key = request.args.get("option")
    if key is None:
        return best
    named = decision.option(key)
    if named is None or not is_drawn(named):
        raise FieldRefused("option", "Give the key of an option that has a drawing.")
    return named


def _file(data: bytes, kind: str, name: str) -> Response:
    response = Response(data, content_type=kind)
    response.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return response
