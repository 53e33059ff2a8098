"""Layouts of a top that is drilled already: which hole takes the faucet, what is covered, filled or capped."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, GIVEN, Check, Measure
from portal.layouts.deck.dimensions import Accessory, Area, Deck, ExistingHole, Plate
from portal.layouts.deck.holes import Hole, Placed, State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.rules import measures
from portal.layouts.deck.rules.checks import Checker
from portal.layouts.deck.rules.distances import between, between_areas, to_area
from portal.layouts.deck.rules.there import cap_checks, holes_there
from portal.layouts.deck.rules.things import Thing, accessory_in, faucet_in, names_of
from portal.layouts.length import DimensionError, Length

Uses = tuple[tuple[Accessory, ExistingHole], ...]


@dataclass(frozen=True)
class Seat:
    """The faucet in holes that are there. `fit`: the checks of the seat itself; `covered`: holes under the plate."""

    faucet: Thing
    taken: tuple[ExistingHole, ...]
    covered: tuple[ExistingHole, ...]
    fit: tuple[Check, ...]
    plate: Placed | None = None


def layouts(deck: Deck) -> list[DeckLayout]:
    """Find every seat of the faucet with every use of the other holes; not ranked.

    Raises DimensionError when something that must have a hole gets none in any layout.
    """
    finder = _Finder(deck)
    found = [layout for seat in finder.seats() for layout in finder.layouts(seat)]
    if not found:
        raise DimensionError("existing_holes", "are too few for the faucet and everything that can't be left out; set "
                                               "may_omit or shares for an accessory, or ask for a new top's layouts")
    return found


class _Finder:
    def __init__(self, deck: Deck) -> None:
        self.deck, self.checker = deck, Checker(deck)
        self.there = holes_there(deck)
        self._fillings: dict[tuple[Accessory, ExistingHole], Thing] = {}
        self.centers = {hole: (float(hole.x.mm), float(hole.y.mm)) for hole in deck.existing}

    def seats(self) -> list[Seat]:
        """Find all seats that fit; when none does, all, with the numbers that say why."""
        seats = [*self._single(), *self._triple()]
        return [seat for seat in seats if all(check.ok or not check.stops for check in seat.fit)] or seats

    def layouts(self, seat: Seat) -> Iterator[DeckLayout]:
        """Find each use of the other holes with the faucet in this seat."""
        free = tuple(hole for hole in self.deck.existing if hole not in seat.taken and hole not in seat.covered)
        for uses in self._uses(self.deck.accessories, free):
            yield self._layout(seat, free, uses)

    def _single(self) -> Iterator[Seat]:
        faucet = self.deck.faucet
        if 1 not in faucet.holes:
            return
        for hole in self.deck.existing:
            thing = self._thing(((faucet.name, hole),))
            wide = self._wide_enough(faucet.name, hole, faucet.hole)
            yield Seat(thing, (hole,), (), (wide, self._covers(measures.BASE_COVERS, faucet.name, hole, faucet.base)))
            if faucet.plate:
                yield self._with_plate(thing, hole, wide, faucet.plate)

    def _triple(self) -> Iterator[Seat]:
        faucet = self.deck.faucet
        if 3 not in faucet.holes or faucet.outer_to_outer is None:
            return
        in_line = sorted(self.deck.existing, key=lambda hole: hole.x)
        for three in combinations(in_line, 3):
            named = tuple(zip(names_of(faucet, 3), three, strict=True))
            fit = [check for name, hole in named for check in (
                self._wide_enough(name, hole, faucet.hole),
                self._covers(measures.BASE_COVERS, name, hole, faucet.base))]
            yield Seat(self._thing(named), three, (), (*fit, *self._outer(three)))

    def _outer(self, three: tuple[ExistingHole, ...]) -> Iterator[Check]:
        """Outer hole to outer hole, center to center, against what the maker's sheet allows."""
        faucet = self.deck.faucet
        apart = between(*self.centers[three[0]], *self.centers[three[2]])
        least, most = faucet.outer_least or faucet.outer_to_outer, faucet.outer_most or faucet.outer_to_outer
        if least and most:
            yield self._check(measures.OUTER_TO_OUTER, faucet.name, apart, least)
            yield self._check(measures.OUTER_TO_OUTER, faucet.name, apart, most, AT_MOST)

    def _with_plate(self, thing: Thing, hole: ExistingHole, wide: Check, plate: Plate) -> Seat:
        placed = Placed(plate, hole.x, hole.y)
        area, others = _area(placed), [other for other in self.deck.existing if other is not hole]
        covered = tuple(other for other in others if -self._off(other, area) >= float(other.diameter.mm))
        partly = [other for other in others if other not in covered]
        checks = [self._free(measures.PLATE_TO_HOLE, measures.two(measures.PLATE_NAME, other.name),
                             self._off(other, area)) for other in partly]
        checks += [wide, self._covers(measures.PLATE_COVERS, self.deck.faucet.name, hole, plate.width),
                   self._free(measures.PLATE_TO_CUTOUT, measures.PLATE_NAME,
                              between_areas(area.floats, self.deck.cutout.floats)),
                   self._free(measures.PLATE_TO_WALL, measures.PLATE_NAME,
                              self.checker.rules.face - float((hole.y + plate.width / 2).mm)),
                   self._free(measures.PLATE_TO_EDGES, measures.PLATE_NAME, self._to_edges(area))]
        return Seat(thing, (hole,), covered, tuple(checks), placed)

    def _off(self, hole: ExistingHole, area: Area) -> float:
        """From the edge of a hole to a rectangle; negative when they touch."""
        return to_area(*self.centers[hole], area.floats) - float(hole.diameter.mm) / 2

    def _to_edges(self, area: Area) -> float:
        return float(min(area.left, self.deck.top.width - area.left - area.width, area.front).mm)

    def _uses(self, items: tuple[Accessory, ...], free: tuple[ExistingHole, ...]) -> Iterator[Uses]:
        """Each way to give some of the accessories one of the free holes each."""
        if not items:
            yield ()
            return
        item, rest = items[0], items[1:]
        for hole in self._holes_for(item, free):
            left = tuple(other for other in free if other is not hole)
            yield from (((item, hole), *more) for more in self._uses(rest, left))
        if item.shares or item.may_omit:
            yield from self._uses(rest, free)

    def _holes_for(self, item: Accessory, free: tuple[ExistingHole, ...]) -> tuple[ExistingHole, ...]:
        """The holes that it fits; when it fits none and can't go without, all, so that its checks say why."""
        fitting = tuple(hole for hole in free if item.hole <= hole.diameter <= item.flange)
        return fitting if fitting or item.shares or item.may_omit else free

    def _layout(self, seat: Seat, free: tuple[ExistingHole, ...], uses: Uses) -> DeckLayout:
        filled = {hole: item for item, hole in uses}
        things = [self._filling(item, hole) for item, hole in uses]
        holes = [*seat.faucet.holes, *(thing.holes[0] for thing in things)]
        holes += [_idle(hole, State.COVERED) for hole in seat.covered]
        caps = [_idle(hole, State.CAP, self.deck.cap) for hole in free if hole not in filled]
        without = tuple(item for item in self.deck.accessories if item not in filled.values())
        checks = [*seat.fit, *self._checks(seat, things, uses),
                  *cap_checks(self.deck, caps, holes, _area(seat.plate).floats if seat.plate else None), *self.there]
        return DeckLayout(self.deck, len(seat.taken), (*holes, *caps), without, tuple(checks), seat.plate)

    def _checks(self, seat: Seat, things: list[Thing], uses: Uses) -> Iterator[Check]:
        yield from self.checker.all((seat.faucet, *things))
        for item, hole in uses:
            yield self._wide_enough(item.name, hole, item.hole)
            yield self._covers(measures.FLANGE_COVERS, item.name, hole, item.flange)
            if seat.plate:
                away = to_area(*self.centers[hole], _area(seat.plate).floats)
                about = measures.two(item.name, measures.PLATE_NAME)
                yield self._free(measures.FLANGE_TO_PLATE, about, away - float(item.flange.mm) / 2)

    def _thing(self, named: tuple[tuple[str, ExistingHole], ...]) -> Thing:
        faucet = self.deck.faucet
        return faucet_in(faucet, tuple(
            Hole(name, hole.x, hole.y, hole.diameter, faucet.base, State.FILLED, hole.name)
            for name, hole in named), drilled=False)

    def _filling(self, item: Accessory, hole: ExistingHole) -> Thing:
        if (item, hole) not in self._fillings:
            filled = Hole(item.name, hole.x, hole.y, hole.diameter, item.flange, State.FILLED, hole.name)
            self._fillings[item, hole] = accessory_in(item, filled, drilled=False)
        return self._fillings[item, hole]

    def _wide_enough(self, about: str, hole: ExistingHole, needed: Length) -> Check:
        return self._check(measures.WIDE_ENOUGH, measures.stands_in(about, hole.name), float(hole.diameter.mm), needed)

    def _covers(self, name: Measure, about: str, hole: ExistingHole, cover: Length) -> Check:
        return self._check(name, measures.lies_over(about, hole.name), float(cover.mm), hole.diameter)

    def _check(self, name: Measure, about: str, measured: float, required: Length, rule: str = AT_LEAST) -> Check:
        return Check(name, about, round(measured, 6), round(float(required.mm), 6), rule, GIVEN, self.deck.unit)

    def _free(self, name: Measure, about: str, measured: float) -> Check:
        return Check(name, about, round(measured, 6), 0.0, source=GEOMETRY, unit=self.deck.unit)


def _area(placed: Placed) -> Area:
    plate = placed.plate
    return Area(measures.PLATE_NAME, placed.x - plate.length / 2, placed.y - plate.width / 2, plate.length, plate.width)


def _idle(hole: ExistingHole, state: State, cover: Length | None = None) -> Hole:
    return Hole(hole.name, hole.x, hole.y, hole.diameter, cover, state, hole.name)
