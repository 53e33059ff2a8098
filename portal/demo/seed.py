"""Tells the story through the acts, each at its own time, so that the record reads as it would have grown."""

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from portal.acts.actor import Actor
from portal.acts.crews.crews import add_crew
from portal.acts.decisions import answers, asking
from portal.acts.decisions.asking_back import ask_back
from portal.acts.firm import projects
from portal.acts.firm.sizes import keep_firm_size, keep_size
from portal.acts.firm.staff import add_staff, add_token
from portal.acts.household import links, updates
from portal.acts.household.crew_notes import write_crew_note
from portal.acts.keeping.photos import keep_photo
from portal.acts.plan import phases, starting
from portal.acts.plan.planned_questions import ask_planned, drop_question
from portal.acts.plan.starting_plans import Chosen, order_planned, start_from_plan
from portal.acts.visiting import deliveries, visits
from portal.content import cures
from portal.demo import story
from portal.demo.dimensions import OF_THE_FIRM, OF_THE_HOUSE
from portal.demo.pictures import drawn
from portal.planning.calendar.working_calendar import calendar_of
from portal.planning.starting_plans.label_waits import with_label_waits
from portal.settings import Settings
from portal.store.reading.plans_to_start_from import OURS, starter
from portal.store.rows import decision_rows, plan_rows
from portal.store.rows.editable import add_row, in_project
from portal.store.tables import Firm, Phase
from portal.words.prose import prose

PASSWORD = "level to a sixteenth"


Event = tuple[int, Callable[[], object]]  # when it happened, and what


@dataclass
class Told:
    """What the demo made: ids by the story's keys, and what people come in with."""

    project: int = 0
    manager: Actor = field(default_factory=lambda: Actor("manager", 0, ""))
    office: Actor = field(default_factory=lambda: Actor("office", 0, ""))
    household: list[Actor] = field(default_factory=list)
    rooms: dict[str, int] = field(default_factory=dict)
    phases: dict[str, int] = field(default_factory=dict)
    planned: dict[str, int] = field(default_factory=dict)
    orders: dict[str, int] = field(default_factory=dict)
    decisions: list[int] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    tokens: dict[str, str] = field(default_factory=dict)


class Days:
    """The story's days as dates and instants of the house."""

    def __init__(self, now: int) -> None:
        self.zone = ZoneInfo(story.TIMEZONE)
        self.calendar = calendar_of(json.dumps(story.CALENDAR), story.TIMEZONE)
        self.now = now
        self.today = datetime.fromtimestamp(now, self.zone).date()

    def day(self, number: int) -> date:
        """A working day, counted from today; if today is none, day 0 is the next and day -1 the last before."""
        return self.calendar.add_days(self.today, number, "forward")

    def at(self, number: int, clock: str) -> int:
        return int(self.wall(number, clock).replace(tzinfo=self.zone).timestamp())

    def past(self, number: int, clock: str) -> int:
        """An instant of the story that has happened: never later than now."""
        return min(self.at(number, clock), self.now - 60)

    def wall(self, number: int, clock: str) -> datetime:
        return datetime.fromisoformat(f"{self.day(number)}T{clock}")


def seed(settings: Settings, now: int) -> Told:
    """Fill an empty, migrated database with the story."""
    days, told = Days(now), Told()
    add_row(Firm, **story.FIRM)
    _hire(told, now)
    _set_up(told, days, settings)
    _plan(told, days)
    events = [*_asked(told, days), *_answered(told, days), *_worked(told, days), *_told(told, days, settings)]
    for _, do in sorted(events, key=lambda event: event[0]):
        do()
    _book(told, days)
    _second_house(told, days)
    return told


def _hire(told: Told, now: int) -> None:
    for name, email, role in story.STAFF:
        setattr(told, role, Actor(role, add_staff(name, email, role, PASSWORD).id, name))
        told.tokens[role] = add_token(email, "demo", now)
    for crew in story.CREWS:
        add_crew(told.manager, dict(crew), now)


def _set_up(told: Told, days: Days, settings: Settings) -> None:
    begun = days.past(-14, "09:00")
    values = {
        **story.PROJECT, "timezone": story.TIMEZONE, "calendar": story.CALENDAR, "starts_on": days.day(-12),
        "promised_on": days.day(21), "signed_on": days.day(-30),
    }
    told.project = projects.add_project(told.office, values, begun).id
    for key, room in story.ROOMS.items():
        told.rooms[key] = projects.add_room(told.office, told.project, dict(room), begun).id
    for size in OF_THE_FIRM:
        keep_firm_size(told.manager, dict(size))
    for size in OF_THE_HOUSE:
        keep_size(told.office, told.project, dict(size), begun)
    for one in story.PEOPLE:
        person = projects.add_person(told.office, told.project, dict(one), begun)
        told.household.append(Actor("homeowner", person.id, person.name, told.project))
        told.links.append(links.make_link(told.office, told.project, person.id, secret=settings.secret, now=begun))
    write_crew_note(told.household[0], told.project, dict(story.CREW_NOTE), begun)


def _plan(told: Told, days: Days) -> None:
    """The kitchen as its plan says, the other rooms beside it."""
    planned = days.past(-13, "15:00")
    _start_from_plan(told, days, planned)
    beside = _phases(told, told.project, story.PHASES, told.rooms, planned)
    told.phases |= beside
    for key, takes in story.TAKES.items():
        values = {"takes": [_take(told, one) for one in takes]}
        phases.change_phase(told.manager, told.project, beside[key], 1, values, planned)
    _change_in_plan(told, planned)


def _start_from_plan(told: Told, days: Days, planned: int) -> None:
    entered = {cure: hours * 60 for cure, hours in story.LABELS.items()}
    plan = with_label_waits(starter(OURS, story.PLAN), entered)
    names = {room.key: story.ROOMS[room.key]["name"] for room in plan.rooms}
    laid = start_from_plan(told.manager, told.project, [Chosen(story.PLAN, plan, names)], now=days.past(-14, "09:00"))
    told.phases = dict(zip([phase.key for phase in plan.phases], laid.phases, strict=True))
    told.planned = dict(zip([one.key for one in plan.decisions], laid.questions, strict=True))
    told.orders = dict(zip([one.item for one in plan.deliveries], laid.orders, strict=True))
    for key, reason in story.SETTLED.items():
        drop_question(told.manager, told.project, told.planned[key], planned, reason=reason)


def _take(told: Told, take: dict[str, Any]) -> dict[str, Any]:
    """The take with ids for keys, and with the label's hours where the table of cures has none."""
    back = {"back_with": told.phases[take["back_with"]]} if "back_with" in take else {}
    gate = take.get("gate")
    return take | back | ({"wait_hours": story.LABELS[gate]} if gate in story.LABELS else {})


def _change_in_plan(told: Told, planned: int) -> None:
    """What this house does otherwise than its plan to start from."""
    for key in {phase for phase, _ in story.INSTEAD}:
        row = in_project(Phase, told.project, told.phases[key])
        takes = [{**take, "instead": story.INSTEAD[key, take["service"]]}
                 if (key, take["service"]) in story.INSTEAD else take for take in row.takes]
        phases.change_phase(told.manager, told.project, row.id, row.version, {"takes": takes}, planned)
    walk = in_project(Phase, told.project, told.phases["walk"])
    after = [*plan_rows.links_of(walk.id), *((told.phases[key], 0) for key in story.WALK_AFTER)]
    links = [{"phase": before, "wait": wait} for before, wait in after]
    phases.change_phase(told.manager, told.project, walk.id, walk.version, {"after": links}, planned)


def _phases(
    told: Told, project: int, stories: list[story.PhaseStory], rooms: dict[str, int], now: int
) -> dict[str, int]:
    made: dict[str, int] = {}
    for phase in stories:
        low, likely, high = (round(hours * 60) for hours in phase.work)
        values = {
            "name": phase.name, "crew": phase.crew, "room": phase.room and rooms[phase.room],
            "work_low": low, "work_likely": likely, "work_high": high,
            "after": [{"phase": made[key], "wait": _wait(cure)} for key, cure in phase.after.items()],
        }
        made[phase.key] = phases.add_phase(told.manager, project, values, now).id
    return made


def _wait(cure: str) -> int:
    """Clock minutes of a cure: those of its label in this house, else those of the table; none for none."""
    return 60 * story.LABELS[cure] if cure in story.LABELS else cures()[cure].minutes if cure else 0


def _second_house(told: Told, days: Days) -> None:
    values = {
        **story.SECOND_PROJECT, "timezone": story.TIMEZONE, "calendar": story.CALENDAR, "starts_on": days.day(3),
    }
    begun = days.past(-3, "11:00")
    project = projects.add_project(told.office, values, begun).id
    projects.add_person(told.office, project, dict(story.SECOND_PERSON), begun)
    room = projects.add_room(told.office, project, {"name": "Upstairs bath"}, begun)
    _phases(told, project, story.SECOND_PHASES, {"bath": room.id}, begun)


def _asked(told: Told, days: Days) -> Iterator[Event]:
    """In the story's order, which is also that of their days: it makes their numbers."""
    for number, ask in enumerate(story.DECISIONS):
        at = days.past(ask.asked, f"15:{number:02}")
        yield at, partial(_ask, told, days, ask, at)


def _ask(told: Told, days: Days, ask: story.DecisionStory, at: int) -> None:
    values = {
        "kind": ask.kind, "room": told.rooms[ask.room], "question": ask.question, "options": ask.options,
        "lead_days": ask.lead_days, "holds": [told.phases[key] for key in ask.holds],
        "asked_for": None if ask.asked_for is None else days.day(ask.asked_for),
        "detail": ask.dimensions and {"dimensions": ask.dimensions},
    }
    if ask.planned:
        asked = ask_planned(told.manager, told.project, told.planned[ask.planned], values, at)
    else:
        asked = asking.ask_decision(told.manager, told.project, values, at)
    told.decisions.append(asked.id)


def _answered(told: Told, days: Days) -> Iterator[Event]:
    maren, jonas = told.household

    def approve(at: int) -> None:
        pulls = told.decisions[2]
        option = decision_rows.revision(pulls, 1).options[0]["key"]
        answers.approve(maren, told.project, pulls, revision=1, option=option, name=maren.name, now=at)

    def ask(at: int) -> None:
        text = "Can the ceiling stay as it is?"
        ask_back(jonas, told.project, told.decisions[3], revision=1, text=text, now=at)

    for do, at in ((approve, days.past(-5, "19:42")), (ask, days.past(-1, "20:15"))):
        yield at, partial(do, at)


def _worked(told: Told, days: Days) -> Iterator[Event]:
    worked = story.WORKED | {one.key: (one.started, one.finished) for one in story.PHASES if one.started}
    for key, (started, finished) in worked.items():
        one = told.phases[key]
        for act, when in ((starting.start_phase, started), (starting.finish_phase, finished)):
            if when:
                at = days.past(*when)
                yield at, partial(act, told.manager, told.project, one, now=at)


def _book(told: Told, days: Days) -> None:
    booked = days.now - 60  # after all that has happened
    for phase, crew, purpose, day, start, end in story.VISITS:
        values = {
            "phase": told.phases[phase], "crew": crew, "purpose": purpose,
            "starts_at": days.wall(day, start), "ends_at": days.wall(day, end),
            "were_here": True,  # of those that are over
        }
        visits.book_visit(told.office, told.project, values, booked)
    for item, (low, likely, high), arrived, waiting in story.DELIVERIES:
        values = {
            "item": item, "expected_low": days.day(low), "expected_on": days.day(likely),
            "expected_high": days.day(high), "phases": [told.phases[key] for key in waiting],
        }
        if item in told.orders:
            delivery = order_planned(told.office, told.project, told.orders[item], values, days.now)
        else:
            delivery = deliveries.order_delivery(told.office, told.project, values, days.now)
        if arrived:
            at = datetime.fromtimestamp(days.past(*arrived), days.zone)
            deliveries.record_arrival(
                told.manager, told.project, delivery.id, delivery.version, now=days.now, at=at
            )


def _told(told: Told, days: Days, settings: Settings) -> Iterator[Event]:
    directory = settings.photos_of(told.project)
    for day, clock, text, pictures in story.UPDATES:
        kept = [keep_photo(directory, drawn(name), f"{name}.jpg", caption) for name, caption in pictures]
        at = days.past(day, clock)
        yield at, partial(updates.post_update, told.manager, told.project, text=prose(text), photos=kept, now=at)
    for day, clock, caller, asked, answer in story.CALLS:
        values = {"caller": caller, "asked": asked, "told": answer}
        at = days.past(day, clock)
        yield at, partial(updates.note_call, told.office, told.project, values, at)
