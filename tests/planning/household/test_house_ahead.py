"""The house from now to the end of tomorrow's work, thing by thing."""

from datetime import date

from portal.planning.household.house_ahead import LATER, OUT, UNKNOWN, WORKS, HouseAhead, Thing, house_ahead
from portal.planning.household.house_services import PhaseTimes
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, house, took
from tests.planning.houses import at, says


def ahead(when: str, *phases: PhaseTimes) -> HouseAhead:
    return house_ahead(house(CREW, *phases), at(CREW, when))


def thing(of: HouseAhead, room: int, service: str, name: str = "") -> Thing:
    (found,) = (one for one in of.rooms if one.room == room)
    things = [*found.things, found.floor]
    return next(one for one in things if (one.service, one.name) == (service, name))


def told(one: Thing) -> tuple[str, str, str]:
    """State, and from when to when."""
    since, until = one.told.since, one.told.until
    return one.state, says(CREW, since)[8:] if since else "", says(CREW, until)[8:] if until else ""


VANITY = took(CREW, 4, "Hang the vanity", "2026-12-08 08:00", "2026-12-08 14:00", BATH, Take("water"),
              visits=[("2026-12-08 08:00", "2026-12-08 15:00")])


def test_the_evening_before_it_shows_what_tomorrow_takes_with_its_hours() -> None:
    """The fault that began this: a bath called “works” the evening before its water is off."""
    evening = ahead("2026-12-07 18:55", VANITY)
    assert told(thing(evening, BATH, "toilet")) == (LATER, "08 08:00", "08 15:00")
    assert thing(evening, BATH, "toilet").day == date(2026, 12, 8)
    assert told(thing(evening, KITCHEN, "sink"))[0] == WORKS
    assert (evening.at_work, evening.free, evening.tomorrow) == (False, False, date(2026, 12, 8))
    assert says(CREW, evening.begins) == "2026-12-07 16:30" and says(CREW, evening.ends) == "2026-12-08 16:30"
    assert [one.day for one in evening.takes] == [date(2026, 12, 8)]


def test_before_work_has_ended_it_speaks_of_the_day_too() -> None:
    morning = ahead("2026-12-08 06:40", VANITY)
    assert (morning.at_work, says(CREW, morning.begins)) == (True, "2026-12-08 08:00")
    assert told(thing(morning, BATH, "sink")) == (LATER, "08 08:00", "08 15:00")
    assert [one.day for one in morning.takes] == [date(2026, 12, 8), date(2026, 12, 9)]
    assert says(CREW, ahead("2026-12-08 10:13", VANITY).begins) == "2026-12-08 10:13"
    assert told(thing(ahead("2026-12-08 15:00", VANITY), BATH, "sink"))[0] == WORKS, "what has ended is no outage"
    after = ahead("2026-12-08 16:30", VANITY)
    assert not after.at_work and told(thing(after, BATH, "sink"))[0] == WORKS


def test_on_a_saturday_it_speaks_from_the_morning_and_names_the_next_day_with_work() -> None:
    saturday = ahead("2026-12-05 11:00", VANITY)
    assert saturday.free and says(CREW, saturday.begins) == "2026-12-05 08:00"
    assert saturday.tomorrow == date(2026, 12, 6) and not saturday.takes[-1].anything
    assert saturday.after is not None and saturday.after.day == date(2026, 12, 8)
    assert all(one.state == WORKS for room in saturday.rooms for one in room.things)
    assert says(CREW, saturday.ends) == "2026-12-06 08:00"


def test_what_is_out_already_has_its_end_and_what_has_none_says_so() -> None:
    sink = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-15 15:30", KITCHEN, Take("sink", until=UNTIL_DONE))
    stove = took(CREW, 2, "Gas", "2026-12-01 08:00", None, KITCHEN, Take("cooktop", until=UNTIL_DONE))
    state = ahead("2026-12-07 18:00", sink, stove)
    assert told(thing(state, KITCHEN, "sink")) == (OUT, "01 08:00", "15 15:30")
    assert told(thing(state, KITCHEN, "cooktop"))[0] == UNKNOWN
    assert thing(state, KITCHEN, "sink").told.other == ("", "Hall bath")


def test_a_room_in_which_nothing_works_is_off_and_its_closed_floor_is_told() -> None:
    wet = took(CREW, 1, "Grout the floor", "2026-12-07 08:00", "2026-12-07 12:00", HALL,
               Take("floor", until=UNTIL_DONE, wait=24 * 60))
    state = ahead("2026-12-07 18:00", wet)
    hall, bath = (next(one for one in state.rooms if one.room == number) for number in (HALL, BATH))
    assert hall.off and not bath.off
    assert told(hall.floor) == (OUT, "07 08:00", "08 12:00") and bath.floor.state == WORKS
    assert told(thing(state, HALL, "way_through", "front door"))[0] == OUT


def test_what_begins_tomorrow_and_lasts_is_out_from_then_on() -> None:
    wet = took(CREW, 1, "Grout the floor", "2026-12-08 08:30", "2026-12-08 12:00", HALL,
               Take("floor", until=UNTIL_DONE, wait=24 * 60))
    state = ahead("2026-12-07 18:00", wet)
    (hall,) = (one for one in state.rooms if one.room == HALL)
    assert not hall.off and told(hall.floor) == (LATER, "08 08:30", "09 12:00")


def test_what_is_back_in_the_night_and_out_again_tomorrow_tells_both() -> None:
    cure = took(CREW, 1, "Seal", "2026-12-07 08:00", "2026-12-07 16:30", BATH, Take("bath", until=UNTIL_DONE, wait=180))
    bath = thing(ahead("2026-12-07 17:00", cure, VANITY), BATH, "bath")
    assert told(bath) == (OUT, "07 08:00", "07 19:30")
    assert bath.again is not None and says(CREW, bath.again.since or 0) == "2026-12-08 08:00"


def test_work_of_today_and_of_tomorrow_are_told_in_turn() -> None:
    two = took(CREW, 2, "Wire", "2026-12-07 08:00", "2026-12-08 12:00", BATH, Take("power"))
    power = thing(ahead("2026-12-07 07:00", two), BATH, "power")
    assert told(power) == (LATER, "07 08:00", "07 16:30") and power.day == date(2026, 12, 7)
    assert power.again is not None and says(CREW, power.again.since or 0) == "2026-12-08 08:00"
