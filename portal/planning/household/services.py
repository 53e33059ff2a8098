"""What rooms give the household, what phases take from it and ask of it, read strictly from JSON.

A room's `services` is a list. Each entry is a service by name, or an object:

    ["water", "drain", "sink", "toilet", {"service": "way_through", "name": "front door"},
     {"service": "cooktop", "name": "gas cooktop", "needs": ["floor"]}]

`name` tells two of a kind apart. `needs` is what the service can't do without, where it isn't the usual (NEEDS).

A phase's `takes` is a list of objects. Only `service` is required:

    {"service": "sink",          one of SERVICES or BURDENS
     "room": 3,                  a room id; null is the whole house; left out is the phase's own room
     "name": "front door",       which one, where the room has several; left out is all of them
     "until": "done",            "work": back at the end of each work day (usual); "done": out day and night
     "back_with": 12,            with "done": the phase whose finish gives it back; left out is this phase
     "gate": "silicone",         with "done": a wait of the table of cure times, by its key
     "wait_hours": 36,           with "done": the wait by the clock after the finish; wins over the gate,
                                 and is the label's figure where the table has none
     "instead": "..."}           what to do instead, in a short sentence; left out is the usual advice

Two more entries (ASKS) say what the household must do, and have only the keys shown:

    {"service": "clear",         what must be cleared before the phase begins: `words`, a sentence, is required
     "words": "Empty the vanity.", "room": 3}
    {"service": "at_home",       somebody must be at home while the crew is there; `words`, if any, say what for
     "words": "We ask where the hooks go."}
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from portal.planning.household.cure_times import CureTable

SERVICES = ("water", "drain", "sink", "bath", "toilet", "cooktop", "power", "heat", "floor", "way_through")
BURDENS = ("noise", "dust")
CLEAR, AT_HOME = ASKS = ("clear", "at_home")
"""What the household is asked to do: it does without nothing."""
FIXTURES = frozenset({"sink", "bath", "toilet", "cooktop", "way_through"})
"""Services that a room has only when it says so; the others are in any room."""

NEEDS: dict[str, frozenset[str]] = {
    "sink": frozenset({"water", "drain", "floor"}),
    "bath": frozenset({"water", "drain", "floor"}),
    "toilet": frozenset({"water", "drain", "floor"}),
    "cooktop": frozenset({"power", "floor"}),
    "way_through": frozenset({"floor"}),
}
"""What else must work, in the room and in the house (common practice). Nobody can use a toilet behind a wet floor."""

UNTIL_WORK_ENDS = "work"
UNTIL_DONE = "done"
LONGEST_WAIT = 24 * 90
_TAKE_KEYS = ("service", "room", "name", "until", "back_with", "gate", "wait_hours", "instead")
_ASK_KEYS = {CLEAR: ("service", "words", "room"), AT_HOME: ("service", "words")}


class HouseholdError(ValueError):
    """Services or takes that can't be used; `field` names the part, the message says what to do."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


@dataclass(frozen=True, slots=True)
class Service:
    """One thing that the household uses in a room. `needs`: what it doesn't work without; None is the usual."""

    service: str
    name: str = ""
    needs: frozenset[str] | None = None

    @property
    def relies_on(self) -> frozenset[str]:
        """The services, of its room or of the house, without which it can't be used."""
        return NEEDS.get(self.service, frozenset()) if self.needs is None else self.needs


@dataclass(frozen=True, slots=True)
class RoomServices:
    """A room, by its id and name, and what the household uses in it."""

    room: int
    name: str
    services: tuple[Service, ...] = ()


@dataclass(frozen=True, slots=True)
class Take:
    """What a phase takes from the household, or of ASKS what it asks of it, in `words`. `room`: its id; None: the
    phase's own room, or with `house` the whole house. `name`: which of several, "" all. `until`: UNTIL_WORK_ENDS or
    UNTIL_DONE. `back_with`: the phase (its id) whose finish gives it back, None this one. `wait`: clock minutes after
    that. `gate`: key of a cure time, or "". `unknown`: only a label has the hours of that, and nobody has entered them,
    so nobody knows when it is back. `instead`: what to do meanwhile, "" the usual advice."""

    service: str
    room: int | None = None
    house: bool = False
    name: str = ""
    until: str = UNTIL_WORK_ENDS
    back_with: int | None = None
    wait: int = 0
    gate: str = ""
    instead: str = ""
    unknown: bool = False
    words: str = ""

    def place(self, own_room: int | None) -> int | None:
        """Give the id of the room it is taken in; None is the whole house. `own_room`: that of the phase."""
        if self.house:
            return None
        return own_room if self.room is None else self.room


def read_services(given: object) -> tuple[Service, ...]:
    """Read a room's `services` (see above). Raises HouseholdError."""
    found = tuple(_read_service(f"services[{at}]", entry) for at, entry in enumerate(_list("services", given)))
    seen: set[tuple[str, str]] = set()
    for at, service in enumerate(found):
        if (service.service, service.name) in seen:
            raise HouseholdError(f"services[{at}]", f"{service.service} is there twice; give each a name of its own")
        seen.add((service.service, service.name))
    return found


def read_takes(given: object, cures: CureTable) -> tuple[Take, ...]:
    """Read a phase's `takes` (see above). Raises HouseholdError."""
    return tuple(read_take(f"takes[{at}]", entry, cures) for at, entry in enumerate(_list("takes", given)))


def read_take(field: str, given: object, cures: CureTable) -> Take:
    """Read one of a phase's `takes`. Raises HouseholdError, whose field begins with `field`."""
    if isinstance(given, Mapping) and given.get("service") in ASKS:
        return _read_ask(field, given)
    entry = _object(field, given, _TAKE_KEYS)
    wait = _wait(field, entry, cures)
    take = Take(
        service=_one_of(f"{field}.service", entry.get("service"), (*SERVICES, *BURDENS, *ASKS)),
        room=_id(f"{field}.room", entry.get("room")),
        house="room" in entry and entry["room"] is None,
        name=_text(f"{field}.name", entry.get("name", ""), 80),
        until=_one_of(f"{field}.until", entry.get("until", UNTIL_WORK_ENDS), (UNTIL_WORK_ENDS, UNTIL_DONE)),
        back_with=_id(f"{field}.back_with", entry.get("back_with")),
        gate=_one_of(f"{field}.gate", entry["gate"], tuple(cures)) if entry.get("gate") is not None else "",
        wait=wait,
        instead=_text(f"{field}.instead", entry.get("instead", ""), 200),
        unknown=not wait and _by_label(entry.get("gate"), cures),
    )
    if take.until == UNTIL_WORK_ENDS:
        for key in ("back_with", "gate", "wait_hours"):
            if entry.get(key) is not None:
                raise HouseholdError(f"{field}.{key}", 'only goes with "until": "done"')
    return take


def _read_ask(field: str, given: Mapping[str, Any]) -> Take:
    entry = _object(field, given, _ASK_KEYS[given["service"]])
    words = _text(f"{field}.words", entry.get("words", ""), 200)
    if given["service"] == CLEAR and not words:
        raise HouseholdError(f"{field}.words", "say what must be cleared, in a short sentence")
    house = "room" in entry and entry["room"] is None
    return Take(given["service"], room=_id(f"{field}.room", entry.get("room")), house=house, words=words)


def check_takes(
    takes: Sequence[Take], own_room: int | None, rooms: Mapping[int, RoomServices], phases: Collection[int]
) -> None:
    """Check that rooms, fixtures and phases named in `takes` are there. `own_room`: id of the phase's room, None for
    the whole house; `rooms`: by id; `phases`: ids. Raises HouseholdError."""
    for at, take in enumerate(takes):
        place = take.place(own_room)
        if take.back_with is not None and take.back_with not in phases:
            raise HouseholdError(f"takes[{at}].back_with", f"phase {take.back_with} is not in this plan")
        if place is not None and place not in rooms:
            raise HouseholdError(f"takes[{at}].room", f"room {place} is not in this project")
        within = rooms.values() if place is None else (rooms[place],)
        if take.service in FIXTURES and not any(takes_from(take, one) for room in within for one in room.services):
            where = "no room" if place is None else f"{rooms[place].name} does not"
            which = f"{take.service} named {take.name}" if take.name else take.service
            lists = "lists" if place is None else "list"
            raise HouseholdError(f"takes[{at}].service", f"{where} {lists} a {which}; add it to the room's services")


def takes_from(take: Take, service: Service) -> bool:
    """Tell whether it is this very service that is taken, the place left aside."""
    return take.service == service.service and take.name in ("", service.name)


def service_json(service: Service) -> str | dict[str, Any]:
    """Write the entry of `services` that reads back as this."""
    if service.needs is None and not service.name:
        return service.service
    entry: dict[str, Any] = {"service": service.service}
    if service.name:
        entry["name"] = service.name
    return entry if service.needs is None else entry | {"needs": sorted(service.needs)}


def take_json(take: Take) -> dict[str, Any]:
    """Write the entry of `takes` that reads back as this."""
    entry: dict[str, Any] = {"service": take.service}
    if take.service not in ASKS:
        entry["until"] = take.until
    if take.house or take.room is not None:
        entry["room"] = take.room
    if take.until == UNTIL_DONE and take.unknown:
        pass  # hours that nobody knows are left out
    elif take.until == UNTIL_DONE and take.wait % 60 == 0:
        entry["wait_hours"] = take.wait // 60
    elif take.until == UNTIL_DONE:
        entry["wait_hours"] = take.wait / 60
    more = {"name": take.name, "back_with": take.back_with, "gate": take.gate, "instead": take.instead,
            "words": take.words}
    return entry | {key: value for key, value in more.items() if value}


def _read_service(field: str, given: object) -> Service:
    entry = {"service": given} if isinstance(given, str) else _object(field, given, ("service", "name", "needs"))
    service = _one_of(f"{field}.service", entry.get("service"), SERVICES)
    needs = None
    if entry.get("needs") is not None:
        listed = _list(f"{field}.needs", entry["needs"])
        needs = frozenset(_one_of(f"{field}.needs", need, SERVICES) for need in listed)
    return Service(service, _text(f"{field}.name", entry.get("name", ""), 80), needs)


def _wait(field: str, entry: Mapping[str, Any], cures: CureTable) -> int:
    hours = entry.get("wait_hours")
    if hours is None:
        gate = entry.get("gate")
        return cures[gate].minutes if isinstance(gate, str) and gate in cures else 0
    if isinstance(hours, bool) or not isinstance(hours, int | float) or not 0 <= hours <= LONGEST_WAIT:
        raise HouseholdError(f"{field}.wait_hours", f"give clock hours from 0 to {LONGEST_WAIT}")
    return round(hours * 60)


def _by_label(gate: object, cures: CureTable) -> bool:
    return isinstance(gate, str) and gate in cures and cures[gate].by_label


def _object(field: str, given: object, keys: tuple[str, ...]) -> Mapping[str, Any]:
    if not isinstance(given, Mapping):
        raise HouseholdError(field, f"give an object with {', '.join(keys)}")
    for key in given:
        if key not in keys:
            raise HouseholdError(f"{field}.{key}", f"is not known here; use {', '.join(keys)}")
    return given


def _list(field: str, given: object) -> Sequence[object]:
    if isinstance(given, str) or not isinstance(given, Sequence):
        raise HouseholdError(field, "give a list")
    return given


def _one_of(field: str, given: object, known: tuple[str, ...]) -> str:
    if not isinstance(given, str) or given not in known:
        raise HouseholdError(field, f"{given!r} is not known here; use one of {', '.join(known)}")
    return given


def _id(field: str, given: object) -> int | None:
    if given is None:
        return None
    if isinstance(given, bool) or not isinstance(given, int) or given < 1:
        raise HouseholdError(field, "give its id, a whole number")
    return given


def _text(field: str, given: object, longest: int) -> str:
    if not isinstance(given, str) or len(given) > longest:
        raise HouseholdError(field, f"give text of at most {longest} characters")
    return given.strip()
