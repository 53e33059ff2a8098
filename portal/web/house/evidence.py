"""What proves the record, under a private link: the receipt of each entry to read and to keep, and the whole of it."""

from typing import Any

from flask import Response

from portal import clock
from portal.acts.keeping import own_keys
from portal.acts.keeping.receipts import receipt_for, record_file, withdrawal_of
from portal.acts.limits import take
from portal.acts.refusals import PricesLeftOut
from portal.copying import own_copy
from portal.notices.reach import copies_words
from portal.pages.evidence.receipt_page import Around, render_receipt
from portal.pages.evidence.receipt_paper import receipt_sheet
from portal.pages.evidence.receipt_words import SHEETS
from portal.pages.outlook import outlook_of
from portal.pages.own_copy.offer import render_copy
from portal.record.log.heads import Signer
from portal.record.papers.receipt import Receipt
from portal.request.services import services
from portal.request.sheet_answers import block_pdf_answer
from portal.store.reading.project_plan import schedule_of
from portal.store.refusals import NotFound
from portal.store.rows.notice_rows import about_entry
from portal.web.answer import page
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot


@blueprint.get("/record/<int:sequence>/")
def receipt(sequence: int) -> Response:
    found, shown, now = _receipt(sequence), snapshot(), clock.now()
    me = next((one for one in shown.people if one.id == reader().id), None)
    around = Around(
        outlook_of(shown, schedule_of(shown, now)), now, _taken_back(found.entry), me,
        copies_words(about_entry(shown.project.id, sequence)),
    )  # fmt: skip
    return page(render_receipt(shown, found, around))


@blueprint.get("/record/<int:sequence>/receipt.pdf")
def receipt_paper(sequence: int) -> Response:
    found = _receipt(sequence)
    if found.entry["kind"] not in SHEETS:
        raise NotFound(what="sheet of this entry")
    return block_pdf_answer(receipt_sheet(snapshot(), found, _taken_back(found.entry)), f"receipt-{sequence}")


@blueprint.get("/record/<int:sequence>/receipt.json")
def receipt_file(sequence: int) -> Response:
    return _download(_receipt(sequence).file, f"receipt-{sequence}.json")


@blueprint.get("/record/record.json")
def whole_record() -> Response:
    _for_readers_of_prices()
    return _download(record_file(project_id(), signer()), "record.json")


@blueprint.get("/copy/")
def copy() -> Response:
    _for_readers_of_prices()
    return page(render_copy(snapshot()))


@blueprint.post("/copy/")
def take_copy() -> Response:
    """A POST, because it is work to make one: programs that only follow links don't cause it. It changes nothing."""
    _for_readers_of_prices()
    take("own_copies", reader().key, clock.now())
    data = own_copy(project_id(), services().settings, clock.now())
    return _download(data, "own-copy.zip", "application/zip")


def signer() -> Signer:
    return own_keys.signer(services().settings)


def _receipt(sequence: int) -> Receipt:
    """Only for readers of prices, whatever the entry says: by its hashes, and by those of the entries beside it, a
    price that is left out could be found by trying."""
    _for_readers_of_prices()
    return receipt_for(project_id(), sequence, signer())


def _for_readers_of_prices() -> None:
    """What is whole or signed can't be had without its sums."""
    if not reader().reads_sums:
        raise PricesLeftOut()


def _taken_back(entry: dict[str, Any]) -> dict[str, Any] | None:
    return withdrawal_of(project_id(), entry) if entry["kind"] == "approved" else None


def _download(data: bytes, name: str, kind: str = "application/json") -> Response:
    response = Response(data, content_type=kind)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
