"""Around an island: room for knees, seats side by side, and what aisle the top leaves, by the planning guidelines."""

from dataclasses import dataclass

from portal.layouts.check import AT_LEAST, Check, check
from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length

PLANNING = "NKBA Kitchen Planning Guidelines"


@dataclass(frozen=True)
class Knees:
    """What one seat is advised to have: width along the edge, depth under the top."""

    width: Length
    depth: Length


KNEES = {
    "30 in": Knees(Length.of_inches(24), Length.of_inches(18)),
    "36 in": Knees(Length.of_inches(24), Length.of_inches(15)),
    "42 in": Knees(Length.of_inches(24), Length.of_inches(12)),
}
"""By the height of the counter (PLANNING)."""

AISLES = {
    "one cook": Length.of_inches(42), "two cooks": Length.of_inches(48), "walkway": Length.of_inches(36),
    "seats, nobody passes": Length.of_inches(32), "seats, one edges past": Length.of_inches(36),
    "seats, one walks past": Length.of_inches(44),
}
"""Least clear width by use (PLANNING)."""


@dataclass(frozen=True)
class Seats:
    count: int
    height: str

    @property
    def depth(self) -> Length:
        return KNEES[self.height].depth


@dataclass(frozen=True)
class Aisle:
    """`room`: from the cabinets of the island to what stands opposite. `edge`: how far the top reaches into it; None
    on the side of the overhang that is being decided. `far`: across the island from the overhang."""

    name: str
    use: str
    room: Length
    edge: Length | None
    far: bool

    @property
    def at_overhang(self) -> bool:
        return self.edge is None

    def left(self, overhang: Length) -> Length:
        return self.room - (overhang if self.edge is None else self.edge)


def read_seats(reader: Reader) -> Seats:
    """`height` is one of the three for which knee room is published."""
    seats = Seats(reader.count("count", 1, 12), reader.choice("height", KNEES))
    reader.done()
    return seats


def read_aisle(reader: Reader) -> Aisle:
    over = reader.flag("on_overhang_side", False)
    if over and reader.has("edge"):
        raise DimensionError(reader.at("edge"), "is the overhang itself on this side; leave one of the two out")
    far = reader.flag("on_far_side", False)
    if over and far:
        raise DimensionError(reader.at("on_far_side"), "is another side than the overhang's; leave one of the two out")
    aisle = Aisle(reader.name("name"), reader.choice("use", AISLES), reader.size("room"),
                  None if over else reader.length("edge"), far)
    reader.done()
    return aisle


def seat_checks(seats: Seats | None, length: Length, depth: Length) -> tuple[Check, ...]:
    if seats is None:
        return ()
    knees = KNEES[seats.height]
    wide = knees.width * seats.count
    return (check("knee depth", f"at {seats.height}", depth, AT_LEAST, knees.depth, PLANNING),
            check("width for seats", f"{seats.count} side by side", length, AT_LEAST, wide, PLANNING))


def aisle_checks(aisles: tuple[Aisle, ...], overhang: Length) -> tuple[Check, ...]:
    return tuple(check("aisle", f"{each.name}, {each.use}", each.left(overhang), AT_LEAST, AISLES[each.use], PLANNING)
                 for each in aisles)
