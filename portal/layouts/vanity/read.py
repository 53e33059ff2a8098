"""A vanity and its people out of JSON. Every refusal is a DimensionError that names the fields."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from portal.layouts.json_fields import Reader, only_once, read
from portal.layouts.length import Length
from portal.layouts.unread import known
from portal.layouts.vanity.dimensions import (
    HELD,
    MOST_PEOPLE,
    ON_WALL,
    Knees,
    Lights,
    Mirror,
    Sash,
    Tub,
    Vanity,
)
from portal.layouts.vanity.sight import Person

MOST_LAMPS = 12


def from_json(data: Any) -> Vanity:
    """Read `counter`, `splash`, `tap`, `ceiling`, `wall`, `seated`, `people`, `minimums`, and where there are such
    `mirror`, `lights`, `window`, `tub` and `knees`. Raises DimensionError, which names every field that is wrong."""
    return read(data, _vanity)


def _vanity(reader: Reader) -> Vanity:
    people: list[Person] = []
    for part in reader.parts("people", MOST_PEOPLE, "is empty; give at least one who stands at the mirror"):
        people.append(_person(part, people))
    least = reader.part("minimums")
    return _checked(reader, Vanity(
        reader.size("counter"), reader.length_or_zero("splash"), reader.length("tap"), reader.size_or_none("ceiling"),
        reader.size_or_none("wall"), reader.flag("seated", False), tuple(people),
        reader.part_or_none("mirror", _mirror) or Mirror(None, None, Length.of_mm(0)),
        reader.part_or_none("lights", _lights), reader.part_or_none("window", _sash), reader.part_or_none("tub", _tub),
        reader.part_or_none("knees", _knees),
        least.length("above_splash"), least.length_or_none("above_tap"), least.name("source"),
    ))


def _person(reader: Reader, before: Sequence[Person]) -> Person:
    once = only_once((one.name for one in before), "give each an own name")
    name, crown = reader.unless("name", reader.name("name"), once), reader.size("height")
    eyes = reader.size("eyes", lambda eyes: (
        eyes >= crown and "are not below the top of the head; measure both from the floor"))
    down_to = reader.length_or_none("down_to", lambda down_to: (
        down_to > eyes and "is above the eyes; give the lowest point that is to be seen"))
    return Person(name, eyes, crown, down_to)


def _mirror(reader: Reader) -> Mirror:
    return Mirror(reader.size_or_none("height"), reader.size_or_none("width"), reader.length_or_zero("frame"))


def _lights(reader: Reader) -> Lights:
    return Lights(
        reader.count("number", 1, MOST_LAMPS), reader.size("height"), reader.size_or_none("width"),
        reader.length("off_mirror"), reader.choice("held", HELD, ON_WALL))


def _sash(reader: Reader) -> Sash:
    return Sash(reader.size("sash"), reader.length("to_tap"))


def _tub(reader: Reader) -> Tub:
    return Tub(reader.size("rim"), reader.length("off"))


def _knees(reader: Reader) -> Knees:
    return Knees(reader.size("height"), reader.length("depth_high"), reader.length("depth_low"))


def _checked(reader: Reader, vanity: Vanity) -> Vanity:
    """What can't be: a mirror that begins over all heads, and one that begins above the ceiling."""
    above = reader.unless("minimums.above_splash", vanity.above_splash, lambda _: (
        vanity.lowest >= vanity.top_needed and f"begins the mirror {vanity.lowest.text} above the floor, which is over "
                                               "all heads; measure the heights again, from the floor"))
    lowest = known(lambda: replace(vanity, above_splash=above).lowest)
    reader.unless("ceiling", vanity.ceiling, lambda ceiling: (
        ceiling and ceiling <= lowest and "is not above where the mirror begins; measure it from the floor"))
    return vanity
