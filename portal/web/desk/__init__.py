"""The desk: where the manager and the office work, on a phone on site and with a caller on the line."""

from flask import Flask

from portal.web.desk import (
    calls,
    chart,
    decisions,
    deliveries,
    door,
    fitting,
    handovers,
    household,
    layout_decisions,
    notices,
    page,
    paper,
    phases,
    plan,
    planned,
    project,
    projects,
    setting_up,
    sheets,
    starting,
    takes,
    updates,
    visits,
)
from portal.web.desk.blueprint import blueprint

__all__ = ["register"]

# Imported for their routes.
_MODULES = (
    calls, chart, decisions, deliveries, door, fitting, handovers, household, layout_decisions, notices, page,
    paper, phases, plan, planned, project, projects, setting_up, sheets, starting, takes, updates, visits,
)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
