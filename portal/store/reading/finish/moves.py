"""What moved a project's finish: its record replayed entry by entry (portal.planning.moves), and kept up to its last
change and the last midnight, so that a page replays only what is new. What is kept follows from the record alone: it
may be thrown away at any time, and comes out the same.

First is the finish of the plan as it was laid down on the first day on which the record tells of one: what is changed
of the plan on that day moves nothing, until something else moves it, such as an order. Of a house that began before its
record told rows, that is the day of the first entry that did.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Any

from portal.planning.moves.replay import PLAN, Cause, Change, Move, Replay, done_day, joined
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.record.log.canonical import read
from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_date, as_json, first_row, rows
from portal.store.facts import Snapshot
from portal.store.reading.finish.told_causes import UNTOLD, cause_of, is_undone, whose_delay
from portal.store.reading.finish.told_plan import Told, calendars_in, digest_of, of_the_plan, plan_told, told_on

_ENTRIES = """SELECT sequence, at, kind, canonical AS body FROM record_entry
    WHERE project_id = ? AND sequence > ? AND sequence <= ? ORDER BY sequence"""
_CHANGES = """SELECT canonical AS body FROM record_entry
    WHERE project_id = ? AND kind = 'project_changed' AND sequence <= ? ORDER BY sequence"""
_KEPT = "SELECT entry, at, told, since, first, finish, moves FROM finish_moves WHERE project_id = ?"
_KEEP = """INSERT INTO finish_moves (entry, at, told, since, first, finish, moves, project_id)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (project_id) DO UPDATE SET entry = excluded.entry, at = excluded.at,
    told = excluded.told, since = excluded.since, first = excluded.first, finish = excluded.finish,
    moves = excluded.moves"""
_MANY = 50
"""Entries that tell nothing of the plan are read again, up to so many, rather than written off each time."""


@dataclass(frozen=True, slots=True)
class Replayed:
    """Where the replay stands, after so many entries, at the instant `at`: the rows `told`, the day of the finish, and
    each move so far, not joined. `since`, `first`: the first day with a plan, and the finish as it was laid down."""

    entry: int = 0
    at: int = 0
    told: Told | None = None
    since: date | None = None
    first: date | None = None
    finish: date | None = None
    moves: tuple[Move, ...] = ()


@dataclass(frozen=True, slots=True)
class MovedFinish:
    """`first`: the finish of the plan that was laid down on the day `since`; None while no plan is told. `moves`:
    oldest first; their days add up to those from `first` to the finish of today. `to_keep`: None where the kept replay
    is good."""

    project: int
    since: date | None
    first: date | None
    moves: tuple[Move, ...]
    to_keep: Replayed | None = None


def moved_finish(snapshot: Snapshot, pure: Schedule) -> MovedFinish:
    """What moved the finish up to the moment of this schedule of the snapshot, not as booked. Nothing is written."""
    project = snapshot.project
    kept = _kept(project.id)
    new = [_Entry(**row) for row in rows(_ENTRIES, project.id, kept.entry, project.entries, body=_body)]
    today = pure.plan.calendar.day_of(pure.now)
    booked = as_booked(pure)
    finish = booked.plan.calendar.day_of(booked.finish - 1) if snapshot.phases else None
    midnight = pure.plan.calendar.day_start(today)
    changes = any(one.rows for one in new)
    if not changes and kept.at >= midnight and (kept.since is None or kept.finish == finish):
        to_keep = replace(kept, entry=new[-1].sequence) if len(new) > _MANY else None
        return _answer(project.id, kept, [], to_keep)
    telling = _Telling(snapshot, kept, new)
    for entry in new:
        telling.tell(entry)
    telling.pass_to(midnight)
    to_keep = telling.reached()
    telling.pass_to(pure.now)
    return _answer(project.id, telling.reached(), telling.untold(finish, today), to_keep)


def keep(moved: MovedFinish) -> None:
    """Keep the replay for the next page, unless it is kept."""
    if moved.to_keep is None:
        return
    one = moved.to_keep
    with write():
        execute(_KEEP, one.entry, one.at * 60, json.dumps(one.told), one.since, one.first, one.finish,
                json.dumps([_listed(move) for move in one.moves]), moved.project)


def _answer(project: int, replayed: Replayed, untold: list[Move], to_keep: Replayed | None) -> MovedFinish:
    moves = (*joined(replayed.moves), *untold)
    return MovedFinish(project, replayed.since, replayed.first, moves, to_keep)


@dataclass(frozen=True, slots=True)
class _Entry:
    sequence: int
    at: str
    kind: str
    body: dict[str, Any]

    @property
    def rows(self) -> dict[str, dict[str, Any]]:
        return of_the_plan(self.body.get("rows") or {})

    @property
    def instant(self) -> int:
        return int(datetime.strptime(self.at, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC).timestamp()) // 60


class _Telling:
    """The replay under way."""

    def __init__(self, snapshot: Snapshot, kept: Replayed, new: list[_Entry]) -> None:
        self.snapshot, self.reached_so_far = snapshot, kept
        calendar = json.loads(snapshot.project.calendar)
        self.calendars = {**_former(snapshot), digest_of(calendar): snapshot.project.calendar}
        self.told: Told = kept.told or {}
        self.entry, self.since, self.first = kept.entry, kept.since, kept.first
        self.at, self.moves = kept.at, list(kept.moves)
        plan = self._plan() if kept.finish is not None else None
        self.replay = Replay(plan, kept.at, kept.finish) if plan is not None else None

    def tell(self, entry: _Entry) -> None:
        """One entry more. A plan that its rows don't make is passed over, until they do again."""
        self.entry = entry.sequence
        said = entry.rows
        if not said:
            return
        self.at = max(self.at, entry.instant)
        before = self.told
        self.told = told_on(before, said, bool(entry.body.get("all_rows")))
        plan = self._plan()
        if plan is None:
            return
        if self.replay is not None:
            cause = cause_of(entry.kind, entry.body, said)
            self._note(self.replay.become(Change(entry.instant, plan, cause)), before)
        elif (day := done_day(plan, entry.instant)) is not None:
            self.replay = Replay(plan, entry.instant, day)
            self.since, self.first = plan.calendar.day_of(entry.instant), day

    def pass_to(self, at: int) -> None:
        self.at = max(self.at, at)
        if self.replay is not None:
            self._note(self.replay.pass_to(at), self.told)

    def reached(self) -> Replayed:
        finish = self.replay.finish if self.replay else None
        return Replayed(self.entry, self.at, self.told, self.since, self.first, finish, tuple(self.moves))

    def untold(self, finish: date | None, today: date) -> list[Move]:
        """What rows move that stand otherwise than they were told: `portal verify` finds these."""
        last = self.replay.finish if self.replay else None
        return [Move(today, last, finish, UNTOLD)] if last and finish and last != finish else []

    def _plan(self) -> Any:
        return plan_told(self.told, self.calendars, self.snapshot.project.calendar, self.snapshot)

    def _note(self, moves: Iterator[Move], told: Told) -> None:
        for move in moves:
            if move.day == self.since and move.cause.kind == PLAN and not self.moves:
                self.first = move.after  # the plan is still laid down
            elif self.moves and is_undone(self.moves[-1], move):
                self.moves.pop()  # a slip that was mended on the same day has moved nothing
            else:
                self.moves.append(replace(move, cause=whose_delay(move.cause, told)))


def _former(snapshot: Snapshot) -> dict[str, str]:
    """The calendars that were replaced, from the entries that tell of it."""
    found = rows(_CHANGES, snapshot.project.id, snapshot.project.entries, body=_body)
    return calendars_in(row["body"] for row in found)


def _kept(project_id: int) -> Replayed:
    row = first_row(_KEPT, project_id, told=as_json, since=as_date, first=as_date, finish=as_date, moves=as_json)
    if row is None:
        return Replayed()
    return Replayed(**row | {"at": row["at"] // 60, "moves": tuple(_move(one) for one in row["moves"])})


def _body(canonical: Any) -> dict[str, Any]:
    body = read(bytes(canonical))["body"]
    return body if isinstance(body, dict) else {}


def _listed(move: Move) -> list[Any]:
    cause = move.cause
    return [*(day.isoformat() for day in (move.day, move.before, move.after)),
            cause.kind, cause.did, list(cause.about), cause.reason]


def _move(kept: list[Any]) -> Move:
    day, before, after, kind, did, about, reason = kept
    cause = Cause(kind, did, tuple(about), reason)
    return Move(date.fromisoformat(day), date.fromisoformat(before), date.fromisoformat(after), cause)
