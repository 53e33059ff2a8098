"""The sheet of a deck in words: every hole by its letter, from the middle and the back edge of the cut-out."""

from portal.drawings.scenes.coordinates import Coordinates, bits_for, letter, tightest
from portal.layouts.content_tables.bits import CORE
from portal.layouts.deck.dimensions import ENDS, Deck
from portal.layouts.deck.holes import Hole, Position, State
from portal.layouts.deck.layout import DeckLayout
from portal.layouts.deck.zones import Zone, safe_zones
from portal.layouts.length import Length
from portal.words.drawn import top_words as words

_FATES = {
    State.DRILL: words.TO_DRILL, State.FILLED: words.USED, State.COVERED: words.UNDER_PLATE, State.CAP: words.CAPPED,
}  # fmt: skip


def lettered(layout: DeckLayout) -> list[tuple[str, Position]]:
    """Give the holes from left to right, A first."""
    places = sorted(layout.positions, key=lambda p: (p.hole.x, p.hole.y))
    return [(letter(index), place) for index, place in enumerate(places)]


def fate_of(hole: Hole) -> str:
    """Say what becomes of a hole."""
    return _FATES[hole.state]


def middle_from_end(deck: Deck) -> str:
    """Say how far the middle of the cut-out is from the end that one measures from."""
    at = deck.cutout.center[0]
    return words.from_the((at if deck.measured_end == ENDS[0] else deck.top.width - at).marked, deck.measured_end)


def deck_coordinates(layout: DeckLayout) -> Coordinates:
    """Give every hole by its letter, as one sets it out, with the distances to an end and an edge as the check; of a
    new hole also by how much it may be off."""
    deck, top = layout.deck, layout.deck.top
    zones = safe_zones(layout)
    drift = {zone.hole: zone for zone in zones}
    rows = tuple(_row(deck, mark, place, drift) for mark, place in lettered(layout))
    drilled = [(mark, place.hole) for mark, place in lettered(layout) if place.hole.state is State.DRILL]
    return Coordinates(
        words.columns(deck.measured_end, deck.measured_edge, zones=bool(zones)), rows, words.MEASURED_FROM,
        tightest(layout.checks), words.work((mark, hole.name, hole.diameter.marked) for mark, hole in drilled),
        words.caption(top.width.marked, top.depth.marked, top.thickness.text),
        bits_for({hole.diameter: _bits(drift.get(hole), hole) for _, hole in drilled}, CORE.source), words.FIRST,
        remarks=_remarks(deck, zones), details=_details(deck), found=tuple(zip(words.FOUND, _drawn(deck), strict=True)),
    )  # fmt: skip


def _bits(zone: Zone | None, hole: Hole) -> tuple[Length, ...]:
    """Those that have room; without a zone nothing is known of it, so only one of the hole's own size."""
    return zone.bits if zone else tuple(bit for bit in CORE.sold_for(hole.diameter) if bit == hole.diameter)


def _row(deck: Deck, mark: str, place: Position, drift: dict[Hole, Zone]) -> tuple[str, ...]:
    hole = place.hole
    purpose = words.purpose(hole.name, fate_of(hole)) if deck.existing else hole.name
    row = (mark, purpose, hole.diameter.marked_in_both, _beside(hole.x - deck.cutout.center[0]),
           _behind(hole.y - deck.cutout.front - deck.cutout.depth), place.along.marked_in_both,
           place.inward.marked_in_both)
    return (*row, may_be_off(drift[hole]).marked if hole in drift else "") if drift else row


def _beside(off: Length) -> str:
    """Such as `right 4 in (101.6 mm)`, or `on it`."""
    return words.to_the_side(abs(off).marked_in_both, right=off.mm > 0) if off.mm else words.ON_IT


def _behind(off: Length) -> str:
    """Behind the edge is as usual; a hole of an old top may lie before it."""
    return off.marked_in_both if off.mm >= 0 else words.before(abs(off).marked_in_both)


def may_be_off(zone: Zone) -> Length:
    """Give by how much a hole may be off, rounded down to what one reads off a rule, so that nobody uses more than
    there is."""
    return zone.tolerance.rounded(up=False)


def _remarks(deck: Deck, zones: tuple[Zone, ...]) -> tuple[str, ...]:
    if not zones:
        return ()
    slop, none = deck.minimums.slop, [zone.hole.name for zone in zones if not may_be_off(zone).mm]
    wider = any(bit > zone.hole.diameter for zone in zones for bit in zone.bits)
    return tuple(filter(None, (words.drift(slop.marked if slop else "", wider=wider), words.no_drift(none))))


def _details(deck: Deck) -> tuple[tuple[str, str], ...]:
    """What is drilled; nothing where nobody says."""
    return ((words.MATERIAL, deck.material.name),) if deck.material else ()


def _drawn(deck: Deck) -> tuple[str, str, str]:
    """The three sizes that are measured once more, as they were given."""
    behind = deck.top.back_face - deck.cutout.front - deck.cutout.depth
    return (deck.cutout.width.marked_in_both, behind.marked_in_both, deck.top.thickness.marked_in_both)
