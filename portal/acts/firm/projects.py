"""Setting up a project: the project itself, the firm's details, rooms, and the people of the household."""

from typing import Any

from portal.acts.actor import MANAGER, Actor, act, firm_act
from portal.acts.decisions.approvers import household_changed
from portal.acts.entries import keep, keep_rest
from portal.acts.firm.calendars import check_calendar, check_worked_holidays, whose_calendar
from portal.acts.plan.takes import keeping_takes
from portal.acts.visiting.timezones import keep_the_clock
from portal.store.engine.database import touch
from portal.store.rows import plan_rows, project_rows
from portal.store.rows.accounts import first_day_rows
from portal.store.rows.editable import add_row, change_row, first_firm, in_project, project_row, remove_row
from portal.store.tables import Firm, Person, Project, Room


@firm_act("add_project")
def add_project(actor: Actor, values: dict[str, Any], now: int) -> Project:
    """A manager who sets it up runs it, until it is handed over. With `as_firm`, zone and calendar are the firm's."""
    values = whose_calendar(values)
    check_calendar(values["calendar"], values["timezone"])
    check_worked_holidays(values["calendar"], now)
    runs = actor.id if actor.role == MANAGER else None
    project = add_row(Project, **{"responsible": runs, **values})
    touch(project.id)
    first_day_rows.note("house", now)
    if project.contract_cents is not None:
        keep(actor, project.id, "contract_changed", {"cents": project.contract_cents}, now)
    return project


@act("change_project")
def change_project(actor: Actor, project_id: int, seen: int, values: dict[str, Any], now: int) -> Project:
    """With another timezone, booked visits stay at their time by the clock at the house. The entry tells a calendar
    that is replaced: rows tell only its digest, and what moved the finish is reckoned by it."""
    before = project_row(project_id)
    values = whose_calendar(values, before)
    check_calendar(values.get("calendar", before.calendar), values.get("timezone", before.timezone))
    if "calendar" in values:
        check_worked_holidays(values["calendar"], now)
    project = change_row(Project, project_id, seen, values)
    if project.timezone != before.timezone:
        keep_the_clock(actor, project_id, before.timezone, project.timezone, now)
    if project.contract_cents != before.contract_cents:
        body = {"cents": project.contract_cents, "before": before.contract_cents}
        keep(actor, project_id, "contract_changed", body, now)
    body = {"calendar_before": before.calendar} if project.calendar != before.calendar else {}
    keep_rest(actor, project_id, "project_changed", body, now)
    return project


@firm_act("change_firm")
def change_firm(actor: Actor, seen: int, values: dict[str, Any], now: int) -> Firm:
    """The firm's details stand on every page, so every project is touched."""
    before = first_firm()
    firm = change_row(Firm, before.id, seen, values) if before.version else add_row(Firm, **values)
    for project_id in project_rows.all_ids():
        touch(project_id)
    if firm.name and firm.phone:
        first_day_rows.note("details", now)
    return firm


@act("add_room")
def add_room(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> Room:
    values.setdefault("position", plan_rows.next_room_position(project_id))
    room = add_row(Room, project=project_id, **values)
    keep_rest(actor, project_id, "rooms_changed", {"added": [room.name]}, now)
    return room


@act("change_room")
def change_room(
    actor: Actor, project_id: int, room_id: int, seen: int, values: dict[str, Any], now: int
) -> Room:
    in_project(Room, project_id, room_id)
    with keeping_takes(project_id, "services"):
        room = change_row(Room, room_id, seen, values)
    keep_rest(actor, project_id, "rooms_changed", {"changed": [room.name]}, now)
    return room


@act("remove_room")
def remove_room(actor: Actor, project_id: int, room_id: int, seen: int, now: int) -> None:
    room = in_project(Room, project_id, room_id)
    with keeping_takes(project_id, "id"):
        remove_row(Room, room_id, seen)
    keep_rest(actor, project_id, "rooms_changed", {"removed": [room.name]}, now)


@act("add_person")
def add_person(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> Person:
    person = add_row(Person, project=project_id, **values)
    keep(actor, project_id, "household_changed", {"did": "added", "person": person.id, **_told(person)}, now)
    return person


@act("change_person")
def change_person(
    actor: Actor, project_id: int, person_id: int, seen: int, values: dict[str, Any], now: int
) -> Person:
    before = _told(in_project(Person, project_id, person_id))
    person = change_row(Person, person_id, seen, values)
    household_changed(project_id)
    if _told(person) != before:
        body = {"did": "changed", "person": person_id, **_told(person), "before": before}
        keep(actor, project_id, "household_changed", body, now)
    return person


@act("remove_person")
def remove_person(actor: Actor, project_id: int, person_id: int, seen: int, now: int) -> None:
    """A person who has approved or asked stays: the record names them. Revoke the link instead."""
    told = _told(in_project(Person, project_id, person_id))
    remove_row(Person, person_id, seen)
    household_changed(project_id)
    keep(actor, project_id, "household_changed", {"did": "removed", "person": person_id, **told}, now)


def _told(person: Person) -> dict[str, Any]:
    """Of a person, what answers depend on. No phone and no address: what the record holds can never be erased."""
    return {"name": person.name, "role": person.role, "may_approve": person.may_approve}
