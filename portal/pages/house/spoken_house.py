"""The drawn house in words to be read out: what works, what is out and till when, and what to use instead."""

from collections import defaultdict
from collections.abc import Iterator

from portal.pages.days.house_line import use_instead
from portal.pages.days.spoken import Spoken
from portal.pages.house.drawn_house import DrawnHouse, DrawnRoom
from portal.pages.house.thing_words import label_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_ahead import WORKS, HouseAhead
from portal.planning.household.services import FIXTURES
from portal.words.capitals import first_lower
from portal.words.dates import clock_words
from portal.words.lists import listed


def spoken_house(drawn: DrawnHouse, ahead: HouseAhead, calendar: WorkCalendar) -> list[Spoken]:
    """Say what the drawn house shows, room by room; nothing where nothing is known of the rooms."""
    if not drawn.listed:
        return []
    begins = drawn.title if ahead.at_work else f"{drawn.title}, from {clock_words(calendar.moment(ahead.begins))}"
    rooms = [Spoken(f"{room.name}:", f"{', '.join(said)}.") for room in drawn.rooms if (said := list(_out(room)))]
    later = [Spoken("", one) for one in drawn.plan_ahead]
    if not rooms:
        return [Spoken(f"{begins}: all works."), *later]
    works, instead = _works(ahead), " ".join(use_instead(ahead, calendar))
    return [
        Spoken(f"{begins}, these work:", f"{works}.") if works else Spoken(f"{begins}."),
        *rooms, *([Spoken("", instead)] if instead else []), *later,
    ]


def _out(room: DrawnRoom) -> Iterator[str]:
    """What of it is out, what is back together in one breath, and its floor; a thing that works has no tag."""
    together: dict[tuple[bool, str], list[str]] = defaultdict(list)
    for said in (one.said for one in room.things if one.said.tag):
        together[said.no, said.tail].append(said.name)
    for (no, tail), names in together.items():
        yield f"{'no ' if no else ''}{listed(names, 'or' if no else 'and')}{tail}".rstrip(".")
    floor = [room.keep_off] if room.keep_off else []
    yield from (first_lower(one).rstrip(".") for one in [*room.also, *floor])


def _works(ahead: HouseAhead) -> str:
    """Where another of a kind works all the while that is out elsewhere."""
    out = {one.service for room in ahead.rooms for one in room.things if one.state != WORKS} & FIXTURES
    return "; ".join(
        f"{listed(found)} in the {room.name}" for room in ahead.rooms
        if (found := [label_of(one) for one in room.things if one.service in out and one.state == WORKS])
    )
