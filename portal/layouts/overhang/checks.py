"""What an overhang is checked for: the stone, knees, aisles, corners."""

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, Check, check
from portal.layouts.island import AISLES, KNEES, PLANNING
from portal.layouts.length import Length
from portal.layouts.overhang import words
from portal.layouts.overhang.dimensions import Overhang
from portal.layouts.stone.limits import MANUAL, cantilever, limits


def all_checks(found: Overhang, depth: Length, supported: bool) -> tuple[Check, ...]:
    """Check a depth past the cabinets, on brackets or not."""
    return (*_stone(found, depth, supported), *_seats(found, depth), *_aisles(found, depth), *_corners(found))


def _stone(found: Overhang, depth: Length, supported: bool) -> tuple[Check, ...]:
    alone = depth
    checks = []
    if supported and found.brackets:
        alone = max(depth - found.brackets.reach, Length.of_mm(0, depth.unit))
    past = words.PAST_BRACKETS if supported else words.PAST_CABINETS
    most = cantilever(found.thickness, found.base + depth)
    checks.append(check(words.UNSUPPORTED, past, alone, AT_MOST, most, MANUAL))
    published = limits(found.thickness)
    if published and found.span:
        checks.append(check(words.SPAN, words.BETWEEN_CABINETS, found.span, AT_MOST, published.span, MANUAL))
    if published and supported and found.brackets:
        apart = found.brackets.spacing
        checks.append(check(words.BRACKET_TO_BRACKET, words.ALONG_EDGE, apart, AT_MOST, published.span, MANUAL))
    return tuple(checks)


def _seats(found: Overhang, depth: Length) -> tuple[Check, ...]:
    if found.seats is None:
        return ()
    knees = KNEES[found.seats.height]
    wide = knees.width * found.seats.count
    return (check(words.KNEE_DEPTH, words.at_height(found.seats.height), depth, AT_LEAST, knees.depth, PLANNING),
            check(words.SEAT_WIDTH, words.side_by_side(found.seats.count), found.length, AT_LEAST, wide, PLANNING))


def _aisles(found: Overhang, depth: Length) -> tuple[Check, ...]:
    return tuple(
        check(words.AISLE, words.aisle(each), each.left(depth), AT_LEAST, AISLES[each.use], PLANNING)
        for each in found.aisles
    )


def _corners(found: Overhang) -> tuple[Check, ...]:
    if found.corner is None or found.smallest_corner is None:
        return ()
    half = min(found.length, found.width) / 2
    return (check(words.CORNER_LEAST, words.OF_TOP, found.corner, AT_LEAST, found.smallest_corner),
            check(words.CORNER_MOST, words.OF_TOP, found.corner, AT_MOST, half, GEOMETRY))
