"""One way to place the pulls of a bank, in numbers: by which rule, where, and which of them share a height."""

from abc import abstractmethod
from dataclasses import dataclass
from itertools import combinations

from portal.layouts.check import Check
from portal.layouts.keys import joined
from portal.layouts.layout import Layout
from portal.layouts.length import Length
from portal.layouts.pulls.dimensions import KIND, Bank, Front
from portal.layouts.pulls.mending import Change
from portal.layouts.pulls.placing import PlacedPull

Lines = tuple[tuple[Length, tuple[Front, ...]], ...]
"""Heights above the floor, each with the fronts whose pulls sit there."""


@dataclass(frozen=True)
class Placement(Layout):
    """`height`: the rule for drawers: `middle`, `rail` or `top`, as `place` takes it. `share`: how two pulls share a
    wide drawer, one of SHARES, None for always one. `lines`: heights above the floor at which two or more fronts
    have their pulls, highest first."""

    bank: Bank
    height: str
    share: str | None
    pulls: tuple[PlacedPull, ...]
    checks: tuple[Check, ...]
    lines: Lines

    @property
    def key(self) -> str:
        """Name it by its rules, such as `pulls:rail:quarter`; `pulls:doors` where there is no drawer."""
        return joined(KIND, self.height if self.has_drawers else "doors", self.share or "")

    @property
    def has_drawers(self) -> bool:
        """Say whether there is a front that the rule for drawers is about."""
        return any(front.is_drawer for front in self.bank.fronts)

    @property
    def side_by_side(self) -> bool:
        """Say whether a level line could run through two fronts at all; not through drawers that are stacked."""
        return any(one.beside(other) for one, other in combinations(self.bank.fronts, 2))

    @property
    def in_column(self) -> bool:
        """Say whether the pulls of all fronts stand one above the other."""
        places: dict[str, set[Length]] = {}
        for pull in self.pulls:
            places.setdefault(pull.front.name, set()).add(pull.from_bank)
        first, *others = places.values()
        return bool(others) and all(other == first for other in others)

    @property
    @abstractmethod
    def changes(self) -> tuple[Change, ...]:
        """Give what would mend it, all at once; empty where nothing is known to."""

    @property
    def in_line(self) -> int:
        """Count the fronts that share a line with another."""
        return sum(len(row) for _, row in self.lines)

    @property
    def heights(self) -> int:
        """Count the heights above the floor at which pulls sit."""
        return len({pull.from_floor for pull in self.pulls})

    @property
    def holes(self) -> int:
        """Count the holes to drill."""
        return sum(len(pull.holes) for pull in self.pulls)


def lines(pulls: tuple[PlacedPull, ...]) -> Lines:
    """Find the heights above the floor at which pulls of two or more fronts sit, highest first: the lines that run
    through."""
    rows: dict[Length, list[Front]] = {}
    for pull in pulls:
        row = rows.setdefault(pull.from_floor, [])
        if pull.front not in row:
            row.append(pull.front)
    return tuple((height, tuple(row)) for height, row in sorted(rows.items(), reverse=True) if len(row) > 1)
