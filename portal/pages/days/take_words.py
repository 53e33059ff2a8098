"""What a day takes from the household and asks of it, in the same words for page, letter, desk and API."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from portal.pages.household_words import SERVICE_WORDS, other_words, quoted_because, usual_advice
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.day_takes import AtHome, Clearing, DayTake, DayTakes
from portal.words.capitals import first_upper
from portal.words.dates import day_words, part_of_day, short_clock
from portal.words.lists import listed

_PLACES = ("floor", "way_through")


@dataclass(frozen=True, slots=True)
class Stretch:
    """What is taken from one moment to another: `when` (`8:00 to 3:00`), `what` (`no water in the Hall bath`)."""

    when: str
    what: str


def stretches(takes: Iterable[DayTake], calendar: WorkCalendar) -> list[Stretch]:
    """Say what is taken together in one breath, by time."""
    together: dict[str, list[DayTake]] = defaultdict(list)
    for one in takes:
        together[hours_of(one, calendar)].append(one)
    return [Stretch(when, what_words(found)) for when, found in together.items()]


def hours_of(take: DayTake, calendar: WorkCalendar) -> str:
    """Say from when to when: `8:00 to 3:00`; of what is out in the night, too, `8:30 to noon on Wed Dec 9`."""
    since = calendar.moment(take.since)
    if take.until is None:
        return f"from {short_clock(since)} until further notice"
    until = calendar.moment(take.until)
    if until.date() == since.date() and not take.lasting:
        return f"{short_clock(since)} to {short_clock(until)}"
    day, part = part_of_day(until)
    when = {"in the morning": "the morning of", "at noon": "noon on", "in the evening": "the evening of"}[part]
    return f"from {short_clock(since)} to {when} {day_words(day)}"


def what_words(takes: Iterable[DayTake]) -> str:
    """Say what is taken: `no water or power in the Kitchen, stay off the Hall bath floor`."""
    by_room: dict[tuple[str, bool], list[str]] = defaultdict(list)
    places = []
    for one in takes:
        if one.service in _PLACES:
            places.append(_place(one))
        else:
            by_room[one.room_name, one.burden].append(one.name or SERVICE_WORDS[one.service])
    told = [
        f"{'' if burden else 'no '}{listed(dict.fromkeys(names), 'and' if burden else 'or')} in the {room or 'house'}"
        for (room, burden), names in by_room.items()
    ]
    return ", ".join([*told, *dict.fromkeys(places)])


def _place(one: DayTake) -> str:
    if one.service == "floor":
        return f"stay off the {one.room_name} floor" if one.room_name else "stay off the floors"
    if one.name:
        return f"no way through the {one.name}"
    return f"no way through the {one.room_name or 'house'}"


def take_sentences(told: DayTakes, calendar: WorkCalendar) -> list[str]:
    """Say in full what a day takes: from when to when, what, why, and what to do instead."""
    together: dict[tuple[str, tuple[str, ...]], list[DayTake]] = defaultdict(list)
    for one in told.takes:
        together[hours_of(one, calendar), tuple(map(quoted_because, one.why))].append(one)
    sentences = []
    for (when, why), takes in together.items():
        advice = " ".join(dict.fromkeys(filter(None, map(instead_of, takes))))
        what = what_words(takes)
        sentences.append(f"{first_upper(when)}: {what}, because of {listed(why)}. {advice}".rstrip())
    return sentences


def instead_of(take: DayTake) -> str:
    """Say what to do meanwhile: in the firm's own words, or with another of the kind that works, or as usual."""
    if take.instead or take.other is None:
        return take.instead or usual_advice(take.service, by_day=not take.lasting)
    name, room = take.other
    return other_words(take.service, name, room)


def ask_sentences(told: DayTakes, calendar: WorkCalendar) -> Iterator[str]:
    """Say what to clear, by when, and from when to when somebody must be at home."""
    yield from (clear_words(one, calendar) for one in told.clear)
    yield from (home_words(one, calendar) for one in told.at_home)


def clear_words(one: Clearing, calendar: WorkCalendar) -> str:
    """Say what to clear: `Hall bath, by 8:00: Empty the vanity.`"""
    room = f"{one.room_name}, " if one.room_name else ""
    return first_upper(f"{room}by {short_clock(calendar.moment(one.by))}: {_sentence(one.words)}")


def home_words(one: AtHome, calendar: WorkCalendar) -> str:
    """Say that somebody must be at home: `Somebody must be home 8:00 to 3:00. We ask where the hooks go.`"""
    hours, why = hours_at_home(one, calendar)
    return f"Somebody must be home {hours}. {why}".rstrip()


def hours_at_home(one: AtHome, calendar: WorkCalendar) -> tuple[str, str]:
    """Say from when to when, and why."""
    since, until = (short_clock(calendar.moment(at)) for at in (one.since, one.until))
    return f"{since} to {until}", _sentence(one.words)


def _sentence(typed: str) -> str:
    """What somebody of the firm typed, with a full stop."""
    return f"{first_upper(typed)}{'' if typed[-1:] in '.!?…' else '.'}"
