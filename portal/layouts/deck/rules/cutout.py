"""The checks of the cut-out of a new top: where it lies on the top and over the cabinet, and its corners."""

from portal.layouts.check import AT_LEAST, GEOMETRY, Check, check
from portal.layouts.deck.dimensions import Deck
from portal.layouts.deck.rules import measures
from portal.layouts.length import Length


def cutout_checks(deck: Deck) -> tuple[Check, ...]:
    """Check the cut-out against the cabinet where that is given, and against the least distances that are."""
    cutout, least = deck.cutout, deck.minimums
    checks = [
        check(measure, cutout.name, measured, AT_LEAST, required, least.source)
        for measure, measured, required in (
            (measures.CUTOUT_TO_FRONT, cutout.front, least.cutout_to_front),
            (measures.CUTOUT_TO_BACK, deck.top.depth - cutout.front - cutout.depth, least.cutout_to_back),
            (measures.CUTOUT_TO_ENDS, min(cutout.left, deck.top.width - cutout.left - cutout.width),
             least.cutout_to_ends),
            (measures.CUTOUT_RADIUS, cutout.corner, least.cutout_radius))
        if required is not None]
    if deck.cabinet:
        inside = min(cutout.left - deck.cabinet.left, deck.cabinet.right - cutout.left - cutout.width)
        checks.append(check(measures.CUTOUT_IN_CABINET, cutout.name, inside, AT_LEAST, Length.of_mm(0), GEOMETRY))
    return tuple(checks)
