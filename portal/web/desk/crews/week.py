"""The week over all houses: who works where, who is booked twice, who is free."""

from datetime import date, timedelta

from flask import Response, request

from portal.web.desk.blueprint import blueprint
from portal.web.desk.crews.week_view import week_of
from portal.web.desk.showing import show
from portal.words.dates import short_span_words


@blueprint.get("/week/")
def week() -> Response:
    """`?from=`: a day of the week that is meant; anything else is this week."""
    found = week_of(_given(request.args.get("from", "")))
    beside = [(words, (found.monday + timedelta(days)).isoformat()) for words, days in
              (("The week before", -7), ("The week after", 7))]
    return show("week.html", week=found, beside=beside, span=short_span_words(found.days[0], found.days[-1]))


def _given(text: str) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if 1971 < day.year < 9000 else None
