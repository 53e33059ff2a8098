"""What would make an overhang pass, in numbers: brackets, a depth, gables or studs, what a bracket carries."""

from dataclasses import dataclass
from fractions import Fraction

from portal.layouts.length import Length
from portal.layouts.overhang.brackets import apart_at, more_fixings, places, rating_needed, widest_apart, widest_gap
from portal.layouts.overhang.limits import alone, deepest_alone, most_past
from portal.layouts.overhang.reach import Reach
from portal.layouts.stone.weights import Weight


@dataclass(frozen=True)
class Needed:
    """Brackets that would do: `least` to `most` is how far they reach past the cabinets. `apart`: at most; None where
    nobody says, and then `count` is None, too."""

    least: Length
    most: Length
    apart: Length | None
    count: int | None


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
    least, most = max((depth - most_alone).up_to(step), step), depth - back
    if least > most:
        return None
    apart = apart_at(found, depth)
    return Needed(least, most, apart, len(places(found, apart)) if apart else None)


def depth_that_does(layout: Reach) -> Length | None:
    """Say how far the top may reach out on what this one lies on, where that is less than it does. None: no less."""
    brackets = layout.dimensions.brackets if layout.supported else None
    most = deepest_alone(layout.dimensions, brackets.reach if brackets else None)
    if brackets and brackets.set_back and most - brackets.reach < brackets.set_back:
        return None
    return most if most.mm and most < layout.depth else None


def fixings_missing(layout: Reach) -> tuple[Length, ...]:
    """Give where gables or studs are missing for its brackets; none where brackets may stand anywhere."""
    found, apart = layout.dimensions, apart_at(layout.dimensions, layout.depth)
    return more_fixings(found, layout.bracket_marks, apart) if apart and found.fixings else ()


def rating_that_does(layout: Reach) -> Weight | None:
    """Say what each bracket must carry, as far apart as they then may stand. None where the load, or what the top is
    made of, is not known."""
    found, apart = layout.dimensions, widest_apart(layout.dimensions)
    if apart is None:
        return None
    gap = apart if found.fixings else widest_gap(places(found, apart))
    return rating_needed(found, layout.depth, gap) if gap else None
