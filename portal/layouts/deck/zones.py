"""Safe zones: where each new hole may drift, all of them at once, and every rule still passes."""

from dataclasses import dataclass
from fractions import Fraction
from math import cos, floor, pi, sin

from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.deck.holes import Hole
from portal.layouts.length import Length

_CORNERS = 24
_LENGTHWAYS = "deck.thickness"


@dataclass(frozen=True)
class Zone:
    """`outline`: a closed polygon about the planned place of `hole`, its corners as (x, y) in mm from the left end and
    the front edge; it is nowhere outside the true zone. `tolerance`: the radius of the largest circle around the
    planned place inside the zone, less the slop of bit and tape; never negative."""

    hole: Hole
    outline: tuple[tuple[float, float], ...]
    tolerance: Length


def safe_zones(layout: Arrangement) -> tuple[Zone, ...]:
    """Give a zone for each new hole, in the order of the holes; none where nothing is drilled or a rule is broken.

    Each hole may lie anywhere in its own zone, whatever the others do in theirs.
    """
    if layout.failed:
        return ()
    radius = _common(layout)
    slop = layout.deck.minimums.slop or Length.of_mm(0)
    free = Length(Fraction(floor(radius * 1000), 1000), layout.deck.unit) - slop
    tolerance = max(free, Length.of_mm(0, layout.deck.unit))
    return tuple(Zone(hole, _circle(hole, radius), tolerance) for hole in layout.drilled)


def _common(layout: Arrangement) -> float:
    """The same circle for all: two holes that both drift eat up a margin from both sides."""
    margins = [check.margin / 2 for check in layout.checks if check.stops and check.what.key != _LENGTHWAYS]
    if layout.faucet_holes == 3:
        faucet = layout.deck.faucet
        outer = faucet.outer_to_outer or Length.of_mm(0)
        margins += [float((outer - (faucet.outer_least or outer)).mm) / 2,
                    float(((faucet.outer_most or outer) - outer).mm) / 2]
    return max(min(margins), 0.0)


def _circle(hole: Hole, radius: float) -> tuple[tuple[float, float], ...]:
    x, y, turn = float(hole.x.mm), float(hole.y.mm), 2 * pi / _CORNERS
    return tuple((x + radius * cos(turn * step), y + radius * sin(turn * step)) for step in range(_CORNERS))
