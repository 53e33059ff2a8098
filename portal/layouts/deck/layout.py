"""One layout of a deck: its holes with their places from named edges, what goes without, its checks and its reason."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from operator import attrgetter
from typing import Any

from portal.layouts.check import AT_LEAST, Advice, Check
from portal.layouts.deck import words
from portal.layouts.deck.dimensions import Accessory, Deck, Plate
from portal.layouts.length import Length

_MARGIN = attrgetter("margin")


class State(StrEnum):
    """What becomes of a hole."""

    DRILL = "drill"
    FILLED = "filled"
    COVERED = "covered"
    CAP = "cap"


@dataclass(frozen=True)
class Hole:
    """Center from the left end and the front edge. `flange`: diameter of what sits on it, None for nothing.

    `site`: the name of the hole that is there already, empty for a new one.
    """

    name: str
    x: Length
    y: Length
    diameter: Length
    flange: Length | None
    state: State = State.DRILL
    site: str = ""


@dataclass(frozen=True)
class Position:
    """A hole as one sets it out: along from a named end, in from a named edge, and beside the center line."""

    hole: Hole
    along: Length
    end: str
    inward: Length
    edge: str
    from_center_line: Length

    def to_json(self) -> dict[str, Any]:
        flange = self.hole.flange
        return {
            "name": self.hole.name, "site": self.hole.site, "state": self.hole.state.value,
            "diameter": self.hole.diameter.to_json(),
            "flange": flange and flange.to_json(), f"from_{self.end.replace(' ', '_')}": self.along.to_json(),
            f"from_{self.edge.replace(' ', '_')}": self.inward.to_json(),
            "from_center_line": self.from_center_line.to_json(),
        }


@dataclass(frozen=True)
class Placed:
    """A plate where it lies, by its center."""

    plate: Plate
    x: Length
    y: Length


@dataclass(frozen=True)
class DeckLayout:
    """`without`: accessories that get no hole. Whether they are served all the same, `Accessory.shares` says."""

    deck: Deck
    faucet_holes: int
    holes: tuple[Hole, ...]
    without: tuple[Accessory, ...]
    checks: tuple[Check, ...]
    plate: Placed | None = None

    @cached_property
    def failed(self) -> tuple[Check, ...]:
        return tuple(check for check in self.checks if check.margin < 0)

    @property
    def ok(self) -> bool:
        return not self.failed

    @property
    def drilled(self) -> tuple[Hole, ...]:
        return self.in_state(State.DRILL)

    @property
    def faucet(self) -> Hole:
        """The middle hole of the faucet, which stands first."""
        return self.holes[self.faucet_holes // 2]

    @property
    def caps(self) -> tuple[Hole, ...]:
        return self.in_state(State.CAP)

    def in_state(self, state: State) -> tuple[Hole, ...]:
        return tuple(hole for hole in self.holes if hole.state is state)

    @property
    def unserved(self) -> tuple[Accessory, ...]:
        return tuple(item for item in self.without if not item.shares)

    @property
    def discouraged(self) -> tuple[Hole, ...]:
        """Holes that practice advises against: of a soap dispenser in a top that is still whole."""
        soaps = {item.name for item in self.deck.accessories if item.use == "soap"}
        return tuple(hole for hole in self.drilled if hole.name in soaps)

    @cached_property
    def lean(self) -> float:
        """How far, in mm, the holes together weigh to the right of the center line, negative to its left: an even row
        looks intended."""
        sides = sum(hole.x.mm for hole in self.holes) - len(self.holes) * self.deck.center_line.mm
        return round(float(sides), 6)

    @cached_property
    def tightest(self) -> Check:
        """The distance with the least left over."""
        return min((check for check in self.checks if check.rule == AT_LEAST), key=_MARGIN)

    @property
    def worst(self) -> Check:
        """The failed check that lacks the most; only where one failed."""
        return min(self.failed, key=_MARGIN)

    @property
    def spare(self) -> Length:
        """What the tightest check leaves over; negative when it fails."""
        return self.tightest.spare

    @property
    def positions(self) -> tuple[Position, ...]:
        return tuple(position(self.deck, hole) for hole in self.holes)

    @property
    def title(self) -> str:
        return words.title(self)

    @property
    def effects(self) -> tuple[str, ...]:
        return words.effects(self)

    @property
    def cannot_be_undone(self) -> str:
        return words.cannot_be_undone(self)

    @property
    def reason(self) -> str:
        return words.reason(self)

    @property
    def advice(self) -> tuple[Advice, ...]:
        return words.advice(self)

    def to_json(self) -> dict[str, Any]:
        return {
            "title": self.title, "effects": list(self.effects), "cannot_be_undone": self.cannot_be_undone,
            "ok": self.ok, "reason": self.reason,
            "holes": [place.to_json() for place in self.positions], "without": [item.name for item in self.without],
            "checks": [check.to_json() for check in self.checks], "advice": [each.to_json() for each in self.advice],
        }


def position(deck: Deck, hole: Hole) -> Position:
    along = hole.x if deck.measured_end == "left end" else deck.top.width - hole.x
    inward = hole.y if deck.measured_edge == "front edge" else deck.top.depth - hole.y
    return Position(hole, along, deck.measured_end, inward, deck.measured_edge, hole.x - deck.center_line)
