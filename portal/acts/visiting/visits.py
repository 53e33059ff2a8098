"""Booked appointments at the house."""

from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep
from portal.acts.telling import tell_cancelled, tell_moved
from portal.acts.times import existing_local
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import add_row, change_row, in_project, project_row
from portal.store.tables import Phase, Visit
from portal.words.dates import utc_text

_PLAIN = ("crew", "purpose", "phase")


@act("book_visit")
def book_visit(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> Visit:
    """`values`: starts_at and ends_at as datetimes (without offset: the project's wall clock), crew, purpose, phase."""
    columns = _columns(project_id, values, None)
    visit = add_row(Visit, project=project_id, changed_at=now, **columns)
    keep(actor, project_id, "visit_booked", _body(visit), now)
    return visit


@act("change_visit")
def change_visit(
    actor: Actor, project_id: int, visit_id: int, seen: int, values: dict[str, Any], now: int
) -> Visit:
    before = in_project(Visit, project_id, visit_id)
    _refuse_cancelled(before)
    visit = change_row(Visit, visit_id, seen, _columns(project_id, values, before) | {"changed_at": now})
    if (visit.starts_at, visit.ends_at) != (before.starts_at, before.ends_at):
        body = _body(visit) | {"before": {"starts_at": utc_text(before.starts_at), "ends_at": utc_text(before.ends_at)}}
        keep(actor, project_id, "visit_moved", body, now)
        tell_moved(project_id, visit, before, now)
    return visit


@act("cancel_visit")
def cancel_visit(actor: Actor, project_id: int, visit_id: int, seen: int, *, because: str, now: int) -> Visit:
    visit = in_project(Visit, project_id, visit_id)
    _refuse_cancelled(visit)
    cancelled = {"cancelled_at": now, "cancelled_because": because, "changed_at": now}
    visit = change_row(Visit, visit_id, seen, cancelled)
    keep(actor, project_id, "visit_cancelled", _body(visit) | {"because": because}, now)
    tell_cancelled(project_id, visit, because, now)
    return visit


def _columns(project_id: int, values: dict[str, Any], before: Visit | None) -> dict[str, Any]:
    zone = project_row(project_id).timezone
    columns = known_values(values, *_PLAIN)
    if columns.get("phase") is not None:
        in_project(Phase, project_id, columns["phase"], field="phase")
    for name in ("starts_at", "ends_at"):
        if name in values:
            columns[name] = existing_local(values[name], zone, name)
    starts = columns.get("starts_at", before and before.starts_at)
    ends = columns.get("ends_at", before and before.ends_at)
    if starts is not None and ends is not None and ends <= starts:
        raise FieldRefused("ends_at", "The visit must end after it starts.")
    return columns


def _refuse_cancelled(visit: Visit) -> None:
    if visit.cancelled_at is not None:
        raise FieldRefused("id", "This visit was cancelled. Book a new one instead.")


def _body(visit: Visit) -> dict[str, Any]:
    return {
        "visit": visit.id, "crew": visit.crew, "purpose": visit.purpose,
        "starts_at": utc_text(visit.starts_at), "ends_at": utc_text(visit.ends_at),
    }
