"""Starting and finishing phases, and the hold: work that may not start until its decisions are approved."""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.refusals import (
    AlreadyFinished,
    AlreadyStarted,
    Held,
    NotAsked,
    NotHeld,
    NotStarted,
    OnlyPlanned,
    OutOfTurn,
)
from portal.acts.written import reason_given
from portal.planning.conflicts.out_of_turn import StillOpen
from portal.store.reading.out_of_turn import TO_FINISH, TO_START, as_entry, still_open
from portal.store.refusals import FieldRefused
from portal.store.rows import plan_rows, planned_rows
from portal.store.rows.editable import add_row, change_row, in_project, project_row
from portal.store.tables import Decision, Phase, PlannedQuestion, Release
from portal.words.dates import utc_text, when_words
from portal.words.lists import quoted


@act("start_phase")
def start_phase(
    actor: Actor, project_id: int, phase_id: int, *, now: int, at: int | None = None, seen: int | None = None,
    asks: bool = False,
) -> Phase:
    """The phase has started, `at` or now. Raises Held while one of its decisions is not approved or released, NotAsked
    while only the plan's own questions are in the way; both name everything that is.

    `asks`: whoever says so has not been asked yet. Then OutOfTurn is raised while what comes before it is open; else
    the entry says what was.
    """
    phase = in_project(Phase, project_id, phase_id)
    if phase.started_at is not None:
        raise AlreadyStarted(phase=phase.name, when=_when(project_id, phase.started_at))
    _refuse_held(phase)
    started = _not_later(at, now, "at")
    found = _asked(still_open(TO_START, project_id, phase_id, started), phase, asks)
    phase = change_row(Phase, phase_id, seen or phase.version, {"state": "under_way", "started_at": started})
    _keep(actor, project_id, "started", phase, started, now, found)
    return phase


@act("finish_phase")
def finish_phase(
    actor: Actor, project_id: int, phase_id: int, *, now: int, at: int | None = None, seen: int | None = None,
    asks: bool = False,
) -> Phase:
    """`asks`: OutOfTurn is raised where its hours have hardly passed, or nobody works on that day."""
    phase = in_project(Phase, project_id, phase_id)
    if phase.started_at is None:
        raise NotStarted(phase=phase.name)
    if phase.finished_at is not None:
        raise AlreadyFinished(phase=phase.name, when=_when(project_id, phase.finished_at))
    finished = _not_later(at, now, "at")
    if finished < phase.started_at:
        raise FieldRefused("at", f"It can’t finish before it started, on {_when(project_id, phase.started_at)}.")
    found = _asked(still_open(TO_FINISH, project_id, phase_id, finished), phase, asks)
    values = {"state": "done", "finished_at": finished, "remaining": None}
    phase = change_row(Phase, phase_id, seen or phase.version, values)
    _keep(actor, project_id, "finished", phase, finished, now, found)
    return phase


@act("release_phase")
def release_phase(actor: Actor, project_id: int, phase_id: int, *, reason: str, now: int) -> list[Release]:
    """Let a held phase start without its approvals. The reason goes on the record and on the page."""
    phase = in_project(Phase, project_id, phase_id)
    reason = reason_given("reason", reason, "Say why the phase may start without an approval; it goes on the record.")
    holding = plan_rows.decisions_holding(phase_id)
    if not holding:
        planned = planned_rows.holding(project_id, phase_id)
        raise OnlyPlanned(phase=phase.name, **_told(planned)) if planned else NotHeld(phase=phase.name)
    releases = [
        add_row(Release, phase=phase, decision=decision, reason=reason, staff=actor.id, at=now)
        for decision in holding
    ]
    body = {"phase": phase.id, "name": phase.name, "reason": reason, "decisions": [d.number for d in holding]}
    keep(actor, project_id, "released", body, now)
    return releases


def _refuse_held(phase: Phase) -> None:
    """Everything in the way at once: whoever mends the one must not learn of the next by another refusal."""
    holding = plan_rows.decisions_holding(phase.id)
    planned = planned_rows.holding(phase.project_id, phase.id)
    if holding:
        raise Held(
            phase=phase.name, until=_missing(holding, planned), decision_ids=[decision.id for decision in holding],
            decisions=[{"id": d.id, "number": d.number, "state": d.state, "revision": d.revision} for d in holding],
            **_told(planned),
        )
    if planned:
        raise NotAsked(phase=phase.name, question=planned[0].question, **_told(planned))


def _missing(holding: list[Decision], planned: list[PlannedQuestion]) -> str:
    words = [
        f"decision {one.number} is {'asked again and ' if one.state == 'withdrawn' else ''}approved" for one in holding
    ]
    words += [f"“{one.question}” is asked, as the plan wants, or dropped" for one in planned]
    return " and ".join(words)


def _told(planned: list[PlannedQuestion]) -> dict[str, Any]:
    listed = [{"id": one.id, "question": one.question} for one in planned]
    return {"planned": listed, "questions": quoted(one.question for one in planned)}


def _not_later(at: int | None, now: int, field: str) -> int:
    if at is not None and at > now + 60:
        raise FieldRefused(field, "This lies in the future. Give the time when it really happened, or leave it empty.")
    return now if at is None else at


def _when(project_id: int, at: int) -> str:
    return when_words(at, project_row(project_id).timezone)


def _asked(found: tuple[StillOpen, ...], phase: Phase, asks: bool) -> dict[str, Any]:
    """What the entry says was open. Raises OutOfTurn where that must be asked first."""
    if found and asks:
        raise OutOfTurn(phase=phase.name, open=found)
    return as_entry(found)


def _keep(
    actor: Actor, project_id: int, kind: str, phase: Phase, at: int, now: int, found: dict[str, Any]
) -> None:
    keep(actor, project_id, kind, {"phase": phase.id, "name": phase.name, "at": utc_text(at), **found}, now)
