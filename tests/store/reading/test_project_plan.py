"""The plan that planning computes with is the project as it is kept."""

from datetime import date

import pytest

from portal.store import tables
from portal.store.reading.project_plan import plan_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at


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
