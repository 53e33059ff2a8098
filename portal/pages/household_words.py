"""What the household can and can't use, and what to do instead, in short plain sentences for pages, desk and API.

Advice is common practice, unless a source is named.
"""

from collections.abc import Callable
from datetime import date

from portal.content import cures
from portal.planning.household.nights import Shortfall
from portal.planning.household.tonight import Because, ServiceState
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
    "bath": "Plan to wash somewhere else.",
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
    name, room = state.other
    if state.service == "way_through" and not name:
        return f"Go through the {room}."
    return f"Use the {name or SERVICE_WORDS[state.service]} in the {room}."


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


def shortfall_words(one: Shortfall, say: Callable[[date], str]) -> str:
    """Say a shortfall as a sentence: `In the night of Fri Dec 11 there is no water, because of “Tile the floor”.` Days
    are said by `say`."""
    return f"{stretch_words(one, say)} {_MISSING[one.kind]}, because of {listed(map(quoted_because, one.why))}."


def stretch_words(one: Shortfall, say: Callable[[date], str]) -> str:
    """Say the nights of a shortfall, or the day: `From the night of Fri Dec 11 to the night of Sun Dec 13`. Days are
    said by `say`."""
    if one.by_day:
        return f"On {say(one.first)}, while the crew works,"
    if one.first == one.last:
        return f"In the night of {say(one.first)}"
    return f"From the night of {say(one.first)} to the night of {say(one.last)}"


def _wait(why: Because) -> str:
    cure = cures().get(why.gate)
    return f" ({cure.name})" if cure else ""
