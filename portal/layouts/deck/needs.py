"""What a deck layout still needs, in words: values without which a check was not made, and what must change."""

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction

from portal.layouts.check import AT_LEAST, Check
from portal.layouts.deck.arrangement import Arrangement
from portal.layouts.deck.dimensions import Accessory, Deck
from portal.layouts.deck.rules import measures
from portal.layouts.length import Length
from portal.words.articles import with_the
from portal.words.capitals import first_upper
from portal.words.lists import listed

_WATER = {"soap", "filtered_water", "hot_water"}


def missing(layout: Arrangement) -> Iterator[str]:
    """Name what could not be checked, in the order in which one measures."""
    deck = layout.deck
    known: tuple[tuple[object, str], ...] = (
        (deck.cabinet, "the sides of the cabinet"), (deck.underneath, "what is underneath (clips, rails, pipes)"))
    yield from _named(known)
    yield from _of_cutout(deck) if not deck.existing else _of_old_top(layout)
    yield from _of_faucet(layout)
    yield from _of_accessories(layout)


def _of_cutout(deck: Deck) -> Iterator[str]:
    least = deck.minimums
    return _named((
        (least.cutout_to_front is not None, "the cut-out to the front edge"),
        (least.cutout_to_back is not None, "the cut-out to the back edge"),
        (least.cutout_to_ends is not None, "the cut-out to the ends of the top"),
        (least.cutout_radius is not None, "the inside radius of the cut-out")))


def _of_old_top(layout: Arrangement) -> Iterator[str]:
    yield from _named(((layout.deck.minimums.given, "the stone around the holes that are there"),))
    if layout.caps and layout.deck.cap is None:
        yield f"whether a cap covers {listed(hole.site for hole in layout.caps)}"


def _of_faucet(layout: Arrangement) -> Iterator[str]:
    faucet, three = layout.deck.faucet, layout.faucet_holes == 3
    into_bowl = layout.deck.minimums.into_bowl
    return _named((
        (faucet.swing is not None, "the room that the faucet needs to swing"),
        (not three or faucet.lever_swing is not None, "the room that each lever of the faucet needs"),
        (faucet.clearance_behind is not None, "the clearance behind the faucet"),
        (faucet.reach, "where the water of the faucet lands"),
        (not faucet.reach or into_bowl is not None, "how far inside the bowl the water lands"),
        (not three or layout.deck.existing or (faucet.outer_least and faucet.outer_most),
         "how far apart the outer holes may be")))


def _of_accessories(layout: Arrangement) -> Iterator[str]:
    own = {hole.name for hole in layout.own}
    items = [item for item in layout.deck.accessories if item.name in own]
    thin = _those(items, lambda item: item.thickest_top is None)
    far = _those(items, lambda item: item.use in _WATER and item.reach is None)
    return _named((
        (not thin, f"whether the top is too thick for {thin}"), (not far, f"whether the bowl is too far for {far}")))


def _those(items: Iterable[Accessory], lacks: Callable[[Accessory], bool]) -> str:
    return listed(with_the(item.name) for item in items if lacks(item))


def _named(known: Iterable[tuple[object, str]]) -> Iterator[str]:
    return (words for is_known, words in known if not is_known)


def mend_of(layout: Arrangement, check: Check) -> str:
    """Say what must change for one check that fails, and by how much."""
    said = _CHANGES.get(check.what.key)
    return f"{first_upper(said(layout.deck, check))}." if said else check.mend


def _at_least(what: str) -> Callable[[Deck, Check], str]:
    return lambda _, check: f"{check.about}: {what} of at least {_told(check.required, check)}"


def _at_most(what: str) -> Callable[[Deck, Check], str]:
    return lambda _, check: f"{check.about}: {what} of at most {_told(check.required, check)}"


def _takes(deck: Deck, check: Check) -> str:
    return f"{check.about}: one that takes a top of {deck.top.thickness.text}"


def _cutout_moves(to: str) -> Callable[[Deck, Check], str]:
    return lambda _, check: f"move the cut-out {check.lacks} to the {to}, or make it so much shallower"


def _into_cabinet(deck: Deck, check: Check) -> str:
    """To the side where there is room; where the cabinet has too little of it, narrower."""
    if deck.cabinet is None:
        raise ValueError("there is no cabinet to be inside of")
    width, left = deck.cabinet.right - deck.cabinet.left, deck.cabinet.left - deck.cutout.left
    if deck.cutout.width > width:
        return (f"a cut-out of at most {width.text} in width, between {deck.cabinet.left.text} and "
                f"{deck.cabinet.right.text} from the left end")
    return f"move the cut-out {check.lacks} to the {'right' if left.mm > 0 else 'left'}"


def _from_the_end(deck: Deck, check: Check) -> str:
    """Away from the nearer end; where both are too near, narrower."""
    left, least = deck.cutout.left, deck.minimums.cutout_to_ends
    right = deck.top.width - left - deck.cutout.width
    if least is not None and left + right < least * 2:
        width = deck.top.width - least * 2
        return (f"a cut-out of at most {width.text} in width, between {least.text} and "
                f"{(least + width).text} from the left end")
    return f"move the cut-out {check.lacks} to the {'right' if left < right else 'left'}"


def _to_be_off(deck: Deck, check: Check) -> str:
    faucet = deck.faucet
    outer = {measures.one_of_three(faucet.name, side) for side in (measures.SIDES[0], measures.SIDES[2])}
    if check.about in outer and not (faucet.outer_least and faucet.outer_most):
        return f"{check.about}: give the least and the most from outer hole to outer hole that its sheet allows"
    return check.mend.removesuffix(".")


def _told(mm: float, check: Check) -> str:
    """No shorter than it is: a sixteenth of an inch or a tenth of a millimeter up for what is asked at least, down for
    what is asked at most."""
    step = Length.of_inches("1/16") if check.unit.is_inch else Length.of_mm("0.1")
    up = Length.of_mm(str(round(mm, 6)), check.unit).up_to(step)
    return (up if check.rule == AT_LEAST or up.mm == Fraction(str(round(mm, 6))) else up - step).text


_CHANGES: dict[str, Callable[[Deck, Check], str]] = {
    measures.REACH.key: _at_least("a reach"), measures.WATER_NEAR.key: _at_least("a reach"),
    measures.WATER_FAR.key: _at_most("a reach"), measures.THICKNESS.key: _takes,
    measures.DRIFT.key: _to_be_off,
    measures.CUTOUT_TO_FRONT.key: _cutout_moves("back"), measures.CUTOUT_TO_BACK.key: _cutout_moves("front"),
    measures.CUTOUT_TO_ENDS.key: _from_the_end,
    measures.CUTOUT_RADIUS.key: lambda _, check: f"corners of the cut-out of at least {_told(check.required, check)}",
    measures.CUTOUT_IN_CABINET.key: _into_cabinet,
}
