"""Taking back what was said of a phase by mistake: that it started, that it rests or waits for an inspection, that it
is finished, that it may start without an approval. The record keeps both entries; all that follows from the phase
stands as if the mistake had not been. What was said last is taken back first.
"""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.refusals import (
    FinishFirst,
    HandedOver,
    NeverFinished,
    NeverReleased,
    NeverStarted,
    NeverStopped,
    RestFirst,
    StartFirst,
)
from portal.acts.telling import tell_opened_again
from portal.acts.written import reason_given
from portal.store.reading.before_entries import Said, columns_before, newest_said
from portal.store.rows import decision_rows, handover_rows, notice_rows, plan_rows
from portal.store.rows.editable import add_row, change_row, in_project, project_row
from portal.store.tables import Phase, Release, ReleaseTakenBack
from portal.words.dates import utc_text, when_words

STOPPED, INSPECTION = "stopped", "inspection"
_AT_REST = {"inspection_at": None, "stopped_at": None, "resumes_at": None, "stopped_reason": ""}


@act("take_back_start")
def take_back_start(
    actor: Actor, project_id: int, phase_id: int, *, reason: str, now: int, seen: int | None = None
) -> Phase:
    """It did not start. Rests that are over go with it. Raises NeverStarted, FinishFirst, RestFirst."""
    phase = in_project(Phase, project_id, phase_id)
    reason = _reason(reason)
    if phase.started_at is None:
        raise NeverStarted(phase=phase.name)
    if phase.finished_at is not None:
        raise FinishFirst(phase=phase.name, when=_when(project_id, phase.finished_at))
    if phase.state in (STOPPED, INSPECTION):
        raise RestFirst(phase=phase.name, how="rests" if phase.state == STOPPED else "waits for its inspection")
    said = newest_said(project_id, "started", "phase", phase_id)
    closed = [one for one in plan_rows.held_by(phase_id) if plan_rows.begun_with(one)]
    values = {"state": "waiting", "started_at": None, "rested": 0, **_AT_REST, "remaining": None}
    before = _before(project_id, phase, said, "remaining")
    changed = change_row(Phase, phase_id, seen or phase.version, values | before)
    _keep(actor, project_id, "start_taken_back", phase, {"reason": reason, **_about(phase.started_at, said)}, now)
    _open_again(project_id, phase, closed, said, now)
    return changed


@act("take_back_stop")
def take_back_stop(
    actor: Actor, project_id: int, phase_id: int, *, reason: str, now: int, seen: int | None = None
) -> Phase:
    """It does not rest, or waits for no inspection: whichever stands. Raises NeverStopped."""
    phase = in_project(Phase, project_id, phase_id)
    reason = _reason(reason)
    if phase.state not in (STOPPED, INSPECTION) or phase.stopped_at is None:
        raise NeverStopped(phase=phase.name)
    rests = phase.state == STOPPED
    said = newest_said(project_id, "stopped" if rests else "inspection_awaited", "phase", phase_id)
    values = {"state": "under_way", **_AT_REST}
    if not rests:
        values |= {"remaining": None} | _before(project_id, phase, said, "remaining")
    changed = change_row(Phase, phase_id, seen or phase.version, values)
    kind = "stop_taken_back" if rests else "inspection_taken_back"
    _keep(actor, project_id, kind, phase, {"reason": reason, **_about(phase.stopped_at, said)}, now)
    return changed


@act("take_back_finish")
def take_back_finish(
    actor: Actor, project_id: int, phase_id: int, *, reason: str, now: int, seen: int | None = None
) -> Phase:
    """It is not finished: it goes on as before. What follows it and has begun stays begun. Raises NeverFinished, and
    HandedOver once it was offered for hand-over."""
    phase = in_project(Phase, project_id, phase_id)
    reason = _reason(reason)
    if phase.finished_at is None:
        raise NeverFinished(phase=phase.name)
    if handover_rows.offered(project_id, phase_id) or handover_rows.offered(project_id, None):
        raise HandedOver(phase=phase.name)
    said = newest_said(project_id, "finished", "phase", phase_id)
    values = {"state": _state_without_a_finish(phase), "finished_at": None, "remaining": None}
    before = _before(project_id, phase, said, "state", "remaining")
    changed = change_row(Phase, phase_id, seen or phase.version, values | before)
    _keep(actor, project_id, "finish_taken_back", phase, {"reason": reason, **_about(phase.finished_at, said)}, now)
    return changed


@act("take_back_release")
def take_back_release(
    actor: Actor, project_id: int, phase_id: int, *, reason: str, now: int
) -> list[Release]:
    """Released by mistake: what is not approved holds it again. The newest release that stands is taken back. Raises
    NeverReleased, and StartFirst where the phase has started on it."""
    phase = in_project(Phase, project_id, phase_id)
    reason = _reason(reason)
    releases = plan_rows.newest_releases(phase_id)
    if not releases:
        raise NeverReleased(phase=phase.name)
    if phase.started_at is not None:
        raise StartFirst(phase=phase.name, when=_when(project_id, phase.started_at))
    for one in releases:
        add_row(ReleaseTakenBack, release=one, reason=reason, staff=actor.id, at=now)
    said = newest_said(project_id, "released", "phase", phase_id)
    numbers = [one.decision.number for one in releases]
    body = {"reason": reason, "decisions": numbers, **_about(releases[0].at, said)}
    _keep(actor, project_id, "release_taken_back", phase, body, now)
    return releases


def _reason(text: str) -> str:
    return reason_given("reason", text, "Say how the mistake came about; it goes on the record.")


def _before(project_id: int, phase: Phase, said: Said | None, *columns: str) -> dict[str, Any]:
    return {} if said is None else columns_before(project_id, Phase, phase.id, said.sequence, columns)


def _state_without_a_finish(phase: Phase) -> str:
    """Where the record does not tell it: it was finished before the record told rows."""
    if phase.stopped_at is None:
        return "under_way"
    return STOPPED if phase.stopped_reason or phase.resumes_at else INSPECTION


def _about(happened: int, said: Said | None) -> dict[str, Any]:
    """What is taken back: when it was said to have happened; the number of its entry, and when that was made."""
    known = {} if said is None else {"entry": said.sequence, "since": said.written}
    return {"at": utc_text(happened), **known}


def _open_again(project_id: int, phase: Phase, closed: list[int], said: Said | None, now: int) -> None:
    """Questions that the start had closed: what was kept back since goes out after all, and whoever had been asked
    reads that they are open again."""
    since = now if said is None else said.at
    for decision in map(decision_rows.one, closed):
        notice_rows.wake(project_id, decision.id, decision.revision, since, now)
        tell_opened_again(project_id, decision, phase.name, since, now)


def _when(project_id: int, at: int) -> str:
    return when_words(at, project_row(project_id).timezone)


def _keep(actor: Actor, project_id: int, kind: str, phase: Phase, body: dict[str, Any], now: int) -> None:
    keep(actor, project_id, kind, {"phase": phase.id, "name": phase.name, **body}, now)
