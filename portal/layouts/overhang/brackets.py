"""Where brackets stand along the edge: evenly, or on the gables and studs that there are."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from portal.layouts.length import Length
from portal.layouts.overhang.bearing import carried_length, shares
from portal.layouts.overhang.dimensions import MOST_BRACKETS, Overhang
from portal.layouts.overhang.limits import span, to_end
from portal.layouts.overhang.on_fixings import fewest_on, nearest_on

_STEPS = {True: (Fraction(254, 80), Fraction(254, 160)), False: (Fraction(1), Fraction(1, 10))}
"""What one marks by, in mm: 1/8 in or 1 mm; where that is too coarse, half of it or 0.1 mm."""


def widest_apart(found: Overhang) -> Length | None:
    """Say how far apart brackets may stand, the lesser of what their maker and what the stone allow. None: nobody says.
    """
    stone, own = span(found), found.brackets.spacing if found.brackets else None
    return min((each for each in (own, stone.most if stone else None) if each), default=None)


def standing(found: Overhang, depth: Length, apart: Length) -> tuple[Length, ...]:
    """Give the places of the fewest brackets under an overhang so deep, `apart` at most: so that each carries its
    share, where some places allow that; else as if nothing were known of what they carry."""
    carried = carried_length(found, depth)
    carrying = places(found, apart, carried) if carried and carried.mm else ()
    return carrying or places(found, apart)


def places(found: Overhang, apart: Length, share: Length | None = None) -> tuple[Length, ...]:
    """Give the places of the fewest brackets, from the left end of the edge: at most `apart`, the outer ones no
    further from the ends than their inset. On fixings that do not allow that, as near to it as they do. With `share`
    each bears at most so much of the edge; empty where no places allow that."""
    inset = (found.brackets.inset if found.brackets else None) or Length.of_mm(0, found.length.unit)
    if found.fixings:
        near = nearest_on(found.fixings, inset, found.length - inset, apart)
        if share is None or max(shares(near, found.length)) <= share:
            return near
        return fewest_on(found.fixings, inset, found.length, apart, share)
    return next(_even(found, inset, apart, share), () if share else _exact(inset, found.length - inset, apart))


def _even(found: Overhang, inset: Length, apart: Length, share: Length | None) -> Iterator[tuple[Length, ...]]:
    """Each way to stand evenly at places that one can mark, the fewest brackets first."""
    fewest = int(-(-(found.length - inset * 2).mm // apart.mm)) + 1
    for count in range(fewest, MOST_BRACKETS + 2):
        for step in _STEPS[found.length.unit.is_inch]:
            for end in _ends(found.length.mm, inset.mm, count, apart.mm, step) if share else (inset.mm,):
                marks = _spread(end, found.length, count, step)
                if _apart(marks) <= apart and (share is None or max(shares(marks, found.length)) <= share):
                    yield marks


def _ends(length: Fraction, inset: Fraction, count: int, apart: Fraction, step: Fraction) -> Iterator[Fraction]:
    """How far from the ends the outer ones may stand: their inset; where each bears as much as the others; as near as
    keeps the others near enough together."""
    yield inset
    for end in (length / (2 * count) // step * step, -(-(length - apart * (count - 1)) / 2 // step) * step):
        if 0 <= end < inset:
            yield end


def _spread(end: Fraction, length: Length, count: int, step: Fraction) -> tuple[Length, ...]:
    """So many, the outer ones as far from the ends, the others evenly between them, at the nearest mark."""
    gap = (length.mm - 2 * end) / (count - 1)
    inner = [round((end + gap * number) / step) * step for number in range(1, count - 1)]
    return tuple(Length.of_mm(at, length.unit) for at in (end, *inner, length.mm - end))


def _exact(first: Length, last: Length, apart: Length) -> tuple[Length, ...]:
    """Evenly, where no marks are so near together."""
    gaps = int(-(-(last - first).mm // apart.mm))
    return tuple(first + (last - first) * number / gaps for number in range(gaps + 1))


def _apart(marks: Sequence[Length]) -> Length:
    return max(other - one for one, other in pairwise(marks))


def widest_gap(marks: Sequence[Length]) -> Length | None:
    """Give the widest gap between two brackets; None for fewer than two."""
    return max((other - one for one, other in pairwise(marks)), default=None)


def more_fixings(found: Overhang, apart: Length) -> tuple[Length, ...]:
    """Give where gables or studs are missing: at an end that is too far, and in each gap that is too wide, evenly and
    at places that one can mark. None are missing where brackets may stand anywhere."""
    if not found.fixings:
        return ()
    fixings, most, length = found.fixings, to_end(found).most, found.length
    missing = []
    if fixings[0] > most:
        missing.append(most.rounded(up=False))
    if length - fixings[-1] > most:
        missing.append(length - most.rounded(up=False))
    for one, other in pairwise(sorted({*fixings, *missing})):
        missing += _between(one, other, apart)
    return tuple(sorted(missing))


def _between(one: Length, other: Length, apart: Length) -> tuple[Length, ...]:
    """Places between two, so that none is further than `apart` from the next; as few as can be marked."""
    for gaps in range(int(-(-(other - one).mm // apart.mm)), MOST_BRACKETS + 2):
        for step in _STEPS[one.unit.is_inch]:
            near = [round((one + (other - one) * number / gaps).mm / step) * step for number in range(1, gaps)]
            marks = (one, *(Length.of_mm(at, one.unit) for at in near), other)
            if _apart(marks) <= apart:
                return marks[1:-1]
    return _exact(one, other, apart)[1:-1]
