"""The desk's list: what waits for an answer in each project, computed once for each change and kept.

The clock alone can move a need-by date, so a line says until when it is good. A project whose line is missing or no
longer good is computed when the list is read: the list is always true, and mostly only looked up.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.valid_until import valid_until
from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import Row, as_date, as_json, first_value, rows
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot

LONGEST = 36 * 3600  # so that a line outlives the midnight after which the next page, and the next line, is made
_A_DAY = 24 * 3600

_LIST = """SELECT p.id, p.name, p.address, p.timezone, p.closed_at, l.nearest, l.waiting, l.project_id IS NOT NULL
    AND l.changed = p.changed AND l.made_at <= ? AND l.good_until > ? AS good
    FROM project p LEFT JOIN desk_line l ON l.project_id = p.id"""
_OPEN = f"{_LIST} WHERE p.closed_at IS NULL"
_GOOD_UNTIL = "SELECT good_until FROM desk_line WHERE project_id = ? AND changed = ? AND made_at <= ?"
_KEEP = """INSERT INTO desk_line (project_id, changed, made_at, good_until, nearest, waiting) VALUES (?, ?, ?, ?, ?, ?)
    ON CONFLICT (project_id) DO UPDATE SET changed = excluded.changed, made_at = excluded.made_at,
    good_until = excluded.good_until, nearest = excluded.nearest, waiting = excluded.waiting
    WHERE excluded.changed >= desk_line.changed"""


class Waits(NamedTuple):
    """An open decision, or one that is approved while we owe an answer. `ours`: they asked back, and we owe it."""

    number: int
    question: str
    ours: bool
    needed_by: date | None


@dataclass(frozen=True, slots=True)
class DeskLine:
    """True of the project at its change number `changed`, from `made_at` until `good_until` (seconds)."""

    project: int
    changed: int
    made_at: int
    good_until: int
    waiting: tuple[Waits, ...]

    @property
    def nearest(self) -> date | None:
        return self.waiting[0].needed_by if self.waiting else None


@dataclass(frozen=True, slots=True)
class Listed:
    """A project on the list; the nearest date first, those without a date last."""

    id: int
    name: str
    address: str
    timezone: str
    closed: bool
    nearest: date | None
    waiting_kept: Any

    @property
    def waiting(self) -> list[Waits]:
        kept = as_json(self.waiting_kept)
        return [Waits(number, question, ours, as_date(day)) for number, question, ours, day in kept]


def open_projects(now: int) -> list[Listed]:
    return _listed(_OPEN, now)


def those(project_ids: Sequence[int], now: int) -> list[Listed]:
    """These projects; the closed ones come last."""
    if not project_ids:
        return []
    return _listed(f"{_LIST} WHERE p.id IN ({', '.join('?' * len(project_ids))})", now, *project_ids)


def line_of(snapshot: Snapshot, pure: Schedule) -> DeskLine:
    """`pure`: the schedule of the snapshot, not as booked."""
    needed_by = {dates.decision: dates.needed_by for dates in pure.decisions}
    waiting = [
        Waits(one.number, one.question, owed(one), needed_by[one.id] if one.is_open else None)
        for one in snapshot.decisions if one.is_open or one.unanswered
    ]
    waiting.sort(key=lambda one: (one.needed_by or date.max, one.number))
    made_at, until = pure.now * 60, valid_until(pure, LONGEST // 60) * 60
    return DeskLine(snapshot.project.id, snapshot.project.changed, made_at, until, tuple(waiting))


def owed(decision: DecisionFact) -> bool:
    """Whether we owe the household an answer, and they needn't do anything before it."""
    return decision.state == "asked_back" if decision.is_open else bool(decision.unanswered)


def anew(snapshot: Snapshot, pure: Schedule) -> DeskLine | None:
    """The line to be kept with the page that is published; None where the kept one is good for another day."""
    project, now = snapshot.project, pure.now * 60
    good_until = first_value(_GOOD_UNTIL, project.id, project.changed, now)
    return None if good_until and good_until >= now + _A_DAY else line_of(snapshot, pure)


def keep(line: DeskLine) -> None:
    """Unless a line of a later change is kept already."""
    with write():
        execute(_KEEP, line.project, line.changed, line.made_at, line.good_until, line.nearest, _text(line.waiting))


def not_good(now: int) -> list[int]:
    """Open projects whose line would have to be computed if the list were read now."""
    return [row["id"] for row in rows(_OPEN, now, now) if not row["good"]]


def computed(project_id: int, now: int) -> DeskLine:
    snapshot = read_snapshot(project_id)
    return line_of(snapshot, schedule_of(snapshot, now))


def _listed(sql: str, now: int, *more: int) -> list[Listed]:
    found = [_one(row, now) for row in rows(sql, now, now, *more, nearest=as_date)]
    return sorted(found, key=lambda one: (one.closed, one.nearest or date.max, one.name, one.id))


def _one(row: Row, now: int) -> Listed:
    nearest, waiting = row["nearest"], row["waiting"]
    if not row["good"]:
        line = computed(row["id"], now)
        nearest, waiting = line.nearest, line.waiting
    return Listed(
        id=row["id"], name=row["name"], address=row["address"], timezone=row["timezone"],
        closed=row["closed_at"] is not None, nearest=nearest, waiting_kept=waiting,
    )  # fmt: skip


def _text(waiting: tuple[Waits, ...]) -> str:
    """As `Listed.waiting` reads it."""
    return json.dumps([
        [one.number, one.question, one.ours, one.needed_by and one.needed_by.isoformat()] for one in waiting
    ])  # fmt: skip
