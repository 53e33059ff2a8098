"""What a day takes from the household and asks of it."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.day_takes import DayTake, DayTakes, day_takes, next_takes
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.outages import Because
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, UPSTAIRS, house, room, took
from tests.planning.houses import ALWAYS, at, says

TUESDAY, WEDNESDAY, FRIDAY, SATURDAY = (date(2026, 12, day) for day in (8, 9, 11, 12))
VISIT = [("2026-12-08 08:00", "2026-12-08 15:00")]


def hours(calendar: WorkCalendar, one: DayTake) -> tuple[str, str]:
    return says(calendar, one.since)[8:], "" if one.until is None else says(calendar, one.until)[8:]


def brief(told: DayTakes) -> list[tuple[str, str, str, str]]:
    return [(one.service, one.room_name, *hours(CREW, one)) for one in told.takes]


def test_a_visit_takes_in_its_own_hours() -> None:
    vanity = took(CREW, 4, "Hang the vanity", "2026-12-08 08:00", "2026-12-08 14:00", BATH, Take("water"), visits=VISIT)
    told = day_takes(house(CREW, vanity), TUESDAY)
    (water,) = told.takes
    assert (water.service, water.room, water.room_name, water.lasting) == ("water", BATH, "Hall bath", False)
    assert hours(CREW, water) == ("08 08:00", "08 15:00")
    assert (water.why, water.phases) == ((Because("Hang the vanity"),), (4,))
    assert water.other == ("", "Kitchen") and water.booked


def test_work_without_a_visit_takes_in_the_hours_of_the_crew_and_says_that_none_is_booked() -> None:
    vanity = took(CREW, 4, "Hang the vanity", "2026-12-08 10:00", "2026-12-08 14:00", BATH, Take("water"))
    told = day_takes(house(CREW, vanity), TUESDAY)
    assert brief(told) == [("water", "Hall bath", "08 08:00", "08 16:30")]
    assert [one.booked for one in told.takes] == [False]


def test_days_between_two_visits_are_free_of_it() -> None:
    visits = [("2026-12-08 08:00", "2026-12-08 12:00"), ("2026-12-10 13:00", "2026-12-10 15:00")]
    wiring = took(CREW, 1, "Wire", "2026-12-08 08:00", "2026-12-11 12:00", None, Take("power"), visits=visits)
    found = [brief(day_takes(house(CREW, wiring), date(2026, 12, day))) for day in (8, 9, 10, 11)]
    assert found == [
        [("power", "", "08 08:00", "08 12:00")], [], [("power", "", "10 13:00", "10 15:00")],
        [("power", "", "11 08:00", "11 16:30")],
    ], "after the last visit the plan still sees work"


def test_several_visits_of_a_day_are_told_each_and_together_where_they_meet() -> None:
    one = took(CREW, 1, "Tile", "2026-12-08 08:00", "2026-12-08 12:00", BATH, Take("dust"),
               visits=[("2026-12-08 08:00", "2026-12-08 12:00")])
    two = took(CREW, 2, "Trim", "2026-12-08 12:00", "2026-12-08 14:00", BATH, Take("dust"),
               visits=[("2026-12-08 12:00", "2026-12-08 14:00"), ("2026-12-08 15:00", "2026-12-08 16:00")])
    told = day_takes(house(CREW, one, two), TUESDAY)
    assert brief(told) == [("dust", "Hall bath", "08 08:00", "08 14:00"), ("dust", "Hall bath", "08 15:00", "08 16:00")]
    assert told.takes[0].phases == (1, 2) and told.takes[0].burden and told.services == ()


def test_a_visit_over_several_days_takes_in_the_hours_of_the_crew_on_each_and_spares_the_weekend() -> None:
    visit = [("2026-12-11 13:00", "2026-12-14 11:00")]
    work = took(CREW, 1, "Tile", "2026-12-11 13:00", "2026-12-14 11:00", HALL, Take("noise"), visits=visit)
    home = house(CREW, work)
    assert brief(day_takes(home, FRIDAY)) == [("noise", "Hall", "11 13:00", "11 16:30")]
    assert brief(day_takes(home, SATURDAY)) == []
    assert brief(day_takes(home, date(2026, 12, 14))) == [("noise", "Hall", "14 08:00", "14 11:00")]


def test_a_visit_over_midnight_takes_on_both_days_where_crews_work_at_night() -> None:
    nights = WorkCalendar.of(ALWAYS, "America/Chicago")
    work = took(nights, 1, "Grind", "2026-12-08 22:00", "2026-12-09 02:00", HALL, Take("noise"),
                visits=[("2026-12-08 22:00", "2026-12-09 02:00")])
    home = house(nights, work)
    assert [hours(nights, one) for one in day_takes(home, TUESDAY).takes] == [("08 22:00", "09 00:00")]
    assert [hours(nights, one) for one in day_takes(home, WEDNESDAY).takes] == [("09 00:00", "09 02:00")]


def test_a_visit_of_the_night_in_which_clocks_change_keeps_its_instants() -> None:
    """New York, Sun Mar 8, 2026: from 1:00 to 4:00 by the clock are two hours (RFC 5545, 3.3.5)."""
    nights = WorkCalendar.of(ALWAYS, "America/New_York")
    work = took(nights, 1, "Grind", "2026-03-08 01:00", "2026-03-08 04:00", HALL, Take("noise"),
                visits=[("2026-03-08 01:00", "2026-03-08 04:00")])
    (noise,) = day_takes(house(nights, work), date(2026, 3, 8)).takes
    assert noise.until == noise.since + 120 and hours(nights, noise) == ("08 01:00", "08 04:00")


def test_what_begins_on_the_day_and_lasts_is_told_until_it_is_back() -> None:
    grout = took(CREW, 1, "Grout the floor", "2026-12-08 08:30", "2026-12-08 12:00", BATH,
                 Take("floor", until=UNTIL_DONE, wait=24 * 60), visits=[("2026-12-08 08:30", "2026-12-08 12:00")])
    home = house(CREW, grout)
    (floor,) = day_takes(home, TUESDAY).takes
    assert floor.lasting and hours(CREW, floor) == ("08 08:30", "09 12:00")
    assert day_takes(home, WEDNESDAY).takes == (), "what is out since an earlier day is not taken anew"


def test_nobody_knows_the_end_of_what_waits_for_a_label() -> None:
    finish = took(CREW, 1, "Finish the floor", "2026-12-08 08:00", "2026-12-08 12:00", HALL,
                  Take("floor", until=UNTIL_DONE, gate="floor_finish", unknown=True))
    assert [one.until for one in day_takes(house(CREW, finish), TUESDAY).takes] == [None]


def test_what_is_out_already_is_not_taken_again() -> None:
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-01 16:30", KITCHEN,
               Take("cooktop", until=UNTIL_DONE, back_with=3))
    splash = took(CREW, 2, "Tile the splash", "2026-12-08 08:00", "2026-12-08 12:00", KITCHEN, Take("cooktop"))
    connect = took(CREW, 3, "Connect", "2026-12-10 08:00", "2026-12-10 12:00", KITCHEN)
    assert day_takes(house(CREW, out, splash, connect), TUESDAY).takes == ()


def test_what_the_whole_house_does_without_is_not_told_of_a_room_besides() -> None:
    main = took(CREW, 1, "Rough plumbing", "2026-12-08 08:00", "2026-12-08 16:30", None, Take("water", house=True))
    sink = took(CREW, 2, "Set the sink", "2026-12-08 08:00", "2026-12-08 12:00", BATH, Take("water"), Take("drain"))
    assert brief(day_takes(house(CREW, main, sink), TUESDAY)) == [
        ("water", "", "08 08:00", "08 16:30"), ("drain", "Hall bath", "08 08:00", "08 16:30"),
    ]


def test_another_toilet_is_named_only_when_it_works_all_the_while() -> None:
    upstairs = room(UPSTAIRS, "Upstairs bath", "water", "drain", "toilet")
    one = took(CREW, 1, "Set the toilet", "2026-12-08 08:00", "2026-12-08 12:00", BATH, Take("toilet"))
    two = took(CREW, 2, "Mop", "2026-12-08 13:00", "2026-12-08 14:00", UPSTAIRS, Take("floor"),
               visits=[("2026-12-08 13:00", "2026-12-08 14:00")])
    assert day_takes(house(CREW, one, also=(upstairs,)), TUESDAY).takes[0].other == ("", "Upstairs bath")
    assert day_takes(house(CREW, one, two, also=(upstairs,)), TUESDAY).takes[0].other is None


def test_one_of_two_ways_in_leaves_the_other() -> None:
    door = took(CREW, 1, "Hang the door", "2026-12-08 08:00", "2026-12-08 12:00", HALL,
                Take("way_through", name="back door", instead="Use the front door, and ring."))
    (way,) = day_takes(house(CREW, door), TUESDAY).takes
    assert (way.name, way.other, way.instead) == ("back door", ("front door", "Hall"), "Use the front door, and ring.")


def test_what_to_clear_is_told_for_the_first_day_and_who_is_at_home_for_each() -> None:
    asks = (Take("clear", words="Empty the shelves."), Take("at_home", words="We ask where the hooks go."))
    visits = [("2026-12-08 08:00", "2026-12-08 12:00"), ("2026-12-09 13:00", "2026-12-09 15:00")]
    shelves = took(CREW, 9, "Hang the shelves", "2026-12-08 08:00", "2026-12-09 15:00", HALL, *asks, visits=visits)
    first, second = (day_takes(house(CREW, shelves), day) for day in (TUESDAY, WEDNESDAY))
    (clearing,) = first.clear
    assert (clearing.words, clearing.room_name, says(CREW, clearing.by)) == (
        "Empty the shelves.", "Hall", "2026-12-08 08:00")
    assert first.takes == () and first.anything
    (home,) = second.at_home
    assert second.clear == () and len(first.at_home) == 1
    assert (home.words, home.phase, says(CREW, home.since), says(CREW, home.until)) == (
        "We ask where the hooks go.", 9, "2026-12-09 13:00", "2026-12-09 15:00")


def test_work_that_is_done_has_given_back() -> None:
    done = took(CREW, 1, "Set the toilet", "2026-12-08 08:00", "2026-12-08 11:00", BATH, Take("toilet"),
                visits=VISIT, done=True)
    assert brief(day_takes(house(CREW, done), TUESDAY)) == [("toilet", "Hall bath", "08 08:00", "08 11:00")]


def test_work_that_rests_takes_nothing_by_day() -> None:
    stopped = PhaseTimes(1, "Wire", at(CREW, "2026-12-01 08:00"), at(CREW, "2026-12-14 12:00"), None, (Take("power"),),
                         rests=(at(CREW, "2026-12-07 12:00"), at(CREW, "2026-12-10 08:00")))
    home = house(CREW, stopped)
    assert [bool(day_takes(home, date(2026, 12, day)).takes) for day in (7, 8, 9, 10)] == [True, False, False, True]


def test_on_a_saturday_tomorrow_is_nothing_and_the_next_day_with_work_is_found() -> None:
    monday = took(CREW, 1, "Wire", "2026-12-14 08:00", "2026-12-14 12:00", None, Take("power"))
    home = house(CREW, monday)
    assert not day_takes(home, date(2026, 12, 13)).anything
    found = next_takes(home, SATURDAY)
    assert found is not None and found.day == date(2026, 12, 14)
    assert next_takes(home, date(2026, 12, 14)) is None
    assert next_takes(home, date(2026, 11, 28)) is None, "that is more than two weeks ahead"


SPANS = st.tuples(st.integers(0, 12), st.integers(0, 450), st.integers(15, 600))
TAKEN = st.sampled_from([Take("water"), Take("toilet"), Take("water", house=True), Take("noise")])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(SPANS, TAKEN, st.booleans()), max_size=6))
def test_a_day_takes_what_is_out_in_some_minute_of_its_work_and_nothing_else(
    works: list[tuple[tuple[int, int, int], Take, bool]],
) -> None:
    """Against asking each quarter of an hour whether the take of some phase is going on."""
    phases = []
    for number, ((day, after, long), take, booked) in enumerate(works, 1):
        periods = CREW.periods_on(CREW.add_days(date(2026, 12, 1), day))
        start = periods[0][0] + after
        span = (start, min(start + long, periods[0][1]))
        phases.append(PhaseTimes(number, f"{number}", *span, BATH, (take,), (span,) if booked else ()))
    home = HouseServices((room(BATH, "Bath", "water", "toilet"),), tuple(phases), CREW)
    for offset in range(16):
        day = date.fromordinal(date(2026, 12, 1).toordinal() + offset)
        told = day_takes(home, day)
        for moment in range(CREW.day_start(day), CREW.day_end(day), 15):
            expected = {
                one.takes[0].service for one in phases if _at_work(one, moment)
            }
            assert {one.service for one in told.takes if one.since <= moment < (one.until or 0)} == expected


def _at_work(one: PhaseTimes, moment: int) -> bool:
    if one.visits:
        return one.start <= moment < (one.finish or 0)
    day = CREW.day_of(one.start)
    return any(begins <= moment < ends for begins, ends in CREW.periods_on(day))


@pytest.mark.parametrize("day", [date(2026, 12, 25), date(2026, 12, 12)])
def test_a_holiday_and_a_weekend_take_nothing(day: date) -> None:
    work = took(CREW, 1, "Wire", "2026-12-08 08:00", "2026-12-29 12:00", None, Take("power"))
    assert day_takes(house(CREW, work), day) == DayTakes(day)
