"""What comes between the start of a phase and its finish: it rests, goes on, is inspected, takes longer."""

import json
from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.entries import keep, keep_rest
from portal.acts.refusals import AlreadyFinished, NotStarted, NotStopped
from portal.acts.times import happened
from portal.planning.calendar.working_calendar import calendar_of
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import change_row, in_project, project_row
from portal.store.tables import Phase
from portal.words.dates import utc_text, when_words


@act("stop_phase")
def stop_phase(
    actor: Actor, project_id: int, phase_id: int, *, reason: str, now: int, resumes_at: int | None = None,
    at: int | None = None,
) -> Phase:
    """Work rests, since `at` or from now on, until `resumes_at` if that is known."""
    phase = _under_way(project_id, phase_id)
    if not reason.strip():
        raise FieldRefused("reason", "Say why the work rests; the page tells the household.")
    if resumes_at is not None and resumes_at <= now:
        raise FieldRefused("resumes_at", "Give a time in the future, or leave it empty if nobody knows.")
    since = _since(phase, at, now)
    values = {"state": "stopped", "stopped_at": since, "resumes_at": resumes_at, "stopped_reason": reason.strip()}
    return _change(actor, project_id, phase, "stopped", values, {"reason": reason.strip()}, now)


@act("resume_phase")
def resume_phase(
    actor: Actor, project_id: int, phase_id: int, *, now: int, remaining: int | None = None, at: int | None = None
) -> Phase:
    """Work goes on, since `at` or from now on, after a stop, or after an inspection that asked for more work:
    `remaining` minutes, if given."""
    phase = _started(project_id, phase_id)
    if phase.state not in ("stopped", "inspection"):
        raise NotStopped(phase=phase.name)
    values = {
        "state": "under_way", "stopped_at": None, "resumes_at": None, "inspection_at": None, "stopped_reason": "",
        "rested": phase.rested + _rested(project_id, phase, _since(phase, at, now)),
    }
    if remaining is not None:
        values["remaining"] = remaining
    return _change(actor, project_id, phase, "resumed", values, {}, now)


@act("await_inspection")
def await_inspection(
    actor: Actor, project_id: int, phase_id: int, *, now: int, expected_at: int | None = None, at: int | None = None
) -> Phase:
    """The work is over, since `at` or now, but the phase only counts as finished when the inspector has passed it:
    then finish it."""
    phase = _under_way(project_id, phase_id)
    since = _since(phase, at, now)
    values = {"state": "inspection", "inspection_at": expected_at, "stopped_at": since, "remaining": 0}
    body = {"expected_at": None if expected_at is None else utc_text(expected_at)}
    return _change(actor, project_id, phase, "inspection_awaited", values, body, now)


@act("change_remaining")
def change_remaining(actor: Actor, project_id: int, phase_id: int, *, remaining: int, seen: int, now: int) -> Phase:
    """How much crew time is left, in minutes, of a phase that is under way."""
    _under_way(project_id, phase_id)
    phase = change_row(Phase, phase_id, seen, {"remaining": remaining})
    keep_rest(actor, project_id, "plan_changed", {"changed": [phase.name]}, now)
    return phase


def _since(phase: Phase, at: int | None, now: int) -> int:
    """What is told late happened no earlier than what stood before it."""
    return max(happened(at, now), phase.stopped_at or phase.started_at or 0)


def _rested(project_id: int, phase: Phase, now: int) -> int:
    """Working minutes from the stop to `now`."""
    if phase.stopped_at is None:
        return 0
    project = project_row(project_id)
    calendar = calendar_of(json.dumps(project.calendar), project.timezone)
    return max(0, calendar.count(phase.stopped_at // 60, now // 60))


def _started(project_id: int, phase_id: int) -> Phase:
    phase = in_project(Phase, project_id, phase_id)
    if phase.started_at is None:
        raise NotStarted(phase=phase.name)
    if phase.finished_at is not None:
        when = when_words(phase.finished_at, project_row(project_id).timezone)
        raise AlreadyFinished(phase=phase.name, when=when)
    return phase


def _under_way(project_id: int, phase_id: int) -> Phase:
    phase = _started(project_id, phase_id)
    if phase.state != "under_way":
        raise FieldRefused("state", f"{phase.name} rests or waits for inspection. Resume it first.")
    return phase


def _change(
    actor: Actor, project_id: int, phase: Phase, kind: str, values: dict[str, Any], body: dict[str, Any], now: int
) -> Phase:
    changed = change_row(Phase, phase.id, phase.version, values)
    keep(actor, project_id, kind, {"phase": phase.id, "name": phase.name, **body}, now)
    return changed
