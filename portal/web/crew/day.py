"""Under the link of a day: the sheet of that day, and what the crew drills from."""

from flask import Response, abort, request

from portal import clock
from portal.pages.crew_day.sheet import render_crew_day
from portal.request.crew_day import crew_day, sheet_of_day
from portal.request.sheet_answers import sheet_pdf
from portal.store.reading.firm import current_firm
from portal.web.answer import page
from portal.web.crew.blueprint import blueprint, holder


@blueprint.get("/")
def day() -> Response:
    """The calendar's link opens the calendar alone: it lasts, and how to get into a house must not."""
    opened = holder()
    if opened.day is None:
        abort(404)
    return page(render_crew_day(current_firm(), crew_day(opened.crew, opened.name, opened.day, clock.now())))


@blueprint.get("/houses/<int:house_id>/decisions/<int:number>/sheet.pdf")
def sheet(house_id: int, number: int) -> Response:
    """The approved drawing and no other, whatever else is asked for."""
    opened = holder()
    if opened.day is None or {"option", "revision"} & set(request.args):
        abort(404)
    found = sheet_of_day(opened.crew, opened.day, clock.now(), house_id, number)
    return sheet_pdf(found.snapshot, found.decision) if found else abort(404)
