"""What is checked of pulls on their fronts: holes and edges, ends of the pull, drawers at an inside corner."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, Check, check
from portal.layouts.length import Length
from portal.layouts.pulls import words
from portal.layouts.pulls.dimensions import Bank, Front, Pull
from portal.layouts.pulls.placing import Hole, PlacedPull
from portal.layouts.pulls.sizes import metric_meant

NONE = Length.of_mm(0)


def all_checks(bank: Bank, pulls: tuple[PlacedPull, ...]) -> tuple[Check, ...]:
    """Check the size of the pull, each pull on its front, two on one front, and drawers at an inside corner."""
    found = [*inch_name_check(bank.pull.centers, bank.pull.inch_sheet), *_base_covers(bank.pull)]
    for pull in pulls:
        found.append(_hole_to_edge(bank, pull))
        found.extend(_hole_within(bank, pull))
        end = _end_to_edge(bank, pull)
        found.append(check(words.WITHIN_FRONT, pull.front.name, end, AT_LEAST, NONE, GEOMETRY))
        found.extend(_foot_flat(bank, pull))
    found.extend(_pull_to_pull(bank, pulls))
    found.extend(_corners(bank))
    return tuple(found)


def _base_covers(pull: Pull) -> Iterator[Check]:
    """A hole wider than the foot shows beside it."""
    if pull.drill:
        yield check(words.BASE_COVERS, pull.name, pull.covers, AT_LEAST, pull.drill, GEOMETRY)


def inch_name_check(centers: Length | None, inch_sheet: bool) -> tuple[Check, ...]:
    """Check the distance of its holes: fails for an inch size that is a metric size's name, unless the maker's own
    sheet gives inches (`inch_sheet`). No check for any other size, nor for a knob (None)."""
    meant = metric_meant(centers) if centers and not inch_sheet else None
    if not centers or not meant:
        return ()
    off = Length(abs(centers - meant).mm)
    return (check(words.INCH_NAME, words.inch_name_of(centers, meant), off, AT_MOST, NONE, words.MAKERS_SHEET),)


def _hole_to_edge(bank: Bank, pull: PlacedPull) -> Check:
    return check(words.HOLE_TO_EDGE, pull.front.name, _nearest_edge(pull), AT_LEAST, bank.to_edge, bank.source)


def _hole_within(bank: Bank, pull: PlacedPull) -> Iterator[Check]:
    """The whole hole, as wide as it is drilled."""
    if bank.pull.drill:
        left = _nearest_edge(pull) - bank.pull.drill / 2
        yield check(words.HOLE_WITHIN, pull.front.name, left, AT_LEAST, NONE, GEOMETRY)


def _nearest_edge(pull: PlacedPull) -> Length:
    front = pull.front
    return min(min(hole.from_left, front.width - hole.from_left, hole.from_top, front.height - hole.from_top)
               for hole in pull.holes)


def _end_to_edge(bank: Bank, pull: PlacedPull) -> Length:
    """From the outline of the pull to the edge of its front: from its ends, and from its sides where their width is
    known."""
    front, thick = pull.front, bank.pull.thickness
    sides = (pull.y, front.height), (pull.x, front.width)
    (along, size), (across, wide) = sides if pull.upright else reversed(sides)
    ends = min(along, size - along) - bank.pull.length / 2
    return min(ends, min(across, wide - across) - thick / 2) if thick else ends


def _foot_flat(bank: Bank, pull: PlacedPull) -> Iterator[Check]:
    """A foot half on the frame and half on the panel rocks: the middle of each is at least half a foot off the inner
    edge of the frame."""
    base, front = bank.pull.base, pull.front
    if base and front.rail:
        off = min(_off_frame(front, front.rail, hole) for hole in pull.holes)
        yield Check(words.FOOT_FLAT, front.name, off, float(base.mm / 2), AT_LEAST, GEOMETRY, base.unit)


def _off_frame(front: Front, rail: Length, hole: Hole) -> float:
    """From the middle of a hole to the inner edge of the frame, in mm, whichever side of it the hole is on."""
    x = min(hole.from_left, front.width - hole.from_left) - rail
    y = min(hole.from_top, front.height - hole.from_top) - rail
    if x.mm >= 0 and y.mm >= 0:
        return float(min(x, y).mm)
    return hypot(min(float(x.mm), 0.0), min(float(y.mm), 0.0))


def _pull_to_pull(bank: Bank, pulls: tuple[PlacedPull, ...]) -> Iterator[Check]:
    for one, other in pairwise(pulls):
        if one.front is other.front:
            gap = other.x - one.x - bank.pull.length
            yield check(words.PULL_TO_PULL, one.front.name, gap, AT_LEAST, NONE, GEOMETRY)


def _corners(bank: Bank) -> Iterator[Check]:
    """A drawer that opens at an inside corner sweeps along the faces of the other run, as near as its own gap. The
    pull over there sticks out into that path, so the gap must be at least the projection of the pull."""
    for each in bank.corners:
        ways = (each.one, each.other, each.one_gap), (each.other, each.one, each.other_gap)
        for opened, closed, gap in ways:
            about = words.opens_past(opened, closed)
            yield check(words.PAST_PULL, about, gap, AT_LEAST, bank.pull.projection, GEOMETRY)
