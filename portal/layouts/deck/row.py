"""One row of a new top: the faucet, and accessories in slots beside it, as they stand and as they are checked."""

from portal.layouts.check import Check
from portal.layouts.deck.dimensions import Accessory, Deck
from portal.layouts.deck.off_pitch import Mover
from portal.layouts.deck.places import accessory_at, faucet_at, pitch, row
from portal.layouts.deck.rules.checks import Checker
from portal.layouts.deck.rules.cutout import cutout_checks
from portal.layouts.deck.rules.drift import Rooms, drift_checks
from portal.layouts.deck.rules.measures import of_places
from portal.layouts.deck.rules.things import Thing

Order = tuple[tuple[Accessory, int], ...]
"""Accessories and their slots: 1, 2, ... right of the faucet, -1, -2, ... left of it."""


class Row:
    """The row with one number of faucet holes; what stands in a slot is made and checked once."""

    def __init__(self, deck: Deck, faucet_holes: int) -> None:
        self.deck, self.faucet_holes, self.checker = deck, faucet_holes, Checker(deck)
        self.y, self.pitch = row(deck), pitch(deck, faucet_holes)
        self.faucet = faucet_at(deck, faucet_holes, self.y)
        self._mover, self._cutout, self._rooms = Mover(self.checker), cutout_checks(deck), Rooms(self.checker.rules)
        self._things: dict[tuple[str, int], Thing] = {}

    def even(self, order: Order) -> tuple[Thing, ...]:
        """Place the faucet, then each accessory in its slot."""
        return (self.faucet, *(self._thing(item, slot) for item, slot in order))

    def stand(self, order: Order) -> tuple[tuple[Thing, ...], tuple[Check, ...]]:
        """Place them and check them. Where something fixed is in the way of an accessory, and to move it is enough, it
        leaves the even row, by so much that bit and tape may be off."""
        even = self.even(order)
        checks = self.checks(even)
        if all(check.margin >= 0 or not check.stops for check in checks):
            return even, checks
        moved = self._mover.beside_what_is_there(even)
        if moved and all(check.ok for check in drift_checks(self._rooms, moved)):
            return moved, self.checks(moved)
        return even, checks

    def checks(self, things: tuple[Thing, ...]) -> tuple[Check, ...]:
        """Check what stands in the row, and the cut-out before it; where all places pass, that they leave the slop."""
        checks = (*self.checker.all(things), *self._cutout)
        if any(check.margin < 0 and of_places(check) for check in checks):
            return checks
        return (*checks, *drift_checks(self._rooms, things))

    def _thing(self, item: Accessory, slot: int) -> Thing:
        if (item.name, slot) not in self._things:
            self._things[item.name, slot] = accessory_at(self.deck, item, slot, self.faucet_holes, self.pitch, self.y)
        return self._things[item.name, slot]
