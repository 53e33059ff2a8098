"""`visits.ics` under a private link: the visits for the household's own calendar."""

from flask import Response, request

from portal import clock, signing
from portal.notices.calendar_file import calendar_file
from portal.pages.outlook import outlook_of
from portal.request.services import services
from portal.store.reading.project_plan import schedule_of
from portal.store.rows.visit_rows import cancelled
from portal.web.house.blueprint import blueprint, snapshot


@blueprint.get("/visits.ics")
def visits() -> Response:
    """The same bytes until something changes or the day is over: a calendar that asks again gets a short answer."""
    shown, secret = snapshot(), services().settings.secret
    outlook = outlook_of(shown, schedule_of(shown, clock.now()))
    page = f"{services().settings.base_url}{request.path.removesuffix('visits.ics')}"
    data = calendar_file(
        shown, outlook, cancelled(shown.project.id), lambda event: signing.event_id_for(secret, event), page
    )
    response = Response(data, content_type="text/calendar; charset=utf-8")
    response.headers["Content-Disposition"] = 'inline; filename="visits.ics"'
    response.headers["Cache-Control"] = "private, no-cache"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Robots-Tag"] = "noindex"
    response.add_etag()
    response.make_conditional(request)
    return response
