"""What is said of holes that are in a top already, and the checks of the caps on those that stay open."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from portal.layouts.check import AT_LEAST, GIVEN, Check
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.holes import Hole, State
from portal.layouts.deck.rules import measures
from portal.layouts.deck.rules.distances import Rounded, between
from portal.layouts.deck.rules.limits import Apart, Inside, Limit, Off


def holes_there(deck: Deck) -> tuple[Check, ...]:
    """Check the stone that is left around holes that are there already against what is asked of new ones: advices, the
    same in every layout. None where no least distances are given."""
    return tuple(_holes_there(deck)) if deck.minimums.given else ()


def _holes_there(deck: Deck) -> Iterator[Check]:
    for hole in deck.existing:
        x, y, radius = float(hole.x.mm), float(hole.y.mm), float(hole.diameter.mm) / 2
        for limit in _around(deck, hole.name, radius):
            yield limit.check(x, y, deck.unit)
    least = deck.minimums
    for one, other in combinations(deck.existing, 2):
        taken = float((one.diameter + other.diameter).mm) / 2
        pair = Apart(measures.THERE_TO_HOLE, measures.two(one.name, other.name), 0, 0, taken,
                     float(least.between_holes.mm), least.source)
        yield pair.check(between(float(one.x.mm), float(one.y.mm), float(other.x.mm), float(other.y.mm)), deck.unit)


def _around(deck: Deck, name: str, radius: float) -> Iterator[Limit]:
    least, cabinet = deck.minimums, deck.cabinet
    source, width, depth = least.source, float(deck.top.width.mm), float(deck.top.depth.mm)
    yield Off(measures.THERE_TO_CUTOUT, name, deck.cutout.floats, radius, float(least.to_cutout.mm), source)
    yield Inside(measures.THERE_TO_BACK, name, radius, float(least.to_back.mm), source, back=depth)
    yield Inside(measures.THERE_TO_EDGES, name, radius, float(least.to_edge.mm), source, 0.0, width, 0.0)
    if cabinet and least.to_cabinet_side is not None:
        yield Inside(measures.THERE_TO_CABINET, name, radius, float(least.to_cabinet_side.mm), source,
                     float(cabinet.left.mm), float(cabinet.right.mm))
    for area in deck.underneath:
        required = float(least.to_underneath.mm) if least.to_underneath else 0.0
        yield Off(measures.there_to(area.name), name, area.floats, radius, required, source)


def cap_checks(deck: Deck, caps: Sequence[Hole], holes: Sequence[Hole], plate: Rounded | None) -> Iterator[Check]:
    """Check each cap: that it covers its hole, and lies free of the others, of flanges and plate, of cut-out and wall.
    Nothing where no width of a cap is given. `holes`: all the others."""
    if deck.cap is None:
        return
    radius = float(deck.cap.mm) / 2
    for cap in caps:
        x, y, about = float(cap.x.mm), float(cap.y.mm), measures.lies_over(measures.CAP_NAME, cap.site)
        yield Check(measures.CAP_COVERS, about, radius * 2, float(cap.diameter.mm), AT_LEAST, GIVEN, deck.unit)
        yield Off(measures.CAP_TO_CUTOUT, about, deck.cutout.floats, radius).check(x, y, deck.unit)
        yield Inside(measures.CAP_TO_WALL, about, radius, back=float(deck.top.back_face.mm)).check(x, y, deck.unit)
        yield Inside(measures.CAP_TO_EDGES, about, radius, left=0.0, right=float(deck.top.width.mm),
                     front=0.0).check(x, y, deck.unit)
        if plate:
            yield Off(measures.CAP_TO_PLATE, about, plate, radius).check(x, y, deck.unit)
        for hole in holes:
            if hole.state is State.FILLED and hole.flange:
                pair = Apart(measures.CAP_TO_FLANGE, measures.two(about, hole.name), 0, 0,
                             radius + float(hole.flange.mm) / 2, 0.0)
                yield pair.check(between(x, y, float(hole.x.mm), float(hole.y.mm)), deck.unit)
    for one, other in combinations(caps, 2):
        pair = Apart(measures.CAP_TO_CAP, measures.two(one.site, other.site), 0, 0, radius * 2, 0.0)
        yield pair.check(between(float(one.x.mm), float(one.y.mm), float(other.x.mm), float(other.y.mm)), deck.unit)
