"""Where things can stand on a new deck: the row behind the cut-out, and slots at an even pitch beside the faucet."""

from itertools import combinations

from portal.layouts.deck.dimensions import Accessory, Deck, Faucet
from portal.layouts.deck.holes import Hole
from portal.layouts.deck.rules.things import Thing, accessory_in, faucet_in, names_of
from portal.layouts.length import Length

ZERO = Length.of_mm(0)


def row(deck: Deck) -> Length:
    """Give the distance of all centers from the front edge: as given, else the middle of what every minimum leaves
    free; of that, where there is any, the middle of what lets the water of the faucet land in the bowl."""
    if deck.row is not None:
        return deck.row
    nearest, furthest = strip(deck)
    short, long = _water(deck)
    if max(nearest, short) <= min(furthest, long):
        nearest, furthest = max(nearest, short), min(furthest, long)
    middle = (nearest + furthest) / 2
    rounded = middle.up_to(deck.step)
    return rounded if rounded <= furthest or furthest < nearest else middle


def strip(deck: Deck) -> tuple[Length, Length]:
    """Give the nearest and the furthest row from the front edge that keep every minimum to cut-out and back; turned
    where none does."""
    least, front, back = deck.minimums, deck.cutout.front + deck.cutout.depth, deck.top.depth
    sizes = [(deck.faucet.hole / 2, deck.faucet.base / 2)]
    sizes += [(item.hole / 2, item.flange / 2) for item in deck.accessories]
    nearest = max(front + max(hole + least.to_cutout, flange) for hole, flange in sizes)
    furthest = min(min(back - least.to_back - hole, deck.top.back_face - flange) for hole, flange in sizes)
    if deck.faucet.clearance_behind:
        furthest = min(furthest, deck.top.back_face - deck.faucet.clearance_behind)
    return nearest, furthest


def _water(deck: Deck) -> tuple[Length, Length]:
    """Between which rows the water lands in the bowl that is straight ahead; anywhere, where that can't be said."""
    reach, margin = deck.faucet.reach, deck.minimums.into_bowl or ZERO
    ahead = [bowl for bowl in deck.bowls if abs(bowl.center[0] - deck.center_line) <= bowl.width / 2 - margin]
    if reach is None or not ahead:
        return ZERO, deck.top.depth
    bowl = ahead[0]
    short = bowl.front + margin + reach if deck.minimums.into_bowl else ZERO
    return short, bowl.front + bowl.depth - margin + reach


def pitch(deck: Deck, faucet_holes: int = 1) -> Length:
    """Give the distance from center to center: as given, else the least that keeps every pair apart, each off by the
    slop of bit and tape, up to the next 1/2 in or 10 mm. The first after three holes is counted from the outer one,
    whose lever has its own room."""
    if deck.pitch is not None:
        return deck.pitch
    faucet = deck.faucet
    needs = [max(_apart(deck, faucet.hole, item.hole), (faucet.base + item.flange) / 2) for item in deck.accessories]
    needs += [max(_apart(deck, one.hole, other.hole), (one.flange + other.flange) / 2)
              for one, other in combinations(deck.accessories, 2)]
    if faucet.swing is not None:
        needs += [faucet.swing + item.flange / 2 for item in deck.accessories]
    if faucet_holes == 3 and faucet.lever_swing is not None:
        needs += [faucet.lever_swing + item.flange / 2 for item in deck.accessories]
    step = Length.of_inches("1/2") if deck.unit.is_inch else Length.of_mm(10)
    slop = deck.minimums.slop or ZERO
    return max((need + slop * 2 for need in needs), default=step).up_to(step)


def _apart(deck: Deck, one: Length, other: Length) -> Length:
    return (one + other) / 2 + deck.minimums.between_holes


def faucet_at(deck: Deck, holes: int, y: Length) -> Thing:
    """Place the faucet on the center line, with one hole or with three."""
    faucet = deck.faucet
    half = _outer(faucet) / 2
    offsets = (ZERO,) if holes == 1 else (-half, ZERO, half)
    return faucet_in(faucet, tuple(
        Hole(name, deck.center_line + offset, y, faucet.hole, faucet.base)
        for name, offset in zip(names_of(faucet, holes), offsets, strict=True)))


def accessory_at(deck: Deck, item: Accessory, slot: int, faucet_holes: int, step: Length, y: Length) -> Thing:
    """Place an accessory in slot 1, 2, ... right of the faucet, or -1, -2, ... left of it."""
    first = _outer(deck.faucet) / 2 if faucet_holes == 3 else ZERO
    offset = (first if slot > 0 else -first) + step * slot
    hole = Hole(item.name, deck.center_line + offset, y, item.hole, item.flange)
    return accessory_in(item, hole)


def _outer(faucet: Faucet) -> Length:
    return faucet.outer_to_outer or ZERO
