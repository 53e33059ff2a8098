"""What stands on a deck, as it is checked: one hole or three, and what its maker's sheet asks for."""

from dataclasses import dataclass, field
from typing import NamedTuple

from portal.layouts.deck.dimensions import Accessory, Faucet
from portal.layouts.deck.holes import Hole
from portal.layouts.deck.rules.measures import SIDES, one_of_three
from portal.layouts.length import Length

POURS = frozenset({"filtered_water", "hot_water"})
"""The uses of accessories whose water must land well inside the bowl; soap and spray need only reach it."""


class Spot(NamedTuple):
    """A hole in plain numbers, in mm: its center, its radius and that of what sits on it."""

    name: str
    x: float
    y: float
    radius: float
    flange: float


@dataclass(frozen=True, eq=False)
class Thing:
    """What the faucet or an accessory puts on the deck. Equal only to itself, so that what was checked once is found
    again fast. `spread`: the least and the most from outer hole to outer hole, None where nobody says.

    `pours`: whether its water must land inside the bowl. `drilled`: whether the holes are new, so that stone must be
    left around them; holes that are there already can't be made safer by a minimum.
    """

    name: str
    holes: tuple[Hole, ...]
    reach: Length | None
    thickest_top: Length | None
    swing: Length | None = None
    lever_swing: Length | None = None
    clearance_behind: Length | None = None
    spread: tuple[Length | None, Length | None] = (None, None)
    pours: bool = False
    drilled: bool = True
    spots: tuple[Spot, ...] = field(init=False, compare=False)

    def __post_init__(self) -> None:
        spots = tuple(Spot(hole.name, float(hole.x.mm), float(hole.y.mm), float(hole.diameter.mm) / 2,
                           float((hole.flange or hole.diameter).mm) / 2) for hole in self.holes)
        object.__setattr__(self, "spots", spots)

    @property
    def middle(self) -> int:
        """Give the number of its middle hole."""
        return len(self.holes) // 2

    @property
    def levers(self) -> tuple[int, ...]:
        """Give the numbers of the holes whose lever stands apart from the spout."""
        return (0, 2) if len(self.holes) == 3 and self.lever_swing else ()


def faucet_in(faucet: Faucet, holes: tuple[Hole, ...], *, drilled: bool = True) -> Thing:
    """Make the faucet out of its one hole or its three."""
    return Thing(faucet.name, holes, faucet.reach, faucet.thickest_top, faucet.swing, faucet.lever_swing,
                 faucet.clearance_behind, (faucet.outer_least, faucet.outer_most), pours=True, drilled=drilled)


def accessory_in(item: Accessory, hole: Hole, *, drilled: bool = True) -> Thing:
    """Make an accessory out of its hole."""
    return Thing(item.name, (hole,), item.reach, item.thickest_top, pours=item.use in POURS, drilled=drilled)


def names_of(faucet: Faucet, holes: int) -> tuple[str, ...]:
    """Name the holes of a faucet, from left to right."""
    return (faucet.name,) if holes == 1 else tuple(one_of_three(faucet.name, side) for side in SIDES)
