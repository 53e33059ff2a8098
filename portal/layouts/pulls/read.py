"""A bank of fronts and its pull out of JSON. Every refusal is a DimensionError that names the fields."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from portal.layouts.json_fields import Reader, Rule, only_once, read
from portal.layouts.length import Length
from portal.layouts.pulls.dimensions import ENDS, MOST_CORNERS, MOST_FRONTS, TYPES, Bank, Corner, Front, Pull
from portal.layouts.unread import some


def from_json(data: Any) -> Bank:
    """Read `fronts`, `pull`, `minimums` and, where they are wanted, `drawers` (`from_top`), `doors` (`from_side`,
    `from_end`), `two_over`, `inside_corners`. Raises DimensionError, which names every field that is wrong."""
    return read(data, _bank)


def _bank(reader: Reader) -> Bank:
    fronts: list[Front] = []
    for part in reader.parts("fronts", MOST_FRONTS, "is empty; give at least one drawer or door front"):
        fronts.append(_front(part, fronts))
    least = reader.part("minimums")
    return Bank(tuple(fronts), _pull(reader.part("pull")),
                reader.part_or_none("drawers", lambda drawers: drawers.size("from_top")), *_doors(reader, fronts),
                reader.size_or_none("two_over"), least.size("to_edge"), least.name("source"),
                tuple(_corner(part, fronts) for part in reader.parts("inside_corners", MOST_CORNERS)))


def _front(reader: Reader, before: Sequence[Front]) -> Front:
    name = reader.unless("name", reader.name("name"), only_once(one.name for one in before))
    kind, width, height = reader.choice("type", TYPES), reader.size("width"), reader.size("height")
    front = Front(
        name, kind, width, height, reader.length("from_left"), reader.length("from_floor"),
        reader.size_or_none("rail", lambda rail: 2 * rail.mm >= min(width, height).mm and (
            f"leaves no room within its frame: the front is {width.text} by {height.text}; measure one side of the "
            "frame")),
        reader.choice("pull_end", ENDS, ENDS[0]))
    return replace(front, left=reader.unless("from_left", front.left, *(_beside(front, one) for one in before)))


def _beside(front: Front, other: Front) -> Rule:
    """Two fronts on one place are measured wrongly, and one of them would get the holes of the other."""
    return lambda _: other.over(front) and (
        f"puts “{front.name}” over “{other.name}”; measure both again, from the left end of the bank and from the "
        "floor")


def _pull(reader: Reader) -> Pull:
    centers = reader.size_or_none("centers")
    length = reader.size("length", lambda length: (
        centers and length < centers and "is shorter than the distance between its holes; check the sheet"))
    widths = (
        lambda wide: centers and wide >= centers and "is as wide as its holes are apart; check the sheet",
        lambda wide: wide > length and "is wider than the pull is long; check the sheet")
    return Pull(
        reader.name("name", "the pull"), centers, length, reader.size("projection"), reader.flag("inch_sheet", False),
        reader.size_or_none("drill", *widths), reader.size_or_none("base", *widths))


def _doors(reader: Reader, fronts: Sequence[Front]) -> tuple[Length | None, Length | None]:
    """Required as soon as there is a door: nobody can guess where on a door a hand goes."""
    if not some(lambda front: not front.is_drawer, fronts) and not reader.has("doors"):
        return None, None
    doors = reader.part("doors")
    return doors.size("from_side"), doors.size("from_end")


def _corner(reader: Reader, fronts: Sequence[Front]) -> Corner:
    names = [front.name for front in fronts]
    one = reader.choice("one", names)
    other = reader.unless("other", reader.choice("other", names), lambda other: (
        one == other and "is the same front; name the one across the corner"))
    return Corner(one, other, reader.length("one_gap"), reader.length("other_gap"))
