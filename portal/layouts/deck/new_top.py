"""Every layout of a top that is still whole: which accessories get a hole of their own, in which order."""

from collections.abc import Iterator
from itertools import permutations, product

from portal.layouts.deck.dimensions import Accessory, Deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.off_pitch import Mover
from portal.layouts.deck.places import accessory_at, faucet_at, pitch, row
from portal.layouts.deck.rules.checks import Checker
from portal.layouts.deck.rules.cutout import cutout_checks
from portal.layouts.deck.rules.things import Thing

Order = tuple[tuple[Accessory, int], ...]


def layouts(deck: Deck) -> list[DeckLayout]:
    """Find every layout, by number of faucet holes, then by what is drilled, then by order; not ranked."""
    return [layout for holes in deck.faucet.holes for layout in _Row(deck, holes).layouts()]


class _Row:
    """The layouts with one number of faucet holes."""

    def __init__(self, deck: Deck, holes: int) -> None:
        self.deck, self.holes, self.checker = deck, holes, Checker(deck)
        self.mover, self.cutout = Mover(self.checker), cutout_checks(deck)
        self.y, self.pitch = row(deck), pitch(deck, holes)
        self.faucet = faucet_at(deck, holes, self.y)
        self._things: dict[tuple[str, int], Thing] = {}

    def layouts(self) -> Iterator[DeckLayout]:
        for drilled in _choices(self.deck.accessories):
            without = tuple(item for item in self.deck.accessories if item not in drilled)
            for order in _orders(drilled):
                yield self._layout(order, without)

    def _layout(self, order: Order, without: tuple[Accessory, ...]) -> DeckLayout:
        """Where something fixed is in the way of an accessory, and to move it is enough, it leaves the even row."""
        even = (self.faucet, *(self._thing(item, slot) for item, slot in order))
        layout = self._with(even, without)
        moved = self.mover.beside_what_is_there(even) if layout.failed else None
        return self._with(moved, without) if moved else layout

    def _with(self, things: tuple[Thing, ...], without: tuple[Accessory, ...]) -> DeckLayout:
        holes = tuple(hole for thing in things for hole in thing.holes)
        checks = (*self.checker.all(things), *self.cutout)
        return DeckLayout(self.deck, self.holes, holes, without, checks, things=things)

    def _thing(self, item: Accessory, slot: int) -> Thing:
        if (item.name, slot) not in self._things:
            self._things[item.name, slot] = accessory_at(self.deck, item, slot, self.holes, self.pitch, self.y)
        return self._things[item.name, slot]


def _choices(accessories: tuple[Accessory, ...]) -> Iterator[tuple[Accessory, ...]]:
    """Which accessories are drilled for; one that is neither shared nor may be left out always is."""
    for picks in product((False, True), repeat=len(accessories)):
        if all(pick or item.shares or item.may_omit for item, pick in zip(accessories, picks, strict=True)):
            yield tuple(item for item, pick in zip(accessories, picks, strict=True) if pick)


def _orders(drilled: tuple[Accessory, ...]) -> Iterator[Order]:
    """From left to right, every order with every number of them left of the faucet, as far as their sides allow."""
    for line in permutations(drilled):
        for on_left in range(len(line) + 1):
            slots = (*range(-on_left, 0), *range(1, len(line) - on_left + 1))
            order = tuple(zip(line, slots, strict=True))
            if all(_stands_right(item, slot) for item, slot in order):
                yield order


def _stands_right(item: Accessory, slot: int) -> bool:
    return item.side == "either" or (item.side == "left") == (slot < 0)
