"""When a service is out: closures joined to outages, looked at through a window, and over the hours of a day."""

from datetime import date

import pytest

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_services import HouseServices, services_of
from portal.planning.household.outages import NEVER, Because, Closure, Outage, in_window, outages_of
from portal.planning.household.services import UNTIL_DONE, Service, Take
from portal.planning.household.tonight import tonight
from tests.planning.homes import BATH, CREW, HALL, KITCHEN, found, house, room, took
from tests.planning.houses import at, says

SINK, TOILET = Service("sink"), Service("toilet")
THURSDAY, FRIDAY, SATURDAY, SUNDAY = (date(2026, 12, day) for day in (3, 4, 5, 6))


def closure(start: int, end: int, take: Take | None = None, where: int | None = KITCHEN, phase: int = 1) -> Closure:
    return Closure(take or Take("sink"), where, start, end, phase, f"phase {phase}")


def spans(outages: tuple[Outage, ...]) -> list[tuple[int, int]]:
    return [(one.start, one.end) for one in outages]


def test_closures_that_touch_or_overlap_are_one_outage() -> None:
    three = [closure(10, 20), closure(20, 30), closure(25, 28), closure(31, 40)]
    joined, alone = outages_of(KITCHEN, SINK, three)
    assert spans((joined, alone)) == [(10, 30), (31, 40)]
    assert joined.closures == tuple(three[:3])
    assert alone.closures == (three[3],)


@pytest.mark.parametrize(
    ("take", "where", "out"),
    [
        (Take("sink"), KITCHEN, True),
        (Take("sink"), BATH, False),
        (Take("sink"), None, True),  # in the whole house
        (Take("water"), None, True),  # a sink needs it
        (Take("floor"), KITCHEN, True),
        (Take("power"), KITCHEN, False),
        (Take("sink", name="bar sink"), KITCHEN, False),  # another one
    ],
)
def test_a_sink_is_out_with_what_it_needs(take: Take, where: int | None, out: bool) -> None:
    assert bool(outages_of(KITCHEN, SINK, [closure(10, 20, take, where)])) is out


def test_of_two_of_a_kind_the_one_that_was_named_is_out() -> None:
    bar = Service("sink", "bar sink")
    assert outages_of(KITCHEN, bar, [closure(10, 20, Take("sink", name="bar sink"))])
    assert not outages_of(KITCHEN, bar, [closure(10, 20, Take("sink", name="prep sink"))])
    assert outages_of(KITCHEN, bar, [closure(10, 20, Take("sink"))]), "without a name all of them"


def test_what_needs_nothing_is_out_by_itself_only() -> None:
    gas = Service("cooktop", needs=frozenset({"floor"}))
    assert not outages_of(KITCHEN, gas, [closure(10, 20, Take("power"))])
    assert outages_of(KITCHEN, Service("cooktop"), [closure(10, 20, Take("power"))])


def test_a_closure_of_no_time_closes_nothing() -> None:
    assert outages_of(KITCHEN, SINK, [closure(10, 10), closure(12, 11)]) == ()


OUTAGES = (
    Outage(10, 20, (closure(10, 20),)),
    Outage(30, 40, (closure(30, 36, phase=2), closure(34, 40, phase=3))),
    Outage(60, 70, (closure(60, 70, phase=4),)),
)


@pytest.mark.parametrize(
    ("window", "start", "end", "phases"),
    [
        ((0, 10), None, None, []),  # over before it begins
        ((20, 30), None, None, []),
        ((70, 90), None, None, []),
        ((0, 11), 10, 20, [1]),
        ((19, 30), 19, 20, [1]),  # since the window begins, until the outage ends
        ((15, 35), 15, 40, [1, 2, 3]),  # from the first to the last
        ((36, 50), 36, 40, [3]),  # what ended before is no reason any more
        ((0, 34), 10, 40, [1, 2]),
        ((15, 15), 15, 20, [1]),  # an empty window is its moment
        ((20, 20), None, None, []),
        ((0, 100), 10, 70, [1, 2, 3, 4]),
    ],
)
def test_what_is_out_in_a_window(
    window: tuple[int, int], start: int | None, end: int | None, phases: list[int]
) -> None:
    out = in_window(OUTAGES, window)
    if start is None:
        assert out is None
    else:
        assert out is not None
        assert (out.start, out.end, [one.phase for one in out.closures]) == (start, end, phases)


def test_a_room_has_a_floor_whether_it_says_so_or_not() -> None:
    assert services_of(room(BATH, "Bath", "toilet")) == (TOILET, Service("floor"))
    named = room(BATH, "Bath", {"service": "floor", "name": "heated floor"}, "toilet")
    assert services_of(named) == (Service("floor", "heated floor"), TOILET)


def test_the_hours_of_its_visits_clip_what_is_out_during_work_only() -> None:
    """The tile takes the toilet while it is laid, Thursday 10 to Friday noon; the seal the sink until Fri 9:30."""
    tile = took(CREW, 1, "Tile", "2026-12-03 10:00", "2026-12-04 12:00", BATH, Take("toilet"),
                visits=[("2026-12-03 10:00", "2026-12-03 16:30"), ("2026-12-04 08:00", "2026-12-04 12:00")])
    seal = took(CREW, 2, "Seal", "2026-12-02 12:00", "2026-12-03 09:30", BATH,
                Take("sink", until=UNTIL_DONE, wait=24 * 60))
    home = house(CREW, tile, seal)
    thursday, friday = home.work_day(THURSDAY), home.work_day(FRIDAY)
    assert thursday.window == (at(CREW, "2026-12-03 08:00"), at(CREW, "2026-12-03 16:30"))

    def out(day: HouseServices, when: date, service: str) -> list[tuple[str, str]]:
        outages = day.work_day(when).outages[BATH, Service(service)]
        return [(says(CREW, one.start)[8:], says(CREW, one.end)[8:]) for one in outages]

    assert out(home, THURSDAY, "toilet") == [("03 10:00", "03 16:30")]
    assert out(home, FRIDAY, "toilet") == [("04 08:00", "04 12:00")]
    assert out(home, THURSDAY, "sink") == out(home, FRIDAY, "sink") == [("02 12:00", "04 09:30")]
    assert [one.start for one in thursday.closures] == sorted(one.start for one in thursday.closures)
    assert len(friday.closures) == 2


def test_what_lasts_and_what_is_closed_during_work_are_joined_in_the_order_of_time() -> None:
    """The floor is wet from Thursday noon on; the tile setter takes it from the morning."""
    lay = took(CREW, 1, "Lay", "2026-12-03 08:00", "2026-12-03 16:30", BATH, Take("floor"))
    wet = took(CREW, 2, "Grout", "2026-12-03 12:00", "2026-12-03 16:30", BATH, Take("floor", until=UNTIL_DONE, wait=60))
    (outage,) = house(CREW, wet, lay).work_day(THURSDAY).outages[BATH, TOILET]
    assert (says(CREW, outage.start), says(CREW, outage.end)) == ("2026-12-03 08:00", "2026-12-03 17:30")
    assert [one.phase for one in outage.closures] == [1, 2]


def test_a_day_without_work_has_no_hours() -> None:
    day = house(CREW).work_day(SATURDAY)
    assert (day.window, day.outages, day.closures) == (None, {}, ())


def test_morning_and_night_over_a_weekend_and_a_holiday() -> None:
    """On a day off the morning is at the hour at which the next work begins; its night begins with it."""
    home = house(CREW)
    assert says(CREW, home.morning(FRIDAY)) == "2026-12-04 08:00"
    assert says(CREW, home.morning(SUNDAY)) == "2026-12-06 08:00"
    assert [says(CREW, moment) for moment in home.night(FRIDAY)] == ["2026-12-04 16:30", "2026-12-05 08:00"]
    assert [says(CREW, moment) for moment in home.night(SUNDAY)] == ["2026-12-06 08:00", "2026-12-07 08:00"]


def test_a_night_shift_leaves_no_night() -> None:
    """Work from 6 pm to midnight and on from midnight to 6 am: the evening of one is the morning of the next."""
    nights = WorkCalendar.of(
        {"week": {day: [["00:00", "06:00"], ["18:00", "24:00"]] for day in ("wed", "thu", "fri")}}, "America/Chicago"
    )
    begins, ends = house(nights).night(THURSDAY)
    assert begins == ends == at(nights, "2026-12-04 00:00")


def test_until_when_nobody_knows_is_later_than_anything() -> None:
    stopped = took(CREW, 1, "Tear out", "2026-12-01 08:00", None, KITCHEN, Take("sink", until=UNTIL_DONE, wait=90))
    (outage,) = house(CREW, stopped).outages[KITCHEN, SINK]
    assert outage.end == NEVER > at(CREW, "2999-01-01 00:00")


def test_another_phase_gives_back_and_is_named() -> None:
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-01 16:30", BATH,
               Take("toilet", until=UNTIL_DONE, back_with=2, wait=60, gate="grout_water"))
    back = took(CREW, 2, "Set the toilet", "2026-12-08 08:00", "2026-12-08 12:00", BATH)
    (lasting,) = house(CREW, out, back).lasting
    assert (lasting.name, lasting.back, lasting.phase) == ("Tear out", "Set the toilet", 1)
    assert says(CREW, lasting.end) == "2026-12-08 13:00"
    assert lasting.why == Because("Set the toilet", "grout_water")
    own = took(CREW, 3, "Tear out", "2026-12-01 08:00", "2026-12-01 16:30", BATH,
               Take("toilet", until=UNTIL_DONE, back_with=3))
    (alone,) = house(CREW, own).lasting
    assert (alone.back, alone.why) == ("", Because("Tear out"))


def test_a_state_says_of_whom_and_whether_it_is_given_back() -> None:
    out = took(CREW, 1, "Tear out", "2026-12-01 08:00", "2026-12-01 16:30", HALL,
               Take("way_through", name="front door", until=UNTIL_DONE, back_with=2))
    back = took(CREW, 2, "Hang the door", "2026-12-08 08:00", "2026-12-08 12:00", HALL)
    state = tonight(house(CREW, out, back), THURSDAY)
    front, rear = (found(state, HALL, "way_through", name) for name in ("front door", "back door"))
    assert (front.why, front.phases, front.back, front.usable) == ((Because("Hang the door"),), (1,), True, False)
    assert (rear.why, rear.phases, rear.back, rear.usable, rear.instead) == ((), (), False, True, "")
    assert says(CREW, front.since or 0) == "2026-12-03 16:30", "the window's begin, not the outage's"
    assert (state.day, says(CREW, state.begins), says(CREW, state.ends)) == (
        THURSDAY, "2026-12-03 16:30", "2026-12-04 08:00",
    )
