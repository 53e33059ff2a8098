"""The holes of a deck: what becomes of each, and where it stands as one sets it out."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from portal.layouts.deck.dimensions import Deck, Plate
from portal.layouts.length import Length


class State(StrEnum):
    """What becomes of a hole."""

    DRILL = "drill"
    FILLED = "filled"
    COVERED = "covered"
    CAP = "cap"


@dataclass(frozen=True)
class Hole:
    """Center from the left end and the front edge. `flange`: diameter of what sits on it, None for nothing.

    `site`: the name of the hole that is there already, empty for a new one. `off_pitch`: how far it stands to the right
    of its slot in the even row, negative to the left.
    """

    name: str
    x: Length
    y: Length
    diameter: Length
    flange: Length | None
    state: State = State.DRILL
    site: str = ""
    off_pitch: Length = Length.of_mm(0)


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
        """Write it as the API answers it: `from_<end>`, `from_<edge>`, and what is right of the center line, signed."""
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


def position(deck: Deck, hole: Hole) -> Position:
    """Measure a hole from the end and the edge that the deck names, in exact lengths."""
    along = hole.x if deck.measured_end == "left end" else deck.top.width - hole.x
    inward = hole.y if deck.measured_edge == "front edge" else deck.top.depth - hole.y
    return Position(hole, along, deck.measured_end, inward, deck.measured_edge, hole.x - deck.center_line)
