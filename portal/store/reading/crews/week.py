"""Who works where over all houses: visits, planned work and crews in five queries, however many houses there are.

A house whose planned work is not kept, or is of another day, is computed: a tick keeps that of all.
"""

import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from portal.planning.calendar.working_calendar import WorkCalendar, calendar_of
from portal.planning.conflicts.bookings import first_free_time
from portal.planning.conflicts.crew_days import VISIT, Clash, Stretch, clashes
from portal.planning.schedule.plan import Visit
from portal.store.engine.database import read
from portal.store.engine.named_rows import Row, as_date, as_json_text, rows
from portal.store.facts import CrewFact
from portal.store.reading.crews import work
from portal.store.reading.crews.work import HELD, UNKEPT
from portal.store.reading.project_plan import hours_of, minutes, of_crew
from portal.store.rows.crews import crew_rows
from portal.words.dates import local

_HOUSES = """SELECT id, name, address, timezone, calendar, closed_at FROM project
    WHERE closed_at IS NULL OR id IN (SELECT project_id FROM visit WHERE cancelled_at IS NULL AND ends_at > ?)"""
_VISITS = """SELECT id, project_id AS project, crew, purpose, starts_at AS starts, ends_at AS ends, phase_id AS phase
    FROM visit WHERE cancelled_at IS NULL AND ends_at > ? ORDER BY starts_at, id"""
_WORK = """SELECT w.project_id AS project, w.day, CAST(w.work AS TEXT) AS work, CAST(w.visits AS TEXT) AS visits
    FROM planned_work w JOIN project p ON p.id = w.project_id WHERE p.closed_at IS NULL AND p.changed = w.changed"""
_SAME = 2048
"""Texts and instants that are kept as they were read; a house that has changed has another text."""


class WeekHouse(NamedTuple):
    id: int
    name: str
    address: str
    timezone: str
    calendar: str
    closed_at: int | None

    def day(self, instant: int) -> date:
        """By its clock."""
        return _day(instant, self.timezone)


class PhaseAhead(NamedTuple):
    """A phase with the hours of each day on which its crew is there, and that day."""

    phase: int
    crew: str
    name: str
    kind: str
    held: Any
    days: tuple[tuple[int, int, date], ...]


@dataclass(frozen=True)
class CrewsAhead:
    """All stretches from a moment on. `names`: how each key is called; `crews`: those of the firm's list by key.
    `standing`: HELD or UNKEPT of each visit that does not simply come."""

    now: int  # minutes
    houses: Mapping[int, WeekHouse]
    stretches: list[Stretch]
    names: Mapping[str, str]
    crews: Mapping[str, CrewFact]
    standing: Mapping[int, str]

    @cached_property
    def clashes(self) -> list[Clash]:
        """Of what is not over."""
        return clashes(one for one in self.stretches if one.ends > self.now)

    def first_fit(self, clash: Clash) -> int | None:
        """The first instant, from when the clash begins, at which the easier one of the two fits into the hours of its
        house and of its crew, and the crew is at no other house. None where none was found."""
        easy = clash.other
        house, crew = self.houses[easy.project], self.crews.get(easy.key)
        hours = None if crew is None else hours_of(crew, house.timezone)
        wanted = _visit(-1, easy, hours)
        others = (one for one in self.stretches if one.key == easy.key and _row(one) != _row(easy))
        booked = [_visit(at, one) for at, one in enumerate(others)]
        calendar = calendar_of(house.calendar, house.timezone)
        return first_free_time(calendar, wanted, max(easy.starts, self.now), booked)


def crews_ahead(now: int, since: int, until: int | None = None) -> CrewsAhead:
    """`now` and `since` in seconds: what was over by then is left out; so is planned work that begins after `until`.
    Of a closed house nothing stands there but a visit to come, which was booked after it: for a fault."""
    with read():
        houses = {row["id"]: WeekHouse(**row) for row in rows(_HOUSES, since, calendar=as_json_text)}
        visits = rows(_VISITS, since, starts=minutes, ends=minutes)
        kept = {row["project"]: row for row in rows(_WORK, day=as_date)}
        crews = crew_rows.known()
    by_key = {f"crew:{crew.id}": crew for crew in crews.values()}
    names = {key: crew.name for key, crew in by_key.items()}
    stretches: list[Stretch] = []
    planned = {house.id: _good(house, kept.get(house.id), now) for house in houses.values() if house.closed_at is None}
    standing = {visit: how for _, stands in planned.values() for visit, how, *_ in stands}
    waiting = {visit: why for _, stands in planned.values() for visit, how, *given in stands for why in given}
    for row in visits:
        if houses[row["project"]].closed_at is not None and row["ends"] <= minutes(now):
            continue
        key = of_crew(row["crew"], crews, "UTC")[0]
        names.setdefault(key, row["crew"])
        how = standing.get(row["id"])
        stretches.append(Stretch(
            key, row["project"], row["starts"], row["ends"], VISIT, row["id"], row["purpose"], how == HELD,
            how == UNKEPT, *_why(waiting.get(row["id"])),
        ))  # fmt: skip
    taken = {(row["phase"], houses[row["project"]].day(row["starts"])) for row in visits if row["phase"]}
    for house_id, (phases, _) in planned.items():
        stretches += _planned(house_id, phases, crews, names, taken, None if until is None else minutes(until))
    return CrewsAhead(minutes(now), houses, stretches, names, by_key, standing)


def _good(house: WeekHouse, kept: Row | None, now: int) -> tuple[tuple[PhaseAhead, ...], list[list[Any]]]:
    """Its phases, and how its visits stand."""
    if kept is not None and kept["day"] == local(now, house.timezone).date():
        return _read(kept["work"], house.timezone), json.loads(kept["visits"])
    found = work.computed(house.id, now)
    return _phases(found.work, house.timezone), found.visits


@lru_cache(maxsize=_SAME)
def _read(text: str, zone: str) -> tuple[PhaseAhead, ...]:
    """What is kept: read once for each change of a house and each day of it."""
    return _phases(json.loads(text), zone)


def _phases(found: list[list[Any]], zone: str) -> tuple[PhaseAhead, ...]:
    return tuple(
        PhaseAhead(phase, crew, name, kind, held, tuple((starts, ends, _day(starts, zone)) for starts, ends in days))
        for phase, crew, name, kind, held, days in found
    )


@lru_cache(maxsize=_SAME)
def _day(instant: int, zone: str) -> date:
    return local(instant * 60, zone).date()


def _planned(
    house: int, phases: Iterable[PhaseAhead], crews: Mapping[str, CrewFact], names: dict[str, str],
    taken: Collection[tuple[int, date]], until: int | None,
) -> Iterator[Stretch]:
    """A day on which the phase has a visit is that visit's. `taken`: the phases and days of visits."""
    for one in phases:
        key = of_crew(one.crew, crews, "UTC")[0]
        names.setdefault(key, one.crew)
        why = _why(one.held)
        for starts, ends, day in one.days:
            if (until is None or starts < until) and (one.phase, day) not in taken:
                yield Stretch(key, house, starts, ends, one.kind, one.phase, one.name, bool(one.held), False, *why)


def _why(held: Any) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """What was kept before there were reasons says only that it is held."""
    numbers, unasked = held if isinstance(held, list) and held else ((), ())
    return tuple(numbers), tuple(unasked)


def _row(one: Stretch) -> tuple[int, bool, int]:
    """A visit, or all days of a phase."""
    return one.project, one.kind == VISIT, one.row


def _visit(number: int, one: Stretch, hours: WorkCalendar | None = None) -> Visit:
    return Visit(number, one.key, one.starts, one.ends, None, one.project, one.key, hours)
