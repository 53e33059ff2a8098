"""Nights without something that a household can't do without."""

from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.nights import SHORTFALL_KINDS, kinds_without_service, shortfalls, to_tell
from portal.planning.household.outages import Because
from portal.planning.household.services import UNTIL_DONE, Take
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, UPSTAIRS, house, room, rooms, took
from tests.planning.houses import at, says

MONDAY = date(2026, 11, 30)


def test_a_house_that_keeps_everything_has_no_shortfall() -> None:
    work = took(CREW, 1, "Paint", "2026-12-03 08:00", "2026-12-04 16:30", KITCHEN, Take("sink"), Take("floor"))
    hot_plate = room(UPSTAIRS, "Dining room", "cooktop")
    assert shortfalls(house(CREW, work, also=(hot_plate,)), MONDAY) == ()


def test_nights_without_the_only_toilet_are_one_shortfall() -> None:
    """From Thursday over the weekend, by the clock; on Monday it is back just as the evening begins."""
    tile = took(
        CREW, 4, "Tile the floor", "2026-12-03 08:00", "2026-12-04 16:30", BATH,
        Take("floor", until=UNTIL_DONE, wait=72 * 60, gate="grout_water"),
    )
    (short,) = (one for one in shortfalls(house(CREW, tile), MONDAY) if one.kind == "no_toilet")
    assert (short.first, short.last) == (date(2026, 12, 3), date(2026, 12, 6))
    assert says(CREW, short.until or 0) == "2026-12-07 16:30"
    assert short.phases == (4,)
    assert short.why == (Because("Tile the floor", "grout_water"),)


def test_a_second_toilet_saves_the_night() -> None:
    taken = Take("toilet", until=UNTIL_DONE, wait=900)
    out = took(CREW, 1, "Tear out", "2026-12-03 08:00", "2026-12-03 16:30", BATH, taken)
    upstairs = room(UPSTAIRS, "Upstairs bath", "toilet")
    assert {one.kind for one in shortfalls(house(CREW, out), MONDAY)} == {"no_toilet"}
    assert shortfalls(house(CREW, out, also=(upstairs,)), MONDAY) == ()


def test_two_toilets_out_on_the_same_night_are_found() -> None:
    """Each of two phases leaves a toilet; together they leave none, and only for the hours in which both are out."""
    torn, wet = Take("toilet", until=UNTIL_DONE, wait=600), Take("floor", until=UNTIL_DONE, wait=60)
    one = took(CREW, 1, "Tear out", "2026-12-03 08:00", "2026-12-03 16:30", BATH, torn)
    two = took(CREW, 2, "Set tile", "2026-12-03 12:00", "2026-12-03 16:30", UPSTAIRS, wet)
    upstairs = room(UPSTAIRS, "Upstairs bath", "toilet")
    (short,) = shortfalls(house(CREW, one, two, also=(upstairs,)), MONDAY)
    assert says(CREW, short.since) == "2026-12-03 12:00"
    assert says(CREW, short.until or 0) == "2026-12-03 17:30"
    assert set(short.phases) == {1, 2}


def test_no_water_and_no_cooking_are_found() -> None:
    main = took(CREW, 1, "Move the main", "2026-12-03 08:00", "2026-12-03 16:30", None,
                Take("water", house=True, until=UNTIL_DONE, wait=900),
                Take("power", house=True, until=UNTIL_DONE, wait=900))
    kinds = {one.kind for one in shortfalls(house(CREW, main), MONDAY)}
    assert kinds == {"no_water", "no_toilet", "no_way_to_cook"}


def test_a_temporary_kitchen_saves_the_cooking() -> None:
    out = took(CREW, 1, "Tear out", "2026-12-03 08:00", "2026-12-23 16:30", KITCHEN, Take("cooktop", until=UNTIL_DONE))
    dining = room(UPSTAIRS, "Dining room", {"service": "cooktop", "name": "hot plate"})
    assert [one.kind for one in shortfalls(house(CREW, out), MONDAY)] == ["no_way_to_cook"]
    assert shortfalls(house(CREW, out, also=(dining,)), MONDAY) == ()


def test_both_ways_in_closed_are_found_by_night_and_by_day() -> None:
    floor = took(CREW, 1, "Finish the floor", "2026-12-03 08:00", "2026-12-03 16:30", HALL,
                 Take("floor", until=UNTIL_DONE, wait=12 * 60))
    (night,) = shortfalls(house(CREW, floor), MONDAY)
    assert (night.kind, night.by_day, night.last) == ("no_way_in", False, date(2026, 12, 3))
    front = took(CREW, 2, "Hang the front door", "2026-12-03 08:00", "2026-12-03 12:00", HALL,
                 Take("way_through", name="front door"))
    back = took(CREW, 3, "Set the back step", "2026-12-03 10:00", "2026-12-04 12:00", HALL,
                Take("way_through", name="back door"), visits=[("2026-12-03 10:00", "2026-12-03 16:30")])
    (day,) = shortfalls(house(CREW, front, back), MONDAY)
    assert (day.kind, day.by_day) == ("no_way_in", True)
    assert (says(CREW, day.since), says(CREW, day.until or 0)) == ("2026-12-03 10:00", "2026-12-03 16:30")
    assert shortfalls(house(CREW, front), MONDAY) == ()


def test_work_over_a_weekend_closes_the_ways_on_its_working_days_only_and_is_told_once() -> None:
    floor = took(CREW, 1, "Set the cabinets", "2026-12-04 08:00", "2026-12-07 12:00", HALL, Take("way_through"))
    (one,) = shortfalls(house(CREW, floor), MONDAY)
    assert (one.first, one.last, one.by_day) == (date(2026, 12, 4), date(2026, 12, 7), True)


def test_a_day_without_a_toilet_is_found_with_the_hours_of_its_visit() -> None:
    """Water of the whole house, from 8 to 3: there is no toilet either, and nothing is missing in the night."""
    main = took(CREW, 1, "Hang the vanity", "2026-12-08 08:00", "2026-12-08 14:00", BATH, Take("water", house=True),
                visits=[("2026-12-08 08:00", "2026-12-08 15:00")])
    found_ones = shortfalls(house(CREW, main), MONDAY)
    assert {one.kind for one in found_ones} == {"no_toilet", "no_water"}
    for one in found_ones:
        assert one.by_day and one.first == one.last == date(2026, 12, 8)
        assert (says(CREW, one.since), says(CREW, one.until or 0)) == ("2026-12-08 08:00", "2026-12-08 15:00")
        assert one.tell_by == date(2026, 12, 3)


def test_a_second_toilet_saves_the_day() -> None:
    taken = took(CREW, 1, "Set the toilet", "2026-12-08 08:00", "2026-12-08 14:00", BATH, Take("toilet"))
    upstairs = room(UPSTAIRS, "Upstairs bath", "toilet")
    assert [one.kind for one in shortfalls(house(CREW, taken), MONDAY)] == ["no_toilet"]
    assert shortfalls(house(CREW, taken, also=(upstairs,)), MONDAY) == ()


def test_what_has_no_end_and_the_work_of_a_day_leave_no_toilet_in_its_hours() -> None:
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-01 16:30", UPSTAIRS,
               Take("toilet", until=UNTIL_DONE, gate="silicone", unknown=True))
    plumb = took(CREW, 2, "Plumb", "2026-12-08 08:00", "2026-12-08 12:00", BATH, Take("toilet"))
    (one,) = shortfalls(house(CREW, out, plumb, also=(room(UPSTAIRS, "Upstairs bath", "toilet"),)), MONDAY)
    assert one.by_day and one.why == (Because("Plumb"),)
    assert (says(CREW, one.since), says(CREW, one.until or 0)) == ("2026-12-08 08:00", "2026-12-08 16:30")


def test_days_of_the_same_work_are_told_once_and_those_of_other_work_apart() -> None:
    rough = took(CREW, 1, "Rough plumbing", "2026-12-08 08:00", "2026-12-10 12:00", BATH, Take("toilet"))
    later = took(CREW, 2, "Set the toilet", "2026-12-11 08:00", "2026-12-11 12:00", BATH, Take("toilet"))
    found_ones = shortfalls(house(CREW, rough, later), MONDAY)
    assert [(one.first.day, one.last.day, one.phases) for one in found_ones] == [(8, 10, (1,)), (11, 11, (2,))]


def test_the_household_is_told_three_working_days_ahead() -> None:
    """Thanksgiving, Thu Nov 26 2026, and the weekend are no working days."""
    out = took(CREW, 1, "Tear out", "2026-11-30 08:00", "2026-12-02 16:30", BATH, Take("toilet", until=UNTIL_DONE))
    found_ones = shortfalls(house(CREW, out), date(2026, 11, 16))
    (short,) = found_ones
    assert short.tell_by == CREW.add_days(date(2026, 11, 30), -3)
    assert CREW.count_days(short.tell_by, short.first) == 3
    assert short.tell_by < date(2026, 11, 26)
    assert to_tell(found_ones, short.tell_by) == (short,)
    assert to_tell(found_ones, date(2026, 11, 16)) == ()
    assert not short.told_late(short.tell_by)
    assert short.told_late(date(2026, 11, 27))
    assert to_tell(found_ones, date(2026, 12, 2)) == ()


def test_nights_that_are_over_are_not_told() -> None:
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-02 16:30", BATH, Take("toilet", until=UNTIL_DONE))
    assert shortfalls(house(CREW, out), date(2026, 12, 2)) == ()


def test_an_outage_without_an_end_is_found() -> None:
    stopped = took(CREW, 1, "Tear out", "2026-12-01 08:00", None, BATH, Take("toilet", until=UNTIL_DONE))
    (short,) = shortfalls(house(CREW, stopped), MONDAY)
    assert short.until is None


def test_the_manager_learns_what_can_not_be_looked_for() -> None:
    assert kinds_without_service(rooms()) == ()
    assert kinds_without_service([room(KITCHEN, "Kitchen", "sink")]) == ("no_toilet", "no_way_to_cook", "no_way_in")
    assert kinds_without_service([]) == tuple(SHORTFALL_KINDS)


TAKES = st.sampled_from([
    Take("toilet", until=UNTIL_DONE), Take("floor", until=UNTIL_DONE, wait=600),
    Take("water", house=True, until=UNTIL_DONE),
    Take("toilet", until=UNTIL_DONE, wait=90), Take("toilet"),
])
WORK = st.tuples(st.integers(0, 20), st.integers(1, 2000), st.sampled_from([BATH, UPSTAIRS]), TAKES)


@settings(max_examples=40, deadline=None)
@given(st.lists(WORK, max_size=5))
def test_shortfalls_are_exactly_the_nights_in_which_some_moment_has_no_toilet(
    phases: list[tuple[int, int, int, Take]],
) -> None:
    """Against asking, at every moment of a night at which something closes, whether anything is left."""
    start = at(CREW, "2026-12-01 08:00")
    times = tuple(
        PhaseTimes(
            number, f"phase {number}", CREW.add(start, day * 300), CREW.add(start, day * 300 + work), where, (take,)
        )
        for number, (day, work, where, take) in enumerate(phases, 1)
    )
    home = HouseServices((*rooms(), room(UPSTAIRS, "Upstairs bath", "toilet")), times, CREW)
    told = [one for one in shortfalls(home, MONDAY) if one.kind == "no_toilet" and not one.by_day]
    nights = {day for one in told for day in _days(one.first, one.last)}
    assert nights == {day for day in _days(MONDAY, date(2027, 1, 10)) if _night_without(home, day)}


def _days(first: date, last: date) -> list[date]:
    return [date.fromordinal(day) for day in range(first.toordinal(), last.toordinal() + 1)]


def _night_without(home: HouseServices, day: date) -> bool:
    begins, ends = home.night(day)
    closing = [begins, *(one.start for one in home.lasting if begins <= one.start < ends)]
    return any(all(_out(home, moment, number) for number in (BATH, UPSTAIRS)) for moment in closing)


def _out(home: HouseServices, moment: int, number: int) -> bool:
    """By the takes alone: water in the house, or toilet or floor in the room."""
    return any(one.start <= moment < one.end and one.room in (None, number) for one in home.lasting)
