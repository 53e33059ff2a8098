"""What proves the record, under a private link: the receipt of each entry to read and to keep, and the whole of it."""

from flask import Response

from portal import clock
from portal.acts.keeping.receipts import receipt_for, record_file, withdrawal_of
from portal.copying import own_copy
from portal.pages.decision.taking_back import taking_back_on_receipt
from portal.pages.evidence.receipt_page import render_receipt
from portal.pages.outlook import outlook_of
from portal.pages.own_copy.offer import render_copy
from portal.record.log.heads import Signer
from portal.record.papers.receipt import Receipt
from portal.request.services import services
from portal.store.reading.project_plan import schedule_of
from portal.web.answer import page
from portal.web.house.blueprint import blueprint, project_id, snapshot
from portal.words.dates import local


@blueprint.get("/record/<int:sequence>/")
def receipt(sequence: int) -> Response:
    found, shown, now = _receipt(sequence), snapshot(), clock.now()
    if found.entry["kind"] != "approved":
        return page(render_receipt(shown, found))
    outlook, today = outlook_of(shown, schedule_of(shown, now)), local(now, shown.project.timezone).date()
    until = taking_back_on_receipt(shown, outlook, found.entry, today)
    return page(render_receipt(shown, found, withdrawal_of(project_id(), found.entry), until))


@blueprint.get("/record/<int:sequence>/receipt.json")
def receipt_file(sequence: int) -> Response:
    return _download(_receipt(sequence).file, f"receipt-{sequence}.json")


@blueprint.get("/record/record.json")
def whole_record() -> Response:
    return _download(record_file(project_id(), signer()), "record.json")


@blueprint.get("/copy/")
def copy() -> Response:
    return page(render_copy(snapshot()))


@blueprint.post("/copy/")
def take_copy() -> Response:
    """A POST, because it is work to make one: programs that only follow links don't cause it. It changes nothing."""
    data = own_copy(project_id(), services().settings, clock.now())
    return _download(data, "own-copy.zip", "application/zip")


def signer() -> Signer:
    return Signer(services().settings.record_key)


def _receipt(sequence: int) -> Receipt:
    return receipt_for(project_id(), sequence, signer())


def _download(data: bytes, name: str, kind: str = "application/json") -> Response:
    response = Response(data, content_type=kind)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    response.headers["Cache-Control"] = "no-store"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Robots-Tag"] = "noindex"
    return response
