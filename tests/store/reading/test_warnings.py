"""What a manager is warned of, as the project stands; and of a change, what it has brought about and nothing else."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from portal.planning.conflicts.unkept_visits import CREW_TWICE, Conflict
from portal.planning.conflicts.warnings import BEGUN_AHEAD, CONTRACT_ANSWER, CONTRACT_ORDER, PlanWarning, PromiseWarning
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.reading.warnings import Found, blind_spots, caused, warnings_in
from portal.store.refusals import NotFound, OutOfReach
from tests.house import NOW, House, at

YEAR = 366 * 24 * 60
TOO_EARLY = "too_early"
NIGHTS = ["no_way_to_cook", "no_toilet", "no_way_in"]


def put(table: Any, row: int, **values: Any) -> None:
    table.update(values).where(table.id == row).execute()


def warned(house: House, now: int = NOW) -> list[PlanWarning]:
    snapshot = read_snapshot(house.project)
    return warnings_in(snapshot, schedule_of(snapshot, now))


def kinds(found: list[Any]) -> list[str]:
    return [one.kind for one in found]


def news(house: House, change: Callable[[], object], now: int = NOW) -> list[Found]:
    return caused(house.project, now, change)[1]


def sign(house: House, day: date) -> None:
    put(tables.Project, house.project, signed_on=day)


def begin(house: House, key: str) -> None:
    put(tables.Phase, house.phases[key], state="under_way", started_at=NOW - 3600)


def move(house: House, key: str, day: str, hours: tuple[str, str] = ("09:00", "14:00")) -> None:
    starts, ends = (at(f"2026-12-{day}T{hour}") for hour in hours)
    put(tables.Visit, house.visits[key], starts_at=starts, ends_at=ends)


def wait(house: House, minutes: int) -> None:
    """So long after the sink is connected is the work walked through."""
    tables.PhaseLink.update(wait=minutes).where(
        (tables.PhaseLink.phase == house.phases["walk"]) & (tables.PhaseLink.after == house.phases["sink"])
    ).execute()


def test_nights_are_told_whatever_else_there_is(house: House) -> None:
    found = warned(house)
    assert kinds(found) == NIGHTS
    assert [one.phases for one in found] == [(house.phases[key],) for key in ("out", "floor", "cabinets")]
    assert {one.on for one in found} == {date(2026, 12, 2)}


def test_nights_are_as_the_work_is_booked(house: House) -> None:
    """The new cooktop comes with the sink: what is out until then lasts until the day for which that is booked."""

    def cooking_again() -> date:
        (found,) = [one for one in warned(house) if one.kind == "no_way_to_cook"]
        return found.shortfall.last  # type: ignore[attr-defined, no-any-return]

    sooner = cooking_again()
    move(house, "sink", "16")
    assert sooner < date(2026, 12, 15) <= cooking_again()


def test_what_began_ahead_comes_first_then_the_contract_then_the_nights(house: House) -> None:
    sign(house, date(2026, 12, 1))
    begin(house, "top")
    found = warned(house)
    assert kinds(found) == [BEGUN_AHEAD, *[CONTRACT_ANSWER] * 2, *[CONTRACT_ORDER] * 2, *NIGHTS]
    assert found[0].phases == (house.phases["top"], house.phases["cabinets"])
    assert {one.decision for one in found[1:3]} == {house.decisions[1], house.decisions[2]}
    assert [one.delivery for one in found[3:5]] == [house.deliveries["stone"], house.deliveries["tile"]]


@pytest.mark.parametrize(
    ("signed", "calendar", "there"),
    [
        (date(2026, 11, 28), "US", True), (date(2026, 11, 27), "US", False), (None, "US", False),
        (date(2026, 11, 28), None, True), (date(2026, 11, 28), "CA", False),
    ],
)
def test_of_the_contract_it_is_told_while_it_can_be_cancelled_in_the_states(
    house: House, signed: date | None, calendar: str | None, there: bool
) -> None:
    """Signed on Saturday, it can be cancelled until Wednesday, Dec 2; signed on Friday, until Tuesday."""
    row = tables.Project.get_by_id(house.project)
    holidays = calendar and {"country": calendar, "subdivision": None}
    put(tables.Project, house.project, signed_on=signed, calendar=row.calendar | {"holidays": holidays})
    assert (CONTRACT_ORDER in kinds(warned(house))) is there


def test_nobody_can_be_warned_of_what_no_room_is_said_to_have(house: House) -> None:
    assert blind_spots(read_snapshot(house.project)) == ()
    put(tables.Room, house.rooms["bath"], services=["water", "bath"])
    put(tables.Room, house.rooms["kitchen"], services=["water", "sink", "way_through"])
    assert blind_spots(read_snapshot(house.project)) == ("no_toilet", "no_way_to_cook")


def test_of_a_house_without_rooms_there_is_nothing_to_say_yet(house: House) -> None:
    assert blind_spots(read_snapshot(house.other_project)) == ()


def test_a_change_gives_its_result_and_what_was_there_before_is_no_news(house: House) -> None:
    result, found = caused(house.project, NOW, lambda: {"id": 9})
    assert (result, found) == ({"id": 9}, [])


def test_only_what_the_change_has_brought_about_is_told(house: House) -> None:
    begin(house, "drill")
    (found,) = news(house, lambda: begin(house, "top"))
    assert (found.kind, found.phases) == (BEGUN_AHEAD, (house.phases["top"], house.phases["cabinets"]))  # type: ignore[union-attr]
    assert news(house, lambda: put(tables.Phase, house.phases["top"], started_at=NOW - 90_000)) == []


def test_visits_come_before_what_the_plan_warns_of(house: House) -> None:
    def change() -> None:
        begin(house, "splash")
        move(house, "top", "10")

    found = news(house, change)
    assert kinds(found) == [TOO_EARLY, TOO_EARLY, BEGUN_AHEAD]
    assert [one.visit for one in found[:2]] == [house.visits["drill"], house.visits["sink"]]  # type: ignore[union-attr]


def test_a_crew_that_is_booked_elsewhere_is_told(house: House) -> None:
    other = tables.Visit.create(
        project=house.other_project, crew="Stone crew", purpose="", starts_at=at("2026-12-10T09:00"),
        ends_at=at("2026-12-10T10:00"),
    ).id  # fmt: skip
    twice = [one for one in news(house, lambda: move(house, "top", "10")) if one.kind == CREW_TWICE]
    assert [(one.visit, one.other) for one in twice] == [(house.visits["top"], other)]  # type: ignore[union-attr]


def test_a_second_clash_of_the_same_visit_is_news(house: House) -> None:
    """Another visit that it clashes with, though of the same kind."""
    same = {"project": house.other_project, "crew": "Stone crew", "purpose": ""}
    times = {"starts_at": at("2026-12-03T09:00"), "ends_at": at("2026-12-03T10:00")}
    tables.Visit.create(**same, **times)
    (found,) = news(house, lambda: tables.Visit.create(**same, **times))
    assert isinstance(found, Conflict) and found.other == tables.Visit.select().order_by(-tables.Visit.id).first().id


def test_what_works_later_than_it_did_is_news_and_what_works_sooner_is_not(house: House) -> None:
    """Drilling waits for the top; each time the top is moved, another day is the first for it."""
    move(house, "top", "10")
    (drill, _) = later = news(house, lambda: move(house, "top", "14"))
    assert isinstance(drill, Conflict) and drill.visit == house.visits["drill"]
    assert drill.first_that_works is not None and drill.first_that_works >= at("2026-12-15T08:00") // 60
    assert len(later) == 2, "the sink waits for the drilling"
    assert news(house, lambda: move(house, "top", "14")) == []
    assert news(house, lambda: move(house, "top", "11")) == []


def test_what_no_longer_works_at_all_is_news_and_what_never_did_is_not(house: House) -> None:
    """The hour at the end of a day fits on the next one, unless the painter is booked for longer than is looked for."""
    move(house, "paint", "09", ("16:00", "17:00"))
    away = tables.Visit.create(
        project=house.other_project, crew="Painter", purpose="", starts_at=at("2026-12-09T17:00"),
        ends_at=at("2026-12-09T18:00"),
    ).id  # fmt: skip

    def until(text: str) -> list[tuple[int, bool]]:
        found = news(house, lambda: put(tables.Visit, away, ends_at=at(text)))
        return [(one.visit, one.first_that_works is None) for one in found if isinstance(one, Conflict)]

    assert until("2026-12-09T20:00") == []
    assert until("2029-12-09T18:00") == [(house.visits["paint"], True)]
    assert until("2030-12-09T18:00") == []
    assert until("2026-12-09T18:00") == []


def test_another_kind_of_conflict_of_the_same_visit_is_news(house: House) -> None:
    move(house, "paint", "09", ("16:00", "17:00"))
    assert kinds(news(house, lambda: move(house, "paint", "12", ("16:00", "17:00")))) == ["day_off"]


def test_a_night_of_another_day_is_news_and_an_order_that_comes_on_another_is_not(house: House) -> None:
    sign(house, date(2026, 12, 1))
    assert news(house, lambda: put(tables.Delivery, house.deliveries["tile"], expected_on=date(2026, 12, 8))) == []
    row = tables.Phase.get_by_id(house.phases["cabinets"])
    assert news(house, lambda: put(tables.Phase, row.id, takes=[])) == []
    found = news(house, lambda: put(tables.Phase, house.phases["vanity"], takes=row.takes, room=row.room_id))
    assert kinds(found) == ["no_way_in"] and found[0].on > date(2026, 12, 2)  # type: ignore[union-attr]


def test_each_question_and_each_order_within_the_window_is_told_by_itself(house: House) -> None:
    sign(house, date(2026, 12, 1))
    faucet, paint = house.deliveries["faucet"], house.decisions[5]
    (order,) = news(house, lambda: put(tables.Delivery, faucet, arrived_at=None))
    assert (order.kind, order.delivery) == (CONTRACT_ORDER, faucet)  # type: ignore[union-attr]
    (answer,) = news(house, lambda: put(tables.Decision, paint, asked_for=date(2026, 12, 4)))
    assert (answer.kind, answer.decision) == (CONTRACT_ANSWER, paint)  # type: ignore[union-attr]
    assert news(house, lambda: put(tables.Decision, paint, asked_for=date(2026, 12, 3))) == []


@pytest.mark.parametrize("years", [26, 100])
def test_a_change_after_which_nothing_can_be_computed_is_not_made(house: House, years: int) -> None:
    """The first is computed and refused, the second can't even be computed."""
    links = [row.wait for row in tables.PhaseLink.select().order_by(tables.PhaseLink.id)]
    with pytest.raises(OutOfReach, match="more than 25 years"):
        caused(house.project, NOW, lambda: wait(house, years * YEAR))
    assert [row.wait for row in tables.PhaseLink.select().order_by(tables.PhaseLink.id)] == links


def test_a_plan_of_25_years_is_within_reach_and_a_minute_more_is_not(house: House) -> None:
    now = NOW + 4 * 3600  # so that the minute 25 years from now is one in which work can end

    def reach(minutes: int) -> int:
        wait(house, minutes)
        schedule = schedule_of(read_snapshot(house.project), now)
        return schedule.finish - schedule.now

    longest = 25 * YEAR
    for _ in range(3):
        longest += 25 * YEAR - reach(longest)
    assert (reach(longest), reach(longest + 1)) == (25 * YEAR, 25 * YEAR + 1)
    wait(house, 0)
    assert kinds(news(house, lambda: wait(house, longest), now)) == ["promise"]
    wait(house, 0)
    with pytest.raises(OutOfReach):
        caused(house.project, now, lambda: wait(house, longest + 1))


def test_out_of_reach_already_a_change_is_made_without_a_word(house: House) -> None:
    wait(house, 100 * YEAR)
    assert caused(house.project, NOW, lambda: wait(house, 90 * YEAR) or "done") == ("done", [])
    assert max(row.wait for row in tables.PhaseLink.select()) == 90 * YEAR


def test_back_within_reach_all_that_there_is_is_told(house: House) -> None:
    wait(house, 100 * YEAR)
    assert kinds(news(house, lambda: wait(house, 0))) == NIGHTS


def test_what_the_change_refuses_by_itself_stays_refused_and_nothing_is_kept(house: House) -> None:
    def change() -> None:
        begin(house, "top")
        raise NotFound(what="phase")

    with pytest.raises(NotFound, match="no such phase"):
        caused(house.project, NOW, change)
    assert tables.Phase.get_by_id(house.phases["top"]).state == "waiting"


def test_another_projects_warnings_are_not_told(house: House) -> None:
    assert caused(house.other_project, NOW, lambda: begin(house, "top"))[1] == []
    with pytest.raises(NotFound):
        caused(house.other_project + 1, NOW, lambda: None)


def test_a_promise_before_the_end_of_the_plan_is_told_once(house: House) -> None:
    def promise(day: date) -> None:
        put(tables.Project, house.project, promised_on=day)

    assert kinds(news(house, lambda: promise(date(2026, 12, 10)))) == ["promise"]
    (told,) = news(house, lambda: promise(date(2026, 12, 11)))  # another promise, as late
    assert isinstance(told, PromiseWarning) and (told.on, told.finish) == (date(2026, 12, 11), date(2026, 12, 14))
    assert news(house, lambda: put(tables.Phase, house.phases["walk"], note="Mind the step")) == []
    assert news(house, lambda: promise(date(2026, 12, 14))) == []
