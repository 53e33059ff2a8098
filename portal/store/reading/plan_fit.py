"""How well plans and forecasts fitted: finished phases against their times, kept forecasts against what happened."""

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping

from portal.planning.calendar.working_calendar import WorkCalendar, calendar_of
from portal.planning.forecast.plan_against_actual import FinishedPhase, actual_work
from portal.planning.forecast.track_record import KeptForecast, Outcome, outcomes
from portal.store.reading.before_entries import all_said, seconds_of
from portal.store.reading.finish.told_causes import UNDOES
from portal.store.tables import Forecast, Phase, Project


def finished_phases(titles: Mapping[str, str]) -> list[FinishedPhase]:
    """In the order in which they were finished. `titles`: what a phase of a plan to start from is called, by its key
    (`bath.tile`); others go by their own name."""
    calendars = {
        row.id: calendar_of(json.dumps(row.calendar), row.timezone)
        for row in Project.select(Project.id, Project.calendar, Project.timezone)
    }
    done = Phase.select().where(Phase.finished_at.is_null(False) & Phase.started_at.is_null(False))
    return [_finished(row, calendars[row.project_id], titles) for row in done.order_by(Phase.finished_at, Phase.id)]


def forecast_outcomes() -> tuple[list[Outcome], list[Outcome]]:
    """Of finished phases, and of finished projects. What was foreseen while a mistake stood that was taken back is no
    forecast of ours."""
    mistakes = _mistakes()
    ends: dict[int, dict[int | None, int]] = defaultdict(dict)
    unfinished = set()
    for row in Phase.select(Phase.id, Phase.project, Phase.finished_at):
        if row.finished_at is None:
            unfinished.add(row.project_id)
        else:
            ends[row.project_id][row.id] = row.finished_at // 60
    found: list[Outcome] = []
    for project, finished in ends.items():
        if project not in unfinished:
            finished[None] = max(finished.values())
        made = Forecast.select().where(Forecast.project == project).order_by(Forecast.id)
        right = [row for row in made if not any(begun <= row.made_at < mended for begun, mended in mistakes[project])]
        found += outcomes(_kept(right), finished)
    return [one for one in found if one.kept.phase is not None], [one for one in found if one.kept.phase is None]


def _mistakes() -> defaultdict[int, list[tuple[int, int]]]:
    """By project: from when to when something stood that was taken back then."""
    found: defaultdict[int, list[tuple[int, int]]] = defaultdict(list)
    for said in all_said(UNDOES):
        if "since" in said.body:
            found[said.project].append((seconds_of(said.body["since"]), said.at))
    return found


def _finished(row: Phase, calendar: WorkCalendar, titles: Mapping[str, str]) -> FinishedPhase:
    """Work that rested, or was waiting for its inspection, when it was said to be finished had ended before."""
    assert row.started_at is not None and row.finished_at is not None
    end = row.finished_at if row.stopped_at is None else min(row.finished_at, row.stopped_at)
    actual = actual_work(calendar, row.started_at // 60, end // 60) - row.rested
    name = titles.get(row.starter, row.name)
    return FinishedPhase(name, row.work_low, row.work_likely, row.work_high, max(0, actual))


def _kept(rows: Iterable[Forecast]) -> list[KeptForecast]:
    kept = []
    for row in rows:
        made = row.made_at // 60
        kept.append(KeptForecast(made, None, row.likely_by // 60, row.safely_by // 60))
        kept += [KeptForecast(made, phase, likely // 60, safely // 60) for phase, likely, safely, _ in row.phases]
    return kept
