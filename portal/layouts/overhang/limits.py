"""How far a top may reach out or span without support, and who says so: what is published for natural stone, or the
sheet of whoever made or cut it."""

from dataclasses import dataclass
from fractions import Fraction

from portal.layouts.check import GIVEN
from portal.layouts.length import Length
from portal.layouts.overhang.dimensions import Overhang
from portal.layouts.stone.limits import MANUAL, cantilever
from portal.layouts.stone.limits import limits as published
from portal.layouts.stone.tipping import deepest, most_out
from portal.layouts.stone.weights import lightest

NOT_GIVEN = "the sheet of its maker or of whoever cuts it, which is not given"


@dataclass(frozen=True)
class Limit:
    """The most that something may be, and who says so."""

    most: Length
    source: str


def alone(found: Overhang, width: Length) -> Limit:
    """Say how far a top of this whole width may reach out without support. Of natural stone the lesser of what is
    published and what its sheet says; of fragile stone and of what is made, what its sheet says, else not at all."""
    own = _own(found)
    if found.natural and not found.fragile:
        stone = Limit(cantilever(found.thickness, width), MANUAL)
        return min(stone, own, key=lambda limit: limit.most) if own else stone
    return own or Limit(Length.of_mm(0, width.unit), NOT_GIVEN)


def is_unknown(found: Overhang) -> bool:
    """Say whether nobody says how far it may reach alone, so that all of it needs support."""
    return not (found.natural and not found.fragile) and _own(found) is None


def _own(found: Overhang) -> Limit | None:
    given = found.limits
    return Limit(given.alone, given.source) if given and given.alone is not None else None


def span(found: Overhang) -> Limit | None:
    """Say how far it may span between supports, in the same way. None: nobody says."""
    own = Limit(found.limits.span, found.limits.source) if found.limits and found.limits.span else None
    most = published(found.thickness)
    if not found.natural or found.fragile or most is None:
        return own
    stone = Limit(most.span, MANUAL)
    return min(stone, own, key=lambda limit: limit.most) if own else stone


def to_end(found: Overhang) -> Limit:
    """Say how far an end of the top may reach past the outer bracket: as the brackets' maker says, else as far as the
    stone may reach out along the edge without support."""
    inset = found.brackets.inset if found.brackets else None
    if found.brackets and inset is not None:
        return Limit(inset, found.brackets.source or GIVEN)
    return alone(found, found.length * 3)  # its third is for what lies behind, and cabinets lie along all of the edge


def deepest_alone(found: Overhang, reach: Length | None = None) -> Length:
    """Say how far the top may reach out when what it lies on stays as deep as it is: on cabinets alone, or on brackets
    that reach so far past them. It then neither breaks nor tips. Zero where it must not reach out at all."""
    none = Length.of_mm(0, found.width.unit)
    base = found.base + (reach or none)
    most = [own.most] if (own := _own(found)) else []
    if found.natural and not found.fragile:  # a third of the whole width is half of what it lies on
        stone = published(found.thickness)
        most += [stone.cantilever, base / 2] if stone else [none]
    if not most:
        return reach or none
    if not found.fastening:
        most.append(_held(found, base))
    return (reach or none) + min(most)


def most_past(found: Overhang, depth: Length) -> tuple[Length, bool]:
    """Say how far a loose top may reach past what carries it, and whether that is under the load at its edge; else,
    where no load is given or nobody says what the top is made of, it is where it falls by itself."""
    width = found.base + depth
    top = lightest(found.material, found.density, found.thickness, GIVEN)
    if found.load and top:
        return most_out(top.weigh(found.length, width), width, found.load.weight), True
    return width / 2, False


def _held(found: Overhang, base: Length) -> Length:
    """How far it may reach past a support so deep before it tips, to 1/8 in or 1 mm. Where nobody says what it weighs,
    only that it must not fall by itself."""
    step = Length.of_inches(Fraction(1, 8)) if base.unit.is_inch else Length.of_mm(1)
    top = lightest(found.material, found.density, found.thickness, GIVEN)
    most = base.mm
    if top and found.load:
        per_area = top.weigh(Length.of_mm(1), Length.of_mm(1)).kg
        most = deepest(base, per_area, found.load.weight, found.length)
    steps = -(-most // step.mm) - 1  # less than it: in balance is not down
    return Length.of_mm(max(steps * step.mm, Fraction(0)), base.unit)
