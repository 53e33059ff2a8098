"""What is checked of a center line: the room in the cabinet, and what is left of the counter on either side."""

from collections.abc import Iterator

from portal.layouts.centerline import words
from portal.layouts.centerline.dimensions import Counter, Wall
from portal.layouts.check import AT_LEAST, GEOMETRY, Check, check
from portal.layouts.island import PLANNING
from portal.layouts.length import Length

LANDING_WIDE, LANDING_NARROW = Length.of_inches(24), Length.of_inches(18)
"""What is advised of counter beside a kitchen sink, on one side and on the other (PLANNING)."""

NONE = Length.of_mm(0)


def all_checks(wall: Wall, at: Length) -> tuple[Check, ...]:
    """Check the sink with its center at `at`: the room left and right of it, then the counter where it was measured."""
    half = wall.sink / 2
    left, right = at - half, at + half
    found = [check(words.ROOM_BESIDE, words.LEFT, left - wall.cabinet.left, AT_LEAST, wall.clips, wall.source),
             check(words.ROOM_BESIDE, words.RIGHT, wall.cabinet.right - right, AT_LEAST, wall.clips, wall.source)]
    if wall.counter:
        found.extend(_counter(wall.counter, left - wall.counter.left, wall.counter.right - right))
    return tuple(found)


def _counter(counter: Counter, left: Length, right: Length) -> Iterator[Check]:
    """What is asked stops; where nothing is, the published landing is advised. A sink off its counter stops always."""
    for side, room, least in (words.LEFT_SIDE, left, counter.least_left), (words.RIGHT_SIDE, right,
                                                                           counter.least_right):
        source = GEOMETRY if least is None else words.ASKED
        yield check(words.COUNTER_BESIDE, side, room, AT_LEAST, least or NONE, source)
    if not counter.asked:
        narrow, wide = sorted((left, right))
        yield check(words.LANDING, words.WIDER_SIDE, wide, AT_LEAST, LANDING_WIDE, PLANNING)
        yield check(words.LANDING, words.NARROWER_SIDE, narrow, AT_LEAST, LANDING_NARROW, PLANNING)
