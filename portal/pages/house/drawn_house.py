"""The house in section: which things of which rooms are drawn, in which order, and what is said of the others.

A room has space for three things on a phone. First comes what is out of use, then what takes the place of something
that is, then what works; the rest is words.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from portal.drawings.symbols.choosing import symbol_of
from portal.drawings.vignettes.gable import gable
from portal.pages.house.thing_words import OFF, Said, label_of, said_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.household.house_ahead import OUT, UNKNOWN, WORKS, HouseAhead, RoomAhead, Thing
from portal.planning.household.outages import NEVER
from portal.planning.household.services import FIXTURES, NEEDS
from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import plural

SPACE = 3
"""Things that a room has space for."""
MOST_ROOMS = 4
"""Above that, rooms in which all works and nothing is asked are one line."""

_OUT, _STANDS_IN, _FIXTURE, _WORKS, _FOLLOWS = range(5)
"""How much a thing is needed in the drawing. What is out only as long as something that needs it comes last."""

_BY_NEED = ("toilet", "sink", "bath", "cooktop", "way_through", "floor", "water", "power", "heat", "drain")


@dataclass(frozen=True, slots=True)
class DrawnThing:
    """A symbol (of drawings.symbols) and what is said at it."""

    symbol: str
    said: Said


@dataclass(frozen=True, slots=True)
class DrawnRoom:
    """`off`: nothing in it can be used now. `asks`: open questions about it. `things`: drawn. `also`: sentences that
    are seen, about things out of use for which there is no space; `rest`: sentences that are only read or printed.
    `wet`: its floor is closed now; `keep_off`: until when, in a sentence, where the floor is not drawn itself."""

    name: str
    off: bool
    asks: int
    things: list[DrawnThing]
    also: list[str]
    rest: list[str]
    wet: bool
    keep_off: str


@dataclass(frozen=True, slots=True)
class DrawnHouse:
    """`fine`: names of rooms in which all works. `listed`: whether anything is known of the rooms."""

    title: str
    rooms: list[DrawnRoom]
    fine: str
    instead: list[str]
    plan_ahead: list[str]
    listed: bool
    gable: Markup


def drawn_house(
    house: HouseAhead, calendar: WorkCalendar, asked: Mapping[int, int], title: str, instead: Iterable[str],
    plan_ahead: Iterable[str] = (),
) -> DrawnHouse:
    """Draw the house. `asked`: open questions by room; `title`: the time that it speaks of; `instead`: what to use in
    place of what is out, `plan_ahead`: what is missed on later days, both in sentences."""
    standing_in = _standing_in(house)
    rooms = [_room(room, house, calendar, asked.get(room.room, 0), standing_in) for room in house.rooms]
    fine = [room for room, drawn in zip(house.rooms, rooms, strict=True) if _is_fine(room, drawn)]
    folded = {room.room for room in fine} if len(rooms) > MOST_ROOMS else set()
    return DrawnHouse(
        title, [drawn for room, drawn in zip(house.rooms, rooms, strict=True) if room.room not in folded],
        listed(room.name for room in fine) if folded else "", list(instead), list(plan_ahead),
        any(room.things or room.floor.state != WORKS for room in house.rooms), Markup(gable()),
    )


def _is_fine(room: RoomAhead, drawn: DrawnRoom) -> bool:
    return not drawn.asks and all(thing.state == WORKS for thing in (*room.things, room.floor))


def _standing_in(house: HouseAhead) -> set[tuple[str, str, str]]:
    """What takes the place of something that is out: its service, its own name and that of its room."""
    out = [thing for room in house.rooms for thing in room.things if thing.state != WORKS and thing.service in FIXTURES]
    return {(thing.service, *thing.told.other) for thing in out if thing.told.other is not None}


def _room(
    room: RoomAhead, house: HouseAhead, calendar: WorkCalendar, asks: int, standing_in: set[tuple[str, str, str]]
) -> DrawnRoom:
    fixtures = [thing for thing in room.things if thing.service in FIXTURES]
    floor = [] if fixtures or (room.things and room.floor.state == WORKS) else [room.floor]
    things = sorted([*room.things, *floor], key=lambda one: _place(one, _rank(one, room, fixtures, standing_in)))
    ranks = {id(thing): _rank(thing, room, fixtures, standing_in) for thing in things}
    drawn = [thing for thing in things if ranks[id(thing)] <= (_FIXTURE if fixtures else _WORKS)][:SPACE]
    left = [thing for thing in things if thing not in drawn]
    also = [thing for thing in left if ranks[id(thing)] == _OUT]
    keep_off = "" if floor else _keep_off(said_of(room.floor, house, calendar))
    closed = room.floor.state in (OUT, UNKNOWN)
    return DrawnRoom(
        room.name, all(thing.state in (OUT, UNKNOWN) for thing in fixtures or [room.floor]), asks,
        [DrawnThing(symbol_of(one.service, one.name), said_of(one, house, calendar)) for one in drawn],
        [first_upper(said_of(one, house, calendar).sentence) for one in also],
        list(_rest([one for one in left if one not in also], "" if closed else keep_off)),
        closed, keep_off if closed else "",
    )


def _rank(thing: Thing, room: RoomAhead, fixtures: list[Thing], standing_in: set[tuple[str, str, str]]) -> int:
    if thing.state != WORKS:
        return _FOLLOWS if any(_needs(fixture, thing) for fixture in fixtures) else _OUT
    if (thing.service, thing.name, room.name) in standing_in:
        return _STANDS_IN
    return _FIXTURE if thing.service in FIXTURES else _WORKS


def _place(thing: Thing, rank: int) -> tuple[int, bool, int]:
    return rank, thing.state not in (OUT, UNKNOWN), _BY_NEED.index(thing.service)


def _needs(fixture: Thing, thing: Thing) -> bool:
    """Whether a thing in use needs what is out, and is out as long: who reads of the one knows of the other."""
    if fixture.state == WORKS or thing.service not in NEEDS[fixture.service]:
        return False
    sooner = thing.state in (OUT, UNKNOWN) and fixture.state not in (OUT, UNKNOWN)
    return not sooner and (fixture.told.until or NEVER) >= (thing.told.until or NEVER)


def _rest(things: list[Thing], keep_off: str) -> Iterator[str]:
    for out, verb in ((True, "is out, too"), (False, "works")):
        names = [label_of(thing) for thing in things if (thing.state != WORKS) == out]
        if names:
            several = {"is out, too": "are out, too", "works": "work"}[verb]
            yield f"{first_upper(listed(names))} {plural(len(names), verb, several)}."
    if keep_off:
        yield keep_off


def _keep_off(floor: Said) -> str:
    return f"Keep off this floor{floor.before}{floor.tag.removeprefix(OFF)}{floor.after}" if floor.tag else ""
