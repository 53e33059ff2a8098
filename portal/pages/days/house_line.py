"""The words of the drawn house: its title; below it, from when it speaks, and what to do meanwhile."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

from portal.pages.household_words import SERVICE_WORDS, shortfall_words, usual_advice
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_ahead import LATER, WORKS, HouseAhead, RoomAhead, Thing
from portal.planning.household.house_services import HouseServices
from portal.planning.household.nights import shortfalls
from portal.planning.household.services import FIXTURES
from portal.planning.household.tonight import ServiceState
from portal.words.dates import clock_words, dated_words
from portal.words.lists import listed

_AHEAD = timedelta(days=7)
"""So long before they must be told: as the desk has them on its list."""


def house_title(ahead: HouseAhead) -> str:
    """Say which time the house speaks of: `Tonight and Tuesday`, before the day's work has ended `Today to Tuesday`."""
    return f"{'Today to' if ahead.at_work else 'Tonight and'} {ahead.tomorrow:%A}"


def instead_sentences(ahead: HouseAhead, calendar: WorkCalendar) -> list[str]:
    """Say from when the house speaks, unless that is now, what to use meanwhile, and which floors to stay off; each
    thing once."""
    begins = [] if ahead.at_work else [f"From {clock_words(calendar.moment(ahead.begins))}."]
    out = _things_out(ahead)
    closed = [room for room in ahead.rooms if room.floor.state != WORKS]
    if not out and not closed:
        return [" ".join([*begins, "All works."])]
    floors = [f"the {room.name} floor" for room in closed]
    return [
        " ".join([*begins, "A tag says when it is back."]), *use_instead(ahead, calendar),
        *([f"Stay off {listed(floors)}."] if floors else []),
    ]


def use_instead(ahead: HouseAhead, calendar: WorkCalendar) -> list[str]:
    """Say what to use in place of what is out; each thing once."""
    return list(dict.fromkeys(_meanwhile(ahead, _things_out(ahead), calendar)))


def _things_out(ahead: HouseAhead) -> list[tuple[RoomAhead, Thing]]:
    return [(room, one) for room in ahead.rooms for one in room.things if one.state != WORKS]


def _meanwhile(ahead: HouseAhead, out: list[tuple[RoomAhead, Thing]], calendar: WorkCalendar) -> Iterator[str]:
    """Where the firm has written what to do for a service, nothing else is said of that service."""
    others: dict[str, list[str]] = defaultdict(list)
    own = {one.service for _, one in out if one.told.instead}
    advice = [one.told.instead for _, one in out if one.told.instead]
    for _, one in out:
        told = one.told
        if one.service in own:
            continue
        if told.other and one.service in FIXTURES:
            name, room = told.other
            others[room].append(name or SERVICE_WORDS[one.service])
        elif not told.other and (one.service in FIXTURES or _nowhere(ahead, one.service)):
            by_day = one.state == LATER and _back_that_day(told, calendar)
            advice.append(usual_advice(one.service, by_day=by_day, out=one.state != LATER))
    if others:
        places = [f"the {listed(dict.fromkeys(names))} in the {room}" for room, names in others.items()]
        yield f"Use {listed(places)}."
    yield from advice


def _back_that_day(told: ServiceState, calendar: WorkCalendar) -> bool:
    if told.since is None or told.until is None:
        return False
    return calendar.day_of(told.since) == calendar.day_of(told.until - 1)


def _nowhere(ahead: HouseAhead, service: str) -> bool:
    """Whether it is out in each room that has it: water and power are missed once they are missed everywhere."""
    return all(one.state != WORKS for room in ahead.rooms for one in room.things if one.service == service)


def plan_ahead(house: HouseServices, today: date) -> list[str]:
    """Say which nights and days without the necessary are near: three working days ahead at the latest, a week before
    that at the soonest."""
    near = [one for one in shortfalls(house, today) if one.tell_by - _AHEAD <= today]
    return list(shortfall_words(near, lambda day: dated_words(day, today)))
