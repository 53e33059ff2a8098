"""Every layout of a top that is still whole: which accessories get a hole of their own, in which order."""

from collections.abc import Iterator
from itertools import permutations, product

from portal.layouts.deck.dimensions import Accessory, Deck
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.row import Order, Row


def layouts(deck: Deck) -> list[DeckLayout]:
    """Find every layout, by number of faucet holes, then by what is drilled, then by order; not ranked."""
    return [layout for holes in deck.faucet.holes for layout in _layouts(deck, holes)]


def _layouts(deck: Deck, faucet_holes: int) -> Iterator[DeckLayout]:
    row = Row(deck, faucet_holes)
    for drilled in _choices(deck.accessories):
        without = tuple(item for item in deck.accessories if item not in drilled)
        for order in _orders(drilled):
            things, checks = row.stand(order)
            holes = tuple(hole for thing in things for hole in thing.holes)
            yield DeckLayout(deck, faucet_holes, holes, without, checks, things=things)


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
