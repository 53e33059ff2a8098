"""What brackets bear: the load at the edge, and all that reaches out over a share of the edge."""

from collections.abc import Sequence
from fractions import Fraction

from portal.layouts.check import GIVEN
from portal.layouts.length import Length
from portal.layouts.overhang.dimensions import Overhang
from portal.layouts.stone.weights import Weight, heft


def shares(marks: Sequence[Length], length: Length) -> tuple[Length, ...]:
    """Say how much of an edge so long each bracket bears: half of the gap on either side, and at an end all that
    reaches past the outer one. Together they bear the whole edge."""
    middles = [(one + other) / 2 for one, other in zip(marks, marks[1:], strict=False)]
    borders = [Length.of_mm(0, length.unit), *middles, length]
    return tuple(other - one for one, other in zip(borders, borders[1:], strict=False)) if marks else ()


def carried_length(found: Overhang, depth: Length) -> Length | None:
    """Say over how much of the edge a bracket carries what reaches out, when the whole load stands on it alone. Zero
    where it doesn't even bear the load. None where what it carries, the load, or what the top is made of is not known.
    """
    rating, heavy = found.brackets.rating if found.brackets else None, _per_mm(found, depth)
    if not (rating and found.load and heavy):
        return None
    return Length.of_mm(max(rating.kg - found.load.weight.kg, Fraction(0)) / heavy, depth.unit)


def rating_needed(found: Overhang, depth: Length, share: Length) -> Weight | None:
    """Say what a bracket must carry that bears so much of the edge. None where that is not known."""
    heavy = _per_mm(found, depth)
    return Weight(found.load.weight.kg + heavy * share.mm) if found.load and heavy else None


def _per_mm(found: Overhang, depth: Length) -> Fraction | None:
    """Kilograms of what reaches out, at most, by mm of the edge."""
    if not (found.density or found.material):
        return None
    heaviest = heft(found.material, found.density, found.thickness, None, GIVEN)
    return heaviest.weigh(Length.of_mm(1), depth).kg
