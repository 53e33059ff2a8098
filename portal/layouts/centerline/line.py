"""One center line in numbers: where it is, how far from the other centers, and what is left beside the sink."""

from dataclasses import dataclass
from enum import StrEnum

from portal.layouts.centerline.dimensions import KIND, Wall
from portal.layouts.check import Check
from portal.layouts.keys import joined
from portal.layouts.layout import Layout
from portal.layouts.length import Length


class Rule(StrEnum):
    """By what a line is found. `BOTH`: window and cabinet agree. `NEAR_...`: as near as the cabinet and the counter let
    the sink come. `LANDING`: as near as it comes with the landing that is advised beside it."""

    WINDOW = "window"
    CABINET = "cabinet"
    BOTH = "window-and-cabinet"
    BETWEEN = "between"
    NEAR_WINDOW = "near-window"
    NEAR_CABINET = "near-cabinet"
    LANDING = "landing"


@dataclass(frozen=True)
class Line(Layout):
    """The sink's center at `at` from the datum. `checks`: the room on its left, then on its right, then the counter."""

    wall: Wall
    rule: Rule
    at: Length
    checks: tuple[Check, ...]

    @property
    def key(self) -> str:
        """Name it by its rule, such as `centerline:near-window`."""
        return joined(KIND, self.rule)

    @property
    def off_window(self) -> Length | None:
        """Say how far it is right of the window's center, negative to its left; None where there is no window."""
        return self.at - self.wall.window.center if self.wall.window else None

    @property
    def off_cabinet(self) -> Length:
        """Say how far it is right of the cabinet's center, negative to its left."""
        return self.at - self.wall.cabinet.center

    @property
    def sides(self) -> tuple[Length, Length]:
        """Give the left and the right side of the sink, from the datum."""
        return self.at - self.wall.sink / 2, self.at + self.wall.sink / 2

    @property
    def counter_beside(self) -> tuple[Length, Length] | None:
        """Give what is left of the counter on its left and on its right, negative where the sink runs past it; None
        where the counter was not measured."""
        counter = self.wall.counter
        return (self.sides[0] - counter.left, counter.right - self.sides[1]) if counter else None
