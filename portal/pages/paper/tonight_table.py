"""Two weeks of what works at home, as tables of a week each: rooms and services down, days across, words in cells."""

from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.household_words import SERVICE_WORDS
from portal.planning.household.house_services import HouseServices
from portal.planning.household.services import BURDENS
from portal.planning.household.tonight import HouseState, in_work_hours, tonight
from portal.words.dates import dated_words, weekday_words
from portal.words.lists import listed

WEEKS = 2
YES, WORK, NO = "yes", "work", "no"
NONE, NIGHT = "none", "night"

Key = tuple[str, str, str]
"""Room, service, name."""


@dataclass(frozen=True, slots=True)
class Row:
    """`cells`, a word for each day: YES, WORK (out while the crew works) or NO (out in the night, too); of noise and
    dust NONE, WORK or NIGHT."""

    service: str
    cells: list[str]


@dataclass(frozen=True, slots=True)
class RoomRows:
    room: str
    rows: list[Row]


@dataclass(frozen=True, slots=True)
class NightWeek:
    """`whole`: what works all week long, in a sentence."""

    caption: str
    days: list[tuple[str, str]]
    rooms: list[RoomRows]
    whole: str


def tonight_weeks(house: HouseServices, today: date) -> list[NightWeek]:
    """Seven days each from today on; a house without rooms has none."""
    if not house.rooms:
        return []
    return [_week(house, today + timedelta(days=7 * week), today) for week in range(WEEKS)]


def _week(house: HouseServices, first: date, today: date) -> NightWeek:
    days = [first + timedelta(days=one) for one in range(7)]
    cells = [_day(house, day) for day in days]
    words: dict[Key, list[str]] = {}
    for at, of in enumerate(cells):
        for key, word in of.items():
            words.setdefault(key, [_usual(key)] * 7)[at] = word
    rooms = [RoomRows(room.name, _rows(room.name, words)) for room in house.rooms]
    whole = [room.room for room in rooms if not room.rows]
    return NightWeek(
        f"{dated_words(days[0], today)} to {dated_words(days[-1], today)}",
        [(weekday_words(day), f"{day.day}") for day in days],
        [room for room in rooms if room.rows],
        f"All week long everything works: {listed(whole)}." if whole else "",
    )


def _rows(room: str, words: dict[Key, list[str]]) -> list[Row]:
    """Only what is out at some time."""
    return [
        Row(key[2] or SERVICE_WORDS[key[1]], cells)
        for key, cells in words.items() if key[0] == room and set(cells) != {_usual(key)}
    ]


def _usual(key: Key) -> str:
    return NONE if key[1] in BURDENS else YES


def _day(house: HouseServices, day: date) -> dict[Key, str]:
    at_work = in_work_hours(house, day)
    return (_out(at_work, WORK, WORK) if at_work else {}) | _out(tonight(house, day), NO, NIGHT)


def _out(state: HouseState, service: str, burden: str) -> dict[Key, str]:
    """Only what is out, with the word for it."""
    return {
        (room.name, one.service, one.name): burden if one.service in BURDENS else service
        for room in state.rooms for one in (*room.services, *room.burdens) if not one.usable
    }
