"""Finished phases against the times of their plan, kept forecasts against what happened: over all of the firm's
projects."""

from collections.abc import Sequence
from typing import Any

import pytest

from portal.acts.plan.starting import start_phase
from portal.acts.plan.taking_back import take_back_start
from portal.planning.forecast.plan_against_actual import FinishedPhase
from portal.planning.forecast.track_record import KeptForecast, Outcome
from portal.store import tables
from portal.store.reading.plan_fit import finished_phases, forecast_outcomes
from tests.house import NOW, House, at

HOUR = 60
WEEK = 7 * 24 * 3600
EIGHT = at("2026-11-30T08:00")  # a Monday


@pytest.fixture
def only(house: House) -> House:
    """The house without anything that is finished, so that what a test finishes is all there is."""
    tables.Phase.update(finished_at=None).execute()
    return house


def add(project: int, name: str, started: int | None, finished: int | None, **values: Any) -> int:
    known = {"work_low": 61, "work_likely": 122, "work_high": 183}
    row = tables.Phase.create(project=project, name=name, started_at=started, finished_at=finished, **known | values)
    return int(row.id)


def actual(project: int, finished: int, **values: Any) -> int:
    """Work minutes that are counted of a phase that was started on Monday at 8 am."""
    add(project, "Sweep", EIGHT, finished, **values)
    (one,) = finished_phases({})
    return one.actual


def test_what_was_finished_comes_with_its_plan_in_the_order_in_which_it_was_finished(house: House) -> None:
    add(house.other_project, "Demolish", EIGHT, at("2026-11-30T10:30"))
    add(house.other_project, "Under way", EIGHT, None)
    found = finished_phases({})
    assert [one.name for one in found] == [
        "Take out the old kitchen", "Rough plumbing and wiring", "Inspection of the rough work", "Demolish",
        "Lay the floor tile",
    ]  # fmt: skip
    assert found[0] == FinishedPhase("Take out the old kitchen", 12 * HOUR, 16 * HOUR, 20 * HOUR, 17 * HOUR)
    assert found[3] == FinishedPhase("Demolish", 61, 122, 183, 150)


def test_of_those_finished_at_once_the_older_one_comes_first(only: House) -> None:
    for name in ("Z", "A"):
        add(only.other_project, name, EIGHT, NOW)
    assert [one.name for one in finished_phases({})] == ["Z", "A"]


def test_what_was_never_started_says_nothing(only: House) -> None:
    add(only.project, "Imported as done", None, NOW)
    assert finished_phases({}) == []


def test_a_phase_of_a_plan_to_start_from_goes_by_the_name_that_it_has_there(only: House) -> None:
    for name, key in (("Our tile", "bath.tile"), ("Our rest", "bath.gone"), ("Our own", "")):
        add(only.project, name, EIGHT, NOW, starter=key)
    titles = {"bath.tile": "Set the floor tile"}
    assert [one.name for one in finished_phases(titles)] == ["Set the floor tile", "Our rest", "Our own"]


def test_nights_are_not_counted(only: House) -> None:
    assert actual(only.project, at("2026-12-01T09:00") + 59) == 8 * HOUR + 30 + HOUR


def test_each_projects_own_hours_count(only: House) -> None:
    tables.Project.update(calendar={"week": {"mon": [["09:00", "10:00"]]}}, timezone="America/Denver").where(
        tables.Project.id == only.other_project
    ).execute()
    add(only.other_project, "Short days", EIGHT, at("2026-11-30T10:45"))
    add(only.project, "Long days", EIGHT, at("2026-11-30T10:45"))
    assert [one.actual for one in finished_phases({})] == [45, 165]


@pytest.mark.parametrize(
    ("values", "minutes"),
    [
        ({}, 240), ({"rested": 30}, 210), ({"rested": 500}, 0), ({"stopped_at": at("2026-11-30T10:00")}, 120),
        ({"stopped_at": at("2026-11-30T10:00"), "rested": 15}, 105), ({"stopped_at": at("2026-11-30T13:00")}, 240),
    ],
    ids=["without rest", "rested", "rested for longer", "was resting", "was resting again", "stopped after it"],
)
def test_rests_are_no_work(only: House, values: dict[str, int], minutes: int) -> None:
    assert actual(only.project, at("2026-11-30T12:00"), **values) == minutes


def keep(project: int, made_at: int, likely: int, safely: int, phases: Sequence[tuple[int, int, int]] = ()) -> None:
    tables.Forecast.create(
        project=project, state="", made_at=made_at, futures=10, likely_by=likely, safely_by=safely,
        phases=[[phase, low, high, 0.5] for phase, low, high in phases],
    )  # fmt: skip


def test_without_forecasts_or_finishes_there_is_nothing_to_compare(house: House) -> None:
    assert forecast_outcomes() == ([], [])
    keep(house.other_project, NOW, NOW, NOW)
    assert forecast_outcomes() == ([], [])


def test_a_finished_phase_is_held_against_what_was_foreseen_of_it(house: House) -> None:
    out, rough, end = house.phases["out"], house.phases["rough"], at("2026-11-17T16:30")
    made, likely, safely = end - WEEK - 60, end - 3600, end + 7200
    keep(house.project, made, NOW, NOW + 60, [(out, likely, safely), (house.phases["top"], likely, safely)])
    keep(house.project, end - WEEK + 60, NOW, NOW, [(out, NOW, NOW)])
    phases, projects = forecast_outcomes()
    assert phases == [Outcome(KeptForecast(made // 60, out, likely // 60, safely // 60), end // 60)]
    assert projects == [], "the house is not finished"
    assert rough not in [one.kept.phase for one in phases], "nothing was foreseen of it"


def test_a_project_is_finished_with_its_last_phase(house: House) -> None:
    other, end = house.other_project, NOW + 5 * WEEK
    add(other, "Second", EIGHT, end)
    add(other, "First", EIGHT, end - WEEK)
    keep(other, end - 2 * WEEK, end - 3600, end + 3600)
    keep(house.project, end - 2 * WEEK, end, end)
    kept = KeptForecast((end - 2 * WEEK) // 60, None, (end - 3600) // 60, (end + 3600) // 60)
    assert forecast_outcomes() == ([], [Outcome(kept, end // 60)])


def test_one_phase_that_is_left_keeps_a_project_from_being_finished(house: House) -> None:
    other, end = house.other_project, NOW + 5 * WEEK
    done = add(other, "First", EIGHT, end)
    add(other, "Left", EIGHT, None)
    keep(other, end - 2 * WEEK, end, end, [(done, end, end)])
    phases, projects = forecast_outcomes()
    assert [one.kept.phase for one in phases] == [done] and projects == []


def test_the_last_forecast_that_was_made_in_time_counts_for_each_of_them(house: House) -> None:
    other, end = house.other_project, NOW + 5 * WEEK
    first, second = add(other, "First", EIGHT, end), add(other, "Second", EIGHT, end + 60)
    for weeks in (3, 2, 1):
        keep(other, end - weeks * WEEK, end, end, [(first, end, end + weeks), (second, end, end + 60 * weeks)])
    keep(other, end - WEEK + 60, end, end, [(second, end, end + 60 * 9)])
    phases, (whole,) = forecast_outcomes()
    assert {one.kept.phase: one.kept.made_at for one in phases} == {
        first: (end - WEEK) // 60, second: (end - WEEK + 60) // 60
    }
    assert [one.kept.safely_by - end // 60 for one in phases if one.kept.phase == second] == [9]
    assert (whole.kept.made_at, whole.finished) == ((end - WEEK + 60) // 60, (end + 60) // 60)


def test_a_forecast_of_another_project_says_nothing_of_this_ones_phases(house: House) -> None:
    end = at("2026-11-17T16:30")
    keep(house.other_project, end - 2 * WEEK, NOW, NOW, [(house.phases["out"], end, end)])
    add(house.other_project, "Left", EIGHT, None)
    assert forecast_outcomes() == ([], [])


def test_what_was_foreseen_while_a_mistake_stood_is_not_held_against_us(house: House) -> None:
    before, slip, mended = NOW - 60, NOW, NOW + 3 * 24 * 3600
    ids = (house.manager, house.project, house.phases["floor_grout"])
    start_phase(*ids, now=slip)
    take_back_start(*ids, reason="The wrong row", now=mended)
    end = NOW + 3 * WEEK
    tables.Phase.update(started_at=end - 3600, finished_at=end).where(tables.Phase.id == ids[2]).execute()
    for made_at, likely in ((before, 1), (slip + 60, 2), (mended - 60, 3)):
        keep(house.project, made_at, end, end, [(ids[2], end + 60 * likely, end + 600)])
    phases, _ = forecast_outcomes()
    assert [one.late for one in phases if one.kept.phase == ids[2]] == [-1]
    keep(house.project, mended, end, end, [(ids[2], end + 60 * 4, end + 600)])
    phases, _ = forecast_outcomes()
    assert [one.late for one in phases if one.kept.phase == ids[2]] == [-4]
