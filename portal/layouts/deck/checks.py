"""The checks of one thing on a deck, and of two things beside each other. All numbers in mm."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain, combinations

from portal.layouts.check import AT_MOST, GEOMETRY, GIVEN, Check, Measure, check
from portal.layouts.deck import words
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.distances import between, to_area
from portal.layouts.deck.holes import Hole
from portal.layouts.length import Length


@dataclass(frozen=True, eq=False)
class Thing:
    """What the faucet or an accessory puts on the deck: one hole or three, and the middle of it all. Equal only to
    itself, so that what was checked once is found again fast. `spots`: name, x, y, radius and flange radius, in mm.

    `drilled`: whether the holes are new, so that stone must be left around them; holes that are there already can't be
    made safer by a minimum.
    """

    name: str
    holes: tuple[Hole, ...]
    reach: Length | None
    thickest_top: Length | None
    swing: Length | None = None
    clearance_behind: Length | None = None
    drilled: bool = True
    spots: tuple[tuple[str, float, float, float, float], ...] = field(init=False, compare=False)

    def __post_init__(self) -> None:
        spots = tuple((hole.name, float(hole.x.mm), float(hole.y.mm), float(hole.diameter.mm) / 2,
                       float((hole.flange or hole.diameter).mm) / 2) for hole in self.holes)
        object.__setattr__(self, "spots", spots)

    @property
    def middle(self) -> tuple[str, float, float, float, float]:
        """Give the name, x, y, radius and flange radius of its middle hole, in mm."""
        return self.spots[len(self.spots) // 2]


class Checker:
    """The checks of one deck, its dimensions turned into plain numbers once. Layouts share their things, so each thing
    and each pair is checked once and its checks are kept."""

    def __init__(self, deck: Deck) -> None:
        least = deck.minimums
        self.deck, self.unit, self.given = deck, deck.unit, least.source
        self.width, self.depth = float(deck.top.width.mm), float(deck.top.depth.mm)
        self.face = float(deck.top.back_face.mm)
        self.web, self.cut, self.back, self.edge = (
            float(each.mm) for each in (least.between_holes, least.to_cutout, least.to_back, least.to_edge))
        self._alone: dict[Thing, tuple[Check, ...]] = {}
        self._together: dict[tuple[Thing, Thing], tuple[Check, ...]] = {}

    def alone(self, thing: Thing) -> tuple[Check, ...]:
        """Check one thing for itself, wherever the others are."""
        if thing not in self._alone:
            self._alone[thing] = self._check_alone(thing)
        return self._alone[thing]

    def together(self, thing: Thing, other: Thing) -> tuple[Check, ...]:
        """Check two things: hole to hole, flange to flange, and the room that a handle or spout needs to swing."""
        if (thing, other) not in self._together:
            self._together[thing, other] = self._check_together(thing, other)
        return self._together[thing, other]

    def all(self, things: tuple[Thing, ...]) -> tuple[Check, ...]:
        """Check each thing, and each two of them."""
        parts = [self.alone(thing) for thing in things]
        parts += [self.together(one, other) for one, other in combinations(things, 2)]
        return tuple(chain.from_iterable(parts))

    def _check_alone(self, thing: Thing) -> tuple[Check, ...]:
        checks = [each for spot in thing.spots for each in self._spot(spot, thing.drilled)]
        for one, other in combinations(thing.spots, 2):
            checks.extend(self._two_spots(one, other, thing.drilled))
        checks.extend(self._fit(thing))
        return tuple(checks)

    def _check_together(self, thing: Thing, other: Thing) -> tuple[Check, ...]:
        drilled = thing.drilled or other.drilled
        checks = [each for spot in thing.spots for beside in other.spots
                  for each in self._two_spots(spot, beside, drilled)]
        for turning, still in ((thing, other), (other, thing)):
            if turning.swing:
                checks.append(self._swing(turning, still))
        return tuple(checks)

    def _spot(self, spot: tuple[str, float, float, float, float], drilled: bool) -> Iterator[Check]:
        name, x, y, radius, flange = spot
        cutout = to_area(x, y, self.deck.cutout.floats)
        if drilled:
            ends = min(x, self.width - x, y)
            yield self._given(words.HOLE_TO_CUTOUT, name, cutout - radius, self.cut)
            yield self._given(words.HOLE_TO_BACK, name, self.depth - y - radius, self.back)
            yield self._given(words.HOLE_TO_EDGES, name, ends - radius, self.edge)
            yield from self._below(name, x, y, radius)
        yield self._free(words.FLANGE_TO_CUTOUT, name, cutout - flange)
        yield self._free(words.FLANGE_TO_WALL, name, self.face - y - flange)

    def _below(self, name: str, x: float, y: float, radius: float) -> Iterator[Check]:
        least = self.deck.minimums
        if self.deck.cabinet and least.to_cabinet_side:
            inside = min(x - float(self.deck.cabinet.left.mm), float(self.deck.cabinet.right.mm) - x)
            yield self._given(words.HOLE_TO_CABINET, name, inside - radius, float(least.to_cabinet_side.mm))
        for area in self.deck.underneath:
            required = float(least.to_underneath.mm) if least.to_underneath else 0.0
            yield self._given(words.hole_to(area.name), name, to_area(x, y, area.floats) - radius, required)

    def _two_spots(self, one: tuple[str, float, float, float, float], other: tuple[str, float, float, float, float],
                   drilled: bool) -> Iterator[Check]:
        apart = between(one[1], one[2], other[1], other[2])
        about = words.two(one[0], other[0])
        if drilled:
            yield self._given(words.HOLE_TO_HOLE, about, apart - one[3] - other[3], self.web)
        yield self._free(words.FLANGE_TO_FLANGE, about, apart - one[4] - other[4])

    def _fit(self, thing: Thing) -> Iterator[Check]:
        _, x, y, _, _ = thing.middle
        if thing.thickest_top:
            yield check(words.THICKNESS, thing.name, self.deck.top.thickness, AT_MOST, thing.thickest_top)
        if thing.clearance_behind:
            yield self._sheet(words.BEHIND, thing.name, self.face - y, float(thing.clearance_behind.mm))
        if thing.reach:
            away = min(to_area(x, y, bowl.floats) for bowl in self.deck.bowls)
            yield self._sheet(words.REACH, thing.name, float(thing.reach.mm), max(away, 0.0))

    def _swing(self, turning: Thing, still: Thing) -> Check:
        _, x, y, _, _ = turning.middle
        room = min(between(x, y, spot[1], spot[2]) - spot[4] for spot in still.spots)
        return self._sheet(words.SWING, words.beside(turning.name, still.name), room,
                           float(turning.swing.mm) if turning.swing else 0.0)

    def _given(self, name: Measure, about: str, measured: float, required: float) -> Check:
        return Check(name, about, round(measured, 6), round(required, 6), source=self.given, unit=self.unit)

    def _free(self, name: Measure, about: str, measured: float) -> Check:
        return Check(name, about, round(measured, 6), 0.0, source=GEOMETRY, unit=self.unit)

    def _sheet(self, name: Measure, about: str, measured: float, required: float) -> Check:
        return Check(name, about, round(measured, 6), round(required, 6), source=GIVEN, unit=self.unit)
