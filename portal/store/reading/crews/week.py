"""Who works where over all houses: visits, planned work and crews in five queries, however many houses there are.

A house whose planned work is not kept, or is of another day, is computed: a tick keeps that of all.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from portal.planning.calendar.working_calendar import calendar_of
from portal.planning.conflicts.bookings import first_free_of
from portal.planning.conflicts.crew_days import VISIT, Clash, Stretch, clashes
from portal.planning.crews.names import crew_key
from portal.planning.schedule.plan import Visit
from portal.store.between_views import BetweenViews
from portal.store.engine.database import read
from portal.store.engine.named_rows import Row, as_date, as_json, rows, shaped
from portal.store.facts import CrewFact
from portal.store.last_made import LastMade
from portal.store.reading.crews import work
from portal.store.reading.crews.work import HELD, UNKEPT
from portal.store.reading.project_plan import hours_of, minutes
from portal.store.rows.crews import crew_rows
from portal.words.dates import local

_HOUSES = """SELECT id, name, address, timezone, CAST(calendar AS TEXT) AS calendar, closed_at FROM project
    WHERE closed_at IS NULL OR id IN (SELECT project_id FROM visit WHERE cancelled_at IS NULL AND ends_at > ?)"""
_VISITS = """SELECT id, project_id AS project, crew, purpose, starts_at AS starts, ends_at AS ends, phase_id AS phase
    FROM visit WHERE cancelled_at IS NULL AND ends_at > ? ORDER BY starts_at, id"""
_WORK = """SELECT w.project_id AS project, w.day, CAST(w.work AS TEXT) AS work, CAST(w.visits AS TEXT) AS visits
    FROM planned_work w JOIN project p ON p.id = w.project_id WHERE p.closed_at IS NULL AND p.changed = w.changed"""
_QUARTER = 15 * 60
_SAME = 4096
"""Instants that are kept with their day: houses work at the same hours of the same days."""
_Row = tuple[int, bool, int]
"""What tells a stretch from others: its project, whether it is a visit, and the id of the visit or phase."""


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


class VisitAhead(NamedTuple):
    """`starts`, `ends`: seconds."""

    id: int
    project: int
    crew: str
    purpose: str
    starts: int
    ends: int
    phase: int | None


@dataclass(frozen=True)
class CrewsAhead:
    """All stretches from a moment on. `names`: how each key is called; `crews`: those of the firm's list by key.
    `standing`: HELD or UNKEPT of each visit that does not simply come. `now`: what had ended by then, in minutes, is
    over."""

    now: int
    houses: Mapping[int, WeekHouse]
    stretches: list[Stretch]
    names: Mapping[str, str]
    crews: Mapping[str, CrewFact]
    standing: Mapping[int, str]

    __hash__ = object.__hash__  # by which the same one is known again

    @cached_property
    def _busy(self) -> Mapping[str, list[tuple[int, int, _Row]]]:
        """From when to when, in the order of time, of the crews that clash: found once for all of their clashes."""
        found: dict[str, list[tuple[int, int, _Row]]] = {one.other.key: [] for one in self.clashes}
        for one in self.stretches:
            if one.key in found and one.ends > self.now:
                found[one.key].append((one.starts, one.ends, _row(one)))
        return {key: sorted(its) for key, its in found.items()}

    @cached_property
    def clashes(self) -> list[Clash]:
        """Of what is not over."""
        return clashes(one for one in self.stretches if one.ends > self.now)

    def first_fit(self, clash: Clash, now: int) -> int | None:
        """The first instant, from when the clash begins and not before `now` (seconds), at which the easier one of
        the two fits into the hours of its house and of its crew, and the crew is at no other house. None where none
        was found."""
        earliest = max(clash.other.starts, minutes(now))
        at = clash.other.key, *_row(clash.other), earliest
        if at not in self._fits:
            self._fits[at] = self._first_from(clash, earliest)
        return self._fits[at]

    @cached_property
    def _fits(self) -> dict[tuple[str, int, bool, int, int], int | None]:
        return {}

    def _first_from(self, clash: Clash, earliest: int) -> int | None:
        easy = clash.other
        house, crew = self.houses[easy.project], self.crews.get(easy.key)
        hours = None if crew is None else hours_of(crew, house.timezone)
        wanted = Visit(-1, easy.key, easy.starts, easy.ends, None, easy.project, easy.key, hours)
        its = _row(easy)
        busy = [(starts, ends) for starts, ends, row in self._busy[easy.key] if ends > earliest and row != its]
        return first_free_of(calendar_of(house.calendar, house.timezone), wanted, earliest, busy)


def crews_ahead(now: int, since: int, until: int | None = None) -> CrewsAhead:
    """`now` and `since` in seconds: what was over by then is left out; so is planned work that begins after `until`.
    Of a closed house nothing stands there but a visit to come, which was booked after it: for a fault."""
    with read():
        houses = {house.id: house for house in shaped(_HOUSES, WeekHouse, since)}
        visits: dict[int, list[VisitAhead]] = {}
        for visit in shaped(_VISITS, VisitAhead, since):
            visits.setdefault(visit.project, []).append(visit)
        kept = {row["project"]: row for row in rows(_WORK, day=as_date)}
        crews = crew_rows.known()
    by_key = {f"crew:{crew.id}": crew for crew in crews.values()}
    keys = _keys(tuple((folded, f"crew:{crew.id}") for folded, crew in crews.items()))
    made: list[_Made] = []
    today = {zone: local(now, zone).date() for zone in {one.timezone for one in houses.values()}}
    for house in houses.values():
        its = visits.get(house.id, [])
        if house.closed_at is not None:
            its = [one for one in its if minutes(one.ends) > minutes(now)]
            made.append(_booked.of(house.id, (house.timezone, its, [], keys), _visits))
        else:
            work_of, stands = _good(house, kept.get(house.id), today[house.timezone], now)
            booked = _booked.of(house.id, (house.timezone, its, stands, keys), _visits)
            planned = _planned.of(house.id, (house.id, house.timezone, work_of, booked.taken, keys), _work)
            made += [booked, planned if until is None else planned.until(minutes(until))]
    names, standing = dict[str, str](), dict[int, str]()
    for one in reversed(made):
        names.update(one.names)
        standing.update(one.standing)
    names.update({key: crew.name for key, crew in by_key.items()})
    stretches = [stretch for one in made for stretch in one.stretches]
    return CrewsAhead(minutes(now), houses, stretches, names, by_key, standing)


def _between_changes(now: int, since: int, until: int, _: object) -> tuple[CrewsAhead, int]:
    found = crews_ahead(now, since, until)
    next_day = (now // _QUARTER + 1) * _QUARTER  # somewhere
    return found, min([next_day, *(one.ends * 60 for one in found.stretches if one.ends > found.now)])


_between_views = BetweenViews(_between_changes).at


def crews_between_views(now: int, since: int, until: int) -> CrewsAhead:
    """`crews_ahead`, read anew only after a change, where somebody’s work ends, or where a day may begin."""
    return _between_views(now, since, until, crew_rows.known())


@lru_cache(maxsize=8)
def _keys(pairs: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """The key of the crew of the list for which a text stands; the same object while the list is the same."""
    return dict(pairs)


def _good(house: WeekHouse, kept: Row | None, today: date, now: int) -> tuple[Any, Any]:
    """Its work, and how its visits stand, as they are kept or computed."""
    if kept is not None and kept["day"] == today:
        return kept["work"], kept["visits"]
    found = work.computed(house.id, now)
    return found.work, found.visits


class _Made(NamedTuple):
    """Of one house. `names`: how each key is called in it, as the first of them writes it; `taken`: phases and days of
    visits."""

    stretches: tuple[Stretch, ...]
    names: Mapping[str, str]
    standing: Mapping[int, str] = {}
    taken: Collection[tuple[int, date]] = ()

    def until(self, instant: int) -> "_Made":
        return self._replace(stretches=tuple(one for one in self.stretches if one.starts < instant))


_booked, _planned = LastMade[Any, _Made](), LastMade[Any, _Made]()
"""Of visits and of the plan apart: a crew's day and the week look at other visits of the same plan."""


def _visits(given: tuple[str, list[VisitAhead], Any, Mapping[str, str]]) -> _Made:
    zone, its, stands, keys = given
    read_stands = as_json(stands)
    standing = {visit: how for visit, how, *_ in read_stands}
    waiting = {visit: why for visit, _, *more in read_stands for why in more}
    found, names = [], dict[str, str]()
    for one in its:
        key = _key(one.crew, keys)
        names.setdefault(key, one.crew)
        how = standing.get(one.id)
        found.append(Stretch(
            key, one.project, minutes(one.starts), minutes(one.ends), VISIT, one.id, one.purpose, how == HELD,
            how == UNKEPT, *_why(waiting.get(one.id)),
        ))  # fmt: skip
    taken = {(one.phase, _day(minutes(one.starts), zone)) for one in its if one.phase}
    return _Made(tuple(found), names, standing, taken)


def _work(given: tuple[int, str, Any, Collection[tuple[int, date]], Mapping[str, str]]) -> _Made:
    """A day on which the phase has a visit is that visit's."""
    house, zone, work_of, taken, keys = given
    found, names = [], dict[str, str]()
    for phase, crew, name, kind, held, days in as_json(work_of):
        key = _key(crew, keys)
        names.setdefault(key, crew)
        why = _why(held)
        found += [
            Stretch(key, house, starts, ends, kind, phase, name, bool(held), False, *why)
            for starts, ends in days if (phase, _day(starts, zone)) not in taken
        ]
    return _Made(tuple(found), names)


@lru_cache(maxsize=_SAME)
def _day(instant: int, zone: str) -> date:
    return local(instant * 60, zone).date()


def _key(text: str, keys: Mapping[str, str]) -> str:
    """As of_crew gives it."""
    key = crew_key(text)
    return keys.get(key, key)


def _why(held: Any) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """What was kept before there were reasons says only that it is held."""
    numbers, unasked = held if isinstance(held, list) and held else ((), ())
    return tuple(numbers), tuple(unasked)


def _row(one: Stretch) -> _Row:
    """A visit, or all days of a phase."""
    return one.project, one.kind == VISIT, one.row

