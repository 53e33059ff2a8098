"""The questions of a house: who waits on whom, what the plan still wants asked, and all that were asked."""

from flask import Response

from portal import clock
from portal.pages.decision.failing import today_words
from portal.pages.outlook import outlook_of
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import project_row
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.desk.house.waiting import waiting_of
from portal.web.desk.people.messages import line_of
from portal.web.desk.plan.label_waits import to_enter
from portal.web.desk.plan.planned import to_ask
from portal.web.desk.showing import show
from portal.words.dates import local


@blueprint.get(f"{PROJECT}/questions/")
def questions(project_id: int) -> Response:
    project_row(project_id)
    snapshot, now = read_snapshot(project_id), clock.now()
    outlook, today = outlook_of(snapshot, schedule_of(snapshot, now)), local(now, snapshot.project.timezone).date()
    return show(
        "questions.html", project=snapshot.project, waiting=waiting_of(snapshot, outlook, today),
        messages=[line_of(snapshot, one) for one in snapshot.owed_messages], decisions=_decisions(snapshot),
        to_enter=to_enter(snapshot), to_ask=to_ask(snapshot, outlook, today), to_order=[],
    )


def _decisions(snapshot: Snapshot) -> list[tuple[DecisionFact, str, list[str]]]:
    """Each with how it stands, and what the checks of today find in its drawings."""
    words = {"asked": "asked", "asked_back": "asked back", "approved": "approved"}
    return [(one, _closed(one) or words.get(one.state, "closed"), today_words(one)) for one in snapshot.decisions]


def _closed(one: DecisionFact) -> str:
    if one.withdrawn or not one.is_closed:
        return "withdrawn" if one.withdrawn else ""
    return f"{'approved' if one.state == 'approved' else 'closed'}, the work has begun"
