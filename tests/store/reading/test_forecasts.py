"""Forecasts: the same for the same state, kept once for each change."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from portal.planning.forecast.forecast import Forecast
from portal.store import tables
from portal.store.engine.database import write
from portal.store.reading.forecasts import Foreseen, foresee, keep
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at
from tests.household import CALENDAR


def _foresee(house: House, now: int = NOW) -> Foreseen:
    snapshot = read_snapshot(house.project)
    return foresee(snapshot, schedule_of(snapshot, now))


def _set(house: House, key: str, **values: object) -> None:
    with write():
        tables.Phase.update(values).where(tables.Phase.id == house.phases[key]).execute()


def test_a_kept_forecast_reads_back_as_it_was(house: House) -> None:
    made = _foresee(house)
    keep(made)
    again = _foresee(house)
    assert not made.kept and again.kept
    assert again.forecast == made.forecast


def test_it_does_not_waver_in_the_course_of_a_day(house: House) -> None:
    keep(_foresee(house))
    assert _foresee(house, NOW + 3 * 3600).forecast == _foresee(house).forecast


def test_what_no_plan_follows_from_changes_no_forecast(house: House) -> None:
    keep(_foresee(house))
    with write():
        tables.Update.create(project=house.project, at=NOW, text="Hello", html="<p>Hello</p>")
        tables.Project.update(changed=99, name="Another name").execute()
    assert _foresee(house).kept


def test_a_changed_plan_is_foreseen_anew_and_kept_beside_the_old(house: House) -> None:
    keep(_foresee(house))
    _set(house, "walk", work_high=6000)
    changed = _foresee(house)
    assert not changed.kept
    keep(changed)
    assert tables.Forecast.select().where(tables.Forecast.project == house.project).count() == 2
    assert _foresee(house).forecast == changed.forecast


def test_a_moved_visit_changes_the_state(house: House) -> None:
    keep(_foresee(house))
    with write():
        tables.Visit.update(starts_at=at("2026-12-15T08:00"), ends_at=at("2026-12-15T12:00")).where(
            tables.Visit.id == house.visits["sink"]
        ).execute()
    moved = _foresee(house).forecast
    assert moved is not None and moved.likely_on >= date(2026, 12, 15)


def test_a_change_that_moves_nothing_adds_no_row(house: House) -> None:
    keep(_foresee(house))
    _set(house, "walk", crew="Somebody else")
    changed = _foresee(house)
    assert not changed.kept
    keep(changed)
    assert tables.Forecast.select().count() == 1 and _foresee(house).kept


def test_keeping_it_does_not_mark_the_project_as_changed(house: House) -> None:
    before = read_snapshot(house.project).project.changed
    keep(_foresee(house))
    assert read_snapshot(house.project).project.changed == before


def test_without_work_left_there_is_none(house: House) -> None:
    assert _foresee(house).forecast is not None
    with write():
        tables.Phase.update(state="done", started_at=NOW, finished_at=NOW).execute()
    assert _foresee(house).forecast is None


def test_each_column_keeps_its_own_part_of_a_forecast(house: House) -> None:
    made = _foresee(house)
    found = made.forecast
    assert found is not None
    keep(made)
    (row,) = tables.Forecast.select()
    assert (row.project_id, row.state, row.made_at, row.futures) == (house.project, made.state, NOW, found.futures)
    assert (row.likely_by, row.safely_by) == (found.likely_by * 60, found.safely_by * 60)
    assert row.likely_by < row.safely_by
    assert (row.sure, row.promised_on, row.chance) == (found.sure, date(2026, 12, 18), found.chance)
    assert row.phases == [[one.phase, one.likely_by * 60, one.safely_by * 60, one.critical] for one in found.phases]
    assert dict(row.decisions) == found.decisions != {}
    assert dict(row.deliveries) == found.deliveries != {}


def test_a_kept_forecast_is_read_and_not_computed(house: House) -> None:
    keep(_foresee(house))
    walk, decision, delivery = house.phases["walk"], house.decisions[1], house.deliveries["faucet"]
    tables.Forecast.update(
        futures=11, chance=0.25, promised_on=date(2026, 12, 19), likely_by=at("2026-12-21T00:00"), made_at=NOW - 60,
        safely_by=at("2026-12-22T00:01"), phases=[[walk, 120, 180, 0.5]], decisions=[[decision, 0.125]],
        deliveries=[[delivery, 1]], sure=0.75,
    ).execute()  # fmt: skip
    found = _foresee(house).forecast
    assert isinstance(found, Forecast)
    assert replace(found, phases=()) == Forecast(
        made_at=NOW // 60 - 1, futures=11, likely_by=at("2026-12-21T00:00") // 60,
        safely_by=at("2026-12-22T00:01") // 60, likely_on=date(2026, 12, 20), safely_on=date(2026, 12, 22),
        sure=0.75, promised_on=date(2026, 12, 19), chance=0.25, phases=(), decisions={decision: 0.125},
        deliveries={delivery: 1},
    )  # fmt: skip
    assert [(one.phase, one.likely_by, one.safely_by, one.critical) for one in found.phases] == [(walk, 2, 3, 0.5)]


def test_without_a_promise_there_is_no_chance_of_keeping_it(house: House) -> None:
    tables.Project.update(promised_on=None).execute()
    keep(_foresee(house))
    again = _foresee(house)
    assert again.kept and again.forecast is not None
    assert (again.forecast.promised_on, again.forecast.chance) == (None, None)


def _update(table: Any, row: int, **values: Any) -> None:
    table.update(values).where(table.id == row).execute()


CHANGES = {
    "phase": lambda house: _set(house, "walk", work_high=6000),
    "decision": lambda house: _update(tables.Decision, house.decisions[1], lead_days=3),
    "delivery": lambda house: _update(tables.Delivery, house.deliveries["tile"], expected_high=date(2026, 12, 10)),
    "start": lambda house: _update(tables.Project, house.project, starts_on=date(2026, 11, 17)),
    "calendar": lambda house: _update(
        tables.Project, house.project, calendar=CALENDAR | {"days_off": ["2027-03-01"]}
    ),
    "timezone": lambda house: _update(tables.Project, house.project, timezone="America/Menominee"),
    "promise": lambda house: _update(tables.Project, house.project, promised_on=date(2026, 12, 19)),
    "no promise": lambda house: _update(tables.Project, house.project, promised_on=None),
    "visit": lambda house: _update(tables.Visit, house.visits["sink"], starts_at=at("2026-12-07T09:00")),
}


@pytest.mark.parametrize("change", CHANGES)
def test_all_that_a_forecast_follows_from_is_in_its_state(house: House, change: str) -> None:
    """Menominee has the clock of Chicago: even where nothing moves, the state is another."""
    before = _foresee(house)
    keep(before)
    CHANGES[change](house)
    after = _foresee(house)
    assert after.state != before.state and not after.kept


def test_another_day_is_another_state(house: House) -> None:
    states = {_foresee(house, at(text)).state for text in ("2026-12-02T00:00", "2026-12-02T23:59", "2026-12-03T00:00")}
    assert len(states) == 2


def test_another_projects_forecast_is_not_this_ones(house: House) -> None:
    keep(_foresee(house))
    row = tables.Forecast.get()
    tables.Forecast.update(project=house.other_project).execute()
    assert not _foresee(house).kept
    keep(_foresee(house))
    kept = tables.Forecast.select().where(tables.Forecast.project == house.project)
    assert [one.id for one in kept] != [row.id] and kept.count() == 1


def test_the_newest_that_is_kept_counts(house: House) -> None:
    """A plan that is changed and changed back: what was foreseen of it first is foreseen anew, and kept once more."""
    for hours in (50, 60, 50):
        _set(house, "walk", work_high=hours * 60)
        assert not _foresee(house).kept
        keep(_foresee(house))
    assert tables.Forecast.select().count() == 3


OTHERWISE = {
    "futures": 9_999, "likely_by": 60, "safely_by": 60, "promised_on": date(2026, 12, 17), "chance": 0.0625,
    "phases": [], "decisions": [], "deliveries": [],
}


@pytest.mark.parametrize("column", OTHERWISE)
def test_one_that_says_anything_else_is_kept_beside_the_newest(house: House, column: str) -> None:
    keep(_foresee(house))
    tables.Forecast.update({column: OTHERWISE[column], "state": "of another plan"}).execute()
    keep(_foresee(house))
    assert tables.Forecast.select().count() == 2


def test_one_that_says_the_same_later_holds_still(house: House) -> None:
    made = _foresee(house)
    keep(made)
    tables.Forecast.update(made_at=NOW - 60, state="of another plan").execute()
    old = tables.Forecast.get()
    keep(_foresee(house))
    (row,) = tables.Forecast.select()
    assert (row.id, row.made_at, row.state) == (old.id, NOW - 60, made.state)


def test_only_the_newest_is_said_to_hold_still(house: House) -> None:
    keep(_foresee(house))
    tables.Forecast.update(state="old", futures=9).execute()
    keep(_foresee(house))
    tables.Forecast.update(state="newer").where(tables.Forecast.state != "old").execute()
    keep(_foresee(house))
    assert [row.state for row in tables.Forecast.select().order_by(tables.Forecast.id)] == [
        "old", _foresee(house).state
    ]  # fmt: skip


def test_what_is_kept_already_is_not_kept_again(house: House) -> None:
    made = _foresee(house)
    keep(replace(made, kept=True))
    assert tables.Forecast.select().count() == 0
    keep(replace(made, forecast=None))
    assert tables.Forecast.select().count() == 0


def test_of_futures_that_take_lifetimes_there_is_no_forecast(house: House) -> None:
    """The plan itself can be computed: it is the longest of its futures that can't."""
    _set(house, "walk", work_high=60 * 2_080 * 60 * 5)
    assert _foresee(house) == Foreseen(house.project, "", None, True)


def test_of_a_plan_without_phases_there_is_none(house: House) -> None:
    assert _foresee(replace(house, project=house.other_project)) == Foreseen(house.other_project, "", None, True)


def test_a_forecast_from_before_it_was_asked_how_sure_the_day_is_is_made_anew(house: House) -> None:
    keep(_foresee(house))
    tables.Forecast.update(sure=None).execute()
    found = _foresee(house)
    assert not found.kept and found.forecast is not None and found.forecast.sure > 0.5


def test_where_the_day_of_the_plan_moves_on_by_the_clock_the_forecast_is_made_anew(house: House) -> None:
    """How sure a day is stands beside the day that it is of: one phase of three hours that nobody begins, at noon still
    done on the same day and at two o'clock on the next."""
    alone = house.phases["walk"]
    with write():
        tables.Phase.update(state="done", started_at=NOW, finished_at=NOW).where(tables.Phase.id != alone).execute()
        tables.Visit.delete().execute()
        tables.Phase.update(work_low=180, work_likely=180, work_high=180).where(tables.Phase.id == alone).execute()
    keep(_foresee(house, at("2026-12-02T10:00")))
    assert _foresee(house, at("2026-12-02T12:00")).kept
    later = _foresee(house, at("2026-12-02T14:00"))
    assert not later.kept and later.forecast is not None and later.forecast.sure == 1.0
