"""Around an island: seats and aisles, and the room that the planning guidelines advise for them."""

from dataclasses import dataclass

from portal.layouts.json_fields import Reader
from portal.layouts.length import Length

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
    """So many seats side by side, at a counter of one of the three heights in KNEES."""

    count: int
    height: str

    @property
    def depth(self) -> Length:
        """Give the knee depth that is advised at this height (PLANNING)."""
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
        """Say whether it lies on the side of the overhang that is being decided."""
        return self.edge is None

    def left(self, overhang: Length) -> Length:
        """Give the clear width when the top reaches out so far; negative when it reaches past what stands opposite."""
        return self.room - (overhang if self.edge is None else self.edge)


def read_seats(reader: Reader) -> Seats:
    """Read `count` (1 to 12) and `height`, one of the three for which knee room is published."""
    return Seats(reader.count("count", 1, 12), reader.choice("height", KNEES))


def read_aisle(reader: Reader) -> Aisle:
    """Read `name`, `use`, `room`, and `edge` unless it is on the overhang's side."""
    over = reader.flag("on_overhang_side", False)
    edge = reader.length_or_none(
        "edge", lambda _: over and "is the overhang itself on this side; leave one of the two out")
    far = reader.unless("on_far_side", reader.flag("on_far_side", False), lambda far: (
        over and far and "is another side than the overhang's; leave one of the two out"))
    aisle = Aisle(reader.name("name"), reader.choice("use", AISLES), reader.size("room"), edge, far)
    reader.needs("edge", lambda: not over)
    return aisle
