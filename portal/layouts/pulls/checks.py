"""What is checked of pulls on their fronts: holes and edges, ends of the pull, drawers at an inside corner."""

from collections.abc import Iterator
from itertools import pairwise

from portal.layouts.check import AT_LEAST, GEOMETRY, Check, check
from portal.layouts.length import Length
from portal.layouts.pulls.dimensions import Bank, Front
from portal.layouts.pulls.placing import PlacedPull
from portal.layouts.pulls.sizes import inch_name_check

NONE = Length.of_mm(0)
Lines = tuple[tuple[Length, tuple[Front, ...]], ...]
"""Heights above the floor, each with the fronts whose pulls sit there."""


def all_checks(bank: Bank, pulls: tuple[PlacedPull, ...]) -> tuple[Check, ...]:
    found = [*inch_name_check(bank.pull.centers, bank.pull.inch_sheet)]
    for pull in pulls:
        found.append(_hole_to_edge(bank, pull))
        end = _end_to_edge(bank, pull)
        found.append(check("pull within its front", pull.front.name, end, AT_LEAST, NONE, GEOMETRY))
    found.extend(_pull_to_pull(bank, pulls))
    found.extend(_corners(bank))
    return tuple(found)


def _hole_to_edge(bank: Bank, pull: PlacedPull) -> Check:
    front = pull.front
    least = min(min(hole.from_left, front.width - hole.from_left, hole.from_top, front.height - hole.from_top)
                for hole in pull.holes)
    return check("hole to edge", front.name, least, AT_LEAST, bank.to_edge, bank.source)


def _end_to_edge(bank: Bank, pull: PlacedPull) -> Length:
    """From the end of the pull to the edge of its front."""
    along, size = (pull.y, pull.front.height) if pull.upright else (pull.x, pull.front.width)
    return min(along, size - along) - bank.pull.length / 2


def _pull_to_pull(bank: Bank, pulls: tuple[PlacedPull, ...]) -> Iterator[Check]:
    for one, other in pairwise(pulls):
        if one.front is other.front:
            gap = other.x - one.x - bank.pull.length
            yield check("pull to pull", one.front.name, gap, AT_LEAST, NONE, GEOMETRY)


def _corners(bank: Bank) -> Iterator[Check]:
    """A drawer that opens at an inside corner sweeps along the faces of the other run, as near as its own gap. The
    pull over there sticks out into that path, so the gap must be at least the projection of the pull."""
    for each in bank.corners:
        ways = (each.one, each.other, each.one_gap), (each.other, each.one, each.other_gap)
        for opened, closed, gap in ways:
            yield check("drawer past pull", f"{opened} opens past the pull of {closed}", gap, AT_LEAST,
                        bank.pull.projection, GEOMETRY)


def lines(pulls: tuple[PlacedPull, ...]) -> Lines:
    """Heights above the floor at which pulls of two or more fronts sit, highest first: the lines that run through."""
    rows: dict[Length, list[Front]] = {}
    for pull in pulls:
        row = rows.setdefault(pull.from_floor, [])
        if pull.front not in row:
            row.append(pull.front)
    return tuple((height, tuple(row)) for height, row in sorted(rows.items(), reverse=True) if len(row) > 1)
