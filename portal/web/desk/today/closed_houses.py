"""The houses that are closed, by name, those closed last first: who knows no word of them to search for goes through
them. `?page=` counts on."""

from flask import Response, request

from portal import clock
from portal.store.rows.project_rows import closed_houses, how_many_closed
from portal.web.desk.blueprint import blueprint
from portal.web.desk.showing import show
from portal.web.desk.today.houses import AT_A_TIME, counted_through
from portal.words.dates import dated_words, local


@blueprint.get("/closed/")
def closed() -> Response:
    many, now = how_many_closed(), clock.now()
    first, pages = counted_through(many, request.args.get("page", 1, type=int))
    houses = [
        (one, dated_words(local(one.closed_at, one.timezone).date(), local(now, one.timezone).date()))
        for one in closed_houses(first, AT_A_TIME)
    ]
    return show("closed_houses.html", houses=houses, many=many, **pages)
