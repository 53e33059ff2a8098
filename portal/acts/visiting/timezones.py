"""A project's timezone is put right: what is booked stays at its time by the clock at the house.

A house does not move, so a timezone that changes was a slip when the project was set up. The people were told 9:00, on
the page and in letters, and at 9:00 somebody comes; what was wrong is the instant that was kept for it. To refuse the
change while visits are booked would make the manager cancel and book each of them, with two letters to everyone, for
visits that do not move. What has happened already (started, arrived, approved) is an instant and stays one; dates
(not before, deliveries, the start) are dates in any timezone.
"""

from typing import Any
from zoneinfo import ZoneInfo

from portal.acts.actor import Actor
from portal.acts.entries import keep
from portal.acts.telling import tell_clock_kept
from portal.store.rows import notice_rows, plan_rows, visit_rows
from portal.store.rows.editable import change_row
from portal.store.tables import Phase, Visit
from portal.words.dates import local, seconds, utc_text

_EXPECTED = ("resumes_at", "inspection_at")


def keep_the_clock(actor: Actor, project_id: int, before: str, zone: str, now: int) -> None:
    """Book anew, in the transaction of the change, all that is still to come by the old clock or by the new one."""
    visits = [
        _rebooked(visit, before, zone, now)
        for visit in visit_rows.of_project(project_id)
        if now < max(visit.ends_at, same_clock(visit.ends_at, before, zone))
    ]
    for phase in plan_rows.phases(project_id):
        _expected_anew(phase, before, zone, now)
    notice_rows.rewrite(project_id, lambda about: _about(about, before, zone))
    standing = [body for body in visits if body is not None]
    keep(actor, project_id, "timezone_changed", {"timezone": zone, "before": before, "visits": standing}, now)
    if standing:
        tell_clock_kept(project_id, now)


def same_clock(at: int, before: str, zone: str) -> int:
    """The instant at which the clock of `zone` shows what that of `before` showed; a skipped one is an hour on."""
    return seconds(local(at, before).replace(tzinfo=ZoneInfo(zone)))


def _rebooked(visit: Visit, before: str, zone: str, now: int) -> dict[str, Any] | None:
    """The visit at its new instants; its part of the entry, unless it was cancelled."""
    starts = same_clock(visit.starts_at, before, zone)
    # Where the clocks change during a visit, it may not be as long by the other clock: it never ends before it starts.
    ends = max(same_clock(visit.ends_at, before, zone), starts + 60)
    change_row(Visit, visit.id, visit.version, {"starts_at": starts, "ends_at": ends, "changed_at": now})
    if visit.cancelled_at is not None:
        return None
    was = {"starts_at": utc_text(visit.starts_at), "ends_at": utc_text(visit.ends_at)}
    return {"visit": visit.id, "starts_at": utc_text(starts), "ends_at": utc_text(ends), "before": was}


def _expected_anew(phase: Phase, before: str, zone: str, now: int) -> None:
    times = {name: getattr(phase, name) for name in _EXPECTED}
    moved = {name: same_clock(at, before, zone) for name, at in times.items() if at is not None and at > now}
    if moved:
        change_row(Phase, phase.id, phase.version, moved)


def _about(about: dict[str, Any], before: str, zone: str) -> dict[str, Any]:
    """What a letter about a visit that was not sent yet tells: the same times by the clock."""
    times = {name: same_clock(about[name], before, zone) for name in ("starts_at", "ends_at") if name in about}
    was = {"before": _about(about["before"], before, zone)} if "before" in about else {}
    return about | times | was
