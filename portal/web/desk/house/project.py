"""The first page of a house: what runs and its buttons, what is in the way, what comes, what a caller asks. All else is
a row away (portal.web.desk.house: work, questions, coming, told)."""

from flask import Response

from portal import clock
from portal.acts.actor import OFFICE
from portal.pages.days.under_way import photo_words
from portal.pages.home.span import span_section
from portal.pages.home.tape import tape_section
from portal.store.facts import Snapshot
from portal.store.rows.editable import project_row, versions_of
from portal.store.tables import Delivery
from portal.web.desk.blueprint import PROJECT, blueprint, who
from portal.web.desk.house.lagging import lagging_words
from portal.web.desk.onsite.caller import for_caller, standing_of
from portal.web.desk.onsite.in_the_way import in_the_way, more_words, whom_to_call
from portal.web.desk.onsite.next_work import next_work
from portal.web.desk.onsite.presses import mistake_presses
from portal.web.desk.onsite.running import running
from portal.web.desk.showing import show
from portal.words.dates import day_words, local
from portal.words.lists import listed
from portal.words.names import called, street
from portal.words.plurals import counted

MOST_WAYS = 5
"""So many things in the way stand open; what is later is a fold."""


@blueprint.get(f"{PROJECT}/")
def project(project_id: int) -> Response:
    project_row(project_id)
    at = standing_of(project_id, clock.now())
    snapshot, outlook, today, now = at.snapshot, at.outlook, at.today, at.now
    ways = in_the_way(snapshot, outlook, versions_of(Delivery, project_id), today, now)
    later = ways[MOST_WAYS:] if len(ways) > MOST_WAYS + 1 else []
    return show(
        "project.html", project=snapshot.project, street=street(snapshot.project.address),
        lagging=lagging_words(project_id), call=whom_to_call(snapshot),
        names=[one.name for one in snapshot.people], called=called, stands=_stands(snapshot),
        running=running(snapshot, outlook, today, now), mistakes=mistake_presses(snapshot, now),
        photo_words=photo_words(snapshot, outlook),
        span=span_section(snapshot, outlook, at.finish, today), ways=ways[:len(ways) - len(later)], later=later,
        more=more_words(later, today), following=next_work(snapshot, outlook, today, now),
        tape=tape_section(snapshot, outlook, at.house, today), phone=for_caller(at),
        rows=_rows(snapshot, now), caller_first=who().role == OFFICE, runs=at.runs,
    )


def _stands(snapshot: Snapshot) -> str:
    """What is said where nothing is under way."""
    closed = snapshot.project.closed_at
    if closed is not None:
        return f"Closed on {day_words(local(closed, snapshot.project.timezone).date())}."
    if not snapshot.phases:
        return "There is no plan yet."
    done = all(one.finished_at is not None for one in snapshot.phases)
    return "All work is done." if done else "Nothing is under way."


def _rows(snapshot: Snapshot, now: int) -> list[tuple[str, str, str]]:
    """The ways to all else: where each leads, its words, and the anchor by which it was found before it had a page."""
    names = [one.name for one in snapshot.people]
    household = listed(called(name, names) for name in names) or "Nobody is named yet"
    to_come = sum(one.arrived_at is None for one in snapshot.deliveries)
    visits = sum(one.ends_at > now for one in snapshot.visits)
    return [
        ("work/", f"All work, {counted(len(snapshot.phases), 'step')}", "work"),
        ("questions/", f"Questions, {len(snapshot.decisions)}", "decisions"),
        ("visits/", f"Visits, {visits} booked", "visits"),
        ("deliveries/", f"Deliveries, {to_come} to come", "deliveries"),
        ("people/", f"{household}: phones, links", "household"),
        ("updates/", "Updates, calls, messages", "told"),
        ("set-up/", "Rooms, dates, record", "set-up"),
    ]
