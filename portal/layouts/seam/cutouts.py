"""What a seam keeps away from: cut-outs and a dishwasher; and the strips that are left around cut-outs."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from portal.layouts.json_fields import Reader, Rule
from portal.layouts.length import Length
from portal.layouts.unread import known


@dataclass(frozen=True)
class Stretch:
    """Something on or under the run, from the left end: a cut-out, a dishwasher. `front`: from the front edge to it;
    `deep`: how deep it is, front to back; `radius`: of its corners; each None where nobody gave it."""

    name: str
    left: Length
    right: Length
    front: Length | None = None
    deep: Length | None = None
    radius: Length | None = None

    def away(self, at: Length) -> Length:
        """Say how far a seam at `at` is from it; negative when `at` lies within."""
        return max(self.left - at, at - self.right)

    @property
    def back(self) -> Length | None:
        """Give where it ends, from the front edge; None where that was not given."""
        return self.front + self.deep if self.front is not None and self.deep is not None else None

    def overlaps(self, other: "Stretch") -> bool:
        """Say whether both take some of the same place. One without a depth may be anywhere from front to back."""
        if self.right <= other.left or other.right <= self.left:
            return False
        if self.front is None or self.back is None or other.front is None or other.back is None:
            return True
        return self.front < other.back and other.front < self.back


@dataclass(frozen=True)
class Strip:
    """What is left between two edges. `sides`: which, such as `sink` and `front edge`."""

    sides: tuple[str, str]
    wide: Length


FRONT, BACK, LEFT, RIGHT = "front edge", "back edge", "left end", "right end"


def strips(cutouts: Sequence[Stretch], length: Length, depth: Length) -> tuple[Strip, ...]:
    """Measure what is left around cut-outs: to the edges of the run, and from each to its neighbours, which are those
    with no third nearer to both. Where a cut-out runs out at an edge there is no strip. Before and behind one whose
    place is not given nothing is known."""
    around = [strip for each in cutouts for strip in _to_edges(each, length, depth)]
    between = [Strip((one.name, other.name), _gap(one, other)) for one, other in combinations(cutouts, 2)
               if _are_neighbours(one, other, cutouts)]
    return tuple(strip for strip in (*around, *between) if strip.wide.mm)


def _to_edges(cutout: Stretch, length: Length, depth: Length) -> Iterator[Strip]:
    yield Strip((cutout.name, LEFT), cutout.left)
    yield Strip((cutout.name, RIGHT), length - cutout.right)
    if cutout.front is not None:
        yield Strip((cutout.name, FRONT), cutout.front)
    if cutout.back is not None:
        yield Strip((cutout.name, BACK), depth - cutout.back)


def _are_neighbours(one: Stretch, other: Stretch, cutouts: Sequence[Stretch]) -> bool:
    """So no strip is left out that is the narrowest of its cut-outs."""
    apart = _gap(one, other)
    return not any(_gap(one, third) < apart and _gap(third, other) < apart
                   for third in cutouts if third is not one and third is not other)


def _gap(one: Stretch, other: Stretch) -> Length:
    """The shortest way from one to the other, which do not overlap; zero where they touch."""
    zero = Length.of_mm(0, one.left.unit)
    across = max(one.left - other.right, other.left - one.right, zero)
    if one.front is None or one.back is None or other.front is None or other.back is None:
        return across
    deep = max(one.front - other.back, other.front - one.back, zero)
    if not across.mm or not deep.mm:
        return max(across, deep)
    return Length.of_mm(round(math.hypot(across.mm, deep.mm) * 10**6), across.unit) / 10**6


def read_cutouts(readers: Sequence[Reader], length: Length, depth: Length) -> tuple[Stretch, ...]:
    """Read cut-outs: `name`, `from_left`, `width`, and where they are known `from_front`, `depth` and `corner_radius`.
    At fault is one past an edge of the run or through the whole of it, a corner rounder than it can be, and one that
    touches another or lies on its place."""
    found: list[Stretch] = []
    for reader in readers:
        cutout = _read_cutout(reader, length, depth)
        found.append(reader.unless("from_left", cutout, *(_apart_from(other) for other in found)))
    return tuple(found)


def _read_cutout(reader: Reader, length: Length, depth: Length) -> Stretch:
    left, behind = reader.length("from_left"), "runs past the back edge of the top; check both, and the depth"
    width = reader.size(
        "width", lambda width: left + width > length and "runs past the right end of the top; check length",
        lambda width: not left.mm and width == length and _IN_TWO)
    front = reader.length_or_none("from_front", lambda front: not reader.has("depth") and front > depth and behind)
    deep = reader.size_or_none(
        "depth", lambda deep: (deep if front is None else front + deep) > depth and behind,
        lambda deep: deep == depth and _IN_TWO)
    radius = reader.length_or_none("corner_radius", lambda radius: (
        radius * 2 > min(width, width if deep is None else deep)
        and "is more than half the width or depth; give the radius"))
    return Stretch(reader.name("name"), left, known(lambda: left + width), front, deep, radius)


_IN_TWO = "is that of the whole top, so it cuts the top in two; give what is left on each side as a top of its own"


def _apart_from(other: Stretch) -> Rule:
    def wrong(cutout: Stretch) -> object:
        if cutout.overlaps(other):
            return f"lies over “{other.name}”; check both, and how deep they are"
        return not _gap(cutout, other).mm and (
            f"touches “{other.name}”; give both as one cut-out, or what is left between them")
    return wrong


def read_dishwasher(reader: Reader) -> Stretch:
    """Read `from_left` and `width` of the dishwasher below."""
    left, width = reader.length("from_left"), reader.size("width")
    return Stretch("the dishwasher", left, known(lambda: left + width))
