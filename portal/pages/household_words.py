"""What the household can and can't use, and what to do instead, in short plain sentences for pages, desk and API.

Advice is common practice, unless a source is named.
"""

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from portal.content import cures
from portal.planning.household.nights import Shortfall
from portal.planning.household.outages import Because
from portal.planning.household.tonight import ServiceState
from portal.words.dates import short_clock
from portal.words.lists import listed

SERVICE_WORDS: dict[str, str] = {
    "water": "water", "drain": "drain", "sink": "sink", "bath": "bath or shower", "toilet": "toilet",
    "cooktop": "cooktop", "power": "power", "heat": "heat", "floor": "floor", "way_through": "way through",
    "noise": "noise", "dust": "dust",
}

_INSTEAD: dict[str, str] = {
    "water": "Fill jugs and a bucket before the work starts.",
    "drain": "Pour nothing down a drain, and run no tap, until we say so.",
    "sink": "Fill jugs before the work starts, and pour nothing down the drain.",
    "bath": "Bathe elsewhere.",
    "toilet": "No other toilet works: plan the night elsewhere, or call us about a portable one.",
    "cooktop": "Plan cold meals, or a meal out.",
    "power": "Charge phones and lamps before the work starts, and keep the refrigerator shut.",
    # Carbon monoxide, the usual caution: grills and outdoor heaters kill indoors.
    "heat": "Have blankets ready. Never bring a grill or an outdoor heater inside.",
    "floor": "Stay off this floor, pets too.",
    "way_through": "No other way is open: call us before you come or go.",
    "noise": "If you need quiet, plan to be elsewhere.",
    # Respirable silica: 29 CFR 1926.1153 keeps other people away from the cutting.
    "dust": "Keep the door shut and stay out: dust from stone, tile or plaster harms the lungs.",
}

_BY_DAY: dict[str, str] = {
    "bath": "Wash before the crew comes.",
    "toilet": "No toilet works then: plan to be out, or call us about a portable one.",
}

_OUT: dict[str, str] = {
    "water": "Take water from a neighbor, or call us.",
    "sink": "Take water from another tap or a bottle, and pour nothing down the drain.",
    "power": "Keep the refrigerator shut, and charge phones elsewhere.",
}

_MISSING = {
    "no_toilet": "no toilet can be used", "no_water": "there is no water",
    "no_way_to_cook": "there is no way to cook", "no_way_in": "no way in or out is open",
}
_UNWATCHED = {
    "no_toilet": "a toilet", "no_water": "water", "no_way_to_cook": "a way to cook", "no_way_in": "a way in or out",
}


def instead_words(state: ServiceState) -> str:
    """Say what to do while a service is out: in the firm's own words, or with another of the kind that works, or the
    usual advice. Empty while it can be used."""
    if state.usable:
        return ""
    if state.instead or state.other is None:
        return state.instead or _INSTEAD[state.service]
    return other_words(state.service, *state.other)


def other_words(service: str, name: str, room: str) -> str:
    """Say to use another of the kind, by its name and room: `Use the sink in the Laundry room.`"""
    if service == "water":
        return f"There is water in the {room}."
    if service == "way_through" and not name:
        return f"Go through the {room}."
    return f"Use the {name or SERVICE_WORDS[service]} in the {room}."


def usual_advice(service: str, by_day: bool = False, out: bool = False) -> str:
    """Say what to do while a service is out and there is no other of the kind; `by_day`: only while the crew works;
    `out`: it is out already, so that it is too late to fill or to charge anything."""
    if out and service in _OUT:
        return _OUT[service]
    return (_BY_DAY if by_day and service in _BY_DAY else _INSTEAD)[service]


def because_words(why: Because) -> str:
    """Say what an outage ends with, and the wait after it: `Connect the sink (sealant must cure)`."""
    return f"{why.name}{_wait(why)}"


def quoted_because(why: Because) -> str:
    """Say the same inside a sentence: the name in its marks, `“Connect the sink” (sealant must cure)`."""
    return f"“{why.name}”{_wait(why)}"


def missing_words(kind: str) -> str:
    """Say what a shortfall of this kind means, for use inside a sentence: `no toilet can be used`."""
    return _MISSING[kind]


def unwatched_words(kind: str) -> str:
    """Say that no room has what a shortfall of this kind would be about, as a sentence for the manager."""
    return f"No room is said to have {_UNWATCHED[kind]}, so it isn’t watched."


def shortfall_words(found: Iterable[Shortfall], say: Callable[[date], str]) -> Iterator[str]:
    """Say shortfalls, those of one stretch together: `In the night of Fri Dec 11 there is no water, and no toilet can
    be used, because of “Tile the floor”.` Days are said by `say`."""
    together: dict[tuple[str, str], list[str]] = {}
    for one in found:
        key = (stretch_words(one, say), listed(map(quoted_because, one.why)))
        together.setdefault(key, []).append(_MISSING[one.kind])
    for (stretch, why), missing in together.items():
        yield f"{stretch} {', and '.join(missing)}, because of {why}."


def stretch_words(one: Shortfall, say: Callable[[date], str]) -> str:
    """Say the nights of a shortfall, or the days: `From the night of Fri Dec 11 to the night of Sun Dec 13`, `On Tue
    Dec 8 from 8:00 to 3:00`. Days are said by `say`."""
    if one.by_day and one.hours:
        return f"On {say(one.first)} from {short_clock(one.hours[0])} to {short_clock(one.hours[1])}"
    if one.by_day and one.first == one.last:
        return f"On {say(one.first)}, while the crew works,"
    if one.by_day:
        return f"From {say(one.first)} to {say(one.last)}, while the crew works,"
    if one.first == one.last:
        return f"In the night of {say(one.first)}"
    return f"From the night of {say(one.first)} to the night of {say(one.last)}"


def _wait(why: Because) -> str:
    cure = cures().get(why.gate)
    return f" ({cure.name})" if cure else ""
