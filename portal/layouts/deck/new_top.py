"""Every layout of a top that is still whole: which accessories get a hole of their own, in which order."""

from collections.abc import Iterator
from itertools import chain, permutations, product

from portal.layouts.check import Check
from portal.layouts.deck.checks import Checker, Thing
from portal.layouts.deck.dimensions import Accessory, Deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.places import accessory_at, faucet_at, pitch, row

Order = tuple[tuple[Accessory, int], ...]


def layouts(deck: Deck) -> list[DeckLayout]:
    """By number of faucet holes, then by what is drilled, then by order; not ranked."""
    return [layout for holes in deck.faucet.holes for layout in _Row(deck, holes).layouts()]


class _Row:
    """The layouts with one number of faucet holes. Layouts share their things, so each is made and checked once."""

    def __init__(self, deck: Deck, holes: int) -> None:
        self.deck, self.holes, self.checker = deck, holes, Checker(deck)
        self.y, self.pitch = row(deck), pitch(deck)
        self.faucet = faucet_at(deck, holes, self.y)
        self.faucet_checks = self.checker.alone(self.faucet)
        self._things: dict[tuple[str, int], Thing] = {}
        self._alone: dict[tuple[str, int], tuple[Check, ...]] = {}
        self._together: dict[tuple[tuple[str, int], tuple[str, int]], tuple[Check, ...]] = {}

    def layouts(self) -> Iterator[DeckLayout]:
        for drilled in _choices(self.deck.accessories):
            without = tuple(item for item in self.deck.accessories if item not in drilled)
            for order in _orders(drilled):
                yield self._layout(order, without)

    def _layout(self, order: Order, without: tuple[Accessory, ...]) -> DeckLayout:
        keys = [(item.name, slot) for item, slot in order]
        parts = [self.faucet_checks]
        for (item, slot), key in zip(order, keys, strict=True):
            if key not in self._things:
                self._make(item, slot, key)
            parts.append(self._alone[key])
        for index, key in enumerate(keys):
            parts.extend(self._pair(key, other) for other in keys[index + 1 :])
        holes = (*self.faucet.holes, *(self._things[key].holes[0] for key in keys))
        return DeckLayout(self.deck, self.holes, holes, without, tuple(chain.from_iterable(parts)))

    def _make(self, item: Accessory, slot: int, key: tuple[str, int]) -> None:
        thing = accessory_at(self.deck, item, slot, self.holes, self.pitch, self.y)
        self._things[key] = thing
        self._alone[key] = self.checker.alone(thing) + self.checker.together(self.faucet, thing)

    def _pair(self, one: tuple[str, int], other: tuple[str, int]) -> tuple[Check, ...]:
        if (one, other) not in self._together:
            self._together[one, other] = self.checker.together(self._things[one], self._things[other])
        return self._together[one, other]


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
