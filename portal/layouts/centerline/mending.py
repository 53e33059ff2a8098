"""What would make a center line pass, in numbers: how far it must move, or by how much the sink is too wide."""

from dataclasses import dataclass

from portal.layouts.centerline.dimensions import Wall
from portal.layouts.centerline.line import Line
from portal.layouts.length import Length

_NONE = Length.of_mm(0)


@dataclass(frozen=True)
class Move:
    """Move the center line so far to the right, to the left when it is negative."""

    by: Length


@dataclass(frozen=True)
class Narrower:
    """A sink narrower by `by` fits somewhere. `in_cabinet` and `on_counter`: by how much it is too wide for each by
    itself, zero where it fits there."""

    by: Length
    in_cabinet: Length
    on_counter: Length


def move(line: Line) -> Move | None:
    """Give the least move to where the sink fits; None where it fits nowhere, or where it stands already."""
    least, most = line.wall.room
    by = min(max(line.at, least), most) - line.at
    return Move(by) if line.wall.fits and by.mm else None


def narrower(wall: Wall) -> Narrower:
    """Say by how much the sink is too wide to fit anywhere. Each limit of its center gains half of what the sink loses,
    so the stretch between them gains all of it."""
    counter = wall.room_on_counter(wall.counter) if wall.counter else None
    return Narrower(_over(wall.room), _over(wall.room_in_cabinet), _over(counter) if counter else _NONE)


def _over(room: tuple[Length, Length]) -> Length:
    least, most = room
    return max(least - most, _NONE)
