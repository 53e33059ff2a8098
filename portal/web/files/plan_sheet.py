"""The plan on one sheet, for whoever may read the project."""

from flask import Response

from portal import clock
from portal.pages.paper.plan_sheet import render_plan
from portal.store.facts import Snapshot
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import schedule_of
from portal.web.answer import page


def plan_sheet(snapshot: Snapshot) -> Response:
    now = clock.now()
    schedule = schedule_of(snapshot, now)
    return page(render_plan(snapshot, schedule, now, foresee(snapshot, schedule)))
