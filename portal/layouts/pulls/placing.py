"""Where the holes go on one front, from its left edge and its top edge."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from portal.layouts.length import Length
from portal.layouts.pulls.dimensions import Bank, Front

SHARES = {"quarter": 4, "sixth": 6}
"""Where two pulls sit: their middles at a quarter or at a sixth of the width from either side (common practice)."""


@dataclass(frozen=True)
class Hole:
    """The center of a hole on its own front, from the left edge and the top edge."""

    from_left: Length
    from_top: Length


@dataclass(frozen=True)
class PlacedPull:
    """One pull on a front: its middle, and its one hole or two. `upright` on doors."""

    front: Front
    x: Length
    y: Length
    holes: tuple[Hole, ...]
    upright: bool

    @property
    def from_floor(self) -> Length:
        """Give the height of its middle above the floor."""
        return self.front.top - self.y

    @property
    def from_bank(self) -> Length:
        """Give the place of its middle from the left end of the bank."""
        return self.front.left + self.x

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it: its front by name, and each hole from the edges of that front."""
        holes = [{"from_left_edge": hole.from_left.to_json(), "from_top_edge": hole.from_top.to_json()}
                 for hole in self.holes]
        return {"front": self.front.name, "upright": self.upright, "holes": holes}


def place(bank: Bank, front: Front, height: str, share: str | None) -> tuple[PlacedPull, ...]:
    """Place the pulls of one front. `height`, for a drawer: `middle` of the front, middle of its upper
    `rail`, or so far below its `top` edge. `share`: how two pulls share a wide drawer, one of
    SHARES, None for always one."""
    if not front.is_drawer:
        return (_on_door(bank, front),)
    y = _drawer_height(bank, front, height)
    if share and bank.two_over and front.width > bank.two_over:
        inset = front.width / SHARES[share]
        return (_level(bank, front, inset, y), _level(bank, front, front.width - inset, y))
    return (_level(bank, front, front.width / 2, y),)


def numbered(pulls: Iterable[PlacedPull]) -> Iterator[tuple[PlacedPull, int, Hole]]:
    """Give each hole with its number, counted through its front: two pulls on one front share no number."""
    counts: Counter[str] = Counter()
    for pull in pulls:
        for hole in pull.holes:
            counts[pull.front.name] += 1
            yield pull, counts[pull.front.name], hole


def _drawer_height(bank: Bank, front: Front, height: str) -> Length:
    if height == "rail" and front.rail:
        return front.rail / 2
    if height == "top" and bank.from_top:
        return bank.from_top
    return front.height / 2


def _level(bank: Bank, front: Front, x: Length, y: Length) -> PlacedPull:
    half = bank.pull.centers / 2 if bank.pull.centers else None
    holes = (Hole(x - half, y), Hole(x + half, y)) if half else (Hole(x, y),)
    return PlacedPull(front, x, y, holes, upright=False)


def _on_door(bank: Bank, front: Front) -> PlacedPull:
    """Upright, on the side away from the hinges, its nearest hole `door_end` from the end that the hand takes."""
    assert bank.door_side and bank.door_end
    x = front.width - bank.door_side if front.type == "door hinged left" else bank.door_side
    near = bank.door_end if front.pull_end == "top" else front.height - bank.door_end
    if not bank.pull.centers:
        return PlacedPull(front, x, near, (Hole(x, near),), upright=True)
    far = near + bank.pull.centers if front.pull_end == "top" else near - bank.pull.centers
    first, last = sorted((near, far))
    return PlacedPull(front, x, (near + far) / 2, (Hole(x, first), Hole(x, last)), upright=True)
