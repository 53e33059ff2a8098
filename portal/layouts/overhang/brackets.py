"""Where brackets stand along the edge: evenly, or on the gables and studs that there are."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from portal.layouts.check import GIVEN
from portal.layouts.length import Length
from portal.layouts.overhang.dimensions import MOST_BRACKETS, Overhang
from portal.layouts.overhang.limits import span
from portal.layouts.stone.weights import Weight, heft


def widest_apart(found: Overhang) -> Length | None:
    """Say how far apart brackets may stand, the lesser of what their maker and what the stone allow. None: nobody says.
    """
    stone, own = span(found), found.brackets.spacing if found.brackets else None
    return min((each for each in (own, stone.most if stone else None) if each), default=None)


def apart_at(found: Overhang, depth: Length) -> Length | None:
    """Say how far apart brackets may stand under an overhang so deep: nearer together where that lets each carry its
    share. None: nobody says how far."""
    apart, carried = widest_apart(found), carried_apart(found, depth)
    if apart and carried and carried.mm and found.length <= carried * (MOST_BRACKETS - 1):
        return min(apart, carried)
    return apart


def places(found: Overhang, apart: Length) -> tuple[Length, ...]:
    """Give the places of the fewest brackets, from the left end of the edge: at most `apart`, the outer ones no
    further from the ends than their inset. On fixings that do not allow that, as near to it as they do."""
    inset = (found.brackets.inset if found.brackets else None) or Length.of_mm(0, found.length.unit)
    first, last = inset, found.length - inset
    if found.fixings:
        return _on_fixings(found.fixings, first, last, apart)
    gaps = int(-(-(last - first).mm // apart.mm))
    return tuple(first + (last - first) * number / gaps for number in range(gaps + 1))


def _on_fixings(fixings: Sequence[Length], first: Length, last: Length, apart: Length) -> tuple[Length, ...]:
    """Each as far from the one before as may be; where none is near enough, the next that there is."""
    found = [max((at for at in fixings if at <= first), default=fixings[0])]
    while found[-1] < last:
        beyond = [at for at in fixings if at > found[-1]]
        if not beyond:
            break
        found.append(max((at for at in beyond if at - found[-1] <= apart), default=beyond[0]))
    return tuple(found)


def widest_gap(marks: Sequence[Length]) -> Length | None:
    """Give the widest gap between two brackets; None for fewer than two."""
    return max((other - one for one, other in pairwise(marks)), default=None)


def more_fixings(found: Overhang, marks: Sequence[Length], apart: Length) -> tuple[Length, ...]:
    """Give where gables or studs are missing: evenly in each gap that is too wide, and at an end that is too far."""
    inset = found.brackets.inset if found.brackets else None
    missing = []
    if inset is not None and marks[0] > inset:
        missing.append(inset)
    if inset is not None and marks[-1] < found.length - inset:
        missing.append(found.length - inset)
    for one, other in pairwise(sorted({*marks, *missing})):
        gaps = int(-(-(other - one).mm // apart.mm))
        missing += [one + (other - one) * number / gaps for number in range(1, gaps)]
    return tuple(sorted(missing))


def carried_apart(found: Overhang, depth: Length) -> Length | None:
    """Say how far apart brackets may stand by what each carries: one bears the whole load at the edge, and all that
    reaches out over its share of the edge. Zero where it doesn't even bear the load. None where what they carry, the
    load, or what the top is made of is not known."""
    rating, heavy = found.brackets.rating if found.brackets else None, _per_mm(found, depth)
    if not (rating and found.load and heavy):
        return None
    return Length.of_mm(max(rating.kg - found.load.weight.kg, Fraction(0)) / heavy, depth.unit)


def rating_needed(found: Overhang, depth: Length, gap: Length) -> Weight | None:
    """Say what brackets so far apart must each carry, in the same way. None where that is not known."""
    heavy = _per_mm(found, depth)
    return Weight(found.load.weight.kg + heavy * gap.mm) if found.load and heavy else None


def _per_mm(found: Overhang, depth: Length) -> Fraction | None:
    """Kilograms of what reaches out, at most, by mm of the edge."""
    if not (found.density or found.material):
        return None
    heaviest = heft(found.material, found.density, found.thickness, None, GIVEN)
    return heaviest.weigh(Length.of_mm(1), depth).kg
