"""Where seams can stand: for each the exact places for which the others can still be placed.

A place is a distance from the left end in mm, exact; places are closed intervals, apart from each other and in order.
Seams stand in a row, each so far from the one before that the piece between fits: so what is in reach from the left
end, seam by seam, and what is in reach from the right end, meet in exactly the places that can be had.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from portal.layouts.length import Length
from portal.layouts.seam.dimensions import Run

EIGHTH, TEN_MM = Fraction("3.175"), Fraction(10)
Interval = tuple[Fraction, Fraction]
Places = tuple[Interval, ...]


@dataclass(frozen=True)
class Placing:
    """All ways to place so many seams. `places`: of each seam from the left, those for which the others can still be
    placed. `shortest`, `longest`: of a piece. `strict`: no seam lies over the dishwasher, as is advised."""

    places: tuple[Places, ...]
    shortest: Fraction
    longest: Fraction
    strict: bool

    @property
    def seams(self) -> int:
        """Count the seams."""
        return len(self.places)

    def holds(self, seams: Sequence[Fraction]) -> bool:
        """Say whether these seams, in order, are one of the ways."""
        return len(seams) == self.seams and all(
            met(self.after(seams[:number]), ((at, at),)) for number, at in enumerate(seams))

    def after(self, before: Sequence[Fraction]) -> Places:
        """Give the places of the next seam once those before it stand at `before`, each at one of its places."""
        ours = self.places[len(before)]
        last = before[-1] if before else Fraction(0)
        return met(ours, ((last + self.shortest, last + self.longest),))

    def alone(self, seams: Sequence[Fraction]) -> tuple[Places, ...]:
        """Give for each of these seams, which are one of the ways, its places while the others stay."""
        found = []
        for number in range(self.seams):
            ours = self.after(seams[:number])
            if number + 1 < self.seams:
                beyond = seams[number + 1]
                ours = met(ours, ((beyond - self.longest, beyond - self.shortest),))
            found.append(ours)
        return tuple(found)

    def near(self, wanted: Sequence[Fraction]) -> tuple[Fraction, ...]:
        """Place the seams as near as can be to `wanted`, one after the other from the left."""
        found: list[Fraction] = []
        for at in wanted:
            found.append(min((_within(at, each) for each in self.after(found)), key=lambda place: abs(place - at)))
        return tuple(found)

    def around(self, number: int, at: Fraction, wanted: Sequence[Fraction]) -> tuple[Fraction, ...]:
        """Place seam `number`, counted from 0, at one of its places, the others near `wanted`."""
        only = list(self.places)
        only[number] = ((at, at),)
        for each in range(number - 1, -1, -1):  # so that none before it is placed where it is out of reach
            only[each] = met(only[each], _moved(only[each + 1], -self.longest, -self.shortest))
        return replace(self, places=tuple(only)).near(wanted)


@lru_cache(maxsize=64)
def placing(run: Run) -> Placing | None:
    """Find all ways to divide a run into the fewest pieces; into one more where the fewest don't fit. None: not even
    that fits, or it is one piece. A way that follows the advice about the dishwasher comes before any that does not."""
    for count in (run.seams, run.seams + 1) if run.seams else ():
        for strict in (True, False):
            found = ways(run, count, strict)
            if found:
                return found
    return None


def longer_slab(run: Run) -> Length | None:
    """Give a length of slab, a little longer than the run's, with which the run can be divided; to 1/8 in or 10 mm.
    None where even one piece doesn't pass, since it is shorter than a piece may be."""
    step = EIGHTH if run.length.unit.is_inch else TEN_MM
    low, high = run.slab_length.mm // step, -(-run.length.mm // step)
    if run.least.piece and run.least.piece > run.length:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        if placing(replace(run, slab_length=Length.of_mm(middle * step))) or middle * step >= run.length.mm:
            high = middle
        else:
            low = middle
    return Length.of_mm(high * step, run.length.unit)


@lru_cache(maxsize=64)
def ways(run: Run, count: int, strict: bool) -> Placing | None:
    """Find all ways to place `count` seams, one at least; None where there is none."""
    end, longest = run.length.mm, run.slab_length.mm
    shortest = run.least.piece.mm if run.least.piece else Fraction(0)
    free = _free(run, strict)
    forward: list[Places] = [((Fraction(0), Fraction(0)),)]
    for _ in range(count):
        forward.append(met(free, _moved(forward[-1], shortest, longest)))
    back: list[Places] = [((end, end),)]
    for _ in range(count):
        back.append(met(free, _moved(back[-1], -longest, -shortest)))
    places = tuple(met(one, other) for one, other in zip(forward[1:], reversed(back[1:]), strict=True))
    return Placing(places, shortest, longest, strict) if all(places) else None


def _free(run: Run, strict: bool) -> Places:
    """What no cut-out with its least distance takes; nor, where the advice is followed, the dishwasher."""
    keep = run.least.to_cutout.mm
    taken = [(each.left.mm - keep, each.right.mm + keep) for each in run.cutouts]
    if strict and run.dishwasher:
        taken.append((run.dishwasher.left.mm, run.dishwasher.right.mm))
    free: list[Interval] = []
    start = Fraction(0)
    for low, high in sorted(taken):
        if start <= low:
            free.append((start, low))
        start = max(start, high)
    return (*free, (start, run.length.mm)) if start <= run.length.mm else tuple(free)


def _moved(places: Places, least: Fraction, most: Fraction) -> Places:
    """What is in reach from some place, `least` to `most` away; joined where it overlaps."""
    joined: list[Interval] = []
    for low, high in sorted((low + least, high + most) for low, high in places):
        if joined and low <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return tuple(joined)


def met(one: Places, other: Places) -> Places:
    """What lies in both."""
    both = ((max(a, c), min(b, d)) for a, b in one for c, d in other)
    return tuple(sorted((low, high) for low, high in both if low <= high))


def _within(at: Fraction, interval: Interval) -> Fraction:
    low, high = interval
    return min(max(at, low), high)
