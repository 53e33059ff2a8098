"""The limits of a deck, its dimensions turned into plain numbers once: of each hole for itself, and of two things."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import inf

from portal.layouts.check import GIVEN
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.rules import measures
from portal.layouts.deck.rules.distances import Rounded, to_area
from portal.layouts.deck.rules.limits import Apart, Inside, Limit, NotPast, Off, Reach
from portal.layouts.deck.rules.things import Spot, Thing
from portal.layouts.length import Length


class Rules:
    """All that holes of one deck must keep of each other and of what is there."""

    def __init__(self, deck: Deck) -> None:
        least = deck.minimums
        self.deck, self.given = deck, least.source
        self.width, self.depth = float(deck.top.width.mm), float(deck.top.depth.mm)
        self.face = float(deck.top.back_face.mm)
        self.web, self.cut, self.back, self.edge = (
            float(each.mm) for each in (least.between_holes, least.to_cutout, least.to_back, least.to_edge))

    def alone(self, thing: Thing, number: int) -> list[Limit]:
        """Give what one hole of a thing must keep, wherever the others are."""
        spot = thing.spots[number]
        limits = [*self._stone(spot), *self._below(spot)] if thing.drilled else []
        limits += [Off(measures.FLANGE_TO_CUTOUT, spot.name, self.deck.cutout.floats, spot.flange),
                   Inside(measures.FLANGE_TO_WALL, spot.name, spot.flange, back=self.face),
                   Inside(measures.FLANGE_TO_EDGES, spot.name, spot.flange, left=0.0, right=self.width, front=0.0)]
        if thing.clearance_behind:
            limits.append(Inside(measures.BEHIND, spot.name, 0.0, _mm(thing.clearance_behind), GIVEN, back=self.face))
        if thing.reach and number == thing.middle:
            limits.extend(self._water(thing, spot, _mm(thing.reach)))
        return limits

    def within(self, thing: Thing) -> list[tuple[Apart, ...]]:
        """Give what the holes of one thing must keep of each other. Of several in one group the tightest counts."""
        groups: list[tuple[Apart, ...]] = [
            (each,) for one, other in combinations(range(len(thing.spots)), 2)
            for each in self._two(thing, one, thing, other)]
        groups += [tuple(self._swing(thing, lever, thing, [other])) for lever in thing.levers
                   for other in range(len(thing.spots)) if other != lever]
        groups += [(each,) for each in self._spread(thing)]
        return groups

    def together(self, thing: Thing, other: Thing) -> list[tuple[Apart, ...]]:
        """Give what the holes of two things must keep of each other, and the room that a lever or spout needs to swing.
        In each limit `one` is a hole of `thing`."""
        groups: list[tuple[Apart, ...]] = [
            (each,) for one in range(len(thing.spots)) for two in range(len(other.spots))
            for each in self._two(thing, one, other, two)]
        groups += [tuple(each) for each in self._swings(thing, other)]
        groups += [tuple(_turned(one) for one in each) for each in self._swings(other, thing)]
        return groups

    def _stone(self, spot: Spot) -> Iterator[Limit]:
        name, radius = spot.name, spot.radius
        yield Off(measures.HOLE_TO_CUTOUT, name, self.deck.cutout.floats, radius, self.cut, self.given)
        yield Inside(measures.HOLE_TO_BACK, name, radius, self.back, self.given, back=self.depth)
        yield Inside(measures.HOLE_TO_EDGES, name, radius, self.edge, self.given, 0.0, self.width, 0.0, inf)

    def _below(self, spot: Spot) -> Iterator[Limit]:
        least, cabinet = self.deck.minimums, self.deck.cabinet
        if cabinet and least.to_cabinet_side is not None:
            yield Inside(measures.HOLE_TO_CABINET, spot.name, spot.radius, _mm(least.to_cabinet_side), self.given,
                         _mm(cabinet.left), _mm(cabinet.right))
        required = _mm(least.to_underneath) if least.to_underneath else 0.0
        for area in self.deck.underneath:
            yield Off(measures.hole_to(area.name), spot.name, area.floats, spot.radius, required, self.given)

    def _water(self, thing: Thing, spot: Spot, reach: float) -> Iterator[Limit]:
        """The water falls into one bowl: where a margin inside the bowl is given, the one in which it lands best."""
        margin = self.deck.minimums.into_bowl if thing.pours else None
        bowls = [bowl.floats for bowl in self.deck.bowls]
        if margin is None:
            bowl = min(bowls, key=lambda each: to_area(spot.x, spot.y, each))
            yield Reach(measures.REACH, thing.name, bowl, reach, GIVEN)
            return
        lines = {bowl: _lines(bowl, _mm(margin)) for bowl in bowls}
        bowl = max(bowls, key=lambda each: _lands(spot, reach, *lines[each]))
        near, far = lines[bowl]
        yield Reach(measures.REACH, thing.name, bowl, reach, GIVEN)
        yield Reach(measures.WATER_NEAR, thing.name, near, reach, self.given)
        yield NotPast(measures.WATER_FAR, thing.name, far, reach, self.given)

    def _two(self, thing: Thing, one: int, other: Thing, two: int) -> Iterator[Apart]:
        first, second = thing.spots[one], other.spots[two]
        about = measures.two(first.name, second.name)
        if thing.drilled or other.drilled:
            yield Apart(measures.HOLE_TO_HOLE, about, one, two, first.radius + second.radius, self.web, self.given)
        yield Apart(measures.FLANGE_TO_FLANGE, about, one, two, first.flange + second.flange, 0.0)

    def _swings(self, turning: Thing, still: Thing) -> Iterator[list[Apart]]:
        """What turns beside another thing: the spout or lever in its middle, and each lever that stands apart."""
        every = range(len(still.spots))
        if turning.swing:
            yield [Apart(measures.SWING, measures.beside(turning.name, still.name), turning.middle, each,
                         still.spots[each].flange, _mm(turning.swing), GIVEN) for each in every]
        for lever in turning.levers:
            yield self._swing(turning, lever, still, every)

    def _swing(self, turning: Thing, lever: int, still: Thing, spots: Sequence[int]) -> list[Apart]:
        name = still.spots[spots[0]].name if still is turning else still.name
        about = measures.beside(turning.spots[lever].name, name)
        room = _mm(turning.lever_swing) if turning.lever_swing else 0.0
        return [Apart(measures.LEVER_SWING, about, lever, each, still.spots[each].flange, room, GIVEN)
                for each in spots]

    def _spread(self, thing: Thing) -> Iterator[Apart]:
        if len(thing.spots) == 3 and thing.drilled:
            for limit, most in zip(thing.spread, (False, True), strict=True):
                if limit:
                    yield Apart(measures.OUTER_TO_OUTER, thing.name, 0, 2, 0.0, _mm(limit), GIVEN, most)


def _lines(bowl: Rounded, margin: float) -> tuple[Rounded, Rounded]:
    """The lines between which the water lands, as wide as the bowl less the margin each side: at the back, in front."""
    x, y, half_width, half_depth, _ = bowl
    wide, deep = half_width - margin, half_depth - margin
    return (x, y + deep, wide, 0.0, 0.0), (x, y - deep, wide, 0.0, 0.0)


def _lands(spot: Spot, reach: float, near: Rounded, far: Rounded) -> float:
    return min(reach - to_area(spot.x, spot.y, near), to_area(spot.x, spot.y, far) - reach)


def _turned(limit: Apart) -> Apart:
    return Apart(limit.what, limit.about, limit.other, limit.one, limit.taken, limit.least, limit.source, limit.most)


def _mm(length: Length) -> float:
    return float(length.mm)
