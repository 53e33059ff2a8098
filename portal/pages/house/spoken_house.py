"""The drawn house in words to be read out: what is out and till when, what works meanwhile, and what to use instead."""

from collections.abc import Iterator

from portal.pages.days.house_line import use_instead
from portal.pages.house.drawn_house import DrawnHouse, DrawnRoom
from portal.pages.house.thing_words import label_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_ahead import WORKS, HouseAhead
from portal.planning.household.services import FIXTURES
from portal.words.capitals import first_lower
from portal.words.dates import clock_words
from portal.words.lists import listed


def spoken_house(drawn: DrawnHouse, ahead: HouseAhead, calendar: WorkCalendar) -> list[str]:
    """Say what the drawn house shows, room by room; nothing where nothing is known of the rooms."""
    if not drawn.listed:
        return []
    begins = f"{drawn.title}, from {clock_words(calendar.moment(ahead.begins))}"
    rooms = [f"{room.name}: {', '.join(said)}." for room in drawn.rooms if (said := list(_out(room)))]
    if not rooms:
        return [f"{begins}: all works.", *drawn.plan_ahead]
    return [f"{begins}.", *rooms, *_works(ahead), *use_instead(ahead, calendar), *drawn.plan_ahead]


def _out(room: DrawnRoom) -> Iterator[str]:
    """What of it is out, and its floor; a thing that works has no tag."""
    said = [one.said.sentence for one in room.things if one.said.tag]
    floor = [room.keep_off] if room.keep_off else []
    yield from (first_lower(one).rstrip(".") for one in [*said, *room.also, *floor])


def _works(ahead: HouseAhead) -> Iterator[str]:
    """Where another of a kind works all the while that is out elsewhere."""
    out = {one.service for room in ahead.rooms for one in room.things if one.state != WORKS} & FIXTURES
    places = [
        f"{listed(found)} in the {room.name}" for room in ahead.rooms
        if (found := [label_of(one) for one in room.things if one.service in out and one.state == WORKS])
    ]
    if places:
        yield f"What works meanwhile: {'; '.join(places)}."
