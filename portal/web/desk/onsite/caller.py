"""What a caller is told, on the first page of a house and beside the form that notes the call."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from portal.pages.finish.done import Finish, finish_of
from portal.pages.finish.moved import Moved, moved_section
from portal.pages.home.phone import Answer, phone_answers
from portal.pages.house.house_section import read_out
from portal.pages.outlook import Outlook, outlook_of
from portal.planning.household.house_services import HouseServices
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import Snapshot
from portal.store.reading.finish.moves import moved_finish
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import staff_rows
from portal.web.desk.onsite.numbers import MOST, Number, OfHousehold, crew_numbers, household_numbers
from portal.web.desk.people.crew_notes import Noted, noted_of
from portal.words.dates import local


@dataclass(frozen=True)
class Standing:
    """How a house stands `now` (in seconds). `runs`: its manager by name, empty where none is named."""

    snapshot: Snapshot
    schedule: Schedule
    outlook: Outlook
    finish: Finish | None
    house: HouseServices
    today: date
    now: int
    runs: str


@dataclass(frozen=True, slots=True)
class ForCaller:
    """`moved`: all that moved the finish. `later`: crews after the first ones. `notes`: for the crew only."""

    answers: Sequence[Answer]
    moved: Moved | None
    household: Sequence[OfHousehold]
    crews: Sequence[Number]
    later: Sequence[Number]
    notes: Sequence[Noted]


def standing_of(project_id: int, now: int) -> Standing:
    snapshot = read_snapshot(project_id)
    schedule = schedule_of(snapshot, now)
    outlook = outlook_of(snapshot, schedule)
    return Standing(
        snapshot, schedule, outlook, finish_of(snapshot, outlook, foresee(snapshot, schedule).forecast),
        household_of(snapshot, outlook.booked), local(now, snapshot.project.timezone).date(), now,
        staff_rows.names().get(snapshot.project.responsible_id or 0, ""),
    )


def for_caller(at: Standing) -> ForCaller:
    snapshot, today = at.snapshot, at.today
    moved = moved_section(snapshot, moved_finish(snapshot, at.schedule), today, most=None)
    tonight = read_out(snapshot, at.house, today, at.now)
    crews = crew_numbers(snapshot, at.outlook, today)
    first = MOST if len(crews) > MOST + 1 else len(crews)
    return ForCaller(
        phone_answers(snapshot, at.outlook, at.house, at.finish, moved, today, tonight, at.runs), moved,
        household_numbers(snapshot), crews[:first], crews[first:], noted_of(snapshot.project.id),
    )
