"""Booked appointments at the house."""

from typing import Any

from portal.acts.actor import Actor, act, known_values
from portal.acts.entries import keep, keep_rest
from portal.acts.telling import tell_cancelled, tell_moved
from portal.acts.times import existing_local
from portal.acts.written import reason_given
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import add_row, change_row, in_project, project_row
from portal.store.tables import Phase, Visit
from portal.words.dates import utc_text

_PLAIN = ("crew", "purpose", "phase")


@act("book_visit")
def book_visit(actor: Actor, project_id: int, values: dict[str, Any], now: int) -> Visit:
    """`values`: starts_at and ends_at as datetimes (without offset: the project's wall clock), crew, purpose, phase;
    and `were_here`, which must be true of a time that is over: a visit is booked ahead, or was made."""
    columns = _columns(project_id, values, None)
    _refuse_past(columns, values, now)
    visit = add_row(Visit, project=project_id, changed_at=now, **columns)
    keep(actor, project_id, "visit_booked", _body(visit), now)
    return visit


@act("change_visit")
def change_visit(
    actor: Actor, project_id: int, visit_id: int, seen: int, values: dict[str, Any], now: int
) -> Visit:
    """`values` as those of `book_visit`, and `reason`, which must say why where it is moved."""
    before = in_project(Visit, project_id, visit_id)
    _refuse_cancelled(before)
    columns = _columns(project_id, values, before) | {"changed_at": now}
    if "ends_at" in columns and columns["ends_at"] != before.ends_at:
        _refuse_past(columns, values, now)
    if any(columns.get(name, getattr(before, name)) != getattr(before, name) for name in ("starts_at", "ends_at")):
        given = values.get("reason") or ""
        columns["reason"] = reason_given("reason", given, "Say why the visit moves; the household reads it.")
    visit = change_row(Visit, visit_id, seen, columns)
    if "reason" in columns:
        body = _body(visit) | {
            "before": {"starts_at": utc_text(before.starts_at), "ends_at": utc_text(before.ends_at)},
            "reason": visit.reason,
        }
        keep(actor, project_id, "visit_moved", body, now)
        tell_moved(project_id, visit, before, now)
    keep_rest(actor, project_id, "visit_changed", _body(visit), now)
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


def _refuse_past(columns: dict[str, Any], values: dict[str, Any], now: int) -> None:
    if columns["ends_at"] <= now and not values.get("were_here"):
        raise FieldRefused("were_here", "That time is over. Say that they were here then, or give a time to come.")


def _refuse_cancelled(visit: Visit) -> None:
    if visit.cancelled_at is not None:
        raise FieldRefused("id", "This visit was cancelled. Book a new one instead.")


def _body(visit: Visit) -> dict[str, Any]:
    return {
        "visit": visit.id, "crew": visit.crew, "purpose": visit.purpose,
        "starts_at": utc_text(visit.starts_at), "ends_at": utc_text(visit.ends_at),
    }
