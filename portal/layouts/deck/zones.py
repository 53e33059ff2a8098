"""Safe zones: where each new hole may drift, all of them at once, and every rule still passes.

Every limit measures an exact distance, so that its margin is how far holes may drift before it breaks: a limit of one
hole gives it all to that hole, one of two holes is shared. First all circles grow alike; one that can't grow any more
stays, and the others go on: so no hole's circle could be larger without a smaller one becoming smaller still. Then the
zones are cut straight across the shortest way to whatever is near, two holes' zones across the line between them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import floor, hypot, inf

from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.deck.holes import Hole
from portal.layouts.deck.rules.limits import Apart
from portal.layouts.deck.rules.outlines import Outline, box, cut, near
from portal.layouts.deck.rules.rules import Rules
from portal.layouts.deck.rules.things import Spot, Thing
from portal.layouts.length import Length

Pair = tuple[int, int]
_NANOMETERS = 10**6  # in a mm; checks are rounded to them


@dataclass(frozen=True)
class Zone:
    """`outline`: a closed polygon about the planned place of `hole`, its corners as (x, y) in mm from the left end and
    the front edge; it is nowhere outside the true zone. `tolerance`: the radius of the largest circle around the
    planned place inside the zone, less the slop of bit and tape; never negative."""

    hole: Hole
    outline: Outline
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
    """`own`: how far each hole may drift for itself; `closer`: how far two may come closer in all; `farther`: how far
    the outer two of three may part in all."""

    def __init__(self, layout: Arrangement) -> None:
        self.layout, self.rules = layout, Rules(layout.deck)
        self.spots: list[Spot] = [spot for thing in layout.things for spot in thing.spots]
        self.limits = [self.rules.alone(thing, number) for thing in layout.things for number in range(len(thing.spots))]
        self.own = [min(limit.check(spot.x, spot.y, layout.deck.unit).margin for limit in limits)
                    for spot, limits in zip(self.spots, self.limits, strict=True)]
        self.closer: dict[Pair, float] = {}
        self.farther: dict[Pair, float] = {}
        self._pairs()

    def found(self) -> tuple[Zone, ...]:
        slack = {pair: min(room, self.farther.get(pair, inf)) for pair, room in self.closer.items()}
        radii = grown(self.own, slack)
        return tuple(Zone(hole, self._outline(number, radii), self._tolerance(radii[number]))
                     for number, hole in enumerate(self.layout.holes))

    def _pairs(self) -> None:
        first = 0
        starts: dict[Thing, int] = {}
        for thing in self.layout.things:
            starts[thing] = first
            first += len(thing.spots)
            self._note(first - len(thing.spots), first - len(thing.spots), self.rules.within(thing))
        for one, other in combinations(self.layout.things, 2):
            self._note(starts[one], starts[other], self.rules.together(one, other))
        faucet = self.layout.deck.faucet
        if self.layout.faucet_holes == 3 and faucet.outer_to_outer:
            exact = faucet.outer_to_outer
            self._keep(0, 2, float((faucet.outer_least or exact).mm), most=False)
            self._keep(0, 2, float((faucet.outer_most or exact).mm), most=True)

    def _note(self, one: int, other: int, groups: list[tuple[Apart, ...]]) -> None:
        for limit in (limit for group in groups for limit in group):
            self._keep(one + limit.one, other + limit.other, limit.centers, most=limit.most)

    def _keep(self, one: int, other: int, centers: float, *, most: bool) -> None:
        room = round(self._apart(one, other) - centers, 6)
        pair, kept = (min(one, other), max(one, other)), self.farther if most else self.closer
        kept[pair] = min(kept.get(pair, inf), -room if most else room)

    def _apart(self, one: int, other: int) -> float:
        return hypot(self.spots[one].x - self.spots[other].x, self.spots[one].y - self.spots[other].y)

    def _outline(self, number: int, radii: list[float]) -> Outline:
        spot = self.spots[number]
        outline = box(0.0, self.rules.width, 0.0, self.rules.depth)
        for limit in (limit for limit in self.limits[number] if not limit.bent):
            outline = limit.trim(outline, spot.x, spot.y)
        for other, share in self._shares(number, radii, self.closer):
            apart, beside = self._apart(number, other), self.spots[other]
            across, deep = (beside.x - spot.x) / apart, (beside.y - spot.y) / apart
            outline = cut(outline, across, deep, across * spot.x + deep * spot.y + share)
        for limit in (limit for limit in self.limits[number] if limit.bent):
            outline = limit.trim(outline, spot.x, spot.y)
        for _, share in self._shares(number, radii, self.farther):
            outline = near(outline, (spot.x, spot.y, 0.0, 0.0, 0.0), share, spot.x, spot.y)
        return outline if len(outline) > 2 else ((spot.x, spot.y),) * 3

    def _shares(self, number: int, radii: list[float], rooms: dict[Pair, float]) -> Iterator[tuple[int, float]]:
        """The other hole of each pair, and what this one gets of their room: its circle, and half of what is over."""
        for (one, other), room in rooms.items():
            if number in (one, other):
                over = max(room - radii[one] - radii[other], 0.0)
                yield (other if number == one else one), radii[number] + over / 2

    def _tolerance(self, radius: float) -> Length:
        unit = self.layout.deck.unit
        whole = Length(Fraction(floor(round(radius * _NANOMETERS, 1)), _NANOMETERS), unit)
        return max(whole - (self.layout.deck.minimums.slop or Length.of_mm(0)), Length.of_mm(0, unit))


def grown(own: list[float], slack: dict[Pair, float]) -> list[float]:
    """Grow circles, each at most by its `own` room and each pair together by their `slack`: all alike until one can't
    grow any more, then the others, until none can."""
    radii: dict[int, float] = {}
    while len(radii) < len(own):
        most = {number: max(room, 0.0) for number, room in enumerate(own) if number not in radii}
        for (one, other), room in slack.items():
            if one in most and other in most:
                most[one], most[other] = min(most[one], max(room / 2, 0.0)), min(most[other], max(room / 2, 0.0))
            elif one in most or other in most:
                free, fixed = (one, other) if one in most else (other, one)
                most[free] = min(most[free], max(room - radii[fixed], 0.0))
        level = min(most.values())
        radii |= {number: level for number, room in most.items() if room <= level}
    return [radii[number] for number in range(len(own))]
