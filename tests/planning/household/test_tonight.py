"""What works tonight, until when, and what to do instead."""

from datetime import date

import pytest

from portal.pages.household_words import instead_words
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.outages import Because
from portal.planning.household.services import UNTIL_DONE, Take
from portal.planning.household.tonight import in_work_hours, tonight
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, UPSTAIRS, found, house, room, took
from tests.planning.houses import at, says

THURSDAY, FRIDAY, SATURDAY, SUNDAY = (date(2026, 12, day) for day in (3, 4, 5, 6))


def test_what_is_taken_during_work_is_back_at_the_end_of_the_day() -> None:
    work = took(CREW, 1, "Rough plumbing", "2026-12-03 08:00", "2026-12-04 12:00", BATH, Take("toilet"))
    home = house(CREW, work)
    assert found(tonight(home, THURSDAY), BATH, "toilet").usable
    daytime = in_work_hours(home, THURSDAY)
    assert daytime is not None
    toilet = found(daytime, BATH, "toilet")
    assert not toilet.usable
    assert toilet.until is not None and says(CREW, toilet.until) == "2026-12-03 16:30"
    last = in_work_hours(home, FRIDAY)
    assert last is not None
    until = found(last, BATH, "toilet").until
    assert says(CREW, until or 0) == "2026-12-04 16:30", "the minute at which work is foreseen to end is no promise"


def test_a_weekend_has_nights_but_no_work() -> None:
    home = house(CREW)
    assert in_work_hours(home, SATURDAY) is None
    windows = [(tonight(home, day).begins, tonight(home, day).ends) for day in (FRIDAY, SATURDAY, SUNDAY)]
    assert [tuple(says(CREW, moment) for moment in window) for window in windows] == [
        ("2026-12-04 16:30", "2026-12-05 08:00"),
        ("2026-12-05 08:00", "2026-12-06 08:00"),
        ("2026-12-06 08:00", "2026-12-07 08:00"),
    ]


def test_sealant_keeps_the_sink_out_by_the_clock_over_the_weekend() -> None:
    seal = took(
        CREW, 7, "Seal the sink", "2026-12-04 14:00", "2026-12-04 16:30", KITCHEN,
        Take("sink", until=UNTIL_DONE, wait=24 * 60, gate="silicone"),
    )
    home = house(CREW, seal)
    sink = found(tonight(home, FRIDAY), KITCHEN, "sink")
    assert not sink.usable
    assert says(CREW, sink.since or 0) == "2026-12-04 16:30"
    assert says(CREW, sink.until or 0) == "2026-12-05 16:30"
    assert sink.why == (Because("Seal the sink", "silicone"),)
    assert sink.phases == (7,)
    assert instead_words(sink) == "Use the sink in the Hall bath."
    assert not found(tonight(home, SATURDAY), KITCHEN, "sink").usable
    assert found(tonight(home, SUNDAY), KITCHEN, "sink").usable


def test_nobody_knows_when_a_floor_is_back_whose_label_was_not_read() -> None:
    """A page that named the end of the work would send people onto a floor that is wet."""
    finish = took(
        CREW, 7, "Finish the floor", "2026-12-03 08:00", "2026-12-03 16:30", KITCHEN,
        Take("floor", until=UNTIL_DONE, gate="floor_finish", unknown=True),
    )
    for day in (THURSDAY, date(2027, 6, 1)):
        floor = found(tonight(house(CREW, finish), day), KITCHEN, "floor")
        assert not floor.usable and floor.until is None
        assert floor.why == (Because("Finish the floor", "floor_finish"),)


def test_a_service_stays_out_until_the_phase_that_gives_it_back() -> None:
    """Between tear-out and hook-up nobody may be at work for weeks, and there is still no sink."""
    tear_out = took(
        CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-01 16:30", KITCHEN,
        Take("sink", until=UNTIL_DONE, back_with=2),
    )
    hook_up = took(CREW, 2, "Hook up the plumbing", "2026-12-14 08:00", "2026-12-14 12:00", KITCHEN)
    home = house(CREW, tear_out, hook_up)
    sink = found(tonight(home, THURSDAY), KITCHEN, "sink")
    assert says(CREW, sink.until or 0) == "2026-12-14 12:00"
    assert found(tonight(home, date(2026, 12, 14)), KITCHEN, "sink").usable


def test_nobody_knows_when_a_phase_without_a_finish_gives_back() -> None:
    stopped = took(CREW, 1, "Tear out", "2026-12-01 08:00", None, KITCHEN, Take("sink", until=UNTIL_DONE))
    sink = found(tonight(house(CREW, stopped), date(2027, 6, 1)), KITCHEN, "sink")
    assert not sink.usable
    assert sink.until is None


@pytest.mark.parametrize("service", ["water", "drain"])
def test_without_water_or_drain_in_the_house_nothing_that_needs_them_works(service: str) -> None:
    main = took(
        CREW, 1, "Move the main", "2026-12-03 08:00", "2026-12-04 16:30", None,
        Take(service, house=True, until=UNTIL_DONE),
    )
    state = tonight(house(CREW, main), THURSDAY)
    for number, kind in ((KITCHEN, "sink"), (BATH, "sink"), (BATH, "toilet"), (BATH, "bath"), (BATH, service)):
        assert not found(state, number, kind).usable
    assert found(state, KITCHEN, "cooktop").usable


def test_a_wet_floor_closes_the_room_and_what_is_in_it() -> None:
    grout = took(
        CREW, 1, "Grout the floor", "2026-12-03 08:00", "2026-12-03 16:30", BATH,
        Take("floor", until=UNTIL_DONE, wait=24 * 60, instead="Stay off the tile; the upstairs bath is ready for you."),
    )
    state = tonight(house(CREW, grout), THURSDAY)
    toilet = found(state, BATH, "toilet")
    assert not toilet.usable
    assert instead_words(toilet) == "Stay off the tile; the upstairs bath is ready for you."
    assert not found(state, BATH, "floor").usable
    assert found(state, BATH, "power").usable, "a wet floor takes no power"


def test_one_of_two_ways_can_be_closed() -> None:
    door = took(
        CREW, 1, "Finish the floor by the front door", "2026-12-03 08:00", "2026-12-03 16:30", HALL,
        Take("way_through", name="front door", until=UNTIL_DONE, wait=12 * 60),
    )
    state = tonight(house(CREW, door), THURSDAY)
    front = found(state, HALL, "way_through", "front door")
    assert not front.usable
    assert instead_words(front) == "Use the back door in the Hall."
    assert found(state, HALL, "way_through", "back door").usable


def test_another_toilet_is_only_named_when_it_works() -> None:
    upstairs = room(UPSTAIRS, "Upstairs bath", "water", "drain", "toilet")
    taken = Take("toilet", until=UNTIL_DONE, wait=2000)
    out = took(CREW, 1, "Tear out", "2026-12-03 08:00", "2026-12-03 16:30", BATH, taken)
    toilet = found(tonight(house(CREW, out, also=(upstairs,)), THURSDAY), BATH, "toilet")
    assert toilet.other == ("", "Upstairs bath")
    assert instead_words(toilet) == "Use the toilet in the Upstairs bath."
    main_off = Take("water", house=True, until=UNTIL_DONE)
    dry = took(CREW, 2, "Main off", "2026-12-03 08:00", "2026-12-04 12:00", None, main_off)
    both_out = found(tonight(house(CREW, out, dry, also=(upstairs,)), THURSDAY), BATH, "toilet")
    assert both_out.other is None and instead_words(both_out).startswith("No other toilet works")


def test_noise_and_dust_are_said_with_the_caution() -> None:
    cut = took(CREW, 1, "Cut the tile", "2026-12-03 08:00", "2026-12-03 16:30", BATH, Take("dust"), Take("noise"))
    home = house(CREW, cut)
    daytime = in_work_hours(home, THURSDAY)
    assert daytime is not None
    bath = next(one for one in daytime.rooms if one.room == BATH)
    assert [burden.service for burden in bath.burdens] == ["noise", "dust"]
    assert "harms the lungs" in instead_words(bath.burdens[1])
    assert all(not one.burdens for one in tonight(home, THURSDAY).rooms)


def test_outages_that_touch_are_one() -> None:
    overnight = Take("sink", until=UNTIL_DONE, wait=930)
    first = took(CREW, 1, "Tear out", "2026-12-03 08:00", "2026-12-03 16:30", KITCHEN, overnight)
    until_set = Take("sink", until=UNTIL_DONE)
    second = took(CREW, 2, "Set the sink", "2026-12-04 08:00", "2026-12-04 16:30", KITCHEN, until_set)
    sink = found(tonight(house(CREW, first, second), THURSDAY), KITCHEN, "sink")
    assert says(CREW, sink.until or 0) == "2026-12-04 16:30"
    assert sink.phases == (1,), "only the first is the reason tonight"


def test_a_cure_is_elapsed_time_over_a_clock_change() -> None:
    """24 h from Sat Mar 7 2026 16:00 in New York end on Sunday at 17:00 (RFC 5545, 3.3.6)."""
    week = {"week": {day: [["08:00", "16:00"]] for day in ("mon", "tue", "wed", "thu", "fri", "sat")}}
    new_york = WorkCalendar.of(week, "America/New_York")
    seal = took(
        new_york, 1, "Seal the sink", "2026-03-07 08:00", "2026-03-07 16:00", KITCHEN,
        Take("sink", until=UNTIL_DONE, wait=24 * 60),
    )
    sink = found(tonight(house(new_york, seal), date(2026, 3, 7)), KITCHEN, "sink")
    assert sink.until == at(new_york, "2026-03-08 17:00")
