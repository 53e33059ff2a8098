"""What an overhang is checked for: the stone, whether it stays down, brackets, knees, aisles, corners."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from portal.layouts.check import AT_LEAST, AT_MOST, GEOMETRY, GIVEN, Check, check
from portal.layouts.island import AISLES, KNEES, PLANNING
from portal.layouts.length import Length
from portal.layouts.overhang import words
from portal.layouts.overhang.bearing import carried_length, shares
from portal.layouts.overhang.brackets import widest_gap
from portal.layouts.overhang.dimensions import Overhang
from portal.layouts.overhang.limits import alone, most_past, span, to_end
from portal.layouts.stone.tipping import STATICS

_BALANCE = Length.of_mm(Fraction(1, 1000))
"""Told where a top is in balance, and a touch tips it."""


def all_checks(found: Overhang, depth: Length, marks: Sequence[Length]) -> tuple[Check, ...]:
    """Check a depth past the cabinets, on brackets at `marks` or on none."""
    past = depth
    if marks and found.brackets:
        past = max(depth - found.brackets.reach, Length.of_mm(0, depth.unit))
    return (*_stone(found, depth, past, bool(marks)), *_brackets(found, depth, marks), *_seats(found, depth),
            *_aisles(found, depth), *_corners(found))


def _stone(found: Overhang, depth: Length, past: Length, supported: bool) -> Iterator[Check]:
    about = words.PAST_BRACKETS if supported else words.PAST_CABINETS
    most, between = alone(found, found.base + depth), span(found)
    yield check(words.UNSUPPORTED, about, past, AT_MOST, most.most, most.source)
    if not found.fastening:
        yield _tips(found, depth, past, about)
    if between and found.span:
        yield check(words.SPAN, words.BETWEEN_CABINETS, found.span, AT_MOST, between.most, between.source)


def _tips(found: Overhang, depth: Length, past: Length, about: str) -> Check:
    """A loose top: against the load that was given, where its weight is known; else that it doesn't fall by itself."""
    most, loaded = most_past(found, depth)
    if loaded and found.load:
        about, source = words.under_load(about, found.load), f"{STATICS}; {found.load.source}"
        return check(words.TIPS, about, past, AT_MOST, most, source)
    return check(words.TIPS, about, past + _BALANCE if past == most else past, AT_MOST, most, STATICS)


def _brackets(found: Overhang, depth: Length, marks: Sequence[Length]) -> Iterator[Check]:
    brackets = found.brackets
    if not marks or not brackets:
        return
    none, maker = Length.of_mm(0, depth.unit), brackets.source or GIVEN
    back = brackets.set_back or none
    yield check(words.SET_BACK, words.TO_EDGE, depth - brackets.reach, AT_LEAST, back, maker if back.mm else GEOMETRY)
    end = to_end(found)
    for about, away in ((words.LEFT_END, marks[0]), (words.RIGHT_END, found.length - marks[-1])):
        yield check(words.BRACKET_END, about, away, AT_MOST, end.most, end.source)
    gap, between = widest_gap(marks), span(found)
    if gap and between:
        yield check(words.BRACKET_TO_BRACKET, words.ALONG_EDGE, gap, AT_MOST, between.most, between.source)
    if gap and brackets.spacing:
        yield check(words.BRACKET_SPACING, words.ALONG_EDGE, gap, AT_MOST, brackets.spacing, maker)
    yield from _load(found, depth, marks)


def _load(found: Overhang, depth: Length, marks: Sequence[Length]) -> Iterator[Check]:
    """The bracket that bears most of the edge; nothing where what it carries or bears is not known."""
    carried, brackets = carried_length(found, depth), found.brackets
    if carried is None or not brackets or not found.load:
        return
    borne = shares(marks, found.length)
    most = max(borne)
    source = f"{STATICS}; {brackets.source}; {found.load.source}"
    yield check(words.BRACKET_LOAD, words.bracket(borne.index(most) + 1), most, AT_MOST, carried, source)


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
