"""Section 4: what works tonight and what doesn't, room by room, until when, and nights to plan ahead for."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from portal.pages.household_words import SERVICE_WORDS, instead_words, quoted_because, shortfall_words
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.nights import Shortfall, shortfalls
from portal.planning.household.tonight import HouseServices, HouseState, RoomState, ServiceState, in_work_hours, tonight
from portal.words.capitals import first_upper
from portal.words.dates import clock_words, dated_words, day_words, moment_words
from portal.words.lists import listed
from portal.words.plurals import plural

_DAYS_AHEAD = 14


@dataclass(frozen=True, slots=True)
class RoomTonight:
    room: str
    sentences: list[str]


@dataclass(frozen=True, slots=True)
class Tonight:
    lead: str
    rooms: list[RoomTonight]
    rest: str
    ahead: list[str]


def tonight_section(house: HouseServices, today: date) -> Tonight:
    state = tonight(house, today)
    rooms = [RoomTonight(room.name, list(_room(room, state, house.calendar))) for room in state.rooms]
    hit = [room for room in rooms if room.sentences]
    whole = [room.room for room in rooms if not room.sentences]
    ahead = list(ahead_sentences(shortfalls(house, today), today))
    if not hit:
        return Tonight(f"{_window(state, house.calendar)}, everything in the house works as usual.", [], "", ahead)
    rest = f"Elsewhere everything works: {listed(whole)}." if whole else ""
    return Tonight(f"{_window(state, house.calendar)}:", hit, rest, ahead)


_NEEDS = (("water", "water"), ("toilet", "the toilet"), ("cooktop", "cooking"))


def needs_sentence(house: HouseServices, today: date) -> str:
    """What a house can't do without tonight, in one breath: `water works as usual; the toilet works only in ...`"""
    state = tonight(house, today)
    said = [(words, *_where(state, service)) for service, words in _NEEDS]
    usual = [words for words, works, out in said if works and not out]
    parts = [f"{listed(usual)} {plural(len(usual), 'works', 'work')} as usual"] if usual else []
    parts += [f"{words} works only in {listed(works)}" for words, works, out in said if works and out]
    parts += [f"{words} does not work anywhere" for words, works, out in said if out and not works]
    return f"{_window(state, house.calendar)}: {'; '.join(parts)}." if parts else ""


def _where(state: HouseState, service: str) -> tuple[list[str], list[str]]:
    """The rooms in which it works and those in which it doesn't, of those that have it."""
    works: list[str] = []
    out: list[str] = []
    for room in state.rooms:
        found = [one.usable for one in room.services if one.service == service]
        if found:
            (works if any(found) else out).append(room.name)
    return works, out


def work_sentences(house: HouseServices, today: date) -> Iterator[str]:
    """What the household can't use, or must bear, only while the crew is at work today."""
    at_work, at_night = in_work_hours(house, today), tonight(house, today)
    if at_work is None:
        return
    for room, later in zip(at_work.rooms, at_night.rooms, strict=True):
        still_out = {(one.service, one.name) for one in [*later.services, *later.burdens] if not one.usable}
        out = [one for one in room.services if not one.usable and (one.service, one.name) not in still_out]
        burdens = [one for one in room.burdens if not one.usable and (one.service, one.name) not in still_out]
        if out:
            yield f"While the crew works, don’t count on the {_names(out)} in this room: {room.name}."
        if burdens:
            yield f"While the crew works, expect {_names(burdens)} in this room: {room.name}."


def _names(states: list[ServiceState]) -> str:
    return listed([one.name or SERVICE_WORDS[one.service] for one in states])


def _window(state: HouseState, calendar: WorkCalendar) -> str:
    begins, ends = calendar.moment(state.begins), calendar.moment(state.ends)
    return f"From {clock_words(begins)} to {day_words(ends.date())}, {clock_words(ends)}"


def _room(room: RoomState, state: HouseState, calendar: WorkCalendar) -> Iterator[str]:
    """What is out together, for the same reason and as long, is said together."""
    together: dict[tuple[str, str], list[ServiceState]] = defaultdict(list)
    for one in [*room.services, *room.burdens]:
        if not one.usable:
            together[_until(one, state, calendar), _because(one)].append(one)
    for (until, because), states in together.items():
        names = _names(states)
        burden = all(one in room.burdens for one in states)
        fact = f"{first_upper(names)} {until}" if burden else f"{first_upper(names)}: not to be used {until}"
        advice = " ".join(dict.fromkeys(filter(None, map(instead_words, states))))
        yield f"{fact}, {because}. {advice}".rstrip()


def _because(one: ServiceState) -> str:
    why = listed(map(quoted_because, one.why))
    return f"back after {why}" if one.back else f"because of {why}"


def _until(one: ServiceState, state: HouseState, calendar: WorkCalendar) -> str:
    since = "" if one.since is None or one.since <= state.begins else f"from {_moment(one.since, calendar)} "
    if one.until is None:
        return f"{since}until further notice"
    # The minute is only worth saying when it is near.
    near = calendar.day_of(one.until) <= calendar.day_of(state.ends)
    return f"{since}until {_moment(one.until, calendar) if near else _part_of_day(calendar.moment(one.until))}"


def _part_of_day(moment: datetime) -> str:
    """Never earlier than the moment: `the morning of Sat Nov 28` is before the day begins for most."""
    if (moment.hour, moment.minute) <= (8, 0):
        return f"the morning of {day_words(moment.date())}"
    if (moment.hour, moment.minute) <= (12, 0):
        return f"noon on {day_words(moment.date())}"
    if (moment.hour, moment.minute) <= (18, 0):
        return f"the evening of {day_words(moment.date())}"
    return f"the morning of {day_words(moment.date() + timedelta(days=1))}"


def ahead_sentences(found: Iterable[Shortfall], today: date) -> Iterator[str]:
    """Those of the next two weeks, and all that must be told by now: three working days ahead at the latest."""
    for one in found:
        if one.first <= today + timedelta(days=_DAYS_AHEAD) or one.tell_by <= today:
            yield shortfall_words(one, lambda day: dated_words(day, today))


def _moment(instant: int, calendar: WorkCalendar) -> str:
    return moment_words(calendar.moment(instant))
