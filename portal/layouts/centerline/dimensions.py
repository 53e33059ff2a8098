"""The dimensions of a wall with a sink. All places are measured along the wall from one datum, to the right."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.json_fields import Reader
from portal.layouts.length import DimensionError, Length

KIND = "centerline"


@dataclass(frozen=True)
class Opening:
    """A window, or the room between the sides of a cabinet, by its two limits."""

    left: Length
    right: Length

    @property
    def center(self) -> Length:
        """Give its middle, from the datum."""
        return (self.left + self.right) / 2


@dataclass(frozen=True)
class Wall:
    """`sink`: its whole width, rim included. `clips`: the room that clips and a hand need on each side of it.
    `counter`: the free top around the sink, from one end or appliance to the other; None when not measured."""

    datum: str
    window: Opening | None
    cabinet: Opening
    sink: Length
    clips: Length
    source: str
    counter: Opening | None

    @property
    def room(self) -> tuple[Length, Length]:
        """Give the least and the greatest center at which the sink fits; the wrong way round when it fits nowhere."""
        side = self.sink / 2 + self.clips
        return self.cabinet.left + side, self.cabinet.right - side

    @property
    def fits(self) -> bool:
        """Say whether the sink with its clips fits into the cabinet at all."""
        least, most = self.room
        return least <= most


def from_json(data: Any) -> Wall:
    """Read `datum`, `window` (or null), `cabinet`, `sink_width`, `clip_room`, `source`, and `counter` where it was
    measured. Raises DimensionError, which names the field."""
    reader = Reader(data)
    window, counter = reader.part_or_none("window"), reader.part_or_none("counter")
    wall = Wall(reader.name("datum", "the left end of the wall"), _opening(window) if window else None,
                _opening(reader.part("cabinet")), reader.size("sink_width"), reader.length("clip_room"),
                reader.name("source"), _opening(counter) if counter else None)
    reader.done()
    return wall


def _opening(reader: Reader) -> Opening:
    opening = Opening(reader.length("left"), reader.size("right"))
    reader.done()
    if opening.left >= opening.right:
        raise DimensionError(reader.at("right"), "is not right of left; measure both from the same datum, to the right")
    return opening
