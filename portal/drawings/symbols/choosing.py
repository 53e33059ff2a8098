"""Which symbol stands for a thing of a room: by the words of its own name, else by what kind of thing it is."""

import re

USUAL: dict[str, str] = {
    "water": "tap", "drain": "drain", "sink": "sink", "bath": "bath", "toilet": "toilet", "cooktop": "cooktop",
    "power": "socket", "heat": "radiator", "floor": "floor", "way_through": "door",
}  # fmt: skip
"""By service of planning.household.services."""

_BY_WORDS: dict[str, tuple[tuple[str, str], ...]] = {
    "sink": (("tub", "tub-sink"), ("laundry", "tub-sink"), ("utility", "tub-sink"), ("slop", "tub-sink")),
    "bath": (("tub", "bath"), ("bath", "bath"), ("shower", "shower")),
    "cooktop": (
        ("hot plate", "hot-plate"), ("hotplate", "hot-plate"), ("burner", "hot-plate"), ("camp stove", "hot-plate"),
        ("microwave", "microwave"), ("toaster", "microwave"), ("wall oven", "microwave"),
    ),
    "way_through": (
        ("garage door", "garage"), ("slid", "slider"), ("patio", "slider"), ("gate", "gate"), ("door", "door"),
        ("stair", "stairs"), ("step", "stairs"), ("opening", "opening"), ("archway", "opening"),
        ("passage", "opening"), ("hall", "opening"),
    ),
    "water": (("wash", "washer"),),
    "drain": (("wash", "washer"),),
    "power": (
        ("light", "lamp"), ("lamp", "lamp"), ("fridge", "fridge"), ("refrigerator", "fridge"), ("freezer", "fridge"),
        ("wash", "washer"), ("dryer", "washer"), ("fan", "fan"),
    ),
    "heat": (("fan", "fan"), ("air", "fan"), ("cooling", "fan")),
}
"""Beginnings of words, the first that fits: a `bath with shower` is a bath, a `shower room door` still is a door."""


def symbol_of(service: str, name: str = "") -> str:
    """Give the symbol (a key of THINGS) of a service by its own name (`laundry tub`, `back door`); without a name, or
    where no word of it says more, the usual one of its service. Raises KeyError for a service that is none."""
    said = name.casefold()
    usual = USUAL[service]
    return next((key for words, key in _BY_WORDS.get(service, ()) if re.search(rf"\b{words}", said)), usual)
