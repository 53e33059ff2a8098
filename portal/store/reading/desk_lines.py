"""The desk's list: what waits for an answer in each project, and what it wants done, computed once for each change and
kept.

The clock alone can move a need-by date, so a line says until when it is good. A project whose line is missing or no
longer good is computed when the list is read: the list is always true, and mostly only looked up. What else a house
wants done (`today`) is kept by the plan of that moment; whether it is late follows from its day when the list is read.
"""


import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from portal.planning.day_list import Place
from portal.planning.forecast.forecast import finish_day
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.valid_until import valid_until
from portal.store.between_views import NEVER, BetweenViews
from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import Row, as_date, as_json, first_value, rows
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.finish.moves import MovedFinish
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.reading.today.matters import Matter, kept, standing_in
from portal.store.reading.today.of_house import matters_of
from portal.words.dates import local

LONGEST = 36 * 3600  # so that a line outlives the midnight after which the next page, and the next line, is made
_A_DAY = 24 * 3600
_SHOWN = 200  # letters of a message

_IS_GOOD = "(l.project_id IS NOT NULL AND l.changed = p.changed AND l.made_at <= ? AND l.good_until > ?)"
_LIST = f"""SELECT p.id, p.name, p.address, p.timezone, p.closed_at, p.promised_on, p.responsible_id AS responsible,
    l.nearest, l.waiting, l.finish, CAST(l.matters AS TEXT) AS matters, l.good_until, {_IS_GOOD} AS good
    FROM project p LEFT JOIN desk_line l ON l.project_id = p.id"""
_WAITS_FOR_US = "EXISTS (SELECT 1 FROM message m WHERE m.project_id = p.id AND m.answer IS NULL)"
_IS_OPEN = f"(p.removed_at IS NULL AND (p.closed_at IS NULL OR {_WAITS_FOR_US}))"
"""What is closed is on the list again while somebody of the house waits for an answer."""
_OPEN = f"{_LIST} WHERE {_IS_OPEN}"
_NOT_GOOD = f"{_OPEN} AND NOT {_IS_GOOD}"
_GOOD_UNTIL = "SELECT good_until FROM desk_line WHERE project_id = ? AND changed = ? AND made_at <= ?"
_KEEP = """INSERT INTO desk_line (project_id, changed, made_at, good_until, nearest, waiting, finish, matters)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)
    ON CONFLICT (project_id) DO UPDATE SET changed = excluded.changed, made_at = excluded.made_at,
    good_until = excluded.good_until, nearest = excluded.nearest, waiting = excluded.waiting,
    finish = excluded.finish, matters = excluded.matters
    WHERE excluded.changed >= desk_line.changed"""


class Waits(NamedTuple):
    """An open decision, or one that is approved while we owe an answer. `ours`: they asked back, and we owe it.
    `another`: they want another option. `differ`: they chose differently, and somebody must call.

    Of `kind` message: its id, its text, the day on which `person` told us. Of `kind` visit, one that does not suit
    `person`: its id, who comes to do what, its day."""

    number: int
    question: str
    ours: bool
    needed_by: date | None
    another: bool = False
    differ: bool = False
    kind: str = "decision"
    person: str = ""


@dataclass(frozen=True, slots=True)
class DeskLine:
    """True of the project at its change number `changed`, from `made_at` until `good_until` (seconds). `finish`: the
    day on which all is done by the plan as booked, None while nothing is planned."""

    project: int
    changed: int
    made_at: int
    good_until: int
    waiting: tuple[Waits, ...]
    finish: date | None = None
    matters: tuple[Matter, ...] = ()

    @property
    def nearest(self) -> date | None:
        return self.waiting[0].needed_by if self.waiting else None


@dataclass(frozen=True, slots=True)
class Listed:
    """A project on the list; the nearest date first, those without a date last. `responsible`: the id of whoever of the
    staff runs it; `good_until`: the moment (seconds) from which the clock may have made it another."""

    id: int
    name: str
    address: str
    timezone: str
    closed: bool
    nearest: date | None
    waiting_kept: Any
    finish: date | None = None
    promised: date | None = None
    responsible: int | None = None
    matters_kept: Any = None
    good_until: int = 0

    @property
    def waiting(self) -> list[Waits]:
        kept = as_json(self.waiting_kept)
        return [  # a line that an earlier version kept has four parts, and none of its questions was of these
            Waits(number, question, ours, as_date(day), *more) for number, question, ours, day, *more in kept
        ]

    def standing(self, today: date) -> Sequence[tuple[Place, Matter]]:
        """Its matters that stand in the list of that day, each with its place in it."""
        return standing_in(self.id, self.matters_kept, today)


def open_projects(now: int) -> list[Listed]:
    return _in_order(_listed(_OPEN, now))


def _between_changes(now: int) -> tuple[list[Listed], int]:
    found = open_projects(now)
    return found, min((one.good_until for one in found), default=NEVER)


open_between_views = BetweenViews(_between_changes).at
"""`open_projects`, read anew only after a change or where a line is no longer good. Nobody changes the list."""


def those(project_ids: Sequence[int], now: int) -> list[Listed]:
    """These projects; the closed ones come last."""
    if not project_ids:
        return []
    there = f"p.removed_at IS NULL AND p.id IN ({', '.join('?' * len(project_ids))})"
    return _in_order(_listed(f"{_LIST} WHERE {there}", now, *project_ids))


def line_of(snapshot: Snapshot, pure: Schedule, moved: MovedFinish | None = None) -> DeskLine:
    """`pure`: the schedule of the snapshot, not as booked; `moved`: what moved its finish, where that is known."""
    needed_by = {dates.decision: dates.needed_by for dates in pure.decisions}
    waiting = [
        waits_of(one, needed_by[one.id] if one.is_open else None)
        for one in snapshot.decisions if one.is_open or one.unanswered
    ]
    made_at = pure.now * 60
    waiting += [*_messages(snapshot), *_unsuited(snapshot, made_at)]
    waiting.sort(key=lambda one: (one.needed_by or date.max, one.kind, one.number))
    until = min([valid_until(pure, LONGEST // 60) * 60, *(one.ends_at for one, _ in snapshot.unsuited(made_at))])
    booked = as_booked(pure)
    finish = finish_day(booked.plan, booked.finish) if snapshot.phases else None
    matters = tuple(matters_of(snapshot, pure, moved))
    return DeskLine(snapshot.project.id, snapshot.project.changed, made_at, until, tuple(waiting), finish, matters)


def waits_of(decision: DecisionFact, needed_by: date | None) -> Waits:
    """What the desk says of an open decision, or of one that is approved while we owe an answer."""
    another = any(one.wants_another for one in decision.unanswered)
    return Waits(decision.number, decision.question, owed(decision), needed_by, another, decision.differ)


def _messages(snapshot: Snapshot) -> Iterator[Waits]:
    for one in snapshot.owed_messages:
        day = local(one.told_at, snapshot.project.timezone).date()
        yield Waits(one.id, one.text[:_SHOWN], True, day, kind="message", person=one.person)


def _unsuited(snapshot: Snapshot, now: int) -> Iterator[Waits]:
    for visit, said in snapshot.unsuited(now):
        day = local(visit.starts_at, snapshot.project.timezone).date()
        yield Waits(visit.id, f"{visit.crew}: {visit.purpose}", True, day, kind="visit", person=said.person)


def owed(decision: DecisionFact) -> bool:
    """Whether we owe the household an answer, and they needn't do anything before it."""
    return decision.state == "asked_back" if decision.is_open else bool(decision.unanswered)


def anew(snapshot: Snapshot, pure: Schedule, moved: MovedFinish | None = None) -> DeskLine | None:
    """The line to be kept with the page that is published; None where the kept one is good for another day."""
    project, now = snapshot.project, pure.now * 60
    good_until = first_value(_GOOD_UNTIL, project.id, project.changed, now)
    return None if good_until and good_until >= now + _A_DAY else line_of(snapshot, pure, moved)


def keep(line: DeskLine) -> None:
    """Unless a line of a later change is kept already."""
    with write():
        execute(_KEEP, line.project, line.changed, line.made_at, line.good_until, line.nearest, _text(line.waiting),
                line.finish, json.dumps(kept(line.matters)))


def not_good(now: int) -> list[int]:
    """Open projects whose line would have to be computed if the list were read now."""
    return sorted(row["id"] for row in rows(_NOT_GOOD, now, now, now, now))


def computed(project_id: int, now: int) -> DeskLine:
    snapshot = read_snapshot(project_id)
    return line_of(snapshot, schedule_of(snapshot, now))


def _listed(sql: str, now: int, *more: int) -> list[Listed]:
    return [_one(row, now) for row in rows(
        sql, now, now, *more, nearest=as_date, finish=as_date, promised_on=as_date)]


def _in_order(found: list[Listed]) -> list[Listed]:
    return sorted(
        found, key=lambda one: (one.closed and one.nearest is None, one.nearest or date.max, one.name, one.id))


def _one(row: Row, now: int) -> Listed:
    nearest, waiting, finish, matters = row["nearest"], row["waiting"], row["finish"], row["matters"]
    until = row["good_until"]
    if not row["good"]:
        line = computed(row["id"], now)
        nearest, waiting, finish, matters = line.nearest, line.waiting, line.finish, kept(line.matters)
        until = line.good_until
    return Listed(
        id=row["id"], name=row["name"], address=row["address"], timezone=row["timezone"],
        closed=row["closed_at"] is not None, nearest=nearest, waiting_kept=waiting,
        finish=finish, promised=row["promised_on"], responsible=row["responsible"], matters_kept=matters,
        good_until=until,
    )  # fmt: skip


def _text(waiting: tuple[Waits, ...]) -> str:
    """As `Listed.waiting` reads it."""
    return json.dumps([
        list(one._replace(needed_by=one.needed_by and one.needed_by.isoformat())) for one in waiting  # type: ignore
    ])  # fmt: skip
