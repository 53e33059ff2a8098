"""What would make an overhang pass, in numbers: brackets, a depth, gables or studs, what a bracket carries."""

from dataclasses import dataclass, replace
from fractions import Fraction

from portal.layouts.length import Length
from portal.layouts.overhang.bearing import carried_length, rating_needed, shares
from portal.layouts.overhang.brackets import more_fixings, places, standing, widest_apart, widest_gap
from portal.layouts.overhang.limits import alone, deepest_alone, most_past
from portal.layouts.overhang.reach import Reach
from portal.layouts.stone.weights import Weight


@dataclass(frozen=True)
class Stand:
    """How brackets stand that do. `apart`: at most. `missing`: gables or studs that they need, from the left end of
    the edge, besides those that there are. `rating`: what each must carry; None where those that are given do, or where
    the load, or what the top is made of, is not known."""

    apart: Length
    count: int
    missing: tuple[Length, ...]
    rating: Weight | None


@dataclass(frozen=True)
class Needed:
    """Brackets that would do: `least` to `most` is how far they reach past the cabinets. `stand`: how they stand; None
    where nobody says how far apart they may."""

    least: Length
    most: Length
    stand: Stand | None


def brackets_needed(layout: Reach) -> Needed | None:
    """Find which brackets would carry an overhang as deep as this one. None: those that reach far enough would not end
    as far before its edge as they must."""
    found, depth = layout.dimensions, layout.depth
    step = Length.of_inches(Fraction(1, 16)) if depth.unit.is_inch else Length.of_mm(1)
    most_alone = alone(found, layout.width).most
    if not found.fastening:
        held, loaded = most_past(found, depth)
        most_alone = min(most_alone, held if loaded else held - step)
    back = (found.brackets.set_back if found.brackets else None) or Length.of_mm(0)
    least, most = max((depth - most_alone).up_to(step), step), (depth - back).rounded(up=False)
    return None if least > most else Needed(least, most, stand_needed(layout))


def depth_that_does(layout: Reach) -> Length | None:
    """Say how far the top may reach out on what this one lies on, where that is less than it does. None: no less."""
    brackets = layout.dimensions.brackets if layout.supported else None
    most = deepest_alone(layout.dimensions, brackets.reach if brackets else None).rounded(up=False)
    if brackets and most - brackets.reach < (brackets.set_back or Length.of_mm(0)):
        return None
    return most if most.mm and most < layout.depth else None


def stand_needed(layout: Reach) -> Stand | None:
    """Find how brackets would have to stand under an overhang as deep as this one, and what each must carry. None:
    nobody says how far apart they may stand."""
    found, depth, widest = layout.dimensions, layout.depth, widest_apart(layout.dimensions)
    if widest is None:
        return None
    apart = widest.rounded(up=False)
    missing = more_fixings(found, apart)
    whole = replace(found, fixings=tuple(sorted({*found.fixings, *missing})))
    marks = standing(whole, depth, apart)
    gap, borne, carried = widest_gap(marks), max(shares(marks, found.length)), carried_length(found, depth)
    if gap and marks != places(whole, apart):  # nearer together than they must, so that each carries its share
        apart = gap
    rating = rating_needed(found, depth, borne) if carried is None or borne > carried else None
    return Stand(apart, len(marks), missing, rating)
