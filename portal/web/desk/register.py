"""The desk's pages, put together."""

from flask import Flask

from portal.web.desk import door, waiting
from portal.web.desk.account import (
    colleagues,
    factor,
    one_colleague,
    own,
    password,
    staff,
    tokens,
    ways_in,
)
from portal.web.desk.blueprint import blueprint
from portal.web.desk.crews import (
    crew_day,
    crews,
    known,
    week,
)
from portal.web.desk.decisions import (
    asking,
    layout_decisions,
    paper,
    refusing,
    sheets,
)
from portal.web.desk.firm import (
    firm_calendar,
    first_day,
    suppliers,
)
from portal.web.desk.house import (
    calls,
    coming,
    ending,
    handovers,
    page,
    project,
    questions,
    responsible,
    setting_up,
    sizes,
    told,
    work,
)
from portal.web.desk.people import (
    crew_notes,
    household,
    messages,
    notices,
    stopped_mail,
    updates,
)
from portal.web.desk.plan import (
    chart,
    deliveries,
    fitting,
    one_phase,
    phases,
    plan_file,
    plan_table,
    planned,
    starting,
    takes,
    visits,
)
from portal.web.desk.today import closed_houses, marking, today

# Imported for their routes.
_MODULES = (
    colleagues, ending, first_day, refusing, suppliers, factor, one_colleague, own, password, staff, tokens, ways_in,
    crew_day, crews, known, week,
    calls, chart, closed_houses, asking, coming, crew_notes, deliveries, door, firm_calendar, fitting, handovers,
    household,
    layout_decisions,
    marking, messages, notices, one_phase, page, paper, phases, plan_file, plan_table, planned, project, questions,
    responsible,
    setting_up, sheets, sizes, starting, stopped_mail, takes, today, told, updates, visits, waiting, work,
)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
