"""The page to run one project from: who waits on whom, who comes, what came, and every phase with its next act."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from flask import Response

from portal import clock
from portal.pages.decision.failing import today_words
from portal.pages.home.phone import phone_answers
from portal.pages.home.standing import Standing, standing_section
from portal.pages.household_words import unwatched_words
from portal.pages.outlook import Outlook, outlook_of
from portal.pages.warning_words import warning_words
from portal.pages.where_and_when import hours_words, in_room
from portal.store.facts import DecisionFact, DeliveryFact, PersonFact, PhaseFact, Snapshot, VisitFact
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.reading.warnings import blind_spots, warnings_in
from portal.store.rows.editable import project_row, versions_of
from portal.store.rows.link_rows import live_links
from portal.store.tables import Delivery
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.desk.conflict_words import conflict_words
from portal.web.desk.house.waiting import waiting_of
from portal.web.desk.plan.label_waits import to_enter
from portal.web.desk.plan.planned import to_ask, to_order
from portal.web.desk.showing import show
from portal.words.dates import dated_words, day_words, local, near_words, when_words

_NEXT = {
    "waiting": ("start", "Start now", "start_phase"), "under_way": ("finish", "Finish now", "finish_phase"),
    "stopped": ("resume", "Go on", "resume_phase"), "inspection": ("finish", "It has passed", "finish_phase"),
}


@dataclass(frozen=True, slots=True)
class Comes:
    """A booked visit: when and what, and why it can't be kept, where it can't."""

    visit: VisitFact
    day: str
    words: str
    conflicts: list[str]


@dataclass(frozen=True, slots=True)
class Stands:
    """A phase: its state in words, and the act that comes next: where its form is, its button, and the act's name."""

    phase: PhaseFact
    standing: Standing
    act: tuple[str, str, str] | None


@blueprint.get(f"{PROJECT}/")
def project(project_id: int) -> Response:
    project_row(project_id)
    snapshot, now = read_snapshot(project_id), clock.now()
    schedule = schedule_of(snapshot, now)
    outlook, today = outlook_of(snapshot, schedule), local(now, snapshot.project.timezone).date()
    clashes: dict[int, list[str]] = {}
    for one in conflicts_in(schedule, project_id):
        clashes.setdefault(one.visit, []).append(conflict_words(one, snapshot.project.timezone))
    visits = [_comes(snapshot, visit, today, clashes) for visit in snapshot.visits if visit.ends_at > now]
    return show(
        "project.html", project=snapshot.project, today=day_words(today),
        waiting=waiting_of(snapshot, outlook, today), visits=visits, rooms=list(_rooms(snapshot, outlook, today)),
        deliveries=[(one, _delivery_words(snapshot, one, today)) for one in snapshot.deliveries],
        versions=versions_of(Delivery, project_id), people=_people(snapshot), decisions=_decisions(snapshot),
        warnings=[*map(warning_words, warnings_in(snapshot, schedule)), *map(unwatched_words, blind_spots(snapshot))],
        to_enter=to_enter(snapshot), to_ask=to_ask(snapshot, outlook, today), to_order=to_order(snapshot),
        phone=phone_answers(
            snapshot, household_of(snapshot, outlook.booked), foresee(snapshot, schedule).forecast, today
        ),
        updates=_updates(snapshot),
    )


def _comes(snapshot: Snapshot, visit: VisitFact, today: date, clashes: dict[int, list[str]]) -> Comes:
    zone = snapshot.project.timezone
    day = near_words(local(visit.starts_at, zone).date(), today)
    what = f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}."
    return Comes(visit, f"{day[0].upper()}{day[1:]}, {hours_words(visit, zone)}", what, clashes.get(visit.id, []))


def _rooms(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[tuple[str, list[Stands]]]:
    by_name = {phase.name: phase for phase in snapshot.phases}
    for room in standing_section(snapshot, outlook, today):
        phases = [by_name[standing.name] for standing in room.phases]
        yield room.room, [
            Stands(phase, standing, _NEXT.get(phase.state) if _is_next(snapshot, phase) else None)
            for phase, standing in zip(phases, room.phases, strict=True)
        ]


def _is_next(snapshot: Snapshot, phase: PhaseFact) -> bool:
    """Under way, or free to start: for the others, a button on the list would only be pressed by mistake."""
    done = {one.id for one in snapshot.phases if one.finished_at is not None}
    held = snapshot.holding(phase) or snapshot.unasked(phase)
    free = {before for before, _ in phase.after} <= done and not held
    return phase.state != "waiting" or free


def _delivery_words(snapshot: Snapshot, one: DeliveryFact, today: date) -> str:
    waiting = [snapshot.phase(phase).name for phase in one.phases]
    for_what = f" For: {', '.join(waiting)}." if waiting else ""
    if one.arrived_at is not None:
        return f"came on {when_words(one.arrived_at, snapshot.project.timezone)}.{for_what}"
    late = " It is late." if one.expected_on < today else ""
    spread = "" if one.expected_low == one.expected_high else (
        f" ({dated_words(one.expected_low, today)} to {dated_words(one.expected_high, today)})")
    return f"expected {near_words(one.expected_on, today)}{spread}.{late}{for_what}"


def _people(snapshot: Snapshot) -> list[tuple[PersonFact, bool]]:
    """Each with whether they have a link that opens."""
    linked = {person for _, person in live_links(snapshot.project.id)}
    return [(person, person.id in linked) for person in snapshot.people]


def _decisions(snapshot: Snapshot) -> list[tuple[DecisionFact, str, list[str]]]:
    """Each with how it stands, and what the checks of today find in its drawings."""
    words = {"asked": "asked", "asked_back": "asked back", "approved": "approved"}
    return [(one, _closed(one) or words.get(one.state, "closed"), today_words(one)) for one in snapshot.decisions]


def _closed(one: DecisionFact) -> str:
    if one.withdrawn or not one.is_closed:
        return "withdrawn" if one.withdrawn else ""
    return f"{'approved' if one.state == 'approved' else 'closed'}, the work has begun"


def _updates(snapshot: Snapshot) -> list[tuple[int, str, int]]:
    zone = snapshot.project.timezone
    return [(one.id, f"{when_words(one.at, zone)}, {one.staff}", len(one.photos)) for one in snapshot.updates[:5]]

