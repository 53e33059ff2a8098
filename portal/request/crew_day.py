"""The sheet of a crew for a day, read and put together; the same at the desk and under the link of the day."""

from datetime import date, timedelta
from typing import NamedTuple

from portal.acts.household.crew_notes import TEXTS
from portal.pages.crew_day.sheet import CrewDay, Notes, house_of_day, sheets_of
from portal.pages.outlook import outlook_of
from portal.pages.telling.crew_page import crew_note_words
from portal.planning.conflicts.crew_days import PLANNED, Stretch
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.crews.week import crews_ahead
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.crews.crew_link_rows import end_of
from portal.store.rows.household import crew_note_rows
from portal.store.tables import CrewNote
from portal.words.dates import local

_DAY = 24 * 3600


class Sheet(NamedTuple):
    """A decision that the crew drills from on that day, and its house."""

    snapshot: Snapshot
    decision: DecisionFact


def crew_day(crew_id: int, name: str, day: date, now: int) -> CrewDay:
    """What is only planned is nobody's errand yet: it stands in the week, and on no crew's sheet. A house whose day is
    over is left out, and with it how to get in."""
    houses = []
    for house_id, its in _stretches(crew_id, day, now).items():
        snapshot = read_snapshot(house_id)
        outlook = outlook_of(snapshot, schedule_of(snapshot, now))
        houses.append((its[0].starts, house_of_day(snapshot, outlook, its, _notes(house_id, day))))
    return CrewDay(name, day, [house for _, house in sorted(houses, key=lambda one: (one[0], one[1].id))])


def sheet_of_day(crew_id: int, day: date, now: int, house_id: int, number: int) -> Sheet | None:
    """The approved sheet of that decision, if the crew works by it that day; None for any other."""
    its = _stretches(crew_id, day, now).get(house_id)
    if not its:
        return None
    snapshot = read_snapshot(house_id)
    found = next((one for one in sheets_of(snapshot, its) if one.number == number), None)
    return Sheet(snapshot, found) if found else None


def _stretches(crew_id: int, day: date, now: int) -> dict[int, list[Stretch]]:
    """By house, what is booked or under way for the crew on that day, by the clock of the house."""
    ahead = crews_ahead(now, end_of(day) - 3 * _DAY)
    found: dict[int, list[Stretch]] = {}
    for one in ahead.stretches:
        zone = ahead.houses[one.project].timezone
        first, last = local(one.starts * 60, zone).date(), local(one.ends * 60 - 1, zone).date()
        is_over = local(now, zone).date() > day
        if one.key == f"crew:{crew_id}" and one.kind != PLANNED and first <= day <= last and not is_over:
            found.setdefault(one.project, []).append(one)
    return {house: sorted(its, key=lambda one: (one.starts, one.row)) for house, its in found.items()}


def _notes(house_id: int, day: date) -> Notes:
    return [(one.person.name, list(_parts(one, day))) for one in crew_note_rows.of_project(house_id)]


def _parts(one: CrewNote, day: date) -> list[tuple[str, str]]:
    """That they are away is said while they are, or will be soon: it is nobody's business later."""
    away = one.away_from is not None and (one.away_to is None or day <= one.away_to) and (
        one.away_from <= day + timedelta(days=1))
    dates = (one.away_from, one.away_to) if away else (None, None)
    return list(crew_note_words(*dates, {name: getattr(one, name) for name in TEXTS}))
