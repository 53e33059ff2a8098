"""A vanity and its people out of JSON. Every refusal is a DimensionError that names the field."""

from typing import Any

from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length
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
    `mirror`, `lights`, `window`, `tub` and `knees`. Raises DimensionError, which names the field."""
    reader = Reader(data)
    people = tuple(_person(part) for part in reader.parts("people", MOST_PEOPLE))
    least = reader.part("minimums")
    vanity = Vanity(
        reader.size("counter"), reader.length_or_zero("splash"), reader.length("tap"), reader.size_or_none("ceiling"),
        reader.size_or_none("wall"), reader.flag("seated", False), people, _mirror(reader.part_or_none("mirror")),
        _lights(reader.part_or_none("lights")), _sash(reader.part_or_none("window")), _tub(reader.part_or_none("tub")),
        _knees(reader.part_or_none("knees")), least.length("above_splash"), least.length_or_none("above_tap"),
        least.name("source"),
    )  # fmt: skip
    for part in (least, reader):
        part.done()
    _check_people(vanity)
    _check_room(vanity)
    return vanity


def _person(reader: Reader) -> Person:
    person = Person(reader.name("name"), reader.size("eyes"), reader.size("height"), reader.length_or_none("down_to"))
    reader.done()
    if person.eyes >= person.crown:
        raise DimensionError(reader.at("eyes"), "are not below the top of the head; measure both from the floor")
    if person.down_to and person.down_to > person.eyes:
        raise DimensionError(reader.at("down_to"), "is above the eyes; give the lowest point that is to be seen")
    return person


def _mirror(reader: Reader | None) -> Mirror:
    if reader is None:
        return Mirror(None, None, Length.of_mm(0))
    mirror = Mirror(reader.size_or_none("height"), reader.size_or_none("width"), reader.length_or_zero("frame"))
    reader.done()
    return mirror


def _lights(reader: Reader | None) -> Lights | None:
    if reader is None:
        return None
    lights = Lights(reader.count("number", 1, MOST_LAMPS), reader.size("height"), reader.size_or_none("width"),
                    reader.length("off_mirror"), reader.choice("held", HELD, ON_WALL))
    reader.done()
    return lights


def _sash(reader: Reader | None) -> Sash | None:
    if reader is None:
        return None
    sash = Sash(reader.size("sash"), reader.length("to_tap"))
    reader.done()
    return sash


def _tub(reader: Reader | None) -> Tub | None:
    if reader is None:
        return None
    tub = Tub(reader.size("rim"), reader.length("off"))
    reader.done()
    return tub


def _knees(reader: Reader | None) -> Knees | None:
    if reader is None:
        return None
    knees = Knees(reader.size("height"), reader.length("depth_high"), reader.length("depth_low"))
    reader.done()
    return knees


def _check_people(vanity: Vanity) -> None:
    if not vanity.people:
        raise DimensionError("people", "is empty; give at least one who stands at the mirror")
    names: set[str] = set()
    for index, person in enumerate(vanity.people):
        if person.name in names:
            raise DimensionError(f"people.{index}.name", f"“{person.name}” is there twice; give each an own name")
        names.add(person.name)


def _check_room(vanity: Vanity) -> None:
    """What can't be: a mirror below all heads only, a counter above the ceiling."""
    if vanity.ceiling and vanity.ceiling <= vanity.lowest:
        raise DimensionError("ceiling", "is not above where the mirror begins; measure it from the floor")
    if vanity.lowest >= vanity.top_needed:
        raise DimensionError("minimums.above_splash", f"begins the mirror {vanity.lowest.text} above the floor, which "
                                                      "is over all heads; measure the heights again, from the floor")
