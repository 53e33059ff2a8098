"""A bank of fronts and its pull out of JSON. Every refusal is a DimensionError that names the field."""

from itertools import combinations
from typing import Any

from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length
from portal.layouts.pulls.dimensions import ENDS, MOST_CORNERS, MOST_FRONTS, TYPES, Bank, Corner, Front, Pull


def from_json(data: Any) -> Bank:
    """Read `fronts`, `pull`, `minimums` and, where they are wanted, `drawers` (`from_top`), `doors` (`from_side`,
    `from_end`), `two_over`, `inside_corners`. Raises DimensionError, which names
    the field."""
    reader = Reader(data)
    fronts = tuple(_front(part) for part in reader.parts("fronts", MOST_FRONTS))
    if not fronts:
        raise DimensionError("fronts", "is empty; give at least one drawer or door front")
    drawers, doors = reader.part_or_none("drawers"), _doors(reader, fronts)
    least = reader.part("minimums")
    bank = Bank(fronts, _pull(reader.part("pull")), drawers.size("from_top") if drawers else None, *doors,
                reader.size_or_none("two_over"), least.size("to_edge"), least.name("source"),
                tuple(_corner(part, fronts) for part in reader.parts("inside_corners", MOST_CORNERS)))
    for part in (least, drawers, reader):
        if part:
            part.done()
    _check_names(fronts)
    _check_places(fronts)
    return bank


def _front(reader: Reader) -> Front:
    front = Front(reader.name("name"), reader.choice("type", TYPES), reader.size("width"), reader.size("height"),
                  reader.length("from_left"), reader.length("from_floor"), reader.size_or_none("rail"),
                  reader.choice("pull_end", ENDS, ENDS[0]))
    reader.done()
    if front.rail and 2 * front.rail.mm >= min(front.width, front.height).mm:
        raise DimensionError(reader.at("rail"), f"leaves no room within its frame: the front is {front.width.text} by "
                                                f"{front.height.text}; measure one side of the frame")
    return front


def _pull(reader: Reader) -> Pull:
    centers = reader.size_or_none("centers")
    pull = Pull(reader.name("name", "the pull"), centers, reader.size("length"), reader.size("projection"),
                reader.flag("inch_sheet", False), reader.size_or_none("drill"), reader.size_or_none("base"))
    reader.done()
    if centers and pull.length < centers:
        raise DimensionError(reader.at("length"), "is shorter than the distance between its holes; check the sheet")
    for name, wide in (("drill", pull.drill), ("base", pull.base)):
        if wide and centers and wide >= centers:
            raise DimensionError(reader.at(name), "is as wide as its holes are apart; check the sheet")
        if wide and wide > pull.length:
            raise DimensionError(reader.at(name), "is wider than the pull is long; check the sheet")
    return pull


def _doors(reader: Reader, fronts: tuple[Front, ...]) -> tuple[Length | None, Length | None]:
    """Required as soon as there is a door: nobody can guess where on a door a hand goes."""
    if not any(not front.is_drawer for front in fronts) and not reader.has("doors"):
        return None, None
    doors = reader.part("doors")
    found = doors.size("from_side"), doors.size("from_end")
    doors.done()
    return found


def _corner(reader: Reader, fronts: tuple[Front, ...]) -> Corner:
    names = [front.name for front in fronts]
    corner = Corner(reader.choice("one", names), reader.choice("other", names), reader.length("one_gap"),
                    reader.length("other_gap"))
    reader.done()
    if corner.one == corner.other:
        raise DimensionError(reader.at("other"), "is the same front; name the one across the corner")
    return corner


def _check_names(fronts: tuple[Front, ...]) -> None:
    names: set[str] = set()
    for index, front in enumerate(fronts):
        if front.name in names:
            raise DimensionError(f"fronts.{index}.name", f"“{front.name}” is there twice; give each its own name")
        names.add(front.name)


def _check_places(fronts: tuple[Front, ...]) -> None:
    """Two fronts on one place are measured wrongly, and one of them would get the holes of the other."""
    for (_, one), (index, other) in combinations(enumerate(fronts), 2):
        if one.over(other):
            raise DimensionError(f"fronts.{index}.from_left", f"puts “{other.name}” over “{one.name}”; measure both "
                                                              "again, from the left end of the bank and from the floor")
