"""Pulls on drawers and doors: every rule that the dimensions allow, over the whole bank, checked and ranked."""

from dataclasses import dataclass
from typing import Any, ClassVar

from portal.layouts.check import Advice, Check
from portal.layouts.layout import Layout, Mark, verdict
from portal.layouts.pulls.checks import Lines, all_checks, lines
from portal.layouts.pulls.dimensions import Bank, Front, Pull, from_json
from portal.layouts.pulls.form import CAUTIONS, FORM, PLACED
from portal.layouts.pulls.placing import SHARES, Hole, PlacedPull, numbered, place
from portal.layouts.pulls.sizes import GUIDE, metric_by_name, suggested, suggestions
from portal.words.plurals import counted

__all__ = [
    "CAUTIONS", "FORM", "KIND", "PLACED", "Bank", "Front", "Hole", "PlacedPull", "Pull", "PullsLayout", "from_json",
    "layouts", "metric_by_name", "numbered", "suggestions",
]  # fmt: skip

KIND = "pulls"

_WORDS = {"middle": "in the middle of each drawer", "rail": "on the upper rail of each drawer",
          "top": "along the upper edge of each drawer"}


@dataclass(frozen=True)
class PullsLayout(Layout):
    """`lines`: heights above the floor at which two or more fronts have their pulls."""

    cannot_be_undone: ClassVar[str] = "A hole in a front stays. Filled holes show in wood and in most paint."
    bank: Bank
    pulls: tuple[PlacedPull, ...]
    lines: Lines

    def to_json(self) -> dict[str, Any]:
        rows = [{"from_floor": height.to_json(), "fronts": [front.name for front in row]} for height, row in self.lines]
        return super().to_json() | {"pulls": [pull.to_json() for pull in self.pulls], "lines": rows}


def layouts(bank: Bank) -> list[PullsLayout]:
    """By each height that the dimensions allow, with one pull or two on wide drawers.

    What passes comes first, then what draws the fewest lines through the most fronts, then what drills the least.
    """
    found = [_layout(bank, height, share) for height in _heights(bank) for share in _shares(bank)]
    return sorted(found, key=_rank)


def _rank(layout: PullsLayout) -> tuple[int, ...]:
    return len(layout.failed), -_in_line(layout.lines), _heights_of(layout.pulls), _holes(layout.pulls)


def _in_line(through: Lines) -> int:
    """How many fronts share a line with another."""
    return sum(len(row) for _, row in through)


def _heights_of(pulls: tuple[PlacedPull, ...]) -> int:
    return len({pull.from_floor for pull in pulls})


def _holes(pulls: tuple[PlacedPull, ...]) -> int:
    return sum(len(pull.holes) for pull in pulls)


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
    checks, through = all_checks(bank, pulls), lines(pulls)
    return PullsLayout(_title(bank, height, share), _effects(bank, pulls, through), checks,
                       _reason(checks, pulls, through), _marks(pulls), _advice(bank), bank, pulls, through)


def _marks(pulls: tuple[PlacedPull, ...]) -> tuple[Mark, ...]:
    return tuple(mark for pull, number, hole in numbered(pulls) for mark in (
        Mark(f"{pull.front.name}, hole {number}", "left edge of the front", hole.from_left),
        Mark(f"{pull.front.name}, hole {number}", "top edge of the front", hole.from_top)))


def _title(bank: Bank, height: str, share: str | None) -> str:
    if not any(front.is_drawer for front in bank.fronts):
        return "On the side that opens"
    words = _WORDS[height]
    if share:
        words += f"; two on wide ones, each a {share} of the width in"
    return words[0].upper() + words[1:]


def _effects(bank: Bank, pulls: tuple[PlacedPull, ...], through: Lines) -> tuple[str, ...]:
    sentences = [f"{counted(len(pulls), 'pull')}, {counted(_holes(pulls), 'hole')}."]
    for height, row in through:
        names = ", ".join(front.name for front in row)
        sentences.append(f"One line runs {height.shown().text} above the floor through {names}.")
    if not through and len(bank.fronts) > 1:
        sentences.append("No line runs through: each front has its own height.")
    return tuple(sentences)


def _reason(checks: tuple[Check, ...], pulls: tuple[PlacedPull, ...], through: Lines) -> str:
    """The numbers that rank it, in their order."""
    heights, in_line = _heights_of(pulls), _in_line(through)
    shared = f"{in_line} fronts share a line" if in_line else "no two fronts share a line"
    at = "one height" if heights == 1 else counted(heights, "height")
    return verdict(checks, f"Everything passes; {shared}; pulls at {at}; {counted(_holes(pulls), 'hole')} to drill.")


def _advice(bank: Bank) -> tuple[Advice, ...]:
    said = [Advice("Drill one front first and look at it. For old fronts, measure the old holes in three places: if "
                   "they drift by more than 1/8 in, plan new holes.", GUIDE)]
    centers = bank.pull.centers
    warning = metric_by_name(centers) if centers else ""
    if warning:
        said.append(Advice(warning, "arithmetic"))
    for front in bank.fronts:
        sizes = suggested(front.width) if front.is_drawer else ()
        if sizes:
            said.append(Advice(f"{front.name}: a pull about a third of its width is {' or '.join(sizes)}; a hint, "
                               "not a rule.", GUIDE))
    return tuple(said)
