"""One layout of a deck in numbers: its holes, what goes without, its checks, and by what it is ranked."""

from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter

from portal.layouts.check import AT_LEAST, Check
from portal.layouts.deck.dimensions import KIND, Accessory, Deck
from portal.layouts.deck.holes import Hole, Placed, Position, State, position
from portal.layouts.deck.rules.things import Thing
from portal.layouts.keys import joined
from portal.layouts.layout import Layout
from portal.layouts.length import Length

_MARGIN = attrgetter("margin")


@dataclass(frozen=True)
class Arrangement(Layout):
    """`holes`: the faucet's one or three first, then those of accessories, then those that are covered or capped.
    `without`: accessories that get no hole. Whether they are served all the same, `Accessory.shares` says.
    `things`: what stands in them, the faucet first."""

    deck: Deck
    faucet_holes: int
    holes: tuple[Hole, ...]
    without: tuple[Accessory, ...]
    checks: tuple[Check, ...]
    plate: Placed | None = None
    things: tuple[Thing, ...] = ()

    @property
    def key(self) -> str:
        """Name it by its holes. In a new top: how many the faucet has, and what stands from left to right, such as
        `deck:1:soap-dispenser,faucet`. In an old one: the faucet's holes, its plate, and who gets which of the others,
        such as `deck:old:hole-2:plate:air-gap=hole-4`."""
        names = self.deck.short_names
        if not self.deck.existing:
            return joined(KIND, str(self.faucet_holes), ",".join(names.get(hole.name, "faucet") for hole in self.row))
        seats = ",".join(self.deck.short_sites[hole.site] for hole in self.holes[: self.faucet_holes])
        uses = (f"{names[hole.name]}={self.deck.short_sites[hole.site]}" for hole in self.own)
        return joined(KIND, "old", seats, "plate" if self.plate else "", *uses)

    @cached_property
    def failed(self) -> tuple[Check, ...]:
        """Give the rules that it breaks."""
        return tuple(check for check in self.checks if check.margin < 0 and check.stops)

    @property
    def own(self) -> tuple[Hole, ...]:
        """Give the holes of accessories, in their order."""
        return tuple(hole for hole in self.holes[self.faucet_holes:] if hole.state in (State.DRILL, State.FILLED))

    @property
    def row(self) -> tuple[Hole, ...]:
        """Give the middle of the faucet and the holes of accessories from left to right."""
        return tuple(sorted([*self.own, self.faucet], key=attrgetter("x")))

    @property
    def drilled(self) -> tuple[Hole, ...]:
        """Give the new holes."""
        return self.in_state(State.DRILL)

    @property
    def faucet(self) -> Hole:
        """Give the middle hole of the faucet, which stands first."""
        return self.holes[self.faucet_holes // 2]

    @property
    def caps(self) -> tuple[Hole, ...]:
        """Give the holes that stay open and get a cap."""
        return self.in_state(State.CAP)

    def in_state(self, state: State) -> tuple[Hole, ...]:
        """Give the holes of which this becomes, in their order."""
        return tuple(hole for hole in self.holes if hole.state is state)

    @property
    def unserved(self) -> tuple[Accessory, ...]:
        """Give what gets no hole and is served by nothing else."""
        return tuple(item for item in self.without if not item.shares)

    @property
    def discouraged(self) -> tuple[Hole, ...]:
        """Give the holes that practice advises against: of a soap dispenser in a top that is still whole. None where
        lifetimes are not to rank."""
        lower = {item.name for item in self.deck.accessories if self.deck.ranks_lower(item)}
        return tuple(hole for hole in self.drilled if hole.name in lower)

    @property
    def off_pitch(self) -> tuple[Hole, ...]:
        """Give the holes that left the even row, since something fixed is in the way there."""
        return tuple(hole for hole in self.own if hole.off_pitch.mm)

    @cached_property
    def lean(self) -> float:
        """Say how far, in mm, the holes together weigh to the right of the center line, negative to its left: an even
        row looks intended."""
        sides = sum(hole.x.mm for hole in self.holes) - len(self.holes) * self.deck.center_line.mm
        return round(float(sides), 6)

    @cached_property
    def tightest(self) -> Check:
        """Give the distance with the least left over of all that must be kept."""
        return min((check for check in self.checks if check.rule == AT_LEAST and check.stops), key=_MARGIN)

    @property
    def worst(self) -> Check:
        """Give the failed check that lacks the most. Raises ValueError where none failed."""
        return min(self.failed, key=_MARGIN)

    @property
    def spare(self) -> Length:
        """Give what the tightest check leaves over; negative when it fails."""
        return self.tightest.spare

    @property
    def positions(self) -> tuple[Position, ...]:
        """Give every hole as one sets it out, in the order of `holes`."""
        return tuple(position(self.deck, hole) for hole in self.holes)
