"""The firm's crews: kept, changed, removed; and which texts of plans stand for them.

A house's rows keep the text that was typed: it is what the household reads and what the record tells. So nothing here
writes a house's rows; those whose work ahead names the crew are published anew, since its hours may be others now.
"""

from collections.abc import Iterable
from typing import Any

from portal.acts.actor import Actor, firm_act, known_values
from portal.acts.refusals import CrewBooked
from portal.planning.calendar.week import CalendarError, read_pattern
from portal.planning.crews.hours import own_hours
from portal.planning.crews.names import crew_key
from portal.store.engine.database import take_turns, touch
from portal.store.refusals import FieldRefused
from portal.store.rows.crews import crew_rows
from portal.store.rows.editable import add_row, change_row, in_firm, remove_row
from portal.store.tables import Crew
from portal.words.lists import listed

Values = dict[str, Any]
_COLUMNS = ("name", "trade", "size", "phone", "email", "week", "days_off", "active")
_SAID = 3
"""Houses that a refusal names; of more it says how many."""


@firm_act("add_crew")
def add_crew(actor: Actor, values: Values, now: int) -> Crew:
    """`values`: the columns, and perhaps `names`: further texts that stand for it."""
    take_turns("crews")
    _check_name(values["name"], None)
    _check_hours(values.get("week"), values.get("days_off") or [])
    crew = add_row(Crew, **known_values(values, *_COLUMNS))
    _name(crew, [crew.name, *values.get("names", ())], now)
    return crew


@firm_act("change_crew")
def change_crew(actor: Actor, crew_id: int, seen: int, values: Values, now: int) -> Crew:
    """Under a new name it is still known by the old one: plans that were written before name it so."""
    take_turns("crews")
    before = in_firm(Crew, crew_id)
    _check_name(values.get("name", before.name), crew_id)
    _check_hours(values.get("week", before.week), values.get("days_off", before.days_off))
    crew = change_row(Crew, crew_id, seen, known_values(values, *_COLUMNS))
    _name(crew, [crew.name, *values.get("names", ())], now)
    return crew


@firm_act("name_crew")
def name_crew(actor: Actor, crew_id: int, texts: Iterable[str], now: int) -> Crew:
    """From now on each of these texts stands for this crew. A crew that is called so becomes this one, with
    all its names."""
    take_turns("crews")
    crew = in_firm(Crew, crew_id)
    _name(crew, texts, now)
    return crew


@firm_act("remove_crew")
def remove_crew(actor: Actor, crew_id: int, seen: int, now: int) -> None:
    """One that has work before it stays. Plans of what is over keep its name as they have it."""
    take_turns("crews")
    crew = in_firm(Crew, crew_id)
    booked = dict.fromkeys(one.house for one in crew_rows.ahead(crew_rows.keys_of(crew_id), now))
    if booked:
        raise CrewBooked(crew=crew.name, where=_where(list(booked)))
    remove_row(Crew, crew_id, seen)


def _name(crew: Crew, texts: Iterable[str], now: int) -> None:
    for text in [*texts]:
        other = crew_rows.holder_of(crew_key(text))
        if other not in (None, crew.id) and crew_key(in_firm(Crew, other).name) == crew_key(text):
            _become(crew, other)
        crew_rows.add_name(crew.id, text.strip())
    for project_id in {one.project for one in crew_rows.ahead(crew_rows.keys_of(crew.id), now)}:
        touch(project_id)


def _become(crew: Crew, other_id: int) -> None:
    names = crew_rows.names_of(other_id)
    remove_row(Crew, other_id, in_firm(Crew, other_id).version)
    for text in names:
        crew_rows.add_name(crew.id, text)


def _check_name(name: str, crew_id: int | None) -> None:
    """A text of plans that stands for another crew is its name, too."""
    holder = crew_rows.holder_of(crew_key(name))
    if holder not in (None, crew_id):
        known = in_firm(Crew, holder).name
        raise FieldRefused("name", f"There is already a crew called “{known}” that goes by this name. Choose another.")


def _check_hours(week: Any, days_off: Any) -> None:
    try:
        read_pattern(own_hours(week, days_off))
    except CalendarError as error:
        raise FieldRefused(error.field, error.message) from error


def _where(houses: list[str]) -> str:
    more = len(houses) - _SAID
    return listed([*houses[:_SAID], *([f"{more} more"] if more > 0 else [])])
