"""The checks of one thing on a deck, and of two things beside each other: its rules, measured where they stand."""

from itertools import chain, combinations
from operator import attrgetter

from portal.layouts.check import AT_MOST, Check, check
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.rules import measures
from portal.layouts.deck.rules.distances import between
from portal.layouts.deck.rules.limits import Apart
from portal.layouts.deck.rules.rules import Rules
from portal.layouts.deck.rules.things import Thing


class Checker:
    """The checks of one deck. Layouts share their things, so each thing and each pair is checked once and its checks
    are kept."""

    def __init__(self, deck: Deck) -> None:
        self.deck, self.rules, self.unit = deck, Rules(deck), deck.unit
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
            groups = self.rules.together(thing, other)
            self._together[thing, other] = tuple(self._tightest(thing, other, group) for group in groups)
        return self._together[thing, other]

    def all(self, things: tuple[Thing, ...]) -> tuple[Check, ...]:
        """Check each thing, and each two of them."""
        parts = [self.alone(thing) for thing in things]
        parts += [self.together(one, other) for one, other in combinations(things, 2)]
        return tuple(chain.from_iterable(parts))

    def _check_alone(self, thing: Thing) -> tuple[Check, ...]:
        checks = [limit.check(spot.x, spot.y, self.unit) for number, spot in enumerate(thing.spots)
                  for limit in self.rules.alone(thing, number)]
        checks += [self._tightest(thing, thing, group) for group in self.rules.within(thing)]
        if thing.thickest_top:
            checks.append(check(measures.THICKNESS, thing.name, self.deck.top.thickness, AT_MOST, thing.thickest_top))
        return tuple(checks)

    def _tightest(self, thing: Thing, other: Thing, group: tuple[Apart, ...]) -> Check:
        found = []
        for limit in group:
            one, two = thing.spots[limit.one], other.spots[limit.other]
            found.append(limit.check(between(one.x, one.y, two.x, two.y), self.unit))
        return min(found, key=attrgetter("margin"))
