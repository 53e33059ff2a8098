"""Tonight, by room and service; what the work of a day and of the next takes; nights and days to plan for."""

from datetime import date, timedelta
from typing import Any

from marshmallow import RAISE, Schema, fields

from portal import clock
from portal.api.http.resource import under_project
from portal.api.http.shapes import day_field
from portal.pages.days.take_words import ask_sentences, instead_of, take_sentences
from portal.pages.household_words import because_words, instead_words, missing_words
from portal.planning.calendar.week import CalendarError
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.day_takes import DayTakes, day_takes, next_takes
from portal.planning.household.nights import Shortfall, shortfalls
from portal.planning.household.tonight import RoomState, ServiceState, tonight
from portal.planning.schedule.booked import as_booked
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused

blueprint = under_project("tonight", "Rooms by services, and what the work of a day takes and asks.")


class DayQuery(Schema):
    class Meta:
        unknown = RAISE

    date = day_field(load_default=None)


class ServiceStateSchema(Schema):
    service = fields.String()
    name = fields.String()
    usable = fields.Boolean()
    since = fields.String(allow_none=True)
    until = fields.String(allow_none=True)
    why = fields.List(fields.String())
    phases = fields.List(fields.Integer())
    instead = fields.String()


class RoomStateSchema(Schema):
    room = fields.Integer()
    name = fields.String()
    services = fields.List(fields.Nested(ServiceStateSchema))
    burdens = fields.List(fields.Nested(ServiceStateSchema))


class ShortfallSchema(Schema):
    kind = fields.String()
    first = fields.Date()
    last = fields.Date()
    message = fields.String()
    why = fields.List(fields.String())
    phases = fields.List(fields.Integer())
    tell_by = fields.Date()
    by_day = fields.Boolean()


class DayTakeSchema(Schema):
    service = fields.String()
    room = fields.Integer(allow_none=True)
    name = fields.String()
    since = fields.String()
    until = fields.String(allow_none=True)
    lasting = fields.Boolean()
    booked = fields.Boolean()
    why = fields.List(fields.String())
    phases = fields.List(fields.Integer())
    instead = fields.String()


class ClearingSchema(Schema):
    words = fields.String()
    room = fields.Integer(allow_none=True)
    by = fields.String()
    phase = fields.Integer()


class AtHomeSchema(Schema):
    words = fields.String()
    since = fields.String()
    until = fields.String()
    phase = fields.Integer()


class DayTakesSchema(Schema):
    date = fields.Date()
    takes = fields.List(fields.Nested(DayTakeSchema))
    clear = fields.List(fields.Nested(ClearingSchema))
    at_home = fields.List(fields.Nested(AtHomeSchema))
    messages = fields.List(fields.String())


class TonightSchema(Schema):
    date = fields.Date()
    begins = fields.String()
    ends = fields.String()
    rooms = fields.List(fields.Nested(RoomStateSchema))
    day = fields.Nested(DayTakesSchema)
    tomorrow = fields.Nested(DayTakesSchema)
    next = fields.Nested(DayTakesSchema, allow_none=True)
    ahead = fields.List(fields.Nested(ShortfallSchema))


@blueprint.route("", endpoint="one", methods=["GET"])
@blueprint.arguments(DayQuery, location="query")
@blueprint.response(200, TonightSchema)
def one(query: dict[str, Any], project_id: int) -> Any:
    """Of `date` (today if it is not given). `day`, `tomorrow`: what the work of that day and of the one after takes
    from the household and asks of it, with the sentences of the page; `next`: the same of the first day after them that
    takes something, within two weeks. `ahead`: nights, and days (`by_day`), without the necessary, from then on."""
    snapshot = read_snapshot(project_id)
    booked = as_booked(schedule_of(snapshot, clock.now()))
    house, calendar = household_of(snapshot, booked), booked.plan.calendar
    day: date = query["date"] or calendar.day_of(booked.now)
    try:
        state, ahead = tonight(house, day), shortfalls(house, day)
        days = [day_takes(house, one) for one in (day, day + timedelta(days=1))]
        later = next_takes(house, days[-1].day)
    except CalendarError as error:
        raise FieldRefused("date", "This day is too far away to be computed. Give one nearer to the work.") from error
    return {
        "date": day,
        "begins": calendar.moment(state.begins).isoformat(),
        "ends": calendar.moment(state.ends).isoformat(),
        "rooms": [_room(room, calendar) for room in state.rooms],
        "day": _takes(days[0], calendar), "tomorrow": _takes(days[1], calendar),
        "next": None if later is None else _takes(later, calendar),
        "ahead": [_shortfall(one) for one in ahead],
    }


def _room(room: RoomState, calendar: WorkCalendar) -> dict[str, Any]:
    return {
        "room": room.room, "name": room.name,
        "services": [_service(one, calendar) for one in room.services],
        "burdens": [_service(one, calendar) for one in room.burdens],
    }


def _service(state: ServiceState, calendar: WorkCalendar) -> dict[str, Any]:
    return {
        "service": state.service, "name": state.name, "usable": state.usable,
        "since": None if state.since is None else calendar.moment(state.since).isoformat(),
        "until": None if state.until is None else calendar.moment(state.until).isoformat(),
        "why": [because_words(one) for one in state.why], "phases": list(state.phases), "instead": instead_words(state),
    }


def _takes(told: DayTakes, calendar: WorkCalendar) -> dict[str, Any]:
    def at(instant: int) -> str:
        return calendar.moment(instant).isoformat()

    return {
        "date": told.day,
        "takes": [
            {
                "service": one.service, "room": one.room, "name": one.name, "since": at(one.since),
                "until": None if one.until is None else at(one.until), "lasting": one.lasting, "booked": one.booked,
                "why": [because_words(because) for because in one.why], "phases": list(one.phases),
                "instead": instead_of(one),
            }
            for one in told.takes
        ],
        "clear": [
            {"words": one.words, "room": one.room, "by": at(one.by), "phase": one.phase} for one in told.clear
        ],
        "at_home": [
            {"words": one.words, "since": at(one.since), "until": at(one.until), "phase": one.phase}
            for one in told.at_home
        ],
        "messages": [*take_sentences(told, calendar), *ask_sentences(told, calendar)],
    }


def _shortfall(one: Shortfall) -> dict[str, Any]:
    return {
        "kind": one.kind, "first": one.first, "last": one.last, "message": missing_words(one.kind),
        "why": [because_words(because) for because in one.why],
        "phases": list(one.phases), "tell_by": one.tell_by, "by_day": one.by_day,
    }
