"""The plan that planning computes with is the project as it is kept."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from portal.planning.household.house_services import HouseServices
from portal.planning.household.services import Service, Take
from portal.planning.schedule import plan as planning
from portal.planning.schedule.booked import as_booked
from portal.store import tables
from portal.store.reading.project_plan import household_of, minutes, plan_of, schedule_of, window_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at
from tests.store.reading.one_of_each import one_of_each


def _minutes(text: str) -> int:
    return at(text) // 60


@pytest.fixture
def phase(house: House):
    """A phase of the plan by its key in the household."""
    return lambda key: plan_of(read_snapshot(house.project)).by_id[house.phases[key]]


def test_seconds_become_whole_minutes(house: House, phase) -> None:
    a_little_later = at("2026-12-01T08:00") + 59
    tables.Phase.update(started_at=a_little_later).where(tables.Phase.id == house.phases["cabinets"]).execute()
    assert phase("cabinets").started == _minutes("2026-12-01T08:00")


def test_a_day_begins_at_midnight_at_the_house(house: House, phase) -> None:
    assert phase("paint").not_before == _minutes("2026-12-08T00:00")
    assert plan_of(read_snapshot(house.project)).starts == _minutes("2026-11-16T00:00")


def test_links_keep_their_waits(house: House, phase) -> None:
    (link,) = phase("drill").after
    assert (link.phase, link.wait) == (house.phases["top"], 16 * 60)


def test_only_an_approval_of_the_current_revision_closes_a_decision(house: House) -> None:
    open_before = set(plan_of(read_snapshot(house.project)).open_decisions)
    assert open_before == {house.decisions[number] for number in (1, 2, 4, 5)}
    tables.Decision.update(state="asked", revision=1).where(tables.Decision.id == house.decisions[3]).execute()
    assert house.decisions[3] in plan_of(read_snapshot(house.project)).open_decisions


def test_a_release_lifts_the_hold_for_its_phase_alone(house: House, phase) -> None:
    tables.PhaseHold.create(phase=house.phases["sink"], decision=house.decisions[1])
    tables.Release.create(
        phase=house.phases["drill"], decision=house.decisions[1], reason="Agreed on site.", staff=house.manager.id,
        at=NOW
    )
    assert phase("drill").holds == ()
    assert phase("sink").holds == (house.decisions[1],)


def test_deliveries_come_with_their_dates_and_phases(house: House) -> None:
    deliveries = {d.id: d for d in plan_of(read_snapshot(house.project)).deliveries}
    tile, faucet = deliveries[house.deliveries["tile"]], deliveries[house.deliveries["faucet"]]
    assert (tile.low, tile.likely, tile.high) == (date(2026, 12, 3), date(2026, 12, 4), date(2026, 12, 9))
    assert tile.phases == (house.phases["splash"],) and tile.arrived is None
    assert faucet.arrived == _minutes("2026-11-30T14:20")


def test_cancelled_visits_are_left_out(house: House) -> None:
    tables.Visit.update(cancelled_at=NOW).where(tables.Visit.id == house.visits["drill"]).execute()
    visits = plan_of(read_snapshot(house.project)).visits
    assert {visit.id for visit in visits} == set(house.visits.values()) - {house.visits["drill"]}


def test_work_that_rests_or_waits_for_the_inspector_is_known(house: House, phase) -> None:
    resumes = at("2026-12-07T08:00")
    values = {"state": "stopped", "stopped_at": NOW, "resumes_at": resumes, "remaining": 90}
    tables.Phase.update(values).where(tables.Phase.id == house.phases["cabinets"]).execute()
    stopped = phase("cabinets")
    assert (stopped.state, stopped.stopped_at, stopped.resumes_at, stopped.remaining) == (
        "stopped", NOW // 60, resumes // 60, 90,
    )


def test_the_booked_visit_says_by_when_an_answer_is_needed(house: House) -> None:
    """Drilling is booked for Fri Dec 4; with one working day of lead the answer is needed on Thu Dec 3."""
    schedule = schedule_of(read_snapshot(house.project), NOW)
    needed_by = {dates.decision: dates.needed_by for dates in schedule.decisions}
    assert needed_by[house.decisions[1]] == date(2026, 12, 3)
    assert needed_by[house.decisions[5]] == date(2026, 12, 11)
    assert needed_by.get(house.decisions[3]) is None


def test_a_project_without_phases_has_a_schedule(house: House) -> None:
    schedule = schedule_of(read_snapshot(house.other_project), NOW)
    assert schedule.phases == () and schedule.finish == NOW // 60


def test_each_field_of_a_phase_comes_from_its_own(house: House) -> None:
    mine = one_of_each(2)
    row = mine.phases[1]
    tables.Phase.update(state="stopped").execute()
    tables.Project.update(timezone="America/Denver").where(tables.Project.id == mine.project.id).execute()
    tables.Release.create(phase=row, decision=house.decisions[1], reason="", staff=house.manager.id, at=NOW)
    plan = plan_of(read_snapshot(mine.project.id))
    assert plan.phases[1] == planning.Phase(
        id=row.id, name="Sand 2", low=row.work_low, likely=row.work_likely, high=row.work_high, room=mine.room.id,
        crew="Crew of Sand 2", after=(planning.Predecessor(mine.phases[0].id, mine.link.wait),),
        not_before=at(f"{row.not_before}T00:00", "America/Denver") // 60, held_by=(mine.decision.id,),
        released=(mine.decision.id, house.decisions[1]), state="stopped", started=row.started_at // 60,
        finished=row.finished_at // 60, remaining=row.remaining, inspection_at=row.inspection_at // 60,
        stopped_at=row.stopped_at // 60, resumes_at=row.resumes_at // 60, rested=row.rested,
    )  # fmt: skip


def test_what_is_not_known_of_a_phase_stays_unknown(house: House, phase) -> None:
    walk = phase("walk")
    assert (walk.room, walk.not_before, walk.started, walk.finished, walk.remaining) == (None,) * 5
    assert (walk.inspection_at, walk.stopped_at, walk.resumes_at, walk.rested) == (None, None, None, 0)


def test_each_field_of_a_decision_a_visit_and_a_delivery_comes_from_its_own(house: House) -> None:
    mine = one_of_each(2)
    tables.Phase.update(state="stopped").execute()
    plan, row = plan_of(read_snapshot(mine.project.id)), mine.decision
    signed = datetime.fromtimestamp(mine.standing.at - 2 * 3600, UTC).date()  # Etc/GMT+2 is two hours behind
    assert plan.decisions == (planning.Decision(row.id, row.number, row.lead_days, False, row.asked_for, signed),)
    visit, delivery = mine.visit, mine.delivery
    assert plan.visits == (
        planning.Visit(
            visit.id, "Visitors 2", visit.starts_at // 60, visit.ends_at // 60, mine.phases[1].id, mine.project.id,
            "visitors 2",
        ),
    )
    assert plan.deliveries == (
        planning.Delivery(
            delivery.id, (mine.phases[1].id,), delivery.expected_low, delivery.expected_on, delivery.expected_high,
            delivery.arrived_at // 60, "Ordered 2",
        ),
    )


def test_a_decision_is_answered_on_the_day_of_its_last_approval_at_the_house(house: House) -> None:
    """At 11 pm in Chicago it is the next day already by UTC."""
    decision = house.decisions[3]

    def answered() -> date | None:
        plan = plan_of(read_snapshot(house.project))
        return next(one.answered for one in plan.decisions if one.id == decision)

    assert answered() == date(2026, 11, 24)
    for when, person in (("2026-11-29T23:00", house.co_owner), ("2026-11-26T08:00", house.homeowner)):
        tables.Approval.create(
            decision=decision, revision=1, option="a", person=person.id, name=person.name, at=at(when)
        )
    assert answered() == date(2026, 11, 29)
    tables.Decision.update(state="asked").where(tables.Decision.id == decision).execute()
    assert answered() is None, "one more must approve it"


def test_what_is_approved_without_a_known_approval_has_no_day(house: House) -> None:
    tables.Decision.update(state="approved").where(tables.Decision.id == house.decisions[1]).execute()
    plan = plan_of(read_snapshot(house.project))
    assert [(one.open, one.answered) for one in plan.decisions if one.number == 1] == [(False, None)]


def test_an_instant_is_the_minute_that_it_lies_in(house: House) -> None:
    assert [minutes(seconds) for seconds in (0, 59, 60, -1)] == [0, 0, 1, -1]
    assert schedule_of(read_snapshot(house.project), NOW + 59).now == NOW // 60


def _household(house: House) -> HouseServices:
    snapshot = read_snapshot(house.project)
    return household_of(snapshot, as_booked(schedule_of(snapshot, NOW)))


def test_the_household_has_the_rooms_and_each_phase_as_it_is_booked(house: House) -> None:
    found = _household(house)
    assert [(room.room, room.name) for room in found.rooms] == [
        (house.rooms["kitchen"], "Kitchen"), (house.rooms["bath"], "Hall bath"),
        (house.rooms["laundry"], "Laundry room"),
    ]  # fmt: skip
    assert found.rooms[2].services == (Service("water"), Service("drain"), Service("power"))
    times = {one.phase: one for one in found.phases}
    out, sink = times[house.phases["out"]], times[house.phases["sink"]]
    assert (out.name, out.room, out.start, out.finish) == (
        "Take out the old kitchen", house.rooms["kitchen"], _minutes("2026-11-16T08:00"), _minutes("2026-11-17T16:30")
    )
    assert [take.service for take in out.takes] == ["sink", "cooktop"] and sink.takes == ()
    assert sink.start == _minutes("2026-12-07T08:00"), "as it is booked"


@pytest.mark.parametrize(("resumes", "known"), [(None, False), ("2026-12-07T08:00", True)])
def test_nobody_knows_the_end_of_work_that_rests_until_nobody_knows_when(
    house: House, resumes: str | None, known: bool
) -> None:
    values = {"state": "stopped", "stopped_at": NOW, "resumes_at": resumes and at(resumes)}
    tables.Phase.update(values).where(tables.Phase.id == house.phases["cabinets"]).execute()
    times = {one.phase: one for one in _household(house).phases}
    assert (times[house.phases["cabinets"]].finish is not None) is known
    assert times[house.phases["walk"]].finish is not None


def test_what_can_not_be_read_of_rooms_and_phases_is_left_out(house: House) -> None:
    tables.Room.update(services=["water", "a moat"]).where(tables.Room.id == house.rooms["laundry"]).execute()
    tables.Phase.update(takes=[{"service": "peace"}]).where(tables.Phase.id == house.phases["out"]).execute()
    tables.Phase.update(takes=[{"service": "dust"}]).where(tables.Phase.id == house.phases["walk"]).execute()
    found = _household(house)
    assert [len(room.services) for room in found.rooms] == [6, 6, 0]
    assert (found.phases[0].takes, found.phases[-1].takes) == ((), (Take("dust"),))


@pytest.mark.parametrize(
    ("signed", "today", "ends"),
    [
        (date(2026, 11, 25), date(2026, 11, 30), date(2026, 11, 30)), (date(2026, 11, 25), date(2026, 12, 1), None),
        (date(2026, 11, 25), date(2026, 11, 24), date(2026, 11, 30)), (None, date(2026, 11, 24), None),
        (date(2026, 11, 25), date(2027, 11, 25), None),
    ],
    ids=["its last day", "over", "signed tomorrow", "not signed", "long over"],
)
def test_a_contract_can_be_cancelled_until_the_third_business_day(
    house: House, signed: date | None, today: date, ends: date | None
) -> None:
    """Signed the day before Thanksgiving: Friday, Saturday and Monday count."""
    window = window_of(read_snapshot(house.project).project._replace(signed_on=signed), today)
    assert (window and window.ends) == ends


def test_what_no_contract_can_still_be_is_not_looked_up(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    """The holidays of a year take a fifth of a second to read."""
    project = read_snapshot(house.project).project._replace(signed_on=date(2026, 11, 20))
    name = "portal.store.reading.project_plan.cancellation_window"
    monkeypatch.setattr(name, lambda signed: pytest.fail("it was looked up"))
    assert window_of(project, date(2026, 12, 1)) is None


def test_the_plan_keeps_its_calendar_and_where_it_is(house: House) -> None:
    snapshot = read_snapshot(house.project)
    west = replace(snapshot, project=snapshot.project._replace(timezone="America/Denver"))
    assert plan_of(west).starts == plan_of(snapshot).starts + 60
