"""The ways to place the pulls of a bank, checked and ranked."""

from typing import Any, ClassVar

from portal.layouts.layout import Mark, Words
from portal.layouts.pulls import words
from portal.layouts.pulls.checks import all_checks
from portal.layouts.pulls.dimensions import Bank
from portal.layouts.pulls.mending import Change, mended
from portal.layouts.pulls.placement import Placement, lines
from portal.layouts.pulls.placing import SHARES, numbered, place


class PullsLayout(Placement):
    """A way to place the pulls, in the words of `pulls.words`."""

    words: ClassVar[Words] = words

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Give each hole from the left edge and from the top edge of its own front."""
        return tuple(mark for pull, number, hole in numbered(self.pulls) for mark in (
            Mark(words.hole(pull.front, number), words.LEFT_EDGE, hole.from_left),
            Mark(words.hole(pull.front, number), words.TOP_EDGE, hole.from_top)))

    @property
    def changes(self) -> tuple[Change, ...]:
        """Give what would mend it, tried: laid out again with all of it, it passes."""
        bank, found = mended(self.bank, self.height, self.share)
        passes = bool(found) and bank.pull.can_be and _layout(bank, self.height, self.share).ok
        return found if passes else ()

    def to_json(self) -> dict[str, Any]:
        """Write it as the API answers it; `lines`: heights from the floor, each with the names of its fronts."""
        rows = [{"from_floor": height.to_json(), "fronts": [front.name for front in row]} for height, row in self.lines]
        return super().to_json() | {
            "pulls": [pull.to_json() for pull in self.pulls], "lines": rows,
        }


def layouts(bank: Bank) -> list[PullsLayout]:
    """Place them by each height that the dimensions allow, with one pull or two on wide drawers.

    What passes comes first, then what draws the fewest lines through the most fronts, then what drills the least.
    """
    found = [_layout(bank, height, share) for height in _heights(bank) for share in _shares(bank)]
    return sorted(found, key=lambda each: (*each.faults, -each.in_line, each.heights, each.holes))


def _heights(bank: Bank) -> list[str]:
    drawers = [front for front in bank.fronts if front.is_drawer]
    heights = ["middle"]
    if drawers and all(front.rail for front in drawers):
        heights.append("rail")
    if drawers and bank.from_top:
        heights.append("top")
    return heights


def _shares(bank: Bank) -> list[str | None]:
    wide = bank.two_over and any(front.is_drawer and front.width > bank.two_over for front in bank.fronts)
    return [None, *SHARES] if wide else [None]


def _layout(bank: Bank, height: str, share: str | None) -> PullsLayout:
    pulls = tuple(pull for front in bank.fronts for pull in place(bank, front, height, share))
    return PullsLayout(bank, height, share, pulls, all_checks(bank, pulls), lines(pulls))
