"""Safe zones: where each new hole may drift, all of them at once, and every rule still passes.

Each holds the largest circle that `rules.drift` finds. The zones are cut straight across the shortest way to whatever
is near, two holes' zones across the line between them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from portal.layouts.content_tables.bits import CORE
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.deck.holes import Hole
from portal.layouts.deck.rules.drift import Drift, Pair, Rooms, in_nanometers
from portal.layouts.deck.rules.limits import Limit
from portal.layouts.deck.rules.outlines import Outline, box, cut, near
from portal.layouts.deck.rules.rules import Rules
from portal.layouts.length import Length


@dataclass(frozen=True)
class Zone:
    """`outline`: a closed polygon about the planned place of `hole`, its corners as (x, y) in mm from the left end and
    the front edge; it is nowhere outside the true zone. `circle`: the radius of the largest circle around the planned
    place inside the zone. `bits`: those sold for the hole that have room there, under its flange, too. `tolerance`: the
    circle less the slop of bit and tape, and less half of what the widest of these bits is wider than the hole."""

    hole: Hole
    outline: Outline
    circle: Length
    bits: tuple[Length, ...]
    tolerance: Length


def safe_zones(layout: Arrangement) -> tuple[Zone, ...]:
    """Give a zone for each new hole, in the order of the holes; none where nothing is drilled or a rule is broken.

    Each hole may lie anywhere in its own zone, whatever the others do in theirs. The water keeps to its bowl. Where
    a sheet gives no range from outer hole to outer hole, the two may not drift.
    """
    if layout.failed or not layout.drilled:
        return ()
    return _Zones(layout).found()


class _Zones:
    def __init__(self, layout: Arrangement) -> None:
        self.layout, self.rules = layout, Rules(layout.deck)
        rooms = Rooms(self.rules)
        self.drift = Drift(rooms, layout.things)
        self.spots = self.drift.spots
        self.limits: list[list[Limit]] = [limits for thing in layout.things for limits in rooms.limits(thing)]

    def found(self) -> tuple[Zone, ...]:
        unit, none = self.layout.deck.unit, Length.of_mm(0)
        circles = [Length(in_nanometers(radius), unit) for radius in self.drift.circles]
        left = [circle - (self.layout.deck.minimums.slop or none) for circle in circles]
        bits = self._bits(left)
        zones = []
        for number, hole in enumerate(self.layout.holes):
            sold = bits[hole.diameter]
            wider = (max(sold) - hole.diameter) / 2 if sold else none
            zones.append(Zone(hole, self._outline(number), circles[number], sold, left[number] - wider))
        return tuple(zones)

    def _bits(self, left: list[Length]) -> dict[Length, tuple[Length, ...]]:
        """The bits for each diameter that have room in all holes of it: a crew drills them all with one."""
        found: dict[Length, tuple[Length, ...]] = {}
        for hole, room in zip(self.layout.holes, left, strict=True):
            sold = found.get(hole.diameter, CORE.sold_for(hole.diameter))
            found[hole.diameter] = tuple(bit for bit in sold if bit - hole.diameter <= room * 2
                                         and bit <= (hole.flange or bit))
        return found

    def _apart(self, one: int, other: int) -> float:
        return hypot(self.spots[one].x - self.spots[other].x, self.spots[one].y - self.spots[other].y)

    def _outline(self, number: int) -> Outline:
        spot = self.spots[number]
        outline = box(0.0, self.rules.width, 0.0, self.rules.depth)
        for limit in (limit for limit in self.limits[number] if not limit.bent):
            outline = limit.trim(outline, spot.x, spot.y)
        for other, share in self._shares(number, self.drift.closer):
            apart, beside = self._apart(number, other), self.spots[other]
            across, deep = (beside.x - spot.x) / apart, (beside.y - spot.y) / apart
            outline = cut(outline, across, deep, across * spot.x + deep * spot.y + share)
        for limit in (limit for limit in self.limits[number] if limit.bent):
            outline = limit.trim(outline, spot.x, spot.y)
        for _, share in self._shares(number, self.drift.farther):
            outline = near(outline, (spot.x, spot.y, 0.0, 0.0, 0.0), share, spot.x, spot.y)
        return outline if len(outline) > 2 else ((spot.x, spot.y),) * 3

    def _shares(self, number: int, rooms: dict[Pair, float]) -> Iterator[tuple[int, float]]:
        """The other hole of each pair, and what this one gets of their room: its circle, and half of what is over."""
        radii = self.drift.circles
        for (one, other), room in rooms.items():
            if number in (one, other):
                over = max(room - radii[one] - radii[other], 0.0)
                yield (other if number == one else one), radii[number] + over / 2
