"""The desk's pages, put together."""

from flask import Flask

from portal.web.desk import door
from portal.web.desk.blueprint import blueprint
from portal.web.desk.decisions import (
    asking,
    layout_decisions,
    paper,
    sheets,
)
from portal.web.desk.house import (
    handovers,
    page,
    project,
    projects,
    setting_up,
    sizes,
)
from portal.web.desk.people import (
    calls,
    household,
    notices,
    updates,
)
from portal.web.desk.plan import (
    chart,
    deliveries,
    fitting,
    phases,
    plan_table,
    planned,
    starting,
    takes,
    visits,
)

# Imported for their routes.
_MODULES = (
    calls, chart, asking, deliveries, door, fitting, handovers, household, layout_decisions, notices, page,
    paper, phases, plan_table, planned, project, projects, setting_up, sheets, sizes, starting, takes, updates, visits,
)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
