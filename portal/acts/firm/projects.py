"""Setting up a project: the project itself, the firm's details, rooms, and the people of the household."""

import json
from datetime import UTC, datetime
from typing import Any

from portal.acts.actor import Actor, act, firm_act
from portal.acts.decisions.approvers import household_changed
from portal.acts.entries import keep
from portal.acts.plan.takes import keeping_takes
from portal.acts.visiting.timezones import keep_the_clock
from portal.planning.calendar.public_holidays import next_holidays
from portal.planning.calendar.week import CalendarError
from portal.planning.calendar.working_calendar import calendar_of
from portal.store.engine.database import touch
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows, project_rows
from portal.store.rows.editable import add_row, change_row, first_firm, in_project, project_row, remove_row
from portal.store.tables import Firm, Person, Project, Room


@firm_act("add_project")
def add_project(actor: Actor, values: dict[str, Any], now: int) -> Project:
    _check_calendar(values["calendar"], values["timezone"])
    _check_worked_holidays(values["calendar"], now)
    project = add_row(Project, **values)
    touch(project.id)
    if project.contract_cents is not None:
        keep(actor, project.id, "contract_changed", {"cents": project.contract_cents}, now)
    return project


@act("change_project")
def change_project(actor: Actor, project_id: int, seen: int, values: dict[str, Any], now: int) -> Project:
    """With another timezone, booked visits stay at their time by the clock at the house."""
    before = project_row(project_id)
    _check_calendar(values.get("calendar", before.calendar), values.get("timezone", before.timezone))
    if "calendar" in values:
        _check_worked_holidays(values["calendar"], now)
    project = change_row(Project, project_id, seen, values)
    if project.timezone != before.timezone:
        keep_the_clock(actor, project_id, before.timezone, project.timezone, now)
    if project.contract_cents != before.contract_cents:
        body = {"cents": project.contract_cents, "before": before.contract_cents}
        keep(actor, project_id, "contract_changed", body, now)
    return project


@firm_act("change_firm")
def change_firm(actor: Actor, seen: int, values: dict[str, Any]) -> Firm:
    """The firm's details stand on every page, so every project is touched."""
    before = first_firm()
    firm = change_row(Firm, before.id, seen, values) if before.version else add_row(Firm, **values)
    for project_id in project_rows.all_ids():
        touch(project_id)
    return firm


@act("add_room")
def add_room(actor: Actor, project_id: int, values: dict[str, Any]) -> Room:
    values.setdefault("position", plan_rows.next_room_position(project_id))
    return add_row(Room, project=project_id, **values)


@act("change_room")
def change_room(actor: Actor, project_id: int, room_id: int, seen: int, values: dict[str, Any]) -> Room:
    in_project(Room, project_id, room_id)
    with keeping_takes(project_id, "services"):
        return change_row(Room, room_id, seen, values)


@act("remove_room")
def remove_room(actor: Actor, project_id: int, room_id: int, seen: int) -> None:
    in_project(Room, project_id, room_id)
    with keeping_takes(project_id, "id"):
        remove_row(Room, room_id, seen)


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
    if _told(person) != before:
        body = {"did": "changed", "person": person_id, **_told(person), "before": before}
        keep(actor, project_id, "household_changed", body, now)
    household_changed(project_id)
    return person


@act("remove_person")
def remove_person(actor: Actor, project_id: int, person_id: int, seen: int, now: int) -> None:
    """A person who has approved or asked stays: the record names them. Revoke the link instead."""
    told = _told(in_project(Person, project_id, person_id))
    remove_row(Person, person_id, seen)
    keep(actor, project_id, "household_changed", {"did": "removed", "person": person_id, **told}, now)
    household_changed(project_id)


def _told(person: Person) -> dict[str, Any]:
    """Of a person, what answers depend on. No phone and no address: what the record holds can never be erased."""
    return {"name": person.name, "role": person.role, "may_approve": person.may_approve}


def _check_worked_holidays(spec: dict[str, Any], now: int) -> None:
    """A misspelt name would leave the day off that is meant to be worked."""
    whose = spec.get("holidays") or {}
    if not whose.get("except"):
        return
    today = datetime.fromtimestamp(now, UTC).date()
    known = [one.name for one in next_holidays(whose["country"], whose.get("subdivision"), today)]
    unknown = [name for name in whose["except"] if name not in known]
    if unknown:
        message = f"“{unknown[0]}” is no holiday there. Use one of: {', '.join(known)}."
        raise FieldRefused("calendar.holidays.except", message)


def _check_calendar(spec: dict[str, Any], timezone: str) -> None:
    try:
        calendar_of(json.dumps(spec), timezone)
    except CalendarError as error:
        field = error.field if error.field == "timezone" else f"calendar.{error.field}"
        raise FieldRefused(field, error.message) from error
