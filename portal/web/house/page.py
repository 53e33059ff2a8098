"""What is only read: the page as it was published, its photos, the record."""

from flask import Response, abort

from portal import clock
from portal.pages.evidence.record_page import render_record
from portal.store.rows import record_rows
from portal.web.answer import page
from portal.web.files.plan_sheet import plan_sheet
from portal.web.files.published import published, published_photo
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot


@blueprint.get("/")
def status_page() -> Response:
    return published(project_id(), sums=reader().reads_sums)


@blueprint.get("/plan/")
def plan() -> Response:
    return plan_sheet(snapshot())


@blueprint.get("/photos/<name>")
def photo(name: str) -> Response:
    return published_photo(project_id(), name) or abort(404)


@blueprint.get("/record/")
def record() -> Response:
    shown = snapshot()
    return page(render_record(shown, list(record_rows.every(shown.project.id)), clock.now()))
