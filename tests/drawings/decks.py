"""The invented deck of the layout tests, as layouts to draw: a new top, a long one, and an old one with four holes."""

from portal.layouts.deck import from_json, layouts
from portal.layouts.deck.layout import DeckLayout
from tests.layouts.decks import deck_json, four_hole_json

NEW = layouts(from_json(deck_json()))
OLD = layouts(from_json(four_hole_json()))


def fullest(found: list[DeckLayout]) -> DeckLayout:
    """The best of those with the most holes."""
    return max(found, key=lambda layout: len(layout.holes))


def long_layouts() -> list[DeckLayout]:
    """The same deck in the middle of a top of 10 ft."""
    moved = deck_json(
        top__width="120 in", cutout__from_left="45 in", cabinet__left_side="42-3/4 in", cabinet__right_side="77-1/4 in",
        underneath__0__from_left="70 in",
    )  # fmt: skip
    return layouts(from_json(moved))
