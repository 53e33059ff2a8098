"""`visits.ics` under the link of a crew's calendar: its visits over all houses."""

from flask import Response, abort, request

from portal import clock, signing
from portal.pages.crew_day.calendar import crew_calendar
from portal.request.services import services
from portal.store.reading.crews.week import crews_ahead
from portal.store.reading.firm import current_firm
from portal.store.rows.crews.crew_visit_rows import visits_of
from portal.web.crew.blueprint import blueprint, holder

_DAY = 24 * 3600


@blueprint.get("/visits.ics")
def visits() -> Response:
    """The link of a day opens no calendar: it would show more than that day. From yesterday on."""
    opened, now, secret = holder(), clock.now(), services().settings.secret
    if opened.day is not None:
        abort(404)
    standing = crews_ahead(now, now - _DAY).standing
    data = crew_calendar(current_firm(), opened.name, visits_of(opened.crew, now - _DAY), standing,
                         lambda event: signing.event_id_for(secret, event))  # fmt: skip
    response = Response(data, content_type="text/calendar; charset=utf-8")
    response.headers["Content-Disposition"] = 'inline; filename="visits.ics"'
    response.add_etag()
    response.make_conditional(request)
    return response
