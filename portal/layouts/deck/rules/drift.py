"""How far holes may drift from their places, all of them at once: the largest circles about them, and their check.

Every limit measures an exact distance, so that its margin is how far holes may drift before it breaks: a limit of one
hole gives it all to that hole, one of two holes is shared. First all circles grow alike; one that can't grow any more
stays, and the others go on: so no hole's circle could be larger without a smaller one becoming smaller still.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import floor, hypot, inf
from operator import attrgetter
from typing import NamedTuple

from portal.layouts.check import AT_LEAST, Check
from portal.layouts.deck.rules import measures
from portal.layouts.deck.rules.limits import Apart, Limit
from portal.layouts.deck.rules.rules import Rules
from portal.layouts.deck.rules.things import Spot, Thing

Pair = tuple[int, int]
_NANOMETERS = 10**6  # in a mm; checks are rounded to them


class Shared(NamedTuple):
    """How far two holes, by their numbers in their things, may come closer in all; with `most`, may part."""

    one: int
    other: int
    room: float
    most: bool


class Rooms:
    """What the holes of one deck have for themselves and share. Layouts share their things: each is measured once."""

    def __init__(self, rules: Rules) -> None:
        self.rules = rules
        self._limits: dict[Thing, list[list[Limit]]] = {}
        self._own: dict[Thing, list[float]] = {}
        self._shared: dict[tuple[Thing, Thing], list[Shared]] = {}

    def limits(self, thing: Thing) -> list[list[Limit]]:
        """Give the limits of each hole of a thing for itself."""
        if thing not in self._limits:
            self._limits[thing] = [self.rules.alone(thing, number) for number in range(len(thing.spots))]
        return self._limits[thing]

    def own(self, thing: Thing) -> list[float]:
        """Give how far each hole of a thing may drift for itself."""
        if thing not in self._own:
            self._own[thing] = [min(limit.check(spot.x, spot.y, self.rules.deck.unit).margin for limit in limits)
                                for spot, limits in zip(thing.spots, self.limits(thing), strict=True)]
        return self._own[thing]

    def shared(self, thing: Thing, other: Thing) -> list[Shared]:
        """Give what the holes of two things share, or those of one."""
        if (thing, other) not in self._shared:
            groups = self.rules.within(thing) if thing is other else self.rules.together(thing, other)
            found = [_shared(thing, other, limit) for group in groups for limit in group]
            self._shared[thing, other] = [*found, *self._outer(thing)] if thing is other else found
        return self._shared[thing, other]

    def _outer(self, thing: Thing) -> Iterator[Shared]:
        """The outer two of three: where a sheet gives no range, they may not drift."""
        exact = self.rules.deck.faucet.outer_to_outer
        if len(thing.spots) == 3 and exact:
            for limit, most in zip(thing.spread, (False, True), strict=True):
                yield _shared(thing, thing, Apart(measures.OUTER_TO_OUTER, thing.name, 0, 2, 0.0,
                                                  float((limit or exact).mm), most=most))


class Drift:
    """What the holes of one layout have. `own`: how far each may drift for itself; `closer`: how far two may come
    closer in all; `farther`: how far the outer two of three may part in all. `circles`: their radii, in mm."""

    def __init__(self, rooms: Rooms, things: Sequence[Thing]) -> None:
        self.spots: list[Spot] = [spot for thing in things for spot in thing.spots]
        self.own = [room for thing in things for room in rooms.own(thing)]
        self.closer: dict[Pair, float] = {}
        self.farther: dict[Pair, float] = {}
        starts, first = {}, 0
        for thing in things:
            starts[thing] = first
            first += len(thing.spots)
            self._keep(starts[thing], starts[thing], rooms.shared(thing, thing))
        for one, other in combinations(things, 2):
            self._keep(starts[one], starts[other], rooms.shared(one, other))
        self.circles = grown(self.own, {
            pair: min(room, self.farther.get(pair, inf)) for pair, room in self.closer.items()})

    def _keep(self, one: int, other: int, found: list[Shared]) -> None:
        for shared in found:
            pair = one + shared.one, other + shared.other
            pair, kept = (min(pair), max(pair)), self.farther if shared.most else self.closer
            kept[pair] = min(kept.get(pair, inf), shared.room)


def drift_checks(rooms: Rooms, things: Sequence[Thing]) -> tuple[Check, ...]:
    """Check that no circle is smaller than the slop of bit and tape: each that is, else the smallest. None where nobody
    says what the slop is."""
    deck = rooms.rules.deck
    if deck.minimums.slop is None:
        return ()
    least, drift = round(float(deck.minimums.slop.mm), 6), Drift(rooms, things)
    found = [Check(measures.DRIFT, spot.name, float(in_nanometers(radius)), least, AT_LEAST, deck.minimums.source,
                   deck.unit) for spot, radius in zip(drift.spots, drift.circles, strict=True)]
    return tuple(check for check in found if not check.ok) or (min(found, key=attrgetter("margin")),)


def in_nanometers(radius: float) -> Fraction:
    """Give a radius in mm, no longer than it is, as the checks are rounded."""
    return Fraction(floor(round(radius * _NANOMETERS, 1)), _NANOMETERS)


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


def _shared(thing: Thing, other: Thing, limit: Apart) -> Shared:
    one, two = thing.spots[limit.one], other.spots[limit.other]
    room = round(hypot(one.x - two.x, one.y - two.y) - limit.centers, 6)
    return Shared(limit.one, limit.other, -room if limit.most else room, limit.most)
