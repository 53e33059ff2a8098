"""Accessories that leave the even row: each along the row by the least that makes it fit, in whole marks of a rule.
Where it is said what bit and tape may be off, it fits with room for that."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from math import ceil, inf, sqrt

from portal.layouts.check import Check
from portal.layouts.deck.rules.checks import Checker
from portal.layouts.deck.rules.measures import of_places
from portal.layouts.deck.rules.things import Thing
from portal.layouts.length import Length

Stretch = tuple[float, float]
_NOTHING = 1e-6  # mm; checks are rounded to it


class Mover:
    """Finds where accessories fit along a row, on their sides of the faucet and in their order. `counts`: which checks
    must pass; every rule, where nothing else is said."""

    def __init__(self, checker: Checker, counts: Callable[[Check], bool] = lambda check: check.stops) -> None:
        self.checker, self.counts, self.step = checker, counts, checker.deck.step
        slop = checker.deck.minimums.slop
        self.room = round(float(slop.mm), 6) if slop else 0.0
        self._moved: dict[tuple[Thing, Fraction], Thing] = {}

    def beside_what_is_there(self, things: Sequence[Thing]) -> tuple[Thing, ...] | None:
        """Move what something fixed is in the way of, such as a clip or a cabinet's side. `things`: the faucet first.
        None where that is not enough, or where two things are too near each other at their pitch."""
        near = (self.checker.together(one, other) for one, other in combinations(things, 2))
        if not self.keeps(self.checker.alone(things[0])) or not all(self.keeps(checks, 2) for checks in near):
            return None
        return self.apart(things)

    def apart(self, things: Sequence[Thing]) -> tuple[Thing, ...] | None:
        """Move each that fails, alone or beside those nearer to the faucet; None where that is not enough."""
        faucet, x = things[0], things[0].spots[things[0].middle].x
        placed: tuple[Thing, ...] = (faucet,)
        for side in (-1, 1):
            waiting = sorted((thing for thing in things[1:] if (thing.spots[0].x - x) * side > 0),
                             key=lambda thing: thing.spots[0].x * side)
            found = self._place(placed, waiting, side)
            if found is None:
                return None
            placed = found[1]
        order = tuple(next(each for each in placed if each.name == thing.name) for thing in things)
        return order if self.keeps(self.checker.all(order)) else None

    def keeps(self, checks: Iterable[Check], holes: int = 0) -> bool:
        """Say whether all pass that count, with room for each of so many holes to be off by the slop."""
        room = round(self.room * holes, 6)
        return all(check.margin >= (room if of_places(check) else 0) or not self.counts(check) for check in checks)

    def _place(self, placed: tuple[Thing, ...], waiting: Sequence[Thing],
               side: int) -> tuple[Fraction, tuple[Thing, ...]] | None:
        """Place what waits, from the faucet outward, so that all of it together moves the least."""
        if not waiting:
            return Fraction(0), placed
        thing, *rest = waiting
        options = [thing] if self._fits(thing, placed) else list(self._beside(thing, placed, side))
        found = [(abs(option.holes[0].off_pitch.mm) + more[0], more[1]) for option in options
                 if (more := self._place((*placed, option), rest, side))]
        return min(found, key=lambda each: each[0], default=None)

    def _fits(self, thing: Thing, placed: tuple[Thing, ...]) -> bool:
        return self.keeps(self.checker.alone(thing), 1) and all(
            self.keeps(self.checker.together(other, thing), 2) for other in placed)

    def _beside(self, thing: Thing, placed: tuple[Thing, ...], side: int) -> Iterator[Thing]:
        """The nearest places on its left and on its right, where there are any."""
        x, y = thing.spots[0].x, thing.spots[0].y
        limits = [limit.roomy(self.room) for limit in self.checker.rules.alone(thing, 0)]
        allowed = [limit.allowed(y) for limit in limits]
        blocks = [block for limit in limits if (block := limit.blocked(y))]
        inner = [spot.x for other in placed for spot in other.spots]
        allowed.append((max(inner), inf) if side > 0 else (-inf, min(inner)))
        for off in nearest(x, allowed, [*blocks, *self._blocks(thing, placed)]):
            for moved in (self._at(thing, length) for length in in_marks(off, self.step)):
                if self._fits(moved, placed):
                    yield moved
                    break

    def _blocks(self, thing: Thing, placed: tuple[Thing, ...]) -> Iterator[Stretch]:
        y = thing.spots[0].y
        for other in placed:
            for group in self.checker.rules.together(other, thing):
                for limit in group:
                    spot, need = other.spots[limit.one], limit.centers + 2 * self.room
                    if abs(spot.y - y) < need:
                        half = sqrt(need**2 - (spot.y - y) ** 2)
                        yield spot.x - half, spot.x + half

    def _at(self, thing: Thing, off: Length) -> Thing:
        if (thing, off.mm) not in self._moved:
            hole = thing.holes[0]
            moved = replace(hole, x=hole.x + off, off_pitch=Length(off.mm, self.checker.unit))
            self._moved[thing, off.mm] = replace(thing, holes=(moved,))
        return self._moved[thing, off.mm]


def nearest(x: float, allowed: Sequence[Stretch], blocks: Sequence[Stretch]) -> list[float]:
    """Give how far it is from x to the nearest place on its left and the nearest on its right that lie in every allowed
    stretch and in no blocked one: negative to the left. Without what there is none of."""
    low, high = max(stretch[0] for stretch in allowed), min(stretch[1] for stretch in allowed)
    places = (_free(min(x, high), blocks, low, high, -1), _free(max(x, low), blocks, low, high, 1))
    return [place - x for place in places if place is not None]


def in_marks(off: float, step: Length) -> list[Length]:
    """Give a way in whole steps, no shorter than it is, and in whole quarters of a step."""
    sign = -1 if off < 0 else 1
    return [each * (sign * ceil(round(abs(off) / float(each.mm), 6))) for each in (step, step / 4)]


def _free(x: float, blocks: Sequence[Stretch], low: float, high: float, way: int) -> float | None:
    """Go from x to the left (-1) or the right (1) as far as it takes to be in no block."""
    while block := next((each for each in blocks if each[0] + _NOTHING < x < each[1] - _NOTHING), None):
        x = block[0] if way < 0 else block[1]
    return x if low - _NOTHING <= x <= high + _NOTHING else None
