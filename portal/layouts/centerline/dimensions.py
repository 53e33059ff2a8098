"""The dimensions of a wall with a sink. All places are measured along the wall from one datum, to the right."""

from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.materials import Material, read_material
from portal.layouts.json_fields import Reader, read
from portal.layouts.length import Length

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

    @property
    def width(self) -> Length:
        """Give how wide it is."""
        return self.right - self.left


@dataclass(frozen=True)
class Counter(Opening):
    """The free top around the sink, from one end or appliance to the other. `least_left` and `least_right`: what is
    asked to be left of it beside the sink; None where nobody asks."""

    least_left: Length | None = None
    least_right: Length | None = None

    @property
    def asked(self) -> bool:
        """Say whether anything is asked; else what is published for a landing is advised."""
        return self.least_left is not None or self.least_right is not None


@dataclass(frozen=True)
class Wall:
    """`sink`: its whole width, rim included. `clips`: the room that clips and a hand need on each side of it.
    `counter`: None when not measured. `material`: of the top; None where it is not given."""

    datum: str
    window: Opening | None
    cabinet: Opening
    sink: Length
    clips: Length
    source: str
    counter: Counter | None
    material: Material | None = None

    @property
    def room(self) -> tuple[Length, Length]:
        """Give the least and the greatest center that the cabinet and the counter allow; the wrong way round when the
        sink fits nowhere."""
        limits = [self.room_in_cabinet, *([self.room_on_counter(self.counter)] if self.counter else [])]
        return max(least for least, _ in limits), min(most for _, most in limits)

    @property
    def room_in_cabinet(self) -> tuple[Length, Length]:
        """Give the least and the greatest center at which the sink and its clips fit into the cabinet."""
        side = self.sink / 2 + self.clips
        return self.cabinet.left + side, self.cabinet.right - side

    def room_on_counter(self, counter: Counter) -> tuple[Length, Length]:
        """Give the least and the greatest center that leave what is asked of the counter on either side."""
        none, half = Length.of_mm(0), self.sink / 2
        return (counter.left + (counter.least_left or none) + half,
                counter.right - (counter.least_right or none) - half)

    @property
    def fits(self) -> bool:
        """Say whether the sink fits anywhere at all."""
        least, most = self.room
        return least <= most


def from_json(data: Any) -> Wall:
    """Read `datum`, `window` (or null), `cabinet`, `sink_width`, `clip_room`, `source`, `material`, and `counter`
    where it was measured. Raises DimensionError, which names every field that is wrong."""
    return read(data, _wall)


def _wall(reader: Reader) -> Wall:
    return Wall(reader.name("datum", "the left end of the wall"), reader.part_or_none("window", _opening),
                _opening(reader.part("cabinet")), reader.size("sink_width"), reader.length("clip_room"),
                reader.name("source"), reader.part_or_none("counter", _counter), read_material(reader))


def _opening(reader: Reader) -> Opening:
    return Opening(*_limits(reader))


def _counter(reader: Reader) -> Counter:
    return Counter(*_limits(reader), reader.length_or_none("least_left"), reader.length_or_none("least_right"))


def _limits(reader: Reader) -> tuple[Length, Length]:
    left = reader.length("left")
    return left, reader.size("right", lambda right: (
        left >= right and "is not right of left; measure both from the same datum, to the right"))
