"""Forecasts: the same for the same state, kept once for each change."""

from datetime import date

from portal.store import tables
from portal.store.engine.database import write
from portal.store.reading.forecasts import Foreseen, foresee, keep
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at


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
