"""Forecasts: computed once for each state of a plan, kept, read back, and in the end compared with what happened.

The same state of a project on the same day has the same forecast, so the page does not waver while nothing changes.
"""

import json
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Any, NamedTuple

from portal.planning.calendar.week import CalendarError
from portal.planning.forecast.forecast import Forecast, PhaseForecast, finish_day, forecast
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Plan
from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_date, first_row
from portal.store.facts import Snapshot

_COLUMNS = "made_at, futures, likely_by, safely_by, sure, promised_on, chance, phases, decisions, deliveries"
_NEWEST = f"SELECT id, state, {_COLUMNS} FROM forecast WHERE project_id = ? ORDER BY id DESC LIMIT 1"
_KEEP = f"INSERT INTO forecast (project_id, state, {_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
_HOLDS_STILL = "UPDATE forecast SET state = ? WHERE id = ?"


@dataclass(frozen=True, slots=True)
class Foreseen:
    """`forecast` is None when no work is left, or when some of its futures take longer than can be computed. `state` is
    the digest of all that it follows from; `kept`: it is the newest one that is kept."""

    project: int
    state: str
    forecast: Forecast | None
    kept: bool


def foresee(snapshot: Snapshot, pure: Schedule) -> Foreseen:
    """The forecast of the plan as booked: the kept one of the same state, else a new one. Nothing is written."""
    project = snapshot.project.id
    if all(phase.finished_at is not None for phase in snapshot.phases):
        return Foreseen(project, "", None, True)
    booked = as_booked(pure)
    state = _state(snapshot, booked)
    newest = _newest(project)
    if newest and newest.state == state and newest.sure is not None:
        return Foreseen(project, state, _read(newest, booked.plan), True)
    try:
        found = forecast(booked.plan, booked.now, snapshot.project.promised_on)
    except (CalendarError, OverflowError):  # some of its futures take lifetimes; the page must come out all the same
        return Foreseen(project, "", None, True)
    return Foreseen(project, state, found, False)


def keep(foreseen: Foreseen) -> None:
    """Keep a new forecast. One that says what the newest says is no other: only the state it holds for is noted."""
    found = foreseen.forecast
    if found is None or foreseen.kept:
        return
    with write():
        newest, columns = _newest(foreseen.project), _columns(found)
        if newest and _same(newest, columns):
            execute(_HOLDS_STILL, foreseen.state, newest.id)
        else:
            execute(_KEEP, foreseen.project, foreseen.state, *columns)


class _Row(NamedTuple):
    id: int
    state: str
    made_at: int
    futures: int
    likely_by: int
    safely_by: int
    sure: float | None  # None: kept before 0.5.0, which did not ask for it
    promised_on: date | None
    chance: float | None
    phases: Any
    decisions: Any
    deliveries: Any


def _newest(project_id: int) -> _Row | None:
    row = first_row(_NEWEST, project_id, promised_on=as_date)
    return _Row(**row) if row else None


def _state(snapshot: Snapshot, booked: Schedule) -> str:
    """Visits are in it as the starts that they give to their phases. `now` is in it as the day, and as
    the day on which the plan is done, which may move on in the course of a day."""
    plan, project = booked.plan, snapshot.project
    today = plan.calendar.day_of(booked.now)
    parts = (
        plan.phases, plan.decisions, plan.deliveries, plan.starts, plan.resumes_at, project.calendar, project.timezone,
        project.promised_on, today, finish_day(plan, booked.finish),
    )
    return sha256(repr(parts).encode()).hexdigest()


def _columns(found: Forecast) -> tuple[Any, ...]:
    phases = [[one.phase, one.likely_by * 60, one.safely_by * 60, one.critical] for one in found.phases]
    shares = [list(map(list, of.items())) for of in (found.decisions, found.deliveries)]
    return (
        found.made_at * 60, found.futures, found.likely_by * 60, found.safely_by * 60, found.sure,
        found.promised_on, found.chance,
        json.dumps(phases), *(json.dumps(share) for share in shares),
    )


def _same(newest: _Row, columns: tuple[Any, ...]) -> bool:
    """All but when it was made."""
    kept = (
        newest.futures, newest.likely_by, newest.safely_by, newest.sure, newest.promised_on, newest.chance,
        _text(newest.phases), _text(newest.decisions), _text(newest.deliveries),
    )  # fmt: skip
    return kept == columns[1:]


def _read(row: _Row, plan: Plan) -> Forecast:
    phases, decisions, deliveries = (json.loads(_text(one)) for one in (row.phases, row.decisions, row.deliveries))
    likely, safely = row.likely_by // 60, row.safely_by // 60
    return Forecast(
        row.made_at // 60, row.futures, likely, safely, finish_day(plan, likely), finish_day(plan, safely),
        row.sure or 0.0, row.promised_on, row.chance,
        tuple(PhaseForecast(phase, low // 60, high // 60, share) for phase, low, high, share in phases),
        dict(decisions), dict(deliveries),
    )


def _text(value: Any) -> str:
    """JSON as it was kept: SQLite gives back the text, PostgreSQL what it means."""
    return value if isinstance(value, str) else json.dumps(value)
