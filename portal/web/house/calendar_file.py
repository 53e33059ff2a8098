"""`visits.ics` under a private link: the visits for the household's own calendar; `calendar/` leads to it."""

from flask import Response, request

from portal import clock, signing
from portal.pages.calendar_file import calendar_file, render_calendar_ways
from portal.pages.outlook import outlook_of
from portal.request.files_only import FilesOnly, only_files
from portal.request.services import services
from portal.store.reading.project_plan import schedule_of
from portal.store.rows.visit_rows import cancelled
from portal.web.answer import page
from portal.web.files.published import kept_calendar
from portal.web.house.blueprint import blueprint, project_id, snapshot


@blueprint.get("/calendar/")
def calendar_ways() -> Response:
    """The page is one file for all links and names no host: here stands the address that a calendar needs."""
    return page(render_calendar_ways(snapshot(), f"{_below('calendar/')}visits.ics"))


@blueprint.get("/visits.ics")
def visits() -> Response:
    """The same bytes until something changes or the day is over: a calendar that asks again gets a short answer."""
    if only_files():
        kept = kept_calendar(project_id())
        if kept is None:
            raise FilesOnly()
        return kept
    shown, secret = snapshot(), services().settings.secret
    outlook = outlook_of(shown, schedule_of(shown, clock.now()))
    data = calendar_file(
        shown, outlook, cancelled(shown.project.id), lambda event: signing.event_id_for(secret, event),
        _below("visits.ics"),
    )
    response = Response(data, content_type="text/calendar; charset=utf-8")
    response.headers["Content-Disposition"] = 'inline; filename="visits.ics"'
    response.headers["Cache-Control"] = "private, no-cache"
    response.add_etag()
    response.make_conditional(request)
    return response


def _below(way: str) -> str:
    """The whole address of the page under this link; `way` is how the one that was asked for goes on."""
    return f"{services().settings.base_url}{request.path.removesuffix(way)}"
