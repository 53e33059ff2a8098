"""An overhang as a drawing: the top from above, the cabinets and brackets under it, and the seats before it."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.lengths import mm
from portal.drawings.scenes.scene import Circle, Dimension, Item, Label, Line, Rect, Scene, Side
from portal.layouts.length import Length
from portal.layouts.overhang import words
from portal.layouts.overhang.layout import OverhangLayout

_STOOL = 350.0  # mm across; only to show where people sit
_BRACKET = 40.0  # mm wide as drawn; its maker's sheet says what it is
_UNDER = 120.0  # mm of a bracket shown on the cabinet
_MOST_GAPS = 6  # dimensioned one by one; more are said in the description


def overhang_scene(layout: OverhangLayout) -> Scene:
    """Draw one overhang in mm: x from the left end of the edge that reaches out, y away from whoever sits there."""
    items = [*_top(layout), *_brackets(layout), *_seats(layout), *_distances(layout), *_aisles(layout)]
    return Scene(words.drawing(layout), words.description(layout), tuple(items))


def _sizes(layout: OverhangLayout) -> tuple[float, float, float]:
    """Length, depth of the overhang, and the whole width, in mm."""
    return mm(layout.dimensions.length), mm(layout.depth), mm(layout.width)


def _top(layout: OverhangLayout) -> Iterator[Item]:
    length, depth, width = _sizes(layout)
    corner = layout.dimensions.corner
    most = min(length, width) / 2
    yield Rect(Layer.EDGE, 0, 0, length, width, radius=min(mm(corner), most) if corner else 0.0)
    yield Line(Layer.CABINET, 0, depth, length, depth)
    yield Label(length / 2, (depth + width) / 2, words.under(layout, gaps_are_dimensioned=not _aisle_before(layout)))


def _aisle_before(layout: OverhangLayout) -> bool:
    """Then dimension lines of brackets would run through it."""
    return any(aisle.at_overhang for aisle in layout.dimensions.aisles)


def _brackets(layout: OverhangLayout) -> Iterator[Item]:
    """Dashed, because the top hides them, with the gables or studs that they can be fixed to; the outer ones stand
    within its ends."""
    brackets = layout.dimensions.brackets
    if not brackets:
        return
    length, depth, _ = _sizes(layout)
    reach = min(mm(brackets.reach), depth)
    for at in layout.dimensions.fixings:
        yield Line(Layer.SUPPORT, mm(at), depth, mm(at), depth + _UNDER)
    for at in layout.bracket_marks:
        left = min(max(mm(at) - _BRACKET / 2, 0.0), length - _BRACKET)
        yield Rect(Layer.SUPPORT, left, depth - reach, _BRACKET, reach + _UNDER)


def _seats(layout: OverhangLayout) -> Iterator[Item]:
    seats = layout.dimensions.seats
    if seats:
        length, _, _ = _sizes(layout)
        for number in range(seats.count):
            yield Circle(Layer.CLEARANCE, length * (number + 0.5) / seats.count, -_STOOL * 0.4, _STOOL)


def _distances(layout: OverhangLayout) -> Iterator[Item]:
    length, depth, width = _sizes(layout)
    found, marks = layout.dimensions, layout.bracket_marks
    yield Dimension(0, 0, 0, depth, layout.depth.marked, Side.LEFT)
    yield Dimension(length, 0, length, width, layout.width.marked, Side.RIGHT)
    yield Dimension(0, width, length, width, found.length.marked, Side.ABOVE)
    if not _aisle_before(layout):
        for one, other in _gaps(marks):
            yield Dimension(mm(one), 0, mm(other), 0, (other - one).marked, Side.BELOW)


def _gaps(marks: Sequence[Length]) -> list[tuple[Length, Length]]:
    """From the left end to the first bracket, and from bracket to bracket; of too many that are alike the first, and of
    too many that are not none: the table has them all."""
    gaps = list(pairwise(marks))
    if len(gaps) > _MOST_GAPS:
        gaps = gaps[:1] if len({other - one for one, other in gaps}) == 1 else []
    first = [(marks[0] - marks[0], marks[0])] if gaps and marks[0].mm else []
    return first + gaps


def _aisles(layout: OverhangLayout) -> Iterator[Item]:
    """What stands opposite by name, as far off as the aisle is wide: before the overhang, and across the island."""
    length, _, width = _sizes(layout)
    for aisle in layout.dimensions.aisles:
        left = aisle.left(layout.depth)
        if left.mm > 0 and (aisle.at_overhang or aisle.far):
            edge, y = (0.0, -mm(left)) if aisle.at_overhang else (width, width + mm(left))
            yield Line(Layer.WALL, 0, y, length, y)
            yield Label(length / 2, y, aisle.name, Side.BELOW if aisle.at_overhang else Side.ABOVE)
            yield Dimension(length, edge, length, y, left.marked, Side.RIGHT)
